// All 40^4 joint rules over 100,000 children: this package against a plain typed-array loop and
// numpy, in one run. Run after a build: node tests/bench/rule-space.mjs [python]
// The loops are timed on some rules and given per rule; children and limits are invented.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { createRandom } from "../../dist/inference/index.js";
import { bestRule, paretoFront, ruleAt, ruleSpace, searchRules, streamRules } from "../../dist/rulespace/index.js";

const python = process.argv[2] ?? "/usr/bin/python3";
const names = ["hyperopia", "myopia", "astigmatism", "anisometropia", "blur"];
const steps = 40;
const constraints = { specificityAtLeast: 0.9 };

function invented(n, criteria) {
  const random = createRandom(20261125);
  const condition = new Uint8Array(n);
  const measures = Object.fromEntries(names.slice(0, criteria).map((name) => [name, new Float64Array(n)]));
  for (let row = 0; row < n; row++) {
    condition[row] = random.uniform() < 0.05 ? 1 : 0;
    for (const values of Object.values(measures)) {
      values[row] = Math.round((1 + random.normal() + 1.2 * condition[row]) * 100) / 100;
    }
  }
  const limits = Object.fromEntries(
    names.slice(0, criteria).map((name) => [name, Array.from({ length: steps }, (_, at) => at / 10)]),
  );
  return { measures, condition, limits };
}

const seconds = async (run) => {
  const begun = performance.now();
  const result = await run();
  return [(performance.now() - begun) / 1000, result];
};
const best = async (run, times) => {
  const all = [];
  for (let at = 0; at < times; at++) all.push((await seconds(run))[0]);
  return Math.min(...all);
};

/** One rule over the children, stopping at the first limit crossed. */
function countStopping(a, b, c, d, condition, p, q, r, s) {
  let ill = 0;
  let all = 0;
  for (let row = 0; row < condition.length; row++) {
    if (a[row] >= p || b[row] >= q || c[row] >= r || d[row] >= s) {
      ill += condition[row];
      all++;
    }
  }
  return [ill, all - ill];
}

/** The same without branches. */
function countStraight(a, b, c, d, condition, p, q, r, s) {
  let ill = 0;
  let all = 0;
  for (let row = 0; row < condition.length; row++) {
    const referred =
      Number(a[row] >= p) | Number(b[row] >= q) | Number(c[row] >= r) | Number(d[row] >= s);
    ill += referred & condition[row];
    all += referred;
  }
  return [ill, all - ill];
}

function plainLoop(count, { measures, condition }, rules) {
  const columns = Object.values(measures).map((values) => Float32Array.from(values));
  return rules.map((rule) => count(...columns, condition, ...rule.map(Math.fround)));
}

const rss = () => process.memoryUsage().rss / 1e9;
const print = (what, value, goal = "") => console.log(`${what.padEnd(66)} ${String(value).padStart(10)}  ${goal}`);

// streaming first, while the process holds nothing else
const five = invented(100_000, 5);
let most = 0;
const [streaming, streamed] = await seconds(() =>
  streamRules(five, { constraints, onProgress: () => { most = Math.max(most, rss()); } }),
);
print("40^5 rules streamed, front and best rule, s", streaming.toFixed(2), "< 4");
print("  resident memory of the whole process, GB", most.toFixed(3), "< 0.25");
print("  rules on the front", streamed.front.points.length);

const four = invented(100_000, 4);
const rules = steps ** 4;
const counts = await best(() => ruleSpace(four), 7);
const whole = await best(() => {
  const space = ruleSpace(four);
  paretoFront(space);
  bestRule(space, constraints);
}, 7);
print("40^4 counts, s", counts.toFixed(3));
print("40^4 counts, front and best rule, s", whole.toFixed(3), "< 0.3");

const random = createRandom(1);
const some = Array.from({ length: 300 }, () => [0, 1, 2, 3].map(() => random.integer(steps) / 10));
let loop = Number.POSITIVE_INFINITY;
let answers = [];
for (const count of [countStopping, countStraight]) {
  plainLoop(count, four, some.slice(0, 50));
  const [taken, found] = await seconds(() => plainLoop(count, four, some));
  loop = Math.min(loop, taken);
  answers = found;
}
const space = ruleSpace(four);
some.forEach(([p, q, r, s], at) => {
  const table = ruleAt(space, { hyperopia: p, myopia: q, astigmatism: r, anisometropia: s });
  if (table.truePositive !== answers[at][0] || table.falsePositive !== answers[at][1]) {
    throw new Error("counts differ from the loop");
  }
});
const each = counts / rules;
print("a rule: plain typed-array loop, the faster of two, us", ((loop / some.length) * 1e6).toFixed(1));
print("a rule: counts, ns", (each * 1e9).toFixed(1));
print("ratio to the plain loop", Math.round(loop / some.length / each), ">= 10000");

const folder = mkdtempSync(join(tmpdir(), "rules-"));
try {
  const file = join(folder, "rows.bin");
  writeFileSync(
    file,
    Buffer.concat([
      Buffer.from(four.condition.buffer),
      ...Object.values(four.measures).map((values) => Buffer.from(values.buffer)),
    ]),
  );
  const script = fileURLToPath(new URL("ruleSpaceReference.py", import.meta.url));
  const input = JSON.stringify({ file, n: 100_000, steps, rules: some });
  const theirs = JSON.parse(execFileSync(python, [script], { input, encoding: "utf8" }));
  theirs.answers.forEach(([ill, well], at) => {
    if (ill !== answers[at][0] || well !== answers[at][1]) throw new Error("numpy differs");
  });
  print("a rule: numpy over the children, us", (theirs.loop * 1e6).toFixed(1));
  print("ratio to numpy over the children", Math.round(theirs.loop / each), ">= 3000");
  print("the same cumulation in numpy, s", theirs.cumulation.toFixed(3));
  print("  its ratio to ours", (theirs.cumulation / counts).toFixed(2));
} finally {
  rmSync(folder, { recursive: true });
}

const [search] = await seconds(() =>
  searchRules(four, { constraints, folds: 2, repeats: 1, replicates: 200, seed: 1, workers: 2 }),
);
print("200 resamples of the whole search (and 2 folds), two threads, s", search.toFixed(1), "< 15");

const times = [];
for (const n of [10_000, 100_000, 1_000_000, 10_000_000]) {
  const data = invented(n, 3);
  times.push(await best(() => ruleSpace(data), n > 1e6 ? 1 : 3));
  print(`40^3 rules, ${n} children, s`, times.at(-1).toFixed(3));
}
print("growth from 10^6 to 10^7 children", (times[3] / times[2]).toFixed(1), "about 10");
