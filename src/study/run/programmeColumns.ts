import { type Coded, type Cohort, eyeOutcomes } from "../../cohort/index.js";
import type { ProgrammeColumns } from "../../programme/index.js";
import type { Protocol, ProtocolCondition } from "../../protocol/index.js";
import { InputError, jointAudience } from "../../results/index.js";
import { conditionRows } from "./conditionRows.js";
import { programmeOf, programmeRows } from "./programmeOf.js";
import { strataOf, subgroupsOf } from "./subgroups.js";
import { whoseRows } from "./whoseRows.js";

/**
 * The children of a linked cohort as `describeProgramme` takes them, by a protocol: a row a child, decided
 * and examined by the eyes that the protocol looks at. Groups are site, the age bands of the protocol's
 * subgroups, and the columns named in `programme.describeBy`.
 *
 * @param protocol the one whose condition is meant
 * @param id of the condition at the exam; the protocol's first by default
 * @throws InputError when there is no such condition, or no such column
 *
 * @example
 * import { readFileSync } from "node:fs";
 * const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
 * const columns = JSON.parse(readFileSync("data/children/columns.json", "utf8"));
 * const readings = await readReadings("data/children/children.csv", { columns });
 * const findings = await readFindings("data/children/children.csv", { columns });
 * programmeColumns(linkCohort({ readings, findings, instrument: "handheld", cycloplegia: "none" }), protocol).decision.length // => 566
 */
export function programmeColumns(
  cohort: Cohort,
  protocol: Protocol,
  id: string = protocol.conditions[0].id,
): ProgrammeColumns {
  const condition = protocol.conditions.find((one) => one.id === id);
  if (condition === undefined) {
    throw new InputError(
      `programmeColumns requires one of the conditions ${protocol.conditions.map((one) => one.id).join(", ")}, got "${id}"`,
    );
  }
  return columnsOf(cohort, protocol, condition);
}

function columnsOf(
  cohort: Cohort,
  protocol: Protocol,
  condition: ProtocolCondition,
): ProgrammeColumns {
  const { children } = cohort;
  const byChild: Protocol =
    protocol.unit === "child" ? protocol : { ...protocol, unit: "child", eye: childEye(protocol) };
  const programme = programmeOf(cohort, protocol);
  const strata = strataOf(cohort, protocol);
  const found = conditionRows(cohort, byChild, condition);
  const rows = programmeRows(found, cohort, protocol, programme, strata?.groupOf ?? null);
  const others = notScreened(cohort);
  const all = [...rows.subjects, ...others];
  const after = <Value>(column: readonly Value[], value: Value) => [
    ...column,
    ...others.map(() => value),
  ];
  const word = (column: Coded | null | undefined) =>
    column == null || column.codes.every((code) => column.labels[code] === "unknown")
      ? undefined
      : all.map((child) => {
          const said = column.labels[column.codes[child]];
          return said === "unknown" ? null : said === "yes";
        });
  const complete = protocol.verification === "complete";
  const site = whoseRows(cohort, protocol, all).clusters?.site;
  return {
    ...jointAudience(cohort),
    ...present({ site }),
    decision: after<string>(rows.recorded, "not-screened"),
    condition: after(rows.reference, null),
    // where everybody was to be examined, those who were stand for all
    reason: after<string>(
      complete
        ? rows.reference.map((known) => (known === null ? "not-examined" : "sampled"))
        : rows.reason,
      "not-examined",
    ),
    ...present({ invited: word(children.invited), came: word(children.came) }),
    ...present({ daysToExam: daysToExam(cohort, all) }),
    ...present(attemptsOf(cohort, protocol, all)),
    ...(programme.declaredOf === null ? {} : { declared: all.map(programme.declaredOf) }),
    selfPresented: after(rows.selfPresented, null),
    strata: after(rows.groups, ""),
    ...(rows.shares === null ? {} : { shareDrawn: after(rows.shares, rows.shares[0] ?? 1) }),
    by: groupsOf(cohort, protocol, all),
  };
}

/** Both eyes of a child, or the one that the protocol looks at. */
const childEye = ({ eye }: Protocol): Protocol["eye"] => (eye === "both" ? "worse" : eye);

/** Eligible children without any reading. */
function notScreened({ children }: Cohort): number[] {
  return Array.from({ length: children.n }, (_, child) => child).filter((child) => {
    const outcomes = (["right", "left"] as const).map(
      (side) => eyeOutcomes[children.outcome?.[side][child] ?? 255],
    );
    return outcomes.every((outcome) => outcome === undefined || outcome === "no-reading");
  });
}

function present<Columns extends object>(columns: Columns): Partial<Columns> {
  return Object.fromEntries(
    Object.entries(columns).filter(([, column]) => column !== undefined),
  ) as Partial<Columns>;
}

/** Days from a child's reading to its exam; undefined where no file has days. */
function daysToExam({ readings, findings, children }: Cohort, all: readonly number[]) {
  if (readings.day === null || findings.day === null) return undefined;
  const of = (child: number) => {
    const days = (["right", "left"] as const).flatMap((side) => {
      const [from, to] = [children.readingRow[side][child], children.findingRow[side][child]];
      return from < 0 || to < 0 ? [] : [findings.day![to] - readings.day![from]];
    });
    return Math.min(...days.filter((day) => !Number.isNaN(day)));
  };
  return all.map((child) => (Number.isFinite(of(child)) ? of(child) : Number.NaN));
}

/** How often a child was tried, and whether both eyes gave a result the first time. */
function attemptsOf(
  { readings, children }: Cohort,
  { indexTest }: Protocol,
  all: readonly number[],
): Pick<ProgrammeColumns, "attempts" | "readAtFirst"> {
  const { repeat, attempt, status, instrument, subject, eye } = readings;
  if (repeat === null && attempt === null) return {};
  const childOf = new Map(children.subject.map((name, child) => [name, child]));
  const tries = new Map<number, Map<number, Set<string>>>();
  for (let row = 0; row < readings.n; row++) {
    const child = childOf.get(subject.labels[subject.codes[row]]);
    const isOurs = instrument.labels[instrument.codes[row]] === indexTest.instrument;
    if (child === undefined || !isOurs) continue;
    const said = repeat?.[row];
    const place =
      2 * (said === undefined || Number.isNaN(said) ? 1 : said) + (attempt?.codes[row] ?? 0);
    const own = tries.get(child) ?? new Map<number, Set<string>>();
    tries.set(child, own);
    const read = own.get(place) ?? new Set<string>();
    own.set(place, read);
    if (results.has(status.labels[status.codes[row]])) read.add(eye.labels[eye.codes[row]]);
  }
  return {
    attempts: all.map((child) => tries.get(child)?.size ?? 0),
    readAtFirst: all.map((child) => {
      const own = tries.get(child);
      return own === undefined ? null : own.get(Math.min(...own.keys()))!.size === 2;
    }),
  };
}

/** Beyond the range is a result too. */
const results: ReadonlySet<string> = new Set(["measured", "over-range", "under-range"]);

function groupsOf(
  cohort: Cohort,
  protocol: Protocol,
  all: readonly number[],
): NonNullable<ProgrammeColumns["by"]> {
  const { flags = [] } = cohort.children;
  const asked = subgroupsOf(cohort, protocol).map(({ by, groupOf }) => ({ by, groupOf }));
  const sites = subgroupsOf(cohort, {
    ...protocol,
    subgroups: [{ by: "site", role: "exploratory" }],
  });
  const own = (protocol.programme?.describeBy ?? []).map((label) => {
    const flag = flags.find((one) => one.label === label);
    if (flag === undefined) {
      throw new InputError(
        `the protocol requires the flag "${label}" of programme.describeBy in the readings, got ${flags.map((one) => one.label).join(", ") || "none"}; name it under flags in a readings block of the mapping`,
      );
    }
    const { codes, labels } = flag.values;
    return { by: label, groupOf: (child: number) => labels[codes[child]] || "not stated" };
  });
  const groupings: { readonly by: string; readonly groupOf: (child: number) => string }[] = [
    ...(asked.some(({ by }) => by === "site") ? [] : sites),
    ...asked,
    ...own,
  ];
  const before = (at: number) =>
    groupings.slice(0, at).filter(({ by }) => by === groupings[at].by).length;
  return Object.fromEntries(
    groupings.map(({ by, groupOf }, at) => [
      before(at) === 0 ? by : `${by}, grouping ${before(at) + 1}`,
      all.map(groupOf),
    ]),
  );
}
