// Builds the handbook: guides, reference, notebooks, figures and a search, as static pages that open from a
// disk. `npm run handbook` writes out/handbook and the package's own copy, dist/handbook.
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import MiniSearch from "minisearch";
import { searchOptions } from "./find.mjs";
import { codeBlock, escapeHtml, guidePage, markdownRenderer, slugOf } from "./markdown.mjs";
import { notebookBody, usedIn } from "./notebookPages.mjs";
import { look, pageText, searchScript } from "./pages.mjs";
import { referenceOf } from "./reference.mjs";
import { referencePages } from "./referencePages.mjs";

const root = resolve(import.meta.dirname, "../..");
const own = import.meta.dirname;
const folders = process.argv.slice(2);
if (folders.length === 0) folders.push(join(root, "out/handbook"), join(root, "dist/handbook"));

const { caution } = await import(join(root, "dist/index.js"));
const read = (path) => readFileSync(join(root, path), "utf8");
const chapters = referenceOf(root);
const entries = chapters.flatMap((chapter) => chapter.entries.map((entry) => ({ ...entry, chapter })));
const placeByName = new Map(entries.map(({ name, chapter }) => [name, `reference-${chapter.slug}.html#${name}`]));
const rooms = readdirSync(join(root, "src"), { withFileTypes: true })
  .filter((one) => one.isDirectory() && existsSync(join(root, "src", one.name, "README.md")))
  .map(({ name }) => name);
const roomPage = (room) => (rooms.includes(room) ? `room-${room}.html` : undefined);
const marked = markdownRenderer((name) => (name === "citation" ? "cite.html" : placeByName.get(name)), (name) => guides.some((one) => one.name === name), roomPage);
const html = (markdown) => marked.parse(markdown);

/** Pages to write, and what the search knows of them. */
const pages = [];
const known = [];
const add = (file, title, body, about) => {
  pages.push({ file, title, body });
  if (about) known.push({ id: file, place: file, title, about, text: wordsOf(body) });
};
const wordsOf = (body) =>
  plainOf(body.replace(/<style[\s\S]*?<\/style>|data:[^"]*/g, "").replace(/<[^>]*>/g, " ")).replace(/\s+/g, " ");
const signs = { lt: "<", gt: ">", quot: '"', "#39": "'", amp: "&" };
/** Text as it is read, where HTML writes a sign by its name. */
const plainOf = (text) => text.replace(/&(lt|gt|quot|#39|amp);/g, (_, name) => signs[name]);

const notebooks = readdirSync(join(root, "notebooks"))
  .filter((name) => name.endsWith(".ipynb"))
  .sort()
  .map((file) => ({ name: file.replace(".ipynb", ""), json: JSON.parse(read(`notebooks/${file}`)) }));
const guides = existsSync(join(own, "guides"))
  ? readdirSync(join(own, "guides")).filter((name) => name.endsWith(".md")).map((file) => guideOf(file))
  : [];

function guideOf(file) {
  const name = file.replace(".md", "");
  const markdown = readFileSync(join(own, "guides", file), "utf8");
  const title = /^# (.+)$/m.exec(markdown)[1];
  const readers = /^Readers: (.+)$/m.exec(markdown)?.[1] ?? "";
  const text = markdown
    .replace(/^Readers: .+\n/m, "")
    .replace(/^CITATION-FILE$/m, `\`\`\`\n${read("CITATION.cff").trim()}\n\`\`\``)
    .replace(/^:::caution$/gm, "CAUTION-STANDS-HERE");
  // the line behind the title says what the page answers
  const about = /^# .+\n+([^\n#].*)/m.exec(text)?.[1] ?? "";
  return { name, title, readers, text, about };
}

/** The first sentence line of a section, shown with a hit, and all its words without code, by which it is found. */
function sectionWords(lines) {
  const prose = lines
    .join("\n")
    .replace(/^```[\s\S]*?^```$/gm, "")
    .replace(/\]\([a-z]+:[^)]*\)|[`*[\]]/g, "")
    .split("\n");
  const sentence = prose.find((line) => /^(> |- )?[\p{L}\p{N}"]/u.test(line) && line !== "CAUTION-STANDS-HERE");
  return { about: (sentence ?? "").replace(/^(> |- )/, ""), text: prose.join(" ").replace(/[|\s-]+/g, " ") };
}

const uses = usedIn(notebooks, guides, placeByName);
for (const guide of guides) {
  const place = guidePage(guide.name).replace(".html", "");
  const body = html(guide.text).replace(
    /<p>CAUTION-STANDS-HERE<\/p>/g,
    `<p class="caution">${escapeHtml(caution)}</p>`,
  );
  const marks = guide.text.includes("// =>") ? " In the examples, what stands behind <code>// =></code> is what the line gives." : "";
  const readers = guide.readers && `<p class="from">For: ${escapeHtml(guide.readers)}.${marks.replace("=>", "=&gt;")}</p>\n`;
  add(`${place}.html`, guide.title, body.replace("</h1>\n", `</h1>\n${readers}`), guide.about);
  for (const section of guide.text.split(/^## /m).slice(1)) {
    const [title, ...rest] = section.split("\n");
    if (title === "Sources") continue;
    const at = `${place}.html#${slugOf(title)}`;
    known.push({ id: at, place: at, title: `${title} (${guide.title})`, ...sectionWords(rest) });
  }
}

for (const page of referencePages(chapters, { placeByName, html, codeBlock, uses, roomPage })) {
  add(page.file, page.title, page.body);
  for (const one of page.known) known.push({ id: one.place, ...one });
}
for (const room of rooms) {
  add(`room-${room}.html`, `Room: ${room}`, html(read(`src/${room}/README.md`)), `What the room ${room} does, and where its numbers come from`);
}
const titles = [];
for (const { name, json } of notebooks) {
  const { title, body } = notebookBody(json, html);
  titles.push({ name, title, about: wordsOf(/<p>([\s\S]*?)<\/p>/.exec(body)?.[1] ?? "") });
  add(`notebook-${name}.html`, title, `<p class="from">notebooks/${name}.ipynb, with its saved outputs.</p>\n${body}`, titles.at(-1).about);
}
add("notebooks.html", "Notebooks", `<h1>Notebooks</h1>\n<ul>${titles.map(({ name, title, about }) => `<li><a href="notebook-${name}.html">${escapeHtml(title)}</a> (${name}): ${escapeHtml(about)}</li>`).join("\n")}</ul>`, "All notebooks");
const gallery = /<body>([\s\S]*)<\/body>/.exec(read("figures/index.html"))[1];
add("gallery.html", "Figures", gallery.replaceAll('src="', 'src="figures/'), "Every figure beside the call that makes it");
add("changes.html", "Changes", html(movedFirst(read("CHANGELOG.md"))), "What changed, and which numbers moved");
const listed = guides
  .filter(({ name }) => guidePage(name).startsWith("guide-"))
  .map(({ name, title, about }) => `<li><a href="guide-${name}.html">${escapeHtml(title)}</a>: ${escapeHtml(about.replace(/[`*[\]]/g, ""))}</li>`);
const places = rooms.map((room) => `<a href="room-${room}.html">${room}</a>`).join(", ");
add("index.html", "Contents", `${html(readFileSync(join(own, "contents.md"), "utf8"))}<h3>Guides</h3><ul>${listed.join("\n")}</ul>\n<h3>Rooms</h3><p>${places}</p>`);

/** The changelog with the entries in which a number moves before the others. */
function movedFirst(text) {
  const [head, ...entries] = text.split(/\n(?=- )/);
  // no number moves; or what moves is the limit of a figure, under a hand
  const none = /\bno (?:published |other )?numbers?[^.;]*?\bmoves?\b|\bdo(?:es)? not move\b|\bto move\b|\blimit (?:that moves|can be moved)\b/gi;
  const moves = (entry) => /\bmove[sd]?\b/.test(entry.replace(/\s+/g, " ").replace(none, ""));
  const list = (some) => some.join("\n");
  const others = entries.filter((entry) => !moves(entry));
  return `${head}\n\n### Numbers that moved\n\n${list(entries.filter(moves))}\n\n### Everything else\n\n${list(others)}`;
}

const index = new MiniSearch(searchOptions);
index.addAll([...new Map(known.map((one) => [one.id, one])).values()]);
const finding = readFileSync(join(own, "find.mjs"), "utf8").replace(/^export /gm, "");
const library = readFileSync(join(root, "node_modules/minisearch/dist/umd/index.js"), "utf8").replace(/\/\/# source.*/, "");
const search = `${library}\n${finding}\nconst searchIndex = ${JSON.stringify(JSON.stringify(index))};\n${searchScript}`;

const there = new Set(pages.map(({ file }) => file));
for (const folder of folders) {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(join(folder, "figures"), { recursive: true });
  for (const { file, title, body } of pages) writeFileSync(join(folder, file), pageText({ title, body, caution, file, there }));
  writeFileSync(join(folder, "handbook.css"), look);
  writeFileSync(join(folder, "search.js"), search);
  for (const name of readdirSync(join(root, "figures")).filter((one) => one.endsWith(".svg"))) {
    copyFileSync(join(root, "figures", name), join(folder, "figures", name));
  }
  console.log(`${folder}: ${pages.length} pages, ${entries.length} names, search ${(search.length / 1e6).toFixed(1)} MB`);
}
