import type { CellOutput } from "../../../notebook/notebookFile.js";
import { make } from "../elements.js";
import { safeHtml } from "./safeHtml.js";

/** What a cell left behind: of several forms the one with most in it. */
export function outputElement(output: CellOutput, label: string): HTMLElement {
  const place = { tabindex: "0", role: "group", "aria-label": label };
  if (output.output_type === "stream") {
    const kind = output.name === "stderr" ? "output wrong" : "output";
    return make("div", { ...place, class: kind }, make("pre", {}, output.text));
  }
  const { data } = output;
  const html = data["text/html"];
  if (html !== undefined) {
    const element = make("div", { ...place, class: "output" });
    element.append(safeHtml(html));
    return element;
  }
  const words = data["text/plain"] ?? "";
  const [type, picture] =
    Object.entries(data).find(([name]) => /^image\/(svg\+xml|png|jpeg|gif)$/.test(name)) ?? [];
  if (type !== undefined && picture !== undefined) {
    const source = type === "image/svg+xml" ? base64OfText(picture) : picture.replace(/\s/g, "");
    const image = make("img", { alt: words || "a picture", src: `data:${type};base64,${source}` });
    return make("div", { ...place, class: "output" }, image);
  }
  return make("div", { ...place, class: "output" }, make("pre", {}, words));
}

function base64OfText(text: string): string {
  const bytes = new TextEncoder().encode(text);
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}
