import { type DefaultTreeAdapterMap, parseFragment } from "parse5";
import { markdownRenderer } from "../../../handbook/markdown.mjs";

type ParsedNode = DefaultTreeAdapterMap["childNode"];
type ParsedElement = DefaultTreeAdapterMap["element"];

const nowhere = () => undefined;
const renderer = markdownRenderer(nowhere, () => false, nowhere);

/** What a notebook's prose and outputs are made of; nothing that runs, loads, sends or has an id. */
const elements = new Set([
  ...["p", "h1", "h2", "h3", "h4", "h5", "h6", "br", "hr", "blockquote", "pre", "code", "div"],
  ...["ul", "ol", "li", "dl", "dt", "dd", "strong", "em", "b", "i", "del", "s", "sub", "sup"],
  ...["table", "caption", "thead", "tbody", "tfoot", "tr", "th", "td", "span", "small"],
  ...["details", "summary", "figure", "figcaption", "img", "a"],
]);
const attributes = new Set([
  "scope",
  "colspan",
  "rowspan",
  "alt",
  "width",
  "height",
  "open",
  "start",
]);

/** Elements whose text is no text for a reader. */
const dropped = new Set([
  ...["script", "style", "template", "iframe", "object", "svg", "math", "title", "head", "select"],
  ...["noscript", "noembed", "noframes", "textarea", "xmp", "plaintext"],
]);

/** A style may say how a table looks, not where something stands. */
const looks: { readonly [property: string]: RegExp } = {
  "text-align": /^(left|right|center)$/,
  "font-weight": /^(normal|bold|\d{3})$/,
  "white-space": /^nowrap$/,
  "min-width": /^(min\()?[\d.]+(em|rem|px|ch)(, ?[\d.]+vw\))?$/,
};

const picture = /^data:image\/(svg\+xml|png|jpeg|gif);base64,[\w+/=\s]*$/;

/**
 * Markup as what of it may stand in a page. It is read by a parser of its own and built anew, element by
 * element, so that the browser never sees what is left out.
 */
export function safeHtml(html: string): DocumentFragment {
  const fragment = document.createDocumentFragment();
  fragment.append(...parseFragment(html).childNodes.flatMap(built));
  return fragment;
}

/** Prose of a notebook, by the handbook's renderer: markup within it is shown as text. */
export function proseHtml(markdown: string): DocumentFragment {
  return safeHtml(renderer.parse(markdown));
}

function built(node: ParsedNode): Node[] {
  if ("value" in node) return [document.createTextNode(node.value)];
  if (!("tagName" in node) || dropped.has(node.tagName)) return [];
  const within = node.childNodes.flatMap(built);
  if (!elements.has(node.tagName)) return within;
  const values = new Map(node.attrs.map(({ name, value }) => [name, value]));
  if (node.tagName === "img" && !picture.test(values.get("src") ?? "")) return [];
  const element = document.createElement(node.tagName);
  for (const [name, value] of values) if (attributes.has(name)) element.setAttribute(name, value);
  for (const [name, value] of specialAttributes(node, values)) element.setAttribute(name, value);
  element.append(...within);
  return [element];
}

function specialAttributes(
  { tagName }: ParsedElement,
  values: ReadonlyMap<string, string>,
): [string, string][] {
  const style = (values.get("style") ?? "")
    .split(";")
    .map((one) => one.split(":").map((part) => part.trim()))
    .filter(([name, value]) => looks[name]?.test(value ?? ""))
    .map((one) => one.join(":"));
  const own: [string, string][] = style.length === 0 ? [] : [["style", style.join(";")]];
  if (tagName === "img") {
    own.push(["src", values.get("src") ?? ""]);
    if (!values.has("alt")) own.push(["alt", "a picture without words"]);
  }
  // a link opens beside the page, at a click alone
  if (tagName === "a" && /^https?:\/\//i.test(values.get("href") ?? "")) {
    own.push(["href", values.get("href") ?? ""], ["target", "_blank"]);
    own.push(["rel", "noopener noreferrer"]);
  }
  // a block of code can be wider than the page
  if (tagName === "pre") own.push(["tabindex", "0"], ["role", "group"], ["aria-label", "Code"]);
  return own;
}
