// Builds the pages: the study page, and the page of a notebook without its notebook. Each is one HTML file that
// needs nothing else, and is checked against its budget. `npm run pages` calls it.
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { bundle, fileOfPackage, packed, root } from "./bundle.mjs";
import { licenceNotices } from "./licences.mjs";

const own = import.meta.dirname;
const built = join(root, "dist/results/index.js");
if (!existsSync(built)) throw new Error("the built package is wanted: npm run build");
const { caution } = await import(built);
const { version } = JSON.parse(fileOfPackage("package.json"));

const fonts = {
  "font-regular": ["src/figures/fonts/SourceSans3-Regular.ttf"],
  "font-semibold": ["src/figures/fonts/SourceSans3-Semibold.ttf"],
};
const truths = readdirSync(join(root, "src/simulation/truths")).map((name) => [
  `truth-${name.replace(/\.json$/, "")}`,
  [`src/simulation/truths/${name}`],
]);

const wanted = process.argv.slice(2);
const pages = [
  {
    name: "study",
    budget: 3_000_000,
    folders: ["dist/page", "out/pages"],
    worker: "worker/main.ts",
    client: "client/main.ts",
    title: "Meridional: a study in one page",
    styles: ["study.css"],
    scripts: "",
    parts: { ...fonts, version: ["package.json", JSON.stringify({ version })] },
    body: `<h1>Can a screening reading be trusted, and is the limit in the right place?</h1>
{caution}
<p id="blocked" class="note" role="alert" hidden></p>
<nav aria-label="Steps"><ol id="ways"></ol></nav>
<section id="step" aria-live="off"><p>The page is getting ready.</p></section>`,
    // beside what scrolls, so that it lies over nothing
    status: '<p id="said" role="status"></p>\n',
  },
  {
    name: "notebook",
    budget: 3_500_000,
    folders: ["dist/page"],
    worker: "worker/notebook.ts",
    client: "client/cells/main.ts",
    title: "Meridional: a notebook in one page",
    styles: ["study.css", "notebook.css"],
    // a cell is a blob that the worker makes
    scripts: " blob:",
    parts: {
      ...fonts,
      ...Object.fromEntries(truths),
      shapes: ["src/boundary/shapes.jsonl"],
      version: ["package.json", JSON.stringify({ version })],
    },
    status: "",
    body: `{caution}
<p class="quiet">A notebook whose cells can be changed and run again here. Types are not checked, and pictures are drawn as SVG only. What is
under a cell is the saved output until the cell is run. The page has no way to send anything and keeps nothing.</p>
<p id="blocked" class="note" role="alert" hidden></p>
<div id="bar" role="group" aria-label="The notebook"><button id="run-all" class="run next" type="button">Run all</button>
<button id="stop" type="button">Stop</button> <button id="save" class="run" type="button">Save the notebook</button></div>
<div id="cells"><p>The page is getting ready.</p></div>
<section id="files" aria-label="Files"></section>
<p id="said" role="status"></p>`,
  },
];

for (const page of pages) {
  if (wanted.length === 0 || wanted.includes(page.name)) await write(page);
}

async function write({ name, budget, folders, ...page }) {
  const { code: worker, libraries } = await bundle(page.worker);
  const { code: client, libraries: more } = await bundle(page.client);
  const notices = licenceNotices([...libraries, ...more]);
  const parts = [
    part("worker", worker),
    ...Object.entries(page.parts).map(([id, [file, content = fileOfPackage(file)]]) => part(id, content, file)),
  ];
  const text = pageText(page, parts, client, notices);
  for (const folder of folders) {
    mkdirSync(join(root, folder), { recursive: true });
    writeFileSync(join(root, folder, `${name}.html`), text);
  }
  const bytes = Buffer.byteLength(text);
  const size = (value) => `${(value / 1e6).toFixed(2)} MB`;
  const brought = parts.slice(1).reduce((sum, { length }) => sum + length, 0);
  console.log(
    `${folders.at(-1)}/${name}.html: ${size(bytes)} of at most ${size(budget)} ` +
      `(the toolkit ${size(worker.length)} unpacked, ${size(parts[0].length)} packed; the page's own script ${size(client.length)}; ` +
      `fonts and files ${size(brought)} packed)`,
  );
  if (bytes > budget) {
    console.error("The page is over its budget.");
    process.exitCode = 1;
  }
}

function part(id, content, file) {
  const name = file === undefined ? "" : ` data-file="${file}"`;
  return `<script type="text/plain" id="${id}"${name}>${packed(content)}</script>`;
}

function pageText({ title, styles, scripts: others, body, status }, parts, client, notices) {
  const scripts = [readFileSync(join(own, "listen.js"), "utf8"), client].map(inScript);
  const hashes = scripts.map(
    (script) => `'sha256-${createHash("sha256").update(script).digest("base64")}'`,
  );
  const policy =
    `default-src 'none'; script-src ${hashes.join(" ")}${others}; worker-src blob:; style-src 'unsafe-inline'; ` +
    "img-src data:; font-src data:; base-uri 'none'; form-action 'none'";
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>
${styles.map((name) => readFileSync(join(own, name), "utf8")).join("")}</style>
<script>${scripts[0]}</script>
</head>
<body>
<main id="whole">
${body.replace("{caution}", () => `<p class="caution" role="note">${escapeHtml(caution)}</p>`)}
<noscript><p class="note">This page works by its own script, which this browser does not run.</p></noscript>
<p class="caution">${escapeHtml(caution)}</p>
<p class="quiet">Meridional ${escapeHtml(version)}, one page, without a network.</p>
<details class="quiet"><summary>Licences of the libraries and fonts in this page</summary>
<pre class="licences">${escapeHtml(notices)}</pre></details>
</main>
${status}${parts.join("\n")}
<script>${scripts[1]}</script>
</body>
</html>
`;
}

/** A script's text that cannot end its element. */
function inScript(text) {
  return text.replace(/<\/(script)/gi, "<\\/$1").replaceAll("<!--", "<\\!--");
}

function escapeHtml(text) {
  return text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
