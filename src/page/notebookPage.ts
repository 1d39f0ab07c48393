import { compareOutputs, type Notebook, readNotebook } from "../notebook/runner.js";
import { base64, basename, dirname, packageText, readText, resolve } from "../platform/index.js";
import { InputError } from "../results/index.js";
import { escapeHtml } from "../text/index.js";
import { filesToEmbed } from "./embedding.js";
import type { PathAndBytes } from "./messages.js";
import { runInPage } from "./runInPage.js";

export interface NotebookPage {
  readonly html: string;
  /** Files within it, by their paths in the page. */
  readonly files: readonly string[];
  /** Where the outputs of a run in the page differ from those that are saved. */
  readonly differences: readonly string[];
}

/**
 * The page of a notebook: its prose, cells and saved outputs in one HTML text, with the files that it reads.
 * Which those are is found by running it in the worker of the page.
 *
 * @throws InputError where a cell does not run in a page, or a file may not be embedded
 */
export async function notebookPage(
  path: string,
  {
    embedData = false,
    timeoutSeconds = 600,
  }: { embedData?: boolean; timeoutSeconds?: number } = {},
): Promise<NotebookPage> {
  const shell = await builtShell();
  const notebook = readNotebook(path);
  const folder = inMemory(dirname(resolve(path)));
  const run = await runInPage(notebook, { ...shell, folder, timeoutSeconds });
  const root = commonFolder([folder, ...run.files.map(([file]) => dirname(file))]);
  const text = await readText(path);
  if (root !== "/" && text.includes(`${root}/`)) {
    throw new InputError(
      `page requires a notebook that names files from its own folder, got a path of this machine in it (${root}); write "../data/name.csv"`,
    );
  }
  const own = (file: string) => (root === "/" ? file : file.slice(root.length) || "/");
  const files = await filesToEmbed(run.files, { embedData });
  const name = basename(path);
  const about = {
    name,
    text,
    folder: own(folder),
    files: files.map((file, at) => ({
      path: own(file.path),
      part: `file-${at}`,
      bytes: file.bytes.length,
      about: file.about,
    })),
  };
  const parts = await Promise.all([
    part("notebook", new TextEncoder().encode(JSON.stringify(about))),
    ...files.map(({ bytes }, at) => part(`file-${at}`, bytes)),
  ]);
  const end = shell.html.lastIndexOf("<script>");
  const html = `${shell.html.slice(0, end)}${parts.join("\n")}\n${shell.html.slice(end)}`.replace(
    /<title>[^<]*<\/title>/,
    () => `<title>${escapeHtml(titleOf(notebook) ?? name)}</title>`,
  );
  return {
    html,
    files: about.files.map((file) => file.path),
    differences: compareOutputs(withoutPixels(notebook), withoutPixels(run.notebook)),
  };
}

/** The page without a notebook, with what a thread needs of it. */
export async function builtShell(): Promise<{
  readonly html: string;
  readonly script: string;
  readonly packageFiles: readonly PathAndBytes[];
}> {
  let html: string;
  try {
    html = packageText("dist/page/notebook.html");
  } catch {
    throw new InputError("page requires the built page, got none; npm run pages builds it");
  }
  const { gunzipSync } = await import("fflate");
  const unpacked = (text: string) =>
    gunzipSync(Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0)));
  const worker = /<script type="text\/plain" id="worker">([^<]*)</.exec(html)?.[1] ?? "";
  const brought = html.matchAll(
    /<script type="text\/plain" id="[^"]+" data-file="([^"]+)">([^<]*)</g,
  );
  return {
    html,
    script: new TextDecoder().decode(unpacked(worker)),
    packageFiles: [...brought].map(([, file, text]): PathAndBytes => [file, unpacked(text)]),
  };
}

async function part(id: string, bytes: Uint8Array): Promise<string> {
  const { gzipSync } = await import("fflate");
  const packed = gzipSync(bytes, { level: 9, mtime: 0 });
  return `<script type="text/plain" id="${id}">${base64(packed)}</script>`;
}

/** A path of this machine as the page's memory has it. */
function inMemory(path: string): string {
  const slashed = path.replaceAll("\\", "/");
  return slashed.startsWith("/") ? slashed : `/${slashed}`;
}

function commonFolder(folders: readonly string[]): string {
  const [first, ...others] = folders.map((folder) => folder.split("/"));
  let same = 0;
  while (same < first.length && others.every((names) => names[same] === first[same])) same++;
  return first.slice(0, same).join("/") || "/";
}

/** The first heading of the first size. */
function titleOf({ cells }: Notebook): string | undefined {
  const prose = cells.filter(({ kind }) => kind === "markdown").map(({ source }) => source);
  return /^# (.+)$/m.exec(prose.join("\n"))?.[1].replace(/[*`]/g, "");
}

/** A page draws no pixels. */
export function withoutPixels(notebook: Notebook): Notebook {
  const cells = notebook.cells.map((cell) => ({
    ...cell,
    outputs: cell.outputs.map((output) => {
      if (output.output_type === "stream") return output;
      const { "image/png": _, ...data } = output.data;
      return { ...output, data };
    }),
  }));
  return { ...notebook, cells };
}
