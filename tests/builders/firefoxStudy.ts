import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { unzipSync } from "fflate";
import type { Firefox } from "./firefox.js";
import type { PageStudy } from "./pageStudies.js";

export const pressIn = (firefox: Firefox, name: string) =>
  firefox.until(
    `const found = [...document.querySelectorAll("button")].find((one) => (one.getAttribute("aria-label") ?? one.textContent) === arguments[0] && !one.disabled);
    found?.click();
    return found !== undefined`,
    name,
  );

const waitFor = (firefox: Firefox, selector: string, words: string) =>
  firefox.until(
    "return [...document.querySelectorAll(arguments[0])].some((one) => one.textContent.includes(arguments[1]))",
    selector,
    words,
  );

/** A study by the study page itself, from chosen files to the saved result. */
export async function studyInFirefox(firefox: Firefox, study: PageStudy): Promise<unknown> {
  const folder = mkdtempSync(join(tmpdir(), "meridional-firefox-study-"));
  try {
    const files = { "protocol.json": JSON.stringify(study.protocol), ...study.files };
    const paths = Object.entries(files).map(([name, text]) => {
      const path = join(folder, basename(name));
      writeFileSync(path, text);
      return path;
    });
    await firefox.open(`file://${resolve("out/pages/study.html")}`);
    await waitFor(firefox, "button", "Take invented data to practise");
    await firefox.choose("input[type=file]", paths);
    await pressIn(firefox, "Go on to the run");
    await pressIn(firefox, "Run the study");
    await waitFor(firefox, "h2", "Take the report");
    const isPublic = (study.protocol as { audience?: string }).audience === "public";
    for (const name of readdirSync(firefox.saved)) rmSync(join(firefox.saved, name));
    await pressIn(firefox, isPublic ? "Save the exact result" : "Save result.json");
    const bytes = await savedFile(firefox.saved);
    const json = isPublic ? unzipSync(bytes)["result.json"] : bytes;
    return JSON.parse(new TextDecoder().decode(json));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The one file of a folder, once it is whole. */
async function savedFile(folder: string): Promise<Uint8Array> {
  for (const end = Date.now() + 60_000; Date.now() < end; ) {
    const names = readdirSync(folder);
    const [name] = names;
    if (names.length === 1 && !name.endsWith(".part")) {
      const bytes = readFileSync(join(folder, name));
      if (bytes.length > 0) return bytes;
    }
    await new Promise((done) => setTimeout(done, 100));
  }
  throw new Error("the page saved nothing");
}
