// The licences of what a page holds beside the toolkit: libraries that were bundled, and the fonts.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileOfPackage } from "./bundle.mjs";

/**
 * Every licence once, below the names of those it is of.
 *
 * @param libraries folders of packages
 */
export function licenceNotices(libraries) {
  const named = new Map();
  const add = (text, name) => named.set(text, [...(named.get(text) ?? []), name]);
  for (const folder of [...new Set(libraries)].sort()) {
    const { name, version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
    const files = readdirSync(folder).filter((file) => /^(licen[cs]e|copying|notice)/i.test(file));
    if (files.length === 0 && typeof license !== "string") throw new Error(`${name} states no licence`);
    const texts = files.map((file) => readFileSync(join(folder, file), "utf8").replace(/\r/g, "").trim());
    add(texts.join("\n\n") || `Licence: ${license}`, `${name} ${version}`);
  }
  add(fileOfPackage("src/figures/fonts/LICENSE.txt").toString().trim(), "Source Sans 3 (fonts)");
  return [...named].map(([text, names]) => `${names.join(", ")}\n\n${text}`).join(`\n\n${"-".repeat(20)}\n\n`);
}
