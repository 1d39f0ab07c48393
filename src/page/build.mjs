// Builds the study page: one HTML file that needs nothing else, from the sources and the browser side of
// platform/. Its text is checked against the budget. `npm run pages` calls it.
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, resolve, sep } from "node:path";
import { gzipSync } from "node:zlib";
import { rolldown } from "rolldown";

const root = resolve(import.meta.dirname, "../..");
const own = import.meta.dirname;
const sides = { node: join(root, "src/platform/node"), browser: join(root, "src/platform/browser") };
const budget = 3_000_000;

const { statements } = await textsOfThePackage();

const worker = await bundle("worker/main.ts");
const client = await bundle("client/main.ts");
const font = (weight) =>
  readFileSync(join(root, `src/figures/fonts/SourceSans3-${weight}.ttf`));
const { version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
const parts = {
  worker: packed(worker),
  "font-regular": packed(font("Regular")),
  "font-semibold": packed(font("Semibold")),
  version: packed(JSON.stringify({ version })),
};
const page = pageText();

for (const folder of ["dist/page", "out/pages"]) {
  mkdirSync(join(root, folder), { recursive: true });
  writeFileSync(join(root, folder, "study.html"), page);
}
const bytes = Buffer.byteLength(page);
const size = (value) => `${(value / 1e6).toFixed(2)} MB`;
console.log(
  `out/pages/study.html: ${size(bytes)} of at most ${size(budget)} ` +
    `(the toolkit ${size(worker.length)} unpacked, ${size(parts.worker.length)} packed; the page's own script ${size(client.length)}; ` +
    `fonts ${size(parts["font-regular"].length + parts["font-semibold"].length)} packed)`,
);
if (bytes > budget) {
  console.error("The page is over its budget.");
  process.exitCode = 1;
}

function pageText() {
  const listen = readFileSync(join(own, "listen.js"), "utf8");
  const scripts = [listen, client].map(inScript);
  const hashes = scripts.map(
    (script) => `'sha256-${createHash("sha256").update(script).digest("base64")}'`,
  );
  const policy =
    `default-src 'none'; script-src ${hashes.join(" ")}; worker-src blob:; style-src 'unsafe-inline'; ` +
    "img-src data:; font-src data:; base-uri 'none'; form-action 'none'";
  const data = Object.entries(parts).map(
    ([id, text]) => `<script type="text/plain" id="${id}">${text}</script>`,
  );
  const { caution } = statements;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Meridional: a study in one page</title>
<style>
${readFileSync(join(own, "study.css"), "utf8")}</style>
<script>${scripts[0]}</script>
</head>
<body>
<main>
<h1>Can a screening reading be trusted, and is the limit in the right place?</h1>
<p class="caution" role="note">${escapeHtml(caution)}</p>
<p id="blocked" class="note" role="alert" hidden></p>
<nav aria-label="Steps"><ol id="ways"></ol></nav>
<section id="step" aria-live="off"><p>The page is getting ready.</p></section>
<p id="said" role="status"></p>
<noscript><p class="note">This page works by its own script, which this browser does not run.</p></noscript>
<p class="caution">${escapeHtml(caution)}</p>
<p class="quiet">Meridional ${escapeHtml(version)}, one page, without a network.</p>
</main>
${data.join("\n")}
<script>${scripts[1]}</script>
</body>
</html>
`;
}

/** One script of an entry and all that it imports, with the browser side of the platform. */
async function bundle(entry) {
  const build = await rolldown({
    input: join(own, entry),
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
  return output[0].code;
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

async function textsOfThePackage() {
  const built = join(root, "dist/results/index.js");
  if (!existsSync(built)) throw new Error("the built package is wanted: npm run build");
  return { statements: await import(built) };
}

function packed(content) {
  return gzipSync(content, { level: 9 }).toString("base64");
}

/** A script's text that cannot end its element. */
function inScript(text) {
  return text.replace(/<\/(script)/gi, "<\\/$1").replaceAll("<!--", "<\\!--");
}

function escapeHtml(text) {
  return text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
