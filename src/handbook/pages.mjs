// The frame of a page, its look, and the search that runs without a server.
import { escapeHtml } from "./markdown.mjs";

const places = [
  ["index.html", "Contents"],
  ["recipes.html", "Recipes"],
  ["reference.html", "Reference"],
  ["notebooks.html", "Notebooks"],
  ["gallery.html", "Figures"],
  ["glossary.html", "Glossary"],
  ["messages.html", "Messages"],
  ["changes.html", "Changes"],
  ["cite.html", "How to cite"],
];

/** A whole page. */
export const pageText = ({ title, body, caution, file, there }) => `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src 'self' data: file:; style-src 'self' file: 'unsafe-inline'; script-src 'self' file:; base-uri 'none'; form-action 'none'">
<title>${escapeHtml(title)}: Meridional handbook</title>
<link rel="stylesheet" href="handbook.css">
<script src="search.js" defer></script>
</head>
<body>
<a class="skip" href="#main">To the text</a>
<header>
<p class="name"><a href="index.html">Meridional handbook</a></p>
<search><label>Search <input type="search" id="search" autocomplete="off" aria-controls="found"></label></search>
<nav aria-label="Parts"><ul>${places
  .filter(([place]) => there.has(place))
  .map(([place, words]) => `<li><a href="${place}"${place === file ? ' aria-current="page"' : ""}>${words}</a></li>`)
  .join("")}</ul></nav>
<div id="found" role="region" aria-live="polite" aria-label="Found"></div>
</header>
<main id="main">
${body}
</main>
<footer><p>${escapeHtml(caution)}</p></footer>
</body>
</html>
`;

export const look = `:root { color-scheme: light dark; --ink: #1b1f24; --paper: #fff; --soft: #f2f4f6; --line: #c9ced4; --link: #0b5394; --shown: #5a4a00; }
@media (prefers-color-scheme: dark) { :root { --ink: #e4e7ea; --paper: #16191d; --soft: #20252a; --line: #444c55; --link: #8ab8e6; --shown: #e0c877; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 54rem; padding: 0 1rem 3rem; font: 17px/1.55 system-ui, sans-serif; color: var(--ink); background: var(--paper); }
a { color: var(--link); } h1, h2, h3, h4 { line-height: 1.25; } h2 { margin-top: 2.2rem; } h3 { margin-top: 1.8rem; }
.skip { position: absolute; left: -99rem; } .skip:focus { left: 1rem; top: 0.5rem; background: var(--paper); padding: 0.4rem; }
header { border-bottom: 1px solid var(--line); margin-bottom: 1.5rem; padding: 0.8rem 0; }
header .name { float: left; margin: 0 2rem 0.4rem 0; font-weight: 600; } header search { display: block; }
input[type=search] { font: inherit; width: min(20rem, 60vw); min-height: 2rem; color: inherit; background: var(--paper); border: 1px solid var(--ink); border-radius: 3px; padding: 0.1rem 0.4rem; }
nav ul { display: flex; flex-wrap: wrap; gap: 0.2rem 1.1rem; list-style: none; margin: 0.6rem 0 0; padding: 0; clear: both; }
nav a { display: inline-block; padding: 0.2rem 0; } nav a[aria-current] { font-weight: 600; color: inherit; }
#found ol { border: 1px solid var(--line); border-radius: 4px; margin: 0.6rem 0 0; padding: 0.6rem 0.6rem 0.6rem 2.4rem; background: var(--soft); }
#found small { display: block; }
pre { background: var(--soft); padding: 0.7rem 0.9rem; overflow-x: auto; font-size: 0.86rem; border-radius: 4px; } code { font-family: ui-monospace, monospace; font-size: 0.92em; }
.shown { color: var(--shown); } .wide { overflow-x: auto; } table { border-collapse: collapse; margin: 0.8rem 0; font-size: 0.94rem; }
th, td { border-bottom: 1px solid var(--line); padding: 0.3rem 0.7rem 0.3rem 0; text-align: left; vertical-align: top; }
img { max-width: 100%; height: auto; } figure { margin: 1rem 0 2rem; } figcaption { font-size: 0.9rem; }
.entry { border-top: 1px solid var(--line); margin-top: 2.2rem; } .from { color: inherit; opacity: 0.85; font-size: 0.88rem; }
.caution, footer { border-left: 4px solid #b54708; padding: 0.4rem 0.9rem; background: var(--soft); font-size: 0.92rem; } footer { margin-top: 3rem; }
.cell-output { border-left: 3px solid var(--line); padding-left: 0.9rem; overflow-x: auto; }
@media print { header nav, header search, #found, .skip { display: none; } body { max-width: none; font-size: 10.5pt; } pre { white-space: pre-wrap; } }
`;

/** The search's own script, behind the library's and the index. */
export const searchScript = `
const input = document.getElementById("search");
const found = document.getElementById("found");
const index = MiniSearch.loadJSON(searchIndex, searchOptions);
const show = () => {
  found.textContent = "";
  const words = input.value.trim();
  if (words.length < 2) return;
  const hits = find(index, words);
  const list = document.createElement("ol");
  for (const hit of hits) {
    const item = list.appendChild(document.createElement("li"));
    const link = item.appendChild(document.createElement("a"));
    link.href = hit.place;
    link.textContent = hit.title;
    item.appendChild(document.createElement("small")).textContent = hit.about;
  }
  if (hits.length > 0) found.append(list);
  else found.textContent = "Nothing found for these words.";
};
input.addEventListener("input", show);
input.addEventListener("keydown", (event) => {
  if (event.key === "Escape") { input.value = ""; show(); }
  if (event.key === "Enter") { const first = found.querySelector("a"); if (first) location.href = first.href; }
});
`;
