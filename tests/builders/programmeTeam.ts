import { createRandom } from "../../src/inference/index.js";
import { countsByDecision, describeProgramme } from "../../src/programme/index.js";
import type { TableModel } from "../../src/results/index.js";
import { studyReport } from "../../src/study/index.js";
import type { ConditionCell } from "../../src/study/run/studyCells.js";
import type { StudyResult } from "../../src/study/run/studyResult.js";
import { coarseResult } from "./coarseResult.js";
import { fits, type Puzzle } from "./integerTables.js";

const decisions = ["refer", "pass", "unable"] as const;
type Decision = (typeof decisions)[number];
const states = ["with", "without", "unexamined", "known-with", "known-without"] as const;
type State = (typeof states)[number];

/** A child of an invented programme. */
export interface Screened {
  readonly decision: Decision;
  readonly studied: "refer" | "pass";
  readonly state: State;
  readonly came: boolean;
  readonly asked: boolean;
  readonly declared: Decision;
  readonly triedAgain: boolean;
  readonly unableAtFirst: boolean;
  readonly days: number;
  readonly site: string;
  readonly band: number;
}

const bands = ["below 4 years", "4 to below 6 years", "6 years and older"];

/** A random invented programme: size, sites, follow-up, share drawn and departures. */
export function inventedProgramme(seed: number): {
  readonly children: readonly Screened[];
  readonly notScreened: number;
  readonly notEligible: number;
} {
  const { uniform } = createRandom(seed);
  const n = Math.round(60 * 60 ** uniform());
  const sites = 1 + Math.floor(3 * uniform());
  const [referRate, rare, follow, drawn, depart, alone, again] = [
    0.05 + 0.3 * uniform(),
    0.02 + 0.3 * uniform(),
    0.4 + 0.6 * uniform(),
    0.02 + 0.5 * uniform(),
    0.05 * uniform() ** 2,
    0.02 * uniform(),
    0.3 * uniform(),
  ];
  const children = Array.from({ length: n }, (): Screened => {
    const unread = uniform() < 0.03;
    const refers = uniform() < referRate;
    const declared: Decision = unread ? "unable" : refers ? "refer" : "pass";
    const decision: Decision =
      !unread && uniform() < depart ? (refers ? "pass" : "refer") : declared;
    const studied = unread || (refers ? uniform() < 0.8 : uniform() < 0.05) ? "refer" : "pass";
    const has = uniform() < (refers ? 3 * rare : rare / 5);
    const isReferred = decision !== "pass";
    const unasked = !isReferred && uniform() < alone;
    const isDrawn = !isReferred && !unasked && uniform() < drawn;
    const asked = isReferred ? uniform() < 0.98 : isDrawn;
    const came = unasked || isDrawn || (asked && uniform() < follow);
    const answered = came && (unasked || isDrawn || uniform() < 0.97);
    const state: State = !answered
      ? "unexamined"
      : unasked
        ? has
          ? "known-with"
          : "known-without"
        : has
          ? "with"
          : "without";
    const first = unread ? uniform() < 0.7 : uniform() < again / 3;
    return {
      decision,
      studied,
      state,
      came,
      asked,
      declared,
      triedAgain: first || uniform() < again,
      unableAtFirst: first,
      days: came && isReferred && uniform() < 0.97 ? Math.floor(150 * uniform()) : Number.NaN,
      site: `site ${Math.floor(sites * uniform() ** 2)}`,
      band: Math.floor(3 * uniform()),
    };
  });
  return {
    children,
    notScreened: Math.floor(40 * uniform() ** 2),
    notEligible: Math.floor(40 * uniform() ** 2),
  };
}

const places = decisions.flatMap((decision) =>
  (["refer", "pass"] as const).flatMap((studied) =>
    states
      .filter((state) => decision === "pass" || !state.startsWith("known"))
      .map((state) => ({ decision, studied, state })),
  ),
);

function cellsOf(list: readonly Screened[]): ConditionCell[] {
  return places.map(({ decision, studied, state }) => ({
    recorded: decision,
    studied,
    state,
    eyes: 1,
    children: list.filter(
      (one) => one.decision === decision && one.studied === studied && one.state === state,
    ).length,
  }));
}

/** The public result of such a programme: by definition, one count after the other. */
export function programmeResult(seed: number): StudyResult {
  const { children, notScreened, notEligible } = inventedProgramme(seed);
  const empty = coarseResult([], [{ refer: 2, target: 2 }]);
  const columns = {
    decision: [
      ...children.map(({ decision }) => decision),
      ...Array(notScreened).fill("not-screened"),
    ],
    condition: [
      ...children.map(({ state }) => (state === "unexamined" ? null : state.endsWith("with"))),
      ...Array(notScreened).fill(null),
    ],
    reason: [
      ...children.map(({ came, asked, decision }) =>
        !came
          ? "not-examined"
          : decision !== "pass"
            ? "referred"
            : asked
              ? "sampled"
              : "self-presented",
      ),
      ...Array(notScreened).fill("not-examined"),
    ],
    invited: [...children.map(({ asked }) => asked), ...Array(notScreened).fill(false)],
    came: [...children.map(({ came }) => came), ...Array(notScreened).fill(false)],
    daysToExam: [...children.map(({ days }) => days), ...Array(notScreened).fill(Number.NaN)],
    attempts: [
      ...children.map(({ triedAgain }) => (triedAgain ? 2 : 1)),
      ...Array(notScreened).fill(0),
    ],
    readAtFirst: [
      ...children.map(({ unableAtFirst }) => !unableAtFirst),
      ...Array(notScreened).fill(null),
    ],
    declared: [...children.map(({ declared }) => declared), ...Array(notScreened).fill(null)],
  };
  const [condition] = empty.conditions;
  const by = (group: "age" | "site", names: readonly string[], of: (one: Screened) => string) => ({
    by: group,
    role: "exploratory" as const,
    cells: names.map((name) => ({
      group: name,
      cells: cellsOf(children.filter((one) => of(one) === name)),
    })),
  });
  const sites = [...new Set(children.map(({ site }) => site))].sort();
  return {
    ...empty,
    protocol: {
      ...empty.protocol,
      verification: "partial",
      programme: {
        referWhen: { quantity: "M", relation: ">=", limit: 1.5 },
      },
    },
    conditions: [
      {
        ...condition!,
        screened: children.length,
        table: { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 },
        cells: {
          apart: { before: notScreened + notEligible, unexamined: 0, undecided: 0 },
          cells: cellsOf(children),
          children: children.length,
          knownStand: true,
        },
        subgroups: [
          by("age", bands, ({ band }) => bands[band]!),
          by("site", sites, ({ site }) => site),
        ] as unknown as NonNullable<typeof condition>["subgroups"],
      },
    ],
    programme: [
      {
        id: condition!.id,
        title: condition!.title,
        source: "recorded",
        filled: 0,
        description: describeProgramme(columns, { withinDays: 60, replicates: 20 }),
        byDecision: countsByDecision(columns, { withinDays: 60 }),
        isAskedRecorded: true,
      },
    ],
  } as StudyResult;
}

/** The range of counts that read as this one, by the sentence: 0 to 10, 11 to 17, else the nearest 5. */
function alike(count: number): [number, number] {
  if (count <= 10) return [0, 10];
  if (count <= 17) return [11, 17];
  const reads = 5 * Math.round(count / 5);
  return [reads - 2, reads + 2];
}

const isOf = (one: Screened, { decision, state }: Pick<Screened, "decision" | "state">) =>
  one.decision === decision && one.state === state;

/**
 * The strongest reader: who knows for every count behind a printed figure the range that it was given, and
 * which children it counts. Figures that are not printed say nothing.
 */
export function attackProgramme(seed: number): {
  readonly tried: number;
  readonly disclosed: readonly string[];
  readonly shown: readonly string[];
} {
  const { children, notScreened, notEligible } = inventedProgramme(seed);
  const tables = studyReport(programmeResult(seed)).sections.flatMap(({ blocks }) =>
    blocks.filter((block): block is TableModel => block.kind === "table"),
  );
  const named = (start: string) => tables.filter(({ title }) => title.startsWith(start));
  const [whole, ...groupTables] = named("The programme in figures");
  const labels = (table: TableModel | undefined) =>
    new Set(table?.rows.map(({ cells }) => String(cells[0])));
  const isShown = (start: string, table = whole) =>
    [...labels(table)].some((label) => label.startsWith(start));
  const puzzle: Puzzle = { ranges: new Map(), sums: [] };
  const small: { name: string; least: number }[] = [];
  const count = (name: string, list: readonly unknown[] | number, range?: [number, number]) => {
    const exact = typeof list === "number" ? list : list.length;
    puzzle.ranges.set(name, range ?? alike(exact));
    if (exact <= 10) small.push({ name, least: exact });
  };
  const makeUp = (of: string, parts: readonly string[]) => {
    if (!puzzle.ranges.has(of)) puzzle.ranges.set(of, [0, 10000]);
    puzzle.sums.push([[of, -1], ...parts.map((part) => [part, 1] as const)]);
  };
  for (const { decision, studied, state } of places) {
    count(
      `${decision} ${studied} ${state}`,
      children.filter((one) => isOf(one, { decision, state }) && one.studied === studied),
    );
  }
  const statesOf = (decision: Decision) =>
    states.filter((state) => decision === "pass" || !state.startsWith("known"));
  for (const decision of decisions) {
    for (const state of statesOf(decision)) {
      makeUp(
        `${decision} ${state}`,
        ["refer", "pass"].map((studied) => `${decision} ${studied} ${state}`),
      );
    }
    makeUp(
      decision,
      statesOf(decision).map((state) => `${decision} ${state}`),
    );
  }
  makeUp("screened", decisions);
  count("before", notScreened + notEligible);
  if (isShown("Screened, of the eligible")) {
    count("not screened", notScreened);
    count("not eligible", notEligible, [0, 10000]);
    makeUp("before", ["not screened", "not eligible"]);
  }
  const split = (
    of: string,
    list: readonly Screened[],
    parts: { [part: string]: (one: Screened) => boolean },
  ) => {
    for (const [part, keep] of Object.entries(parts)) count(`${of}: ${part}`, list.filter(keep));
    makeUp(
      of,
      Object.keys(parts).map((part) => `${of}: ${part}`),
    );
  };
  const ofReferred = (["refer", "unable"] as const).map((decision) => ({
    decision,
    all: children.filter((one) => one.decision === decision),
  }));
  for (const { decision, all } of ofReferred) {
    if (isShown("Came, of those asked")) {
      const rest = all.filter(({ state }) => state === "unexamined");
      split(`${decision} unexamined`, rest, {
        "no answer": ({ came }) => came,
        "did not come": ({ came, asked }) => asked && !came,
        "not asked": ({ asked }) => !asked,
      });
    }
    if (isShown("Examined within")) {
      split(decision, all, {
        "in time": ({ days }) => days <= 60,
        later: ({ days }) => days > 60,
        "no day": ({ days }) => Number.isNaN(days),
      });
    }
  }
  if (isShown("Decisions that depart")) {
    for (const decision of decisions) {
      split(
        decision,
        children.filter((one) => one.decision === decision),
        {
          against: ({ declared }) => declared !== decision,
          "by the rule": ({ declared }) => declared === decision,
        },
      );
    }
  }
  if (isShown("Screened again")) {
    split("screened", children, {
      again: ({ triedAgain }) => triedAgain,
      once: ({ triedAgain }) => !triedAgain,
    });
  }
  if (isShown("Unable at the first")) {
    split("screened", children, {
      "unable first": ({ unableAtFirst }) => unableAtFirst,
      "read first": ({ unableAtFirst }) => !unableAtFirst,
    });
  }
  groupTables.forEach((table, grouping) => {
    const bySite = table.title.endsWith("by site");
    const groupOf = ({ site, band }: Screened) => (bySite ? site : bands[band]!);
    const names = [
      ...new Set(table.rows.filter(({ heading }) => !heading).map(({ cells }) => String(cells[0]))),
    ];
    const placeOf = (one: Screened) =>
      names.includes(groupOf(one)) ? groupOf(one) : "all other sites";
    const add = (of: string, list: readonly Screened[]) => {
      for (const name of names) {
        count(
          `${grouping} ${name} ${of}`,
          list.filter((one) => placeOf(one) === name),
        );
      }
      makeUp(
        of,
        names.map((name) => `${grouping} ${name} ${of}`),
      );
    };
    const examsShown: { [decision in Decision]: boolean } = {
      refer: isShown("Cases found", table),
      unable: isShown("Cases found", table),
      pass: isShown("Missed", table),
    };
    for (const decision of decisions) {
      const all = children.filter((one) => one.decision === decision);
      if (examsShown[decision]) {
        for (const state of statesOf(decision)) {
          add(
            `${decision} ${state}`,
            all.filter((one) => one.state === state),
          );
        }
      } else if (isShown("Referred", table)) add(decision, all);
    }
  });
  return {
    tried: small.length,
    disclosed: small
      .filter(({ name }) => !fits(puzzle, name, 0) || !fits(puzzle, name, 10))
      .map(({ name }) => name),
    shown: [whole, ...groupTables].flatMap((table) => [...labels(table)]),
  };
}
