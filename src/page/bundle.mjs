// One script of an entry and all that it imports, for a browser.
import { readFileSync } from "node:fs";
import { dirname, join, resolve, sep } from "node:path";
import { gzipSync } from "node:zlib";
import { rolldown } from "rolldown";

export const root = resolve(import.meta.dirname, "../..");
const sides = { node: join(root, "src/platform/node"), browser: join(root, "src/platform/browser") };

/** Bundles with the browser side of the platform: the script, and the names of the libraries in it. */
export async function bundle(entry) {
  const build = await rolldown({
    input: join(import.meta.dirname, entry),
    platform: "browser",
    plugins: [browserSide()],
    resolve: {
      extensionAlias: { ".js": [".ts", ".js"] },
      // its own build for browsers, with a buffer of its own
      alias: { "csv-parse/sync": join(root, "node_modules/csv-parse/dist/esm/sync.js") },
    },
    onLog(level, log) {
      if (level === "warn") throw new Error(log.message);
    },
  });
  const { output } = await build.generate({ format: "iife", minify: process.env.PLAIN === undefined, codeSplitting: false });
  const libraries = output[0].moduleIds.flatMap(
    (id) => /^.*\/node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(id.replaceAll(sep, "/"))?.[0] ?? [],
  );
  return { code: output[0].code, libraries: [...new Set(libraries)] };
}

function browserSide() {
  return {
    name: "browser-side",
    resolveId(name, importer) {
      if (importer === undefined || !name.startsWith(".")) return null;
      const path = resolve(dirname(importer), name).replace(/\.js$/, ".ts");
      if (!path.startsWith(sides.node + sep)) return null;
      return path.replace(sides.node, sides.browser);
    },
    load(id) {
      // it asks whether generators can be compiled from a text, which the page's policy forbids; all browsers can
      if (/assert-has-generator-support\/lib\/index\.js$/.test(id)) {
        return "module.exports = () => true;";
      }
      // only English is spoken
      if (/zod\/v4\/locales\/index\.js$/.test(id)) return 'export { default as en } from "./en.js";';
      return null;
    },
  };
}

/** Bytes or text as a page carries them. */
export function packed(content) {
  return gzipSync(content, { level: 9 }).toString("base64");
}

/** A file of the package. */
export const fileOfPackage = (name) => readFileSync(join(root, name));
