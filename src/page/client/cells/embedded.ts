import { packed } from "../packed.js";

/** What the page was made from, as the command wrote it into the page. */
export interface Embedded {
  readonly name: string;
  /** The notebook's file. */
  readonly text: string;
  /** The folder of the notebook in the page's memory. */
  readonly folder: string;
  readonly files: readonly EmbeddedFile[];
}

export interface EmbeddedFile {
  readonly path: string;
  readonly part: string;
  readonly bytes: number;
  /** Where it comes from and under which licence, as its README says; null where there is none. */
  readonly about: string | null;
}

export async function embedded(): Promise<Embedded> {
  return JSON.parse(new TextDecoder().decode(await packed("notebook")));
}

export async function filesOf({ files }: Embedded): Promise<Map<string, Uint8Array>> {
  const read = files.map(async ({ path, part }) => [path, await packed(part)] as const);
  return new Map(await Promise.all(read));
}
