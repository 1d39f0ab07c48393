import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy } from "../../src/study/index.js";
import { limitations } from "../../src/study/run/limitations.js";

// Begg and Greenes 1983 (Biometrics 39:207): passes examined less often than the referred leave
// sensitivity too high and specificity too low.
test("a study that says everybody was examined, and where that hung on the reading, is told so", async () => {
  const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
  const result = await runStudy(protocol, { folder: "data/children" });
  const [condition] = result.conditions;
  const { referred, passed } = condition!.followUp;
  // 204/41/10/283 right eyes of the source, all of them examined
  expect([referred.examined, passed.examined]).toEqual([204 + 41, 10 + 283]);
  expect(limitations(result).join(" ")).not.toContain("says that everybody was examined");

  const told = (examinedOfPassed: number) =>
    limitations({
      ...result,
      protocol,
      conditions: [
        {
          ...condition!,
          followUp: {
            referred: { screened: 100, examined: 95 },
            passed: { screened: 200, examined: examinedOfPassed },
          },
        },
      ],
    }).find((line) => line.includes("says that everybody was examined"));
  expect(told(60)).toMatch(
    /95 % of those referred and 30 % of those who passed were examined.*sensitivity is then too high and specificity too low/,
  );
  // 90 %: less than 10 % apart
  expect(told(180)).toBeUndefined();
});

test("a study that says some passes were examined, or none, and whose data say otherwise, is told so", async () => {
  const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
  const result = await runStudy(protocol, { folder: "data/children" });
  const told = (verification: "partial" | "none", examined: number) =>
    limitations({
      ...result,
      protocol: { ...protocol, verification },
      conditions: [
        {
          ...result.conditions[0]!,
          followUp: {
            referred: { screened: 100, examined: 95 },
            passed: { screened: 200, examined },
          },
        },
      ],
    }).filter((line) => line.includes("the protocol says that"));
  expect(told("partial", 60)).toEqual([]);
  expect(told("partial", 0)).toEqual([
    expect.stringContaining("some of those who passed were examined, yet 0 of 200 who passed were"),
  ]);
  expect(told("partial", 200)).toEqual([expect.stringContaining("yet 200 of 200 who passed were")]);
  expect(told("none", 0)).toEqual([]);
  expect(told("none", 12)).toEqual([
    expect.stringContaining("no child who passed was examined, yet 12 of 200 who passed were"),
  ]);
});
