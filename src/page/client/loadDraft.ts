import { folders } from "../messages.js";
import { type Json, parsedText } from "./json.js";
import { nameOf, placeOf } from "./placeOf.js";
import { deciderOf } from "./programme.js";
import type { Page } from "./state.js";

type Files = ReadonlyMap<string, Uint8Array>;

/** Whether files are something saved before: a protocol, a mapping, or what was chosen when files were prepared. */
export function isDraft(read: Files): boolean {
  return [...read.keys()].some((name) => /\.json$/i.test(name));
}

/** Takes a protocol, its mapping and its study files up again. @throws where one of them is missing */
export function takeDraft(page: Page, read: Files): void {
  const jsons = new Map(
    [...read].flatMap(([name, bytes]) =>
      /\.json$/i.test(name)
        ? [[name, parsedText(name, new TextDecoder().decode(bytes))] as const]
        : [],
    ),
  );
  const protocols = [...jsons].filter(([, json]) => json.kind === "protocol");
  const prepared = jsons.get("prepare.json");
  if (protocols.length === 0 && prepared !== undefined) {
    takeStudyFiles(page, read, prepared);
    return;
  }
  if (protocols.length === 0 && jsons.has("manifest.json")) {
    throw new Error(
      'This is a report, which holds no study files. Choose the ZIP of "Save the study files with both", beside it in the ' +
        'last step, or of "Save the draft" of step 4.',
    );
  }
  if (protocols.length !== 1) {
    throw new Error(
      `A draft needs one protocol among its files, got ${protocols.length}. Choose the ZIP that "Save the draft" ` +
        'or "Save the study files" made, or protocol.json, columns.json and the study files together.',
    );
  }
  const { toolkit, state } = page;
  const [[, protocol]] = protocols;
  const sides = [protocol.sources?.readings, protocol.sources?.findings];
  for (const side of sides) {
    for (const path of [side?.file, side?.columns]) {
      if (typeof path === "string") toolkit.put(placeOf(path), named(read, nameOf(path)));
    }
  }
  const [mapping, other] = sides.map((side) => side.columns);
  state.protocol = protocol;
  state.isLoaded = true;
  state.study = { readings: sides[0].file, findings: sides[1].file };
  state.columns =
    mapping === other && typeof mapping === "string" ? (jsons.get(nameOf(mapping)) ?? null) : null;
  state.decider = deciderOf(protocol, state.columns);
}

/** Study files without a protocol: one is drafted for them. */
function takeStudyFiles({ toolkit, state }: Page, read: Files, prepared: Json): void {
  const holding = (kind: string): string => {
    const file = prepared.files?.find(({ holds }: Json) => holds?.includes(kind));
    if (file === undefined) {
      throw new Error(
        `prepare.json names no file of ${kind}. Choose the ZIP that "Save the study files" made in step 2.`,
      );
    }
    return file.as;
  };
  const study = { readings: holding("readings"), findings: holding("findings") };
  for (const name of new Set([...Object.values(study), "columns.json"])) {
    toolkit.put(`${folders.study}/${name}`, named(read, name));
  }
  state.study = study;
  state.isLoaded = true;
}

function named(read: Files, name: string): Uint8Array {
  const bytes = read.get(name);
  if (bytes !== undefined) return bytes;
  throw new Error(
    `The draft names ${name}, which was not chosen. It is one of the study files: the button "Save the study files" of ` +
      'step 2 makes a ZIP with it, and "Save the draft" of step 4 one with everything; choose that ZIP, or this file beside the others.',
  );
}
