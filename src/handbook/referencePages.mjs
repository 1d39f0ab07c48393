// The reference as pages: one a chapter, one of the kinds of results.
import { readFileSync } from "node:fs";
import { escapeHtml } from "./markdown.mjs";

/** What a field means wherever it stands, for those whose docstring says no more. */
const fieldWords = JSON.parse(readFileSync(new URL("./fieldWords.json", import.meta.url), "utf8"));
/** Words for a field: its own, else those that hold wherever the name stands. */
export const wordsOfField = ({ name, note }) => {
  const words = note || fieldWords[name];
  if (!words) throw new Error(`the field ${name} has no words: write a docstring, or a line in fieldWords.json`);
  return words;
};

/** Pages with what the search knows of each name. */
export function referencePages(chapters, { placeByName, html, codeBlock, uses, roomPage }) {
  const linked = (type) =>
    escapeHtml(type).replace(/\b[A-Za-z]\w+\b/g, (word) =>
      placeByName.has(word) ? `<a href="${placeByName.get(word)}">${word}</a>` : word,
    );
  const code = (type) => `<code>${linked(type)}</code>`;
  const inline = (text) => html(text).replace(/^<p>|<\/p>\s*$/g, "");

  const fieldsTable = (caption, fields, withDefault) =>
    fields.length === 0
      ? ""
      : `<div class="wide"><table><caption>${caption}</caption><thead><tr><th scope="col">Name</th><th scope="col">Type</th>${withDefault ? '<th scope="col">Default</th>' : ""}<th scope="col">What</th></tr></thead><tbody>${fields
          .map(
            (field) =>
              `<tr><td><code>${field.name}${field.optional ? "?" : ""}</code></td><td>${code(shortType(field.type))}</td>${withDefault ? `<td>${field.default ? `<code>${escapeHtml(field.default)}</code>` : ""}</td>` : ""}<td>${inline(wordsOfField(field))}</td></tr>`,
          )
          .join("\n")}</tbody></table></div>\n`;

  /** What the fields hold that is no public type of its own, such as one group of many; each type once. */
  const partsTables = (fields) => {
    const told = new Set();
    return fields
      .flatMap(({ name, parts }) => parts.map((part) => ({ name, ...part })))
      .filter(({ type }) => {
        const isNew = !placeByName.has(type) && !told.has(type);
        told.add(type);
        return isNew;
      })
      .map(({ name, fields: inner }) => fieldsTable(`In <code>${name}</code>`, inner, false))
      .join("");
  };

  const functionBody = (entry) => {
    const parameters = entry.parameters.map(
      ({ name, optional, type, note }) =>
        `<li><code>${name}${optional ? "?" : ""}</code>: ${code(shortType(type))}${note ? `. ${inline(note)}` : ""}</li>`,
    );
    const options = entry.parameters.map(({ name, fields }) =>
      fieldsTable(`Fields of <code>${name}</code>`, fields, fields.some((field) => field.default)),
    );
    const { result } = entry;
    return [
      entry.signatures.map((one) => `<pre tabindex="0"><code>${linked(one)}</code></pre>`).join("\n"),
      html(entry.text),
      parameters.length > 0 ? `<h4>Takes</h4><ul>${parameters.join("\n")}</ul>` : "",
      options.join(""),
      `<h4>Gives</h4><p>${code(shortType(result.type))}${entry.returns ? `. ${inline(entry.returns)}` : ""}</p>`,
      placeByName.has(result.type) ? "" : fieldsTable("Fields of the result", result.fields, false) + partsTables(result.fields),
      `<h4>Refuses</h4><ul>${[...entry.throws, "What is not of the shape above: the message names the function, what it wants, what came and the cure"].map((one) => `<li>${inline(one)}</li>`).join("")}</ul>`,
    ].join("\n");
  };

  const body = (entry) => {
    const text =
      entry.kind === "function"
        ? functionBody(entry)
        : entry.kind === "type"
          ? `${html(entry.text)}${entry.fields.length > 0 ? fieldsTable("Fields", entry.fields, false) + partsTables(entry.fields) : `<p>${code(entry.type)}</p>`}`
          : `<pre tabindex="0"><code>${escapeHtml(entry.name)}: ${linked(shortType(entry.type))}</code></pre>${html(entry.text)}`;
    const examples = entry.examples.map((one) => codeBlock(one.replace(/^```\w*\n|\n```$/g, "").trim())).join("");
    const seen = [...(uses.get(entry.name) ?? [])].map(([place, title]) => `<a href="${place}">${escapeHtml(title)}</a>`);
    const room = roomPage(entry.room);
    return `<section class="entry" id="${entry.name}">\n<h3>${entry.name}</h3>\n${text}${examples && `<h4>Example</h4>${examples}`}<p class="from">${seen.length > 0 ? `Used in ${seen.join(", ")}. ` : ""}${room ? `Method, sources and coverage: <a href="${room}">room ${entry.room}</a>.` : ""}</p>\n</section>`;
  };

  const pages = chapters.map(({ title, slug, entries }) => {
    const file = `reference-${slug}.html`;
    const ordered = [...entries.filter(({ kind }) => kind !== "type"), ...entries.filter(({ kind }) => kind === "type")];
    const listOf = (keep) =>
      ordered
        .filter(({ kind }) => keep(kind))
        .map(({ name, summary }) => `<li><a href="#${name}">${name}</a>: ${inline(summary)}</li>`)
        .join("\n");
    const types = listOf((kind) => kind === "type");
    return {
      file,
      title: `Reference: ${title}`,
      body: `<h1>${escapeHtml(capital(title))}</h1>\n<ul>${listOf((kind) => kind !== "type")}</ul>\n${types && `<h2>Types</h2>\n<ul>${types}</ul>\n`}<h2>In full</h2>\n${ordered.map(body).join("\n")}`,
      known: entries.map((entry) => ({
        place: `${file}#${entry.name}`,
        title: entry.name,
        about: entry.summary,
        text: `${entry.text} ${(entry.parameters ?? []).flatMap(({ fields }) => fields.map(({ name }) => name)).join(" ")}`,
      })),
    };
  });
  const kinds = chapters
    .flatMap(({ entries }) => entries)
    .flatMap((entry) => (entry.result?.kinds ?? []).map((kind) => ({ kind, entry })))
    .filter(({ kind }) => kind !== "undefined");
  const byKind = Map.groupBy ? Map.groupBy(kinds, ({ kind }) => kind) : groupBy(kinds);
  const kindRows = [...byKind]
    .sort(([a], [b]) => a.localeCompare(b))
    .map(
      ([kind, list]) =>
        `<tr id="${kind}"><td><code>${kind}</code></td><td>${list.map(({ entry }) => `<a href="${placeByName.get(entry.name)}">${entry.name}</a>`).join(", ")}</td><td>${code(shortType(list[0].entry.result.type))}</td></tr>`,
    );
  const index = {
    file: "reference.html",
    title: "Reference",
    body: `<h1>Reference</h1>\n<p>Every name that <code>import { ... } from "meridional"</code> gives, by chapter in the order in which data flow.</p>\n<ul>${chapters
      .map(({ title, slug, entries }) => `<li><a href="reference-${slug}.html">${escapeHtml(capital(title))}</a> (${entries.length})</li>`)
      .join("\n")}</ul>\n<h2 id="kinds">Kinds of results</h2>\n<p>A result is plain data with a <code>kind</code>. What could not be estimated has the kind <code>undefined</code> and a reason.</p>\n<div class="wide"><table><thead><tr><th scope="col">Kind</th><th scope="col">From</th><th scope="col">Type</th></tr></thead><tbody>${kindRows.join("\n")}</tbody></table></div>`,
    known: [...byKind.keys()].map((kind) => ({ place: `reference.html#${kind}`, title: `kind "${kind}"`, about: "a kind of result", text: kind })),
  };
  return [index, ...pages];
}

const capital = (text) => text[0].toUpperCase() + text.slice(1);
/** A type of many words says more in its fields. */
const shortType = (type) => (type.length > 160 ? `${type.slice(0, 150)} ...` : type);

function groupBy(list) {
  const found = new Map();
  for (const one of list) found.set(one.kind, [...(found.get(one.kind) ?? []), one]);
  return found;
}
