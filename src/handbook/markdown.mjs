// Markdown to HTML, with the handbook's own links: guide:NAME or guide:NAME#HEADING, notebook:NAME, glossary:TERM, figure:NAME,
// and a function in backticks, which leads to its place in the reference.
import { Marked } from "marked";

export const escapeHtml = (text) =>
  text.replace(/[&<>"]/g, (sign) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[sign]);

/** The anchor of a heading or a term. */
export const slugOf = (text) =>
  text
    .replace(/<[^>]*>|[`*]/g, "")
    // signs as HTML writes them, so that a heading and its rendered form have one anchor
    .replace(/&(?:#\d+|[a-z]+);/g, " ")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "");

/** A few have a place of their own at the top of each page. */
export const guidePage = (name) =>
  name === "citing" ? "cite.html" : ["recipes", "glossary", "messages", "answers"].includes(name) ? `${name}.html` : `guide-${name}.html`;

/**
 * @param placeOf where a name of the public face stands, or undefined
 * @param hasGuide whether a guide of that name is written
 * @param roomPage the page of a room's README by its folder, or undefined
 */
export function markdownRenderer(placeOf, hasGuide, roomPage) {
  const targets = {
    guide: (target) => {
      const [name, heading] = target.split("#");
      return hasGuide(name) ? guidePage(name) + (heading ? `#${heading}` : "") : undefined;
    },
    notebook: (name) => `notebook-${name}.html`,
    glossary: (term) => `glossary.html#${term}`,
    ref: (name) => placeOf(name),
  };
  const linkOf = (href) => {
    const [, scheme, rest] = /^(\w+):(.*)$/.exec(href) ?? [];
    if (scheme in targets) return targets[scheme](rest);
    if (/^(https?:|#)/.test(href)) return href;
    const room = /(?:^|\/)(?:src\/)?(\w+)\/README\.md/.exec(href);
    return room && roomPage(room[1]);
  };
  return new Marked({
    gfm: true,
    renderer: {
      heading({ tokens, depth }) {
        const text = this.parser.parseInline(tokens);
        return `<h${depth} id="${slugOf(text)}">${text}</h${depth}>\n`;
      },
      link({ href, tokens }) {
        const words = this.parser.parseInline(tokens);
        const target = linkOf(href);
        return target ? `<a href="${escapeHtml(target)}">${words}</a>` : words;
      },
      image({ href, text }) {
        const [, name] = /^figure:(.*)$/.exec(href) ?? [];
        return name
          ? `<figure><img src="figures/${name}.svg" alt="${escapeHtml(text)}"><figcaption>${escapeHtml(text)}</figcaption></figure>`
          : escapeHtml(text);
      },
      codespan({ text }) {
        const name = /^(\w+)(\(\))?$/.exec(text)?.[1];
        const place = name && placeOf(name);
        return place ? `<a href="${place}"><code>${escapeHtml(text)}</code></a>` : `<code>${escapeHtml(text)}</code>`;
      },
      code({ text }) {
        return codeBlock(text);
      },
      table(token) {
        const cell = (tag) => (one) => `<${tag}>${this.parser.parseInline(one.tokens)}</${tag}>`;
        const rows = token.rows.map((row) => `<tr>${row.map(cell("td")).join("")}</tr>`).join("\n");
        return `<div class="wide"><table><thead><tr>${token.header.map(cell('th scope="col"')).join("").replaceAll('</th scope="col">', "</th>")}</tr></thead>\n<tbody>${rows}</tbody></table></div>\n`;
      },
      html({ text }) {
        return escapeHtml(text);
      },
    },
  });
}

/** Code as it is; what an example shows stands apart in colour. */
export function codeBlock(text) {
  const lines = text.split("\n").map((line) => {
    const at = line.indexOf("// =>");
    return at < 0
      ? escapeHtml(line)
      : `${escapeHtml(line.slice(0, at))}<span class="shown">${escapeHtml(line.slice(at))}</span>`;
  });
  return `<pre tabindex="0"><code>${lines.join("\n")}</code></pre>\n`;
}
