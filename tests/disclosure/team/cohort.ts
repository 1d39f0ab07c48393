import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { createRandom } from "../../../src/inference/index.js";

/** A random cohort as files and protocol: what an owner has before anything is published. */
export interface WrittenCohort {
  readonly protocol: object;
  /** Names of the choices that were drawn, to count what was covered. */
  readonly shape: readonly string[];
  readonly children: number;
}

const header =
  "subject,eye,day,site,age,sex,sphere,cylinder,axis,M,decision,asked,came,attempt,sample,why,alone";

/** Draws a cohort by its seed and writes `readings.csv` and `findings.csv` into the folder. */
export async function writeCohort(
  seed: number,
  folder: string,
  outputs: readonly string[],
): Promise<WrittenCohort> {
  const { uniform, normal } = createRandom(seed);
  const pick = <One>(list: readonly One[]): One => list[Math.floor(list.length * uniform())]!;
  const n = Math.round(30 * 100 ** uniform());
  const verification = pick([
    "complete",
    "complete",
    "complete",
    "partial",
    "partial",
    "partial",
    "none",
  ] as const);
  const mOnly = uniform() < 0.12;
  const eye = pick(["right", "both", "worse", "worse", "random"] as const);
  const byRule = !mOnly && eye === "worse" && uniform() < 0.25;
  const two = uniform() < 0.4;
  const recorded = verification !== "complete" && uniform() < 0.6;
  const sample = uniform() < 0.15 ? pick(["first", "second"]) : null;
  const both = sample === null && seed % 9 === 4;
  const clusters = n > 200 && uniform() < 0.1 ? "site" : "child";
  const [rare, spread, offset] = [0.8 + 2 * uniform(), 0.25 + uniform(), 0.5 * normal()];
  const sites = (clusters === "site" ? 8 : 2) + Math.floor(7 * uniform() ** 2);
  const [unread, lost, noExam, oneEyed] = [
    0.15 * uniform() ** 3,
    0.15 * uniform() ** 3,
    0.3 * uniform() ** 3,
    0.1 * uniform() ** 3,
  ];
  const [drawn, follow, depart] = [
    0.03 + 0.5 * uniform(),
    0.4 + 0.6 * uniform(),
    0.06 * uniform() ** 2,
  ];
  const target = Math.round(4 * rare) / 4;
  const refer = target - Math.round(4 * uniform()) / 4;
  const quarter = (value: number) => Math.round(4 * value) / 4;

  const readings = [header];
  const findings = [header];
  for (let child = 0; child < n; child++) {
    const base = normal();
    const sides = uniform() < oneEyed ? ["right"] : ["right", "left"];
    const eyes = sides.map((side) => {
      const exam = quarter(0.5 + 0.9 * base + 0.4 * normal());
      const cylinder = -quarter(Math.abs(0.6 * normal()));
      const isRead = uniform() >= unread;
      return {
        side,
        exam,
        cylinder,
        axis: Math.floor(180 * uniform()),
        reading: isRead ? quarter(exam + offset + spread * normal()) : null,
      };
    });
    const worst = Math.max(...eyes.map(({ reading, cylinder }) => (reading ?? -9) + cylinder / 2));
    const isUnread = eyes.some(({ reading }) => reading === null) && worst < refer;
    const wanted = isUnread ? "unable" : worst >= refer ? "refer" : "pass";
    const decision =
      uniform() < depart && wanted !== "unable" ? (wanted === "refer" ? "pass" : "refer") : wanted;
    const isReferred = decision !== "pass";
    const alone = verification === "partial" && !isReferred && uniform() < 0.02;
    const isDrawn = verification === "partial" && !isReferred && !alone && uniform() < drawn;
    const asked = isReferred ? uniform() < 0.97 : isDrawn;
    const came =
      verification === "complete"
        ? uniform() >= noExam
        : alone || (isDrawn && uniform() < 0.95) || (isReferred && asked && uniform() < follow);
    const where = `site ${Math.floor(sites * uniform() ** 2)}`;
    const age = (3 + 5 * uniform()).toFixed(1);
    const place = `${where},${uniform() < 0.03 ? "" : age},${pick(["girl", "boy"])}`;
    const inSample = uniform() < 0.7 ? "first" : "second";
    const isLost = uniform() < lost;
    const again = uniform() < 0.1;
    for (const { side, exam, cylinder, axis, reading } of eyes) {
      const values = (sphere: number | null) =>
        sphere === null
          ? ",,,"
          : mOnly
            ? `,,,${sphere + cylinder / 2}`
            : `${sphere},${cylinder},${cylinder === 0 ? "" : axis},`;
      const said = `${decision},${asked ? "yes" : "no"},${came ? "yes" : "no"}`;
      const row = (day: number, of: number | null, attempt: string) =>
        `c${child},${side},${day},${place},${values(of)},${said},${attempt},${inSample},${alone ? "self-presented" : isReferred ? "referred" : "sampled"},${alone ? "yes" : "no"}`;
      if (!isLost) {
        if (again) readings.push(row(0, null, "first"));
        readings.push(row(0, reading, again ? "final" : "first"));
      }
      if (came) findings.push(row(5 + Math.floor(120 * uniform()), exam, "first"));
    }
  }
  await writeFile(join(folder, "readings.csv"), readings.join("\n"));
  await writeFile(join(folder, "findings.csv"), findings.join("\n"));

  const values = mOnly
    ? { statedEquivalent: "M" }
    : { sphere: "sphere", cylinder: "cylinder", axis: "axis" };
  const common = {
    kind: "columns",
    version: 1,
    columns: { subject: "subject", eye: "eye", day: "day", site: "site", age: "age" },
    age: "years",
  };
  const limit = (value: number) => ({ quantity: "M", relation: ">=", limit: value });
  const side = (value: number, id: string, appliesTo: "reading" | "finding") => {
    if (!byRule) return limit(value);
    const criteria = [
      { criterion: "hyperopia", quantity: "M", eye: "either", relation: ">=", limit: value },
      { criterion: "astigmatism", quantity: "cylinder", eye: "either", relation: ">=", limit: 1.5 },
    ];
    const what = { referWhen: criteria };
    return { kind: "rule", id, title: `Rule ${id}`, definition: "own", appliesTo, ...what };
  };
  const condition = (id: string, role: string, at: number, from: number) => ({
    id,
    title: `Condition ${id}`,
    definition: "own",
    role,
    target: side(at, `${id}-target`, "finding"),
    referWhen: side(from, `${id}-refer`, "reading"),
  });
  const criteria = uniform() < 0.5;
  const subgroups = [
    ...(uniform() < 0.6 ? [{ by: "age", edgesYears: pick([[5], [4, 6], [4, 5, 6, 7]]) }] : []),
    ...(uniform() < 0.6 ? [{ by: "site" }] : []),
    ...(uniform() < 0.2 ? [{ by: "own", column: "sex" }] : []),
  ];
  const undecidable = pick(["refer", "pass", "exclude"] as const);
  const sampling = pick(["cohort", "cohort", "enriched"] as const);
  const protocol = {
    kind: "protocol",
    version: 1,
    title: "Invented",
    question: "What follows?",
    audience: "public",
    outputs,
    sources: {
      readings: {
        file: "readings.csv",
        columns: {
          ...common,
          readings: [
            {
              instrument: "own",
              cycloplegia: "none",
              correction: "none",
              ...(mOnly ? {} : { cylinder: "minus" }),
              whenEmpty: "unreadable",
              own: { sex: "sex", sample: "sample" },
              attempt: { codes: { first: "first", final: "final" } },
              ...(recorded
                ? {
                    programmeDecision: {
                      codes: { refer: "refer", pass: "pass", unable: "unable" },
                    },
                    invited: { codes: { yes: "yes", no: "no" } },
                    came: { codes: { yes: "yes", no: "no" } },
                  }
                : {}),
              columns: {
                ...values,
                attempt: "attempt",
                ...(recorded
                  ? { programmeDecision: "decision", invited: "asked", came: "came" }
                  : {}),
              },
            },
          ],
        },
      },
      findings: {
        file: "findings.csv",
        columns: {
          ...common,
          findings: [
            {
              cycloplegia: "full",
              ...(mOnly ? {} : { cylinder: "minus" }),
              verificationReason: {
                codes: {
                  referred: "referred",
                  sampled: "sampled",
                  "self-presented": "self-presented",
                },
              },
              selfPresented: { codes: { yes: "yes", no: "no" } },
              columns: { ...values, verificationReason: "why", selfPresented: "alone" },
            },
          ],
        },
      },
    },
    indexTest: {
      instrument: "own",
      description: "an invented instrument",
      repeats: "last",
      ...(mOnly ? { equivalent: "stated" } : {}),
    },
    referenceStandard: {
      description: "an invented exam",
      ...(mOnly ? { equivalent: "stated" } : {}),
    },
    unit: eye === "worse" ? "child" : "eye",
    eye,
    ...(clusters === "site" ? { clusters } : {}),
    // of one of two samples, or of both
    ...(sample === null ? {} : { eligibility: { own: { sample: [sample] } } }),
    ...(both ? { samples: { by: "sample", development: ["first"], validation: ["second"] } } : {}),
    conditions: [
      condition("one", "confirmatory", target, refer),
      ...(two
        ? [
            condition(
              "two",
              "exploratory",
              target - 0.25 * (1 + Math.floor(3 * uniform())),
              refer - 0.25 * Math.floor(3 * uniform()),
            ),
          ]
        : []),
    ],
    subgroups,
    undecidable,
    verification,
    ...(verification === "complete"
      ? {}
      : {
          programme: {
            ...(recorded && !byRule ? { referWhen: limit(refer) } : {}),
            withinDays: 60,
          },
        }),
    sampling,
    ...(criteria
      ? {
          criteria: {
            sensitivityAtLeast: 0.8,
            specificityAtLeast: 0.8,
            withinAcceptableAtLeast: 0.5,
          },
        }
      : {}),
    acceptableDifference: pick([0.5, 0.75, 1]),
    seed,
    replicates: 20,
  };
  const shape = [
    verification,
    `eye ${eye}`,
    ...(byRule ? ["rules"] : ["limits"]),
    ...(two ? ["two conditions"] : []),
    ...(recorded ? ["recorded decisions"] : []),
    ...(sample === null ? [] : ["one of two samples"]),
    ...(both ? ["two samples"] : []),
    ...(clusters === "site" ? ["clusters of sites"] : []),
    ...(mOnly ? ["M only"] : []),
    ...(criteria ? ["criteria"] : []),
    ...subgroups.map(({ by }) => `by ${by}`),
    `undecidable ${undecidable}`,
    sampling,
  ];
  return { protocol, shape, children: n };
}
