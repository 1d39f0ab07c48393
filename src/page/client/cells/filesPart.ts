import { make, paragraph } from "../elements.js";
import { saveButton } from "../save.js";
import type { Embedded } from "./embedded.js";

/** The files that the page brings along, with what is said of each, and those that cells wrote. */
export function filesPart(
  { files }: Embedded,
  written: ReadonlyMap<string, Uint8Array>,
  onSaved: (path: string) => void,
): readonly HTMLElement[] {
  // files of one data set share its README
  const sets = new Map<string | null, (typeof files)[number][]>();
  for (const file of files) sets.set(file.about, [...(sets.get(file.about) ?? []), file]);
  const own = [...sets].flatMap(([about, group]) => [
    ...group.map(({ path, bytes }) => paragraph(`${path.slice(1)} (${sizeText(bytes)})`)),
    ...(about === null ? [] : [source(about)]),
  ]);
  const saves = [...written].map(([path, bytes]) =>
    saveButton(path.split("/").at(-1) ?? path, bytes, () => onSaved(path)),
  );
  return [
    ...(own.length === 0 ? [] : [make("h2", {}, "Data within this page"), ...own]),
    ...(saves.length === 0
      ? []
      : [
          make("h2", {}, "Files that cells wrote"),
          paragraph("They are in the page's memory, and gone with it unless they are saved."),
          make("p", { class: "saves" }, ...saves),
        ]),
  ];
}

function source(about: string): HTMLElement {
  const text = make(
    "pre",
    { tabindex: "0", role: "group", "aria-label": "Source and licence" },
    about,
  );
  return make("details", {}, make("summary", {}, "Source and licence"), text);
}

function sizeText(bytes: number): string {
  return bytes < 1000
    ? `${bytes} bytes`
    : bytes < 1e6
      ? `${(bytes / 1e3).toFixed(0)} kB`
      : `${(bytes / 1e6).toFixed(1)} MB`;
}
