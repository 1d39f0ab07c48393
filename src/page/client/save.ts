import { zipSync } from "fflate";
import { folders, type PathAndBytes } from "../messages.js";
import { button } from "./elements.js";
import { nameOf, placeOf } from "./placeOf.js";
import type { Page } from "./state.js";

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
  files: readonly PathAndBytes[] | (() => readonly PathAndBytes[]),
  onSaved = () => {},
): HTMLElement {
  return button(words, () => {
    const all = typeof files === "function" ? files() : files;
    save(name, zipSync(Object.fromEntries(all)));
    onSaved();
  });
}

/** The files of a folder in the page's memory, by their paths within it. */
export function filesWithin({ toolkit }: Page, folder: string): PathAndBytes[] {
  return [...toolkit.files]
    .filter(([path]) => path.startsWith(`${folder}/`))
    .map(([path, bytes]) => [path.slice(folder.length + 1), bytes]);
}

/** All that a study needs to be gone on with: the protocol and mapping as they stand, and the files they name. */
export function draftFiles(page: Page): readonly PathAndBytes[] {
  const { protocol, columns } = page.state;
  const files = new Map(filesWithin(page, folders.study));
  for (const side of [protocol.sources.readings, protocol.sources.findings]) {
    for (const path of [side.file, side.columns]) {
      const bytes = typeof path === "string" ? page.toolkit.files.get(placeOf(path)) : undefined;
      if (bytes !== undefined) files.set(nameOf(path), bytes);
    }
  }
  const { columns: mapping } = protocol.sources.readings;
  if (columns !== null && typeof mapping === "string") files.set(nameOf(mapping), json(columns));
  files.set("protocol.json", json(protocol));
  return [...files];
}

const json = (value: object) => new TextEncoder().encode(`${JSON.stringify(value, null, 2)}\n`);
