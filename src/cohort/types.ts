import type { ForAudience } from "../results/index.js";

/** A categorical column: a code per row and the words the codes stand for. */
export interface Coded<Label extends string = string> {
  readonly codes: Uint8Array | Int32Array;
  readonly labels: readonly Label[];
}

/** What became of an attempt to measure one eye; each is a fact, none is a blank. */
export const measurementStatuses = [
  "measured",
  "over-range",
  "under-range",
  "unreadable",
  "not-attempted",
] as const;
export type MeasurementStatus = (typeof measurementStatuses)[number];

/** Correction worn during the reading; an over-refraction is never pooled with uncorrected ones. */
export const corrections = ["none", "glasses", "contact-lenses", "unknown"] as const;
export type Correction = (typeof corrections)[number];

export const cycloplegiaStates = ["none", "full", "inadequate", "unknown"] as const;
export type CycloplegiaState = (typeof cycloplegiaStates)[number];

/** What the programme decided of a child on the day; on this hangs who was asked to an exam. */
export const programmeDecisions = ["refer", "pass", "unable", "unknown"] as const;
export type ProgrammeDecision = (typeof programmeDecisions)[number];

export const yesNoWords = ["no", "yes", "unknown"] as const;
export type YesNo = (typeof yesNoWords)[number];

/**
 * Why a child was examined: referred, drawn at random from those who passed ("sampled"), or come
 * without being asked.
 */
export const verificationReasons = ["referred", "sampled", "self-presented", "unknown"] as const;
export type VerificationReason = (typeof verificationReasons)[number];

/** The eyes in the order of their codes: 0 right, 1 left. */
export const eyes = ["right", "left"] as const;
export type Eye = (typeof eyes)[number];

/** One cell, or row, of a file that needs a person's decision. */
export interface Problem {
  readonly file: string;
  /**
   * Line of the file, the header being line 1; null when it concerns the whole file. In a file that
   * is scanned in chunks (4 MB and more) the number of its record: after blank lines, or a cell
   * with quoted line breaks, it is smaller than the line by as many.
   */
  readonly row: number | null;
  readonly column: string | null;
  /** The cell as written. */
  readonly value: string;
  /** Short stable name of the rule, such as "axis-range". */
  readonly rule: string;
  /** The rule in words. */
  readonly message: string;
  /** What of this cell broke it, where the rule alone does not say: what was wanted, and what came. */
  readonly detail?: string;
  /** What the reader did. */
  readonly action: "set-aside" | "kept" | "altered" | "row-rejected";
}

/** The cells as written, row by row; a prescription in one cell stands as the sphere. */
export interface RawText {
  readonly sphere: readonly string[];
  readonly cylinder: readonly string[];
  readonly axis: readonly string[];
}

/**
 * Columns that readings and findings share. One row is one measurement of one eye.
 * In numeric columns NaN is a missing value; a column the file does not have is null.
 * Sphere, cylinder and axis are present only in rows whose status is "measured"; the cylinder
 * keeps the sign it was recorded with; axis is NaN where none was given.
 */
export interface MeasurementColumns extends ForAudience {
  readonly n: number;
  /** Each row's line in the file it came from. */
  readonly line: Int32Array;
  readonly subject: Coded;
  readonly eye: Coded<Eye>;
  readonly status: Coded<MeasurementStatus>;
  readonly sphere: Float64Array;
  readonly cylinder: Float64Array;
  readonly axis: Float64Array;
  /** Day number within the study (a whole number; never a date). */
  readonly day: Float64Array | null;
  /** Completed months. */
  readonly ageMonths: Float64Array | null;
  /** Whole years, where the file knows only those; no month is invented. */
  readonly ageYears: Float64Array | null;
  readonly site: Coded | null;
  /** Spherical equivalent as the file states it, kept as written; listed where it does not match. */
  readonly statedEquivalent?: Float64Array | null;
  /** Typed columns of the user's own, in the order of the mapping. */
  readonly own?: readonly OwnColumn[];
  /** Null for large files, of which only the suspicious cells keep their text, in `problems`. */
  readonly rawText?: RawText | null;
  readonly problems: readonly Problem[];
}

/** Screening readings as columns. */
export interface Readings extends MeasurementColumns {
  readonly kind: "readings";
  /** The user's own label of the instrument. */
  readonly instrument: Coded;
  /** Repeat number, 1 for the first. */
  readonly repeat: Float64Array | null;
  readonly attempt: Coded<"first" | "final"> | null;
  readonly correction: Coded<Correction>;
  readonly cycloplegia: Coded<CycloplegiaState>;
  /** In the instrument's own scale, as the mapping declares it. */
  readonly confidenceScore: Float64Array | null;
  readonly pupilMm: Float64Array | null;
  readonly gazeHorizontal: Float64Array | null;
  readonly gazeVertical: Float64Array | null;
  readonly interpupillaryMm: Float64Array | null;
  /** A child's, repeated on its rows. */
  readonly programmeDecision?: Coded<ProgrammeDecision> | null;
  /** Whether the programme asked the child to an exam: the referred, and the passes it drew. */
  readonly invited?: Coded<YesNo> | null;
  /** Whether the child came to an exam. */
  readonly came?: Coded<YesNo> | null;
  /** In the order of the mapping. */
  readonly flags?: readonly FreeFlag[];
  readonly workingDistanceMm: number | null;
  /** Vertex plane of the readings; 0 is the cornea, null is unknown. */
  readonly vertexMm: number | null;
}

/** A column of the user's own, with its words as they stand; "" where the cell is empty. */
export interface FreeFlag {
  readonly label: string;
  readonly values: Coded;
}

/** A typed column of the user's own: "" where a cell of words is empty, NaN where a number is. */
export type OwnColumn =
  | { readonly label: string; readonly type: "words"; readonly values: Coded }
  | { readonly label: string; readonly type: "number"; readonly values: Float64Array };

/** Later exam findings as columns. */
export interface Findings extends MeasurementColumns {
  readonly kind: "findings";
  readonly method: Coded<"retinoscopy" | "autorefraction" | "subjective" | "unknown">;
  readonly cycloplegia: Coded<CycloplegiaState>;
  readonly statedEquivalent: Float64Array | null;
  readonly vertexMm: number | null;
  /** Visual acuity in logMAR. */
  readonly acuityLogMAR: Float64Array | null;
  readonly strabismus: Coded<"no" | "yes" | "unknown"> | null;
  readonly mediaOpacity: Coded<"no" | "yes" | "unknown"> | null;
  readonly ptosis?: Coded<"no" | "yes" | "unknown"> | null;
  readonly glassesPrescribed?: Coded<"no" | "yes" | "unknown"> | null;
  /** Whether the condition was known before screening. */
  readonly knownBefore?: Coded<"no" | "yes" | "unknown"> | null;
  readonly verificationReason: Coded<VerificationReason>;
  /** Whether a child who passed came, or would have come, without being drawn. */
  readonly selfPresented?: Coded<YesNo> | null;
  /** In the order of the mapping. */
  readonly flags?: readonly FreeFlag[];
}

/** One box of the participant flow; children and eyes are functions of the rows. */
export interface FlowBox {
  /** Short stable name, such as "readings" or "no-finding". */
  readonly id: string;
  readonly label: string;
  readonly children: number;
  readonly eyes: number;
  /** The box it is part of; the parts of a box add up to it exactly. */
  readonly partOf: string | null;
  readonly role: "total" | "excluded" | "kept";
}

/** Who was in either file, who was left out and why, step by step. */
export interface ParticipantFlow extends ForAudience {
  readonly kind: "flow";
  readonly boxes: readonly FlowBox[];
}

/** How far an eye came on the way to a pair, in the order of the way; "paired" is the end of it. */
export const eyeOutcomes = [
  "exam-only",
  "not-eligible",
  "age-unclear",
  "no-reading",
  "not-attempted",
  "unreadable",
  "over-range",
  "under-range",
  "low-confidence",
  "reading-incomplete",
  "pending",
  "lost",
  "before-screening",
  "outside-window",
  "other-cycloplegia",
  "finding-unusable",
  "finding-incomplete",
  "paired",
] as const;
export type EyeOutcome = (typeof eyeOutcomes)[number];

/** Children as columns; the row numbers point into readings and findings, -1 where there is none. */
export interface ChildColumns {
  readonly n: number;
  readonly subject: readonly string[];
  readonly readingRow: { readonly right: Int32Array; readonly left: Int32Array };
  readonly findingRow: { readonly right: Int32Array; readonly left: Int32Array };
  readonly verification: Coded<"examined" | "pending" | "lost" | "not-screened">;
  readonly verificationReason: Coded<VerificationReason>;
  /** Null or absent where no file records it. */
  readonly programmeDecision?: Coded<ProgrammeDecision> | null;
  readonly invited?: Coded<YesNo> | null;
  readonly came?: Coded<YesNo> | null;
  readonly selfPresented?: Coded<YesNo> | null;
  /** Columns of the user's own in the reading file. */
  readonly flags?: readonly FreeFlag[];
  /** Typed columns of the user's own: of the first reading that is filled, else of the first finding. */
  readonly own?: readonly OwnColumn[];
  readonly ageMonths: Float64Array;
  readonly ageYears: Float64Array;
  readonly site: Coded | null;
  /** Code into `eyeOutcomes`, or 255 where neither file knows the eye. */
  readonly outcome?: { readonly right: Uint8Array; readonly left: Uint8Array };
}

/** Where M comes from: sphere and cylinder, or as the file states it. */
export type EquivalentSource = "computed" | "stated";

/** What was chosen when a cohort was linked. */
export interface CohortChoices {
  readonly readingEquivalent: EquivalentSource;
  readonly referenceEquivalent: EquivalentSource;
}

/** Readings and findings linked by child and eye. */
export interface Cohort extends ForAudience {
  readonly kind: "cohort";
  /** Choices of the link that later calls take over unless they say otherwise. */
  readonly choices?: CohortChoices;
  readonly readings: Readings;
  readonly findings: Findings;
  readonly children: ChildColumns;
  readonly flow: ParticipantFlow;
}
