import { formatWithOptions } from "node-inspect-extracted";
import { bareText, withoutStack } from "../../notebook/index.js";
import {
  givePackageFile,
  keepInMemory,
  lookOutside,
  showWith,
  workIn,
  writtenSince,
} from "../../platform/browser/index.js";
import type { CellsMessage, SentToCells } from "../cellsMessages.js";
import { closeDoors } from "./cells/closedDoors.js";
import { cellScope, errorText, lineOf } from "./cells/runCell.js";
import { askForPictures } from "./pictures.js";

type Output = Extract<CellsMessage, { readonly kind: "output" }>["output"];
type Bundle = Readonly<Record<string, string>>;

/** What a thread that makes a page has in place of a browser: scripts and files. */
interface Maker {
  readonly loadScript: (text: string) => void;
  readonly readFile: (path: string) => Uint8Array | undefined;
}

declare const self: {
  maker$?: Maker;
  postMessage(message: CellsMessage): void;
  importScripts(address: string): void;
  addEventListener(type: string, listener: (event: never) => void): void;
};

const post = self.postMessage.bind(self);
const takePicture = askForPictures(post);
const maker = self.maker$;
delete self.maker$;
if (maker !== undefined) lookOutside(maker.readFile);
const load = maker?.loadScript ?? loadBlob(self.importScripts.bind(self));

let current = 0;
/** What the cell has shown, in its order; drawings are finished when it ends. */
let shown: Promise<unknown>[] = [];

showWith((bundle) => {
  const cell = current;
  const display = (data: Bundle) => send(cell, { output_type: "display_data", data, metadata: {} });
  later(async () => display(await bundle));
});

function send(cell: number, output: Output): void {
  post({ kind: "output", cell, output });
}

/** Keeps the order of what a cell prints and shows. */
function later(work: () => Promise<void>): void {
  const before = shown.at(-1) ?? Promise.resolve();
  const next = before.then(work);
  next.catch(() => {});
  shown.push(next);
}

function print(name: "stdout" | "stderr", values: readonly unknown[]): void {
  const cell = current;
  const text = `${wordsOf(values)}\n`;
  later(async () => send(cell, { output_type: "stream", name, text }));
}

function wordsOf(values: readonly unknown[]): string {
  const text = values.length === 1 ? bareText(values[0]) : undefined;
  return text ?? formatWithOptions({ colors: false }, ...values);
}

const out = (...values: unknown[]) => print("stdout", values);
const wrong = (...values: unknown[]) => print("stderr", values.map(withoutStack));
Object.assign(console, { log: out, info: out, debug: out, dir: out, warn: wrong, error: wrong });

self.addEventListener("securitypolicyviolation", (event: never) => {
  const { violatedDirective, blockedURI } = event as Record<string, string>;
  post({ kind: "blocked", what: `${violatedDirective} ${blockedURI}` });
});

let left: unknown[] = [];
self.addEventListener("unhandledrejection", (event: never) => {
  const { reason, preventDefault } = event as { reason: unknown; preventDefault?: () => void };
  preventDefault?.call(event);
  left.push(reason);
});

let last: Promise<void> = Promise.resolve();
self.addEventListener("message", (event: never) => {
  const { data: message } = event as { readonly data: SentToCells };
  if (message.kind === "drawn") takePicture(message);
  else if (message.kind === "begin") begin(message);
  else last = last.then(() => run(message.cell, message.source));
});

let scope: ReturnType<typeof cellScope>;

function begin({ packageFiles, folder, files }: Extract<SentToCells, { readonly kind: "begin" }>) {
  for (const [name, bytes] of packageFiles) givePackageFile(name, bytes);
  for (const [path, bytes] of files) keepInMemory(path, bytes);
  workIn(folder);
  closeDoors(globalThis);
  scope = cellScope(load);
  post({ kind: "ready" });
}

async function run(cell: number, source: string): Promise<void> {
  current = cell;
  shown = [];
  left = [];
  const written = writtenSince();
  let end = await scope.run(source);
  if (end.kind === "ran" && end.shown != null) out(end.shown);
  // lets a rejection that the cell left behind come up
  await new Promise((resolve) => setTimeout(resolve, 5));
  if (end.kind === "ran" && left.length > 0) {
    const [reason] = left;
    const message = `a rejected promise: ${reason instanceof Error ? reason.message : String(reason)}`;
    end = { kind: "failed", message, line: lineOf(reason, "cell-\\d+") };
  }
  if (end.kind === "failed") print("stderr", [end.message]);
  const [drawn] = (await Promise.allSettled(shown)).filter(({ status }) => status === "rejected");
  if (end.kind === "ran" && drawn?.status === "rejected") {
    end = { kind: "failed", message: errorText(drawn.reason), line: null };
    send(cell, { output_type: "stream", name: "stderr", text: `${end.message}\n` });
  }
  const failed = end.kind === "failed";
  const line = end.kind === "failed" ? end.line : null;
  post({ kind: "ended", cell, failed, line, files: written() });
}

/** A blob that the worker makes itself is the one thing that it may load. */
function loadBlob(importScripts: (address: string) => void): (text: string) => void {
  return (text) => {
    const address = URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
    try {
      importScripts(address);
    } finally {
      URL.revokeObjectURL(address);
    }
  };
}
