import { folders } from "../messages.js";
import type { Json } from "./json.js";
import type { Page } from "./state.js";

/** Takes a protocol, its mapping and its study files up again. @throws where one of them is missing */
export function takeDraft({ toolkit, state }: Page, read: ReadonlyMap<string, Uint8Array>): void {
  const jsons = new Map(
    [...read].flatMap(([name, bytes]) =>
      /\.json$/i.test(name) ? [[name, parsed(name, bytes)] as const] : [],
    ),
  );
  const protocols = [...jsons].filter(([, json]) => json.kind === "protocol");
  if (protocols.length !== 1) {
    throw new Error(
      `A draft needs one protocol among its files, got ${protocols.length}. Choose protocol.json, columns.json and the study files together.`,
    );
  }
  const [[, protocol]] = protocols;
  const sides = [protocol.sources?.readings, protocol.sources?.findings];
  for (const side of sides) {
    for (const path of [side?.file, side?.columns]) {
      if (typeof path !== "string") continue;
      const name = path.split(/[\\/]/).at(-1) ?? path;
      const bytes = read.get(name);
      if (bytes === undefined) {
        throw new Error(
          `The protocol names ${name}, which was not chosen. Choose it together with the protocol.`,
        );
      }
      toolkit.put(placeOf(path), bytes);
    }
  }
  const [mapping, other] = sides.map((side) => side.columns);
  state.protocol = protocol;
  state.isLoaded = true;
  state.study = { readings: sides[0].file, findings: sides[1].file };
  state.columns =
    mapping === other && typeof mapping === "string"
      ? (jsons.get(mapping.split(/[\\/]/).at(-1) ?? "") ?? null)
      : null;
}

/** A path of the protocol in the page's memory. */
export function placeOf(path: string): string {
  const names: string[] = folders.study.split("/");
  for (const name of path.split("/")) {
    if (name === "..") names.pop();
    else if (name !== ".") names.push(name);
  }
  return names.join("/");
}

function parsed(name: string, bytes: Uint8Array): Json {
  try {
    const json: unknown = JSON.parse(new TextDecoder().decode(bytes));
    if (typeof json === "object" && json !== null) return json;
  } catch (error) {
    throw new Error(`${name} is no JSON: ${(error as Error).message}`);
  }
  throw new Error(`${name} holds no object in braces.`);
}
