import type { FileAudit } from "../cohort/index.js";
import type { Preparation } from "../prepare/index.js";
import type { StudyDraft } from "../study/index.js";
import type { AnyBenchData } from "../study/publish/ruleBenchPage.js";

/** A file by its path in the page's memory. */
export type PathAndBytes = readonly [path: string, bytes: Uint8Array];

/** What a page asks of its worker. `files` are put into memory before the task begins. */
export type Task = {
  readonly files?: readonly PathAndBytes[];
  /** Folders that are forgotten first. */
  readonly forget?: readonly string[];
} & (
  | {
      readonly task: "begin";
      /** Files of the package: fonts, and package.json with the version. */
      readonly packageFiles: readonly PathAndBytes[];
    }
  | { readonly task: "practice" }
  | {
      readonly task: "prepare";
      readonly names: readonly string[];
      /** The content of prepare.json; undefined for the first look. */
      readonly choices?: object;
    }
  | { readonly task: "draft"; readonly readings: string; readonly findings: string }
  | {
      readonly task: "audit";
      readonly readings: string;
      readonly findings: string;
      readonly columns: object;
    }
  | { readonly task: "check"; readonly protocol: object }
  | { readonly task: "study"; readonly protocol: object }
);

export type TaskName = Task["task"];

/** A published definition, and what it leaves open. */
export interface PublishedChoice {
  readonly id: string;
  readonly title: string;
  readonly open: readonly {
    readonly name: string;
    readonly question: string;
    readonly options: readonly { readonly id: string; readonly words: string }[];
  }[];
}

/** What became of a study, as the command line says it. */
export interface StudyOutcome {
  /** The summary, line by line. */
  readonly summary: readonly string[];
  /** Where so much is set aside that the mapping is probably wrong. */
  readonly faults: readonly string[];
  /** What is to be told of earlier reports of this page. */
  readonly overlaps: readonly string[];
  readonly isPublic: boolean;
  /** report.html without its script, to be shown within the page; null where the protocol leaves it out. */
  readonly shown: string | null;
  /** What its script would start from: the limits that can be moved. */
  readonly benches: readonly AnyBenchData[];
}

export interface Outcomes {
  readonly begin: {
    readonly largestFile: number;
    readonly published: readonly PublishedChoice[];
    readonly roles: readonly string[];
    /** What can be ignored of ids, in words. */
    readonly ignorable: { readonly [way: string]: string };
  };
  readonly practice: { readonly names: readonly string[] };
  readonly prepare: Preparation;
  readonly draft: StudyDraft;
  readonly audit: readonly FileAudit[];
  readonly check: { readonly protocolHash: string };
  readonly study: StudyOutcome;
}

/** What the worker says: of a task, or that it needs a picture drawn. */
export type Message =
  | { readonly kind: "progress"; readonly stage: string; readonly done: number }
  | {
      readonly kind: "draw";
      readonly picture: number;
      readonly svg: string;
      readonly width: number;
    }
  | { readonly kind: "blocked"; readonly what: string }
  | {
      readonly kind: "done";
      readonly id: number;
      readonly outcome: unknown;
      /** Files that the task wrote. */
      readonly files: readonly PathAndBytes[];
    }
  | { readonly kind: "failed"; readonly id: number; readonly message: string };

/** What the page sends: a task, or a picture that was asked for. */
export type Sent =
  | { readonly kind: "task"; readonly id: number; readonly task: Task }
  | { readonly kind: "drawn"; readonly picture: number; readonly png: Uint8Array | null };

/** Where things lie in the page's memory, as a command line in that folder would have them. */
export const folders = {
  raw: "/exports",
  study: "/my-study",
  key: "/my-study-key",
  report: "/out/my-study",
} as const;
