import { execFile } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { progressLine } from "../../src/cli/progressLine.js";

// The command as it is built (dist), each time a process of its own.
interface Ended {
  readonly code: number;
  readonly out: string;
  readonly error: string;
}

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "audit-"));
});
afterAll(() => rm(folder, { recursive: true }));

function audit(...rest: string[]): Promise<Ended> {
  return new Promise((resolve) => {
    execFile(process.execPath, ["dist/cli/main.js", "audit", ...rest], (failed, out, error) =>
      resolve({ code: failed === null ? 0 : Number(failed.code), out, error }),
    );
  });
}

async function file(name: string, content: string): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, content);
  return path;
}

const columns = JSON.stringify({
  kind: "columns",
  version: 1,
  columns: { subject: "child", eye: "eye" },
  readings: [{ columns: { sphere: "S", cylinder: "C", axis: "A" } }],
});
const sound = "child,eye,S,C,A\na,OD,-1.25,-0.50,175\na,OS,0.75,-1.00,12\n";

test("a sound file: exit code 0", async () => {
  const path = await file("sound.csv", sound);
  const mapping = await file("columns.json", columns);
  const { code, out } = await audit(path, "--columns", mapping);
  expect(code).toBe(0);
  expect(out).toMatch(/^sound\.csv: 2 rows\n/);
  expect(out).toMatch(/Readings: 2\n {2}no problems\n/);
  expect(out).toMatch(/Set aside: 0\./);
  expect(out).not.toContain(folder);
});

test("progress is shown past two seconds only", () => {
  vi.useFakeTimers();
  const write = vi.spyOn(process.stderr, "write").mockReturnValue(true);
  try {
    const { show } = progressLine(2000);
    show({ stage: "looking for identifiers", done: 0.1 });
    vi.advanceTimersByTime(1999);
    show({ stage: "reading readings", done: 0.2 });
    expect(write).not.toHaveBeenCalled();
    vi.advanceTimersByTime(1);
    show({ stage: "reading readings", done: 0.3 });
    expect(write).toHaveBeenCalledTimes(1);
  } finally {
    write.mockRestore();
    vi.useRealTimers();
  }
});

test("one of two eyes set aside: exit code 1, the rule, its count and its place", async () => {
  const path = await file("wrong.csv", sound.replace("175", "1175"));
  const mapping = await file("columns.json", columns);
  const { code, out } = await audit(path, "--columns", mapping);
  expect(code).toBe(1);
  expect(out).toMatch(/ 1 set aside in A \(50\.0 %\), axis-range: .*\n {4}"1175" in line 2\n/);
  expect(out).toMatch(/Set aside: 1\./);
});

test("--json: one object that a program reads", async () => {
  const path = await file("wrong.csv", sound.replace("175", "1175"));
  const mapping = await file("columns.json", columns);
  const { code, out } = await audit(path, "--columns", mapping, "--json");
  expect(code).toBe(1);
  const found = JSON.parse(out);
  expect(found).toMatchObject({ kind: "file-audit", file: "wrong.csv", rowCount: 2, setAside: 1 });
  expect(found.parts[0].problems).toHaveLength(1);
  expect(found.parts[0].problems[0]).toMatchObject({ row: 2, column: "A", value: "1175" });
});

test("a kept problem is listed, and sets nothing aside: exit code 0", async () => {
  const path = await file("kept.csv", sound.replace("175", ""));
  const mapping = await file("columns.json", columns);
  const { code, out } = await audit(path, "--columns", mapping);
  expect(code).toBe(0);
  expect(out).toMatch(/ 1 kept in A \(50\.0 %\), axis-missing: /);
});

test("an identifier: exit code 1, its column and never its cells", async () => {
  const { code, out } = await audit("data/demo/invented-identifiers.csv");
  expect(code).toBe(1);
  expect(out).toMatch(/child_name: looks like name/);
  expect(out).not.toContain("Nobody");
});

test("--strict stops at the first cell; no such file and no such mapping are told", async () => {
  const path = await file("wrong.csv", sound.replace("175", "1175"));
  const mapping = await file("columns.json", columns);
  const strict = await audit(path, "--columns", mapping, "--strict");
  expect(strict.code).not.toBe(0);
  expect(strict.error).toMatch(/strict reading requires .* line 2 of wrong\.csv/);
  expect(strict.out).toBe("");
  const nothing = await audit(join(folder, "nothing.csv"));
  expect(nothing.code).not.toBe(0);
  expect(nothing.error).not.toMatch(/ at .*\.js:\d+/);
  const unmapped = await audit(path, "--columns", join(folder, "nothing.json"));
  expect(unmapped.code).not.toBe(0);
  expect(unmapped.error).toMatch(/requires a mapping/);
});

const many = (bad: number) =>
  `child,eye,S,C,A\n${Array.from({ length: 20 }, (_, at) => `c${at},OD,${at < bad ? "x,," : `-1.25,-0.50,${at + 1}`}`).join("\n")}\n`;

test("a fifth of the eyes set aside ends with 0, more than a fifth with 1 and a loud word", async () => {
  const mapping = await file("columns.json", columns);
  const fifth = await audit(await file("fifth.csv", many(4)), "--columns", mapping);
  expect([fifth.code, fifth.out.includes("WRONG?")]).toEqual([0, false]);
  const more = await audit(await file("more.csv", many(5)), "--columns", mapping);
  expect(more.code).toBe(1);
  expect(more.out).toMatch(/WRONG\? 5 of 20 eyes: powers are no numbers/);
});

test("a reason in the mapping, and declared marks, end with 0", async () => {
  const path = await file("more.csv", many(12));
  const plain = JSON.parse(columns);
  const accepted = { ...plain, accepted: { "not-a-number": "x is a test" } };
  expect(
    (await audit(path, "--columns", await file("a.json", JSON.stringify(accepted)))).code,
  ).toBe(0);
  const marked = { ...plain, readings: [{ ...plain.readings[0], marks: { x: "unreadable" } }] };
  const { code, out } = await audit(
    path,
    "--columns",
    await file("m.json", JSON.stringify(marked)),
  );
  expect([code, /Set aside: 0\./.test(out)]).toEqual([0, true]);
});

test("a sign that nine tenths contradict ends with 1 and names the other; nine tenths alone do not", async () => {
  const signed = (plus: number) =>
    `child,eye,S,C,A\n${Array.from({ length: 20 }, (_, at) => `c${at},OD,1,${at < plus ? "+" : "-"}0.50,90`).join("\n")}\n`;
  const plain = JSON.parse(columns);
  const minus = (more: object = {}) =>
    JSON.stringify({ ...plain, ...more, readings: [{ ...plain.readings[0], cylinder: "minus" }] });
  const mapping = await file("minus.json", minus());
  const wrong = await audit(await file("signs.csv", signed(19)), "--columns", mapping);
  expect(wrong.code).toBe(1);
  expect(wrong.out).toMatch(
    /written in plus, not minus: the mapping should say "cylinder": "plus"/,
  );
  const known = await file("known.json", minus({ accepted: { "cylinder-sign": "known" } }));
  expect((await audit(await file("signs.csv", signed(19)), "--columns", known)).code).toBe(0);
});
