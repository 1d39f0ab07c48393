import type { FileAudit } from "../../cohort/index.js";
import type { Preparation } from "../../prepare/index.js";
import type { Outcomes, StudyOutcome } from "../messages.js";
import type { Draft } from "./carryOver.js";
import type { Json } from "./json.js";
import type { Decider } from "./programme.js";
import type { Toolkit } from "./toolkit.js";

export { inWords } from "./plainWords.js";

export const stepIds = ["files", "columns", "cells", "question", "run", "report"] as const;
export type StepId = (typeof stepIds)[number];

/** All that the page knows. It is never stored: it is gone when the tab is closed. */
export interface State {
  /** Names of the exports that were chosen. */
  exports: string[];
  /** A key table that was brought along, by path: every look at the columns continues it anew. */
  keyFiles: Map<string, Uint8Array>;
  /** The content of prepare.json as it stands, without the losses that nobody has seen. */
  answers: Json | null;
  /** Losses that were agreed to, by file and column. */
  agreed: Map<string, number | "all">;
  preparation: Preparation | null;
  /** Columns of which something was said here. */
  changed: Set<string>;
  /** Why a column was first taken for what it is, by file and column. */
  reasons: Map<string, string>;
  /** What was asked so far, and what may be answered; by file, column and key. */
  asked: Map<string, readonly string[]>;
  /** The names of the study files. */
  study: { readonly readings: string; readonly findings: string } | null;
  /** The mapping and protocol as they stand. */
  columns: Json | null;
  protocol: Json | null;
  /** Both as they were drafted, before anybody wrote in them. */
  drafted: Draft | null;
  /** What was written before a column was changed; it is joined to the next draft. */
  earlier: { readonly drafted: Draft; readonly mine: Draft } | null;
  /** What became of it, in a line. */
  carried: string | null;
  /** How the programme decided whom to refer. */
  decider: Decider;
  /** A draft that was loaded has its mapping in its own files. */
  isLoaded: boolean;
  audits: readonly FileAudit[] | null;
  outcome: StudyOutcome | null;
  /** Whether the key table and the report were saved. */
  saved: { key: boolean; report: boolean };
}

export interface Page {
  readonly toolkit: Toolkit;
  readonly known: Outcomes["begin"];
  readonly state: State;
  /** Opens a step. */
  go(step: StepId): void;
  /** Draws the open step anew; the control that had the focus keeps it. */
  refresh(): void;
  /** Says something: what is being done, or what went wrong. */
  say(text: string, kind?: "doing" | "wrong" | "done"): void;
  /** Does something that takes a while; what goes wrong is said. */
  doing(text: string, work: () => Promise<void>): Promise<void>;
}

export interface Step {
  readonly id: StepId;
  readonly title: string;
  /** Why it cannot be opened yet; null where it can. */
  closed(state: State): string | null;
  content(page: Page): Promise<readonly (Node | string)[]> | readonly (Node | string)[];
}

export function emptyState(): State {
  return {
    exports: [],
    keyFiles: new Map(),
    answers: null,
    agreed: new Map(),
    preparation: null,
    changed: new Set(),
    reasons: new Map(),
    asked: new Map(),
    study: null,
    columns: null,
    protocol: null,
    drafted: null,
    earlier: null,
    carried: null,
    decider: "",
    isLoaded: false,
    audits: null,
    outcome: null,
    saved: { key: true, report: true },
  };
}

/** What a person wrote into a draft, to be joined to the next one; null where there is none. */
export function written({ columns, protocol, drafted, earlier }: State): State["earlier"] {
  if (protocol === null || columns === null || drafted === null) return earlier;
  return { drafted, mine: { columns, protocol } };
}
