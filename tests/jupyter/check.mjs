// check.mjs OUT NOTEBOOKS...: compares what Jupyter computed with what the notebooks hold, and
// looks at their HTML in a headless browser. Prints one line a notebook; fails on any difference.
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { compareOutputs, readNotebook } from "../../dist/notebook/runner.js";

const [out, ...notebooks] = process.argv.slice(2);
let failed = false;
for (const path of notebooks) {
  const name = basename(path, ".ipynb");
  const saved = readNotebook(path);
  const executed = readNotebook(join(out, "executed", `${name}.ipynb`));
  const figures = saved.cells
    .flatMap(({ outputs }) => outputs)
    .filter(({ data }) => data?.["text/html"]?.includes("<img")).length;
  const differences = compareOutputs(saved, executed);
  const page = lookAt(join(out, "html", `${name}.html`));
  if (page.visible !== figures) differences.push(`${page.visible} of ${figures} figures visible`);
  if (page.unnamed > 0) differences.push(`${page.unnamed} figures without a text`);
  if (page.errors > 0) differences.push(`${page.errors} outputs are errors`);
  failed ||= differences.length > 0;
  const report = differences.length > 0 ? differences.join("\n  ") : `same in Jupyter, ${figures} figures visible`;
  console.log(`${name}: ${report}`);
}
process.exitCode = failed ? 1 : 0;

/** Opens a page without network and asks it what can be seen. */
function lookAt(html) {
  const probe = `<script>addEventListener("load", async () => {
    const images = [...document.images];
    await Promise.allSettled(images.map((image) => image.decode()));
    const seen = ({ naturalWidth, width, height }) => naturalWidth > 0 && width > 99 && height > 99;
    const counts = {
      visible: images.filter(seen).length,
      unnamed: images.filter((image) => !image.alt).length,
      errors: document.querySelectorAll('[data-mime-type="application/vnd.jupyter.stderr"]').length,
    };
    document.documentElement.innerHTML = "<body>counts=" + JSON.stringify(counts) + "</body>";
  });</script>`;
  const probed = html.replace(/\.html$/, ".probed.html");
  writeFileSync(probed, readFileSync(html, "utf8").replace("</head>", `${probe}</head>`));
  const common = ["--headless", "--no-sandbox", "--disable-gpu", "--host-resolver-rules=MAP * ~NOTFOUND"];
  const chromium = (...options) =>
    execFileSync("chromium", [...common, ...options], { stdio: ["ignore", "pipe", "ignore"], timeout: 600_000 });
  const dom = chromium("--virtual-time-budget=20000", "--dump-dom", `file://${resolve(probed)}`);
  const screenshot = resolve(html.replace(/\.html$/, ".png"));
  chromium(`--screenshot=${screenshot}`, "--window-size=1000,6000", `file://${resolve(html)}`);
  const counts = /counts=({.*?})/.exec(dom.toString());
  if (counts === null) throw new Error(`${html} did not load`);
  return JSON.parse(counts[1]);
}
