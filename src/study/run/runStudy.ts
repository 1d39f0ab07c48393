import {
  type Cohort,
  type ColumnMapping,
  defineColumns,
  describeCohort,
  examsBeforeScreening,
  type LoudFault,
  linkCohort,
  loudFaults,
  readFindings,
  readReadings,
} from "../../cohort/index.js";
import { readSmallFile, resolve, whileUnchanged } from "../../platform/index.js";
import { isSmallCount } from "../../privacy/index.js";
import {
  type Protocol,
  protocolFiles,
  protocolHash,
  sampleProtocol,
} from "../../protocol/index.js";
import { caution, InputError, type RunOptions, type TableModel } from "../../results/index.js";
import { analyseAgreement } from "./analyseAgreement.js";
import { analyseAstigmatism } from "./analyseAstigmatism.js";
import { analyseCondition } from "./analyseCondition.js";
import { countProblems } from "./countProblems.js";
import { describedProgramme } from "./describedProgramme.js";
import { idHint } from "./idHint.js";
import { limitations } from "./limitations.js";
import { contradictedRule } from "./contradictedRule.js";
import { keepChildren } from "./releasedFrom.js";
import { requireDisjoint, type SampleRun, validationSample } from "./samples.js";
import type { ConditionResult, StudyResult } from "./studyResult.js";
import { studyVerdict } from "./studyVerdict.js";

export interface RunStudyOptions extends RunOptions {
  /** Folder that the protocol's paths start from; the current one by default. */
  readonly folder?: string;
  /** Threads of the resampling; the result is the same for any number. Default 1. */
  readonly workers?: number;
  /** Told where so much of a file is set aside that its mapping is probably wrong; see `auditFile`. */
  readonly onFault?: (fault: LoudFault, source: "readings" | "findings") => void;
}

/**
 * Runs a protocol: reads its sources, links them, and compares readings with findings.
 *
 * The same protocol and files give the same result; nothing in it names a child.
 *
 * @param protocol from `defineProtocol`
 * @throws when a source cannot be read or changes meanwhile, or a mapping does not fit it
 *
 * @example
 * import { readFileSync } from "node:fs";
 * const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
 * const study = await runStudy(protocol, { folder: "data/children" });
 * study.agreement[0].limits.n // => 538
 */
export async function runStudy(
  protocol: Protocol,
  options: RunStudyOptions = {},
): Promise<StudyResult> {
  const { folder = "." } = options;
  const files = protocolFiles(protocol).map((file) => resolve(folder, file));
  const read = await whileUnchanged("runStudy", files, () => runUnchanged(protocol, options));
  readBy.set(read.result, read.inputs);
  return read.result;
}

const readBy = new WeakMap<StudyResult, ReadonlyMap<string, string>>();

/** The files that a result was made of, as their hashes by full path; none where it was read back from JSON. */
export function inputsOf(result: StudyResult): ReadonlyMap<string, string> {
  return readBy.get(result) ?? new Map();
}

async function runUnchanged(protocol: Protocol, options: RunStudyOptions): Promise<StudyResult> {
  const development = await runSample(sampleProtocol(protocol, "development"), options);
  if (protocol.samples === undefined) return development.result;
  const validation = await runSample(sampleProtocol(protocol, "validation"), options);
  requireDisjoint(protocol, development, validation);
  const whole = {
    ...development.result,
    protocol,
    protocolHash: protocolHash(protocol),
    validation: await validationSample(protocol, development.result, validation, options),
  };
  keepChildren(whole, [development.cohort, validation.cohort]);
  return whole;
}

/** One sample, or all where there is one. */
async function runSample(protocol: Protocol, options: RunStudyOptions): Promise<SampleRun> {
  const { folder = ".", workers, signal, onProgress } = options;
  const stage = (name: string, done: number) => {
    signal?.throwIfAborted();
    onProgress?.({ stage: name, done });
  };
  stage("reading the readings", 0);
  const columns = {
    readings: await mapping(protocol.sources.readings.columns, folder),
    findings: await mapping(protocol.sources.findings.columns, folder),
  };
  requireMayShow(protocol, columns);
  const readings = await readReadings(resolve(folder, protocol.sources.readings.file), {
    columns: columns.readings,
    allowIdentifiers: protocol.identifiers.allow,
    signal,
  });
  stage("reading the findings", 0.25);
  const findings = await readFindings(resolve(folder, protocol.sources.findings.file), {
    columns: columns.findings,
    allowIdentifiers: protocol.identifiers.allow,
    signal,
  });
  for (const data of [readings, findings]) {
    const faults = loudFaults(data, data.problems, columns[data.kind]);
    for (const fault of faults) options.onFault?.(fault, data.kind);
  }
  const hint = idHint(readings, findings, columns.findings.accepted);
  if (hint !== null) options.onFault?.(hint, "findings");
  stage("linking", 0.5);
  // the protocol decides who sees the study, not its files
  const cohort = linkCohort({
    readings: { ...readings, audience: undefined },
    findings: { ...findings, audience: undefined },
    instrument: protocol.indexTest.instrument,
    cycloplegia: protocol.indexTest.cycloplegia,
    correction: protocol.indexTest.correction,
    repeats: protocol.indexTest.repeats,
    confidenceAtLeast: protocol.indexTest.confidenceAtLeast,
    exam: protocol.linkage.exam,
    daysBetween: protocol.linkage.daysBetween,
    referenceCycloplegia: protocol.referenceStandard.cycloplegia,
    eligibility: protocol.eligibility,
    referenceEquivalent: protocol.referenceStandard.equivalent,
    readingEquivalent: protocol.indexTest.equivalent,
  });
  requirePairs(cohort, protocol, hint?.message ?? statedHint(cohort, protocol));
  stage("agreement", 0.6);
  const agreement = (["M", "J0", "J45"] as const).flatMap(
    (quantity) => analyseAgreement(cohort, protocol, quantity) ?? [],
  );
  const astigmatism = analyseAstigmatism(cohort, protocol);
  stage("accuracy", 0.8);
  const conditions: ConditionResult[] = [];
  for (const condition of protocol.conditions) {
    conditions.push(
      await analyseCondition(cohort, protocol, condition, { workers, signal, onProgress }),
    );
  }
  const result = {
    kind: "study",
    version: 5,
    protocol,
    protocolHash: protocolHash(protocol),
    flow: cohort.flow,
    baseline: baseline(cohort, protocol),
    problems: [
      ...countProblems("readings", readings.problems),
      ...countProblems("findings", [...findings.problems, ...examsBeforeScreening(cohort)]),
    ],
    agreement,
    astigmatism,
    conditions,
    programme: describedProgramme(cohort, protocol),
    verdict: studyVerdict({ protocol, agreement, conditions }),
    caution,
  } as const;
  stage("done", 1);
  const contradicted = contradictedRule(cohort, protocol);
  const whole = {
    ...result,
    limitations: [...(contradicted === null ? [] : [contradicted]), ...limitations(result)],
  };
  keepChildren(whole, [cohort]);
  return { result: whole, cohort, readings, findings };
}

/** The mapping itself, or read from the JSON file that the protocol names. */
async function mapping(columns: string | object, folder: string): Promise<ColumnMapping> {
  if (typeof columns !== "string") return defineColumns(columns);
  const text = await readSmallFile(resolve(folder, columns), "runStudy");
  if (text === null) {
    throw new InputError(
      `runStudy requires the column mapping ${columns}, got no readable file in ${resolve(folder)}; draft writes one`,
    );
  }
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw new InputError(
      `runStudy requires ${columns} to be JSON, got ${error instanceof Error ? error.message : error}`,
    );
  }
  return defineColumns(json);
}

/** A mapping that says its data are for the public holds against a protocol that says otherwise. */
function requireMayShow(
  { audience }: Protocol,
  columns: { readonly [source in "readings" | "findings"]: ColumnMapping },
): void {
  if (audience === "public") return;
  const closed = (["readings", "findings"] as const).find(
    (source) => columns[source].audience === "public",
  );
  if (closed === undefined) return;
  throw new InputError(
    `runStudy requires a public report where the mapping of the ${closed} says "audience": "public", got "audience": "${audience}" in the protocol; say "public" in the protocol, or take "audience" out of the mapping where every eye may be shown`,
  );
}

/** Where nothing was paired, the boxes of the flow say why. */
function requirePairs({ flow }: Cohort, { audience }: Protocol, hint?: string): void {
  if (flow.boxes.some(({ id, eyes }) => id === "paired" && eyes > 0)) return;
  const few = (eyes: number) =>
    audience === "public" && isSmallCount(eyes) ? "fewer than 11" : String(eyes);
  const all = flow.boxes.find(({ id }) => id === "all");
  const left = flow.boxes
    .filter(({ role, eyes }) => role === "excluded" && eyes > 0)
    .map(({ label, eyes }) => `${label.toLowerCase()} ${few(eyes)}`);
  throw new InputError(
    `runStudy requires eyes with a reading and a finding, got none of ${few(all?.eyes ?? 0)}; left out: ${left.join(", ") || "none"}` +
      (hint === undefined ? "" : `; ${hint}`),
  );
}

/** Findings that state M and have no sphere and cylinder, under a protocol that computes it. */
function statedHint({ findings }: Cohort, { referenceStandard }: Protocol): string | undefined {
  const { statedEquivalent, sphere } = findings;
  const states =
    statedEquivalent?.some((value) => !Number.isNaN(value)) && sphere.every(Number.isNaN);
  return states && referenceStandard.equivalent === "computed"
    ? 'the findings state M without sphere and cylinder: say "equivalent": "stated" under referenceStandard'
    : undefined;
}

function baseline(cohort: Cohort, protocol: Protocol): TableModel {
  const { verification, baseline: asked } = protocol;
  const by = asked?.by === undefined ? undefined : { own: asked.by };
  const table = describeCohort(cohort, {
    own: asked?.own ?? namedOwn(protocol),
    by: by ?? (verification === "complete" ? undefined : "verification"),
  });
  const [first, ...others] = table.columns;
  return {
    ...table,
    title: "Baseline",
    columns: [{ ...first, label: "Characteristic" }, ...others],
  };
}

/** The own columns that the protocol makes groups of. */
function namedOwn({ subgroups, verificationStrata }: Protocol): string[] {
  const groups = verificationStrata === undefined ? subgroups : [...subgroups, verificationStrata];
  return groups.flatMap((group) => (group.by === "own" ? [group.column] : []));
}
