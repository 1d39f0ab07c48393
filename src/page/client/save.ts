import { zipSync } from "fflate";
import type { PathAndBytes } from "../messages.js";
import { button } from "./elements.js";

const types: { readonly [ending: string]: string } = {
  html: "text/html",
  csv: "text/csv",
  json: "application/json",
  md: "text/markdown",
  svg: "image/svg+xml",
  png: "image/png",
  zip: "application/zip",
  docx: "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
  xlsx: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
};

/** Hands a file to the browser, which asks or knows where it goes. */
export function save(name: string, bytes: Uint8Array): void {
  const type = types[name.split(".").at(-1) ?? ""] ?? "application/octet-stream";
  const address = URL.createObjectURL(new Blob([bytes as Uint8Array<ArrayBuffer>], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

export function saveText(name: string, text: string): void {
  save(name, new TextEncoder().encode(text));
}

/** A button that saves one file. */
export function saveButton(name: string, bytes: Uint8Array, onSaved = () => {}): HTMLElement {
  return button(`Save ${name}`, () => {
    save(name, bytes);
    onSaved();
  });
}

/** A button that saves several files as one ZIP. */
export function zipButton(
  words: string,
  name: string,
  files: readonly PathAndBytes[],
  onSaved = () => {},
): HTMLElement {
  return button(words, () => {
    save(name, zipSync(Object.fromEntries(files.map(([path, bytes]) => [path, bytes]))));
    onSaved();
  });
}
