// Saved notebooks as pages, and where each public name is used.
import { codeBlock, escapeHtml, guidePage } from "./markdown.mjs";

const joined = (text) => (Array.isArray(text) ? text.join("") : (text ?? ""));

/** Prose, code and saved outputs, in their order. */
export function notebookBody({ cells }, html) {
  const first = cells.find(({ cell_type }) => cell_type === "markdown");
  const title = /^# (.+)$/m.exec(joined(first?.source))?.[1] ?? "Notebook";
  const body = cells.map((cell) =>
    cell.cell_type === "markdown"
      ? html(joined(cell.source))
      : `${codeBlock(joined(cell.source))}${(cell.outputs ?? []).map(outputHtml).join("")}`,
  );
  return { title, body: body.join("\n") };
}

/** HTML where there is some; then a picture; then text. The project's own notebooks only: their HTML is ours. */
function outputHtml({ data, text, output_type }) {
  if (output_type === "stream") return `<div class="cell-output"><pre tabindex="0">${escapeHtml(joined(text))}</pre></div>\n`;
  const { "text/html": html, "image/png": png, "image/svg+xml": svg, "text/plain": plain } = data ?? {};
  const alt = escapeHtml(joined(plain) || "a figure of this cell");
  if (png) return `<div class="cell-output"><img src="data:image/png;base64,${joined(png).replace(/\s/g, "")}" alt="${alt}"></div>\n`;
  if (html) return `<div class="cell-output">${joined(html)}</div>\n`;
  if (svg) return `<div class="cell-output"><img src="data:image/svg+xml;base64,${Buffer.from(joined(svg)).toString("base64")}" alt="${alt}"></div>\n`;
  return plain ? `<div class="cell-output"><pre tabindex="0">${escapeHtml(joined(plain))}</pre></div>\n` : "";
}

/** Name to the pages that use it: notebooks' code and guides' text. */
export function usedIn(notebooks, guides, placeByName) {
  const uses = new Map();
  const note = (text, page) => {
    for (const [word] of text.matchAll(/\b[A-Za-z]\w+\b/g)) {
      if (!placeByName.has(word)) continue;
      if (!uses.has(word)) uses.set(word, new Map());
      uses.get(word).set(page.place, page.title);
    }
  };
  for (const { name, json } of notebooks) {
    const code = json.cells.filter(({ cell_type }) => cell_type === "code").map(({ source }) => joined(source));
    note(code.join("\n"), { place: `notebook-${name}.html`, title: `notebook ${name}` });
  }
  for (const { name, title, text } of guides) {
    if (["glossary", "messages", "answers"].includes(name)) continue;
    const code = [...text.matchAll(/```ts\n([\s\S]*?)```|`(\w+)`/g)].map(([, block, word]) => block ?? word);
    note(code.join("\n"), { place: guidePage(name), title });
  }
  return uses;
}
