import { readFileSync, writeFileSync } from "node:fs";
import { expect, test } from "vitest";
import {
  type SimulationParameter,
  simulationParameters,
  simulationScenarios,
} from "../../src/simulation/index.js";

const readme = new URL("../../src/simulation/README.md", import.meta.url);

test("every parameter has a value, a unit, a source and a meaning", () => {
  for (const rows of Object.values(simulationParameters)) {
    for (const [name, row] of Object.entries(rows as Record<string, SimulationParameter>)) {
      expect(Number.isFinite(row.value), name).toBe(true);
      for (const text of [row.unit, row.source, row.meaning])
        expect(text.length, name).toBeGreaterThan(0);
    }
  }
});

test("the room's README lists the parameters and scenarios as they are", () => {
  // RENEW=1 npx vitest run tests/simulation/parameters.test.ts writes the tables anew.
  const text = readFileSync(readme, "utf8");
  const [before] = text.split("## Scenarios");
  const [, after = ""] = text.split("\n## Functions beside these");
  const rest = after === "" ? "" : `\n## Functions beside these${after}`;
  const wanted = `${before}## Scenarios\n\n${scenarioTable()}\n\n## Parameters\n\n${parameterTables()}\n${rest}`;
  if (process.env.RENEW === "1") writeFileSync(readme, wanted);
  expect(readFileSync(readme, "utf8")).toBe(wanted);
});

function scenarioTable(): string {
  const rows = Object.entries(simulationScenarios).map(
    ([name, { description }]) => `| \`${name}\` | ${description} |`,
  );
  return ["| name | what it is |", "|---|---|", ...rows].join("\n");
}

function parameterTables(): string {
  return Object.entries(simulationParameters)
    .map(([group, rows]) => {
      const lines = Object.entries(rows as Record<string, SimulationParameter>).map(
        ([name, { value, unit, meaning, source }]) =>
          `| ${name} | ${value} | ${unit} | ${meaning} | ${source} |`,
      );
      return [
        `**${group}**`,
        "",
        "| name | default | unit | meaning | source |",
        "|---|---|---|---|---|",
        ...lines,
      ].join("\n");
    })
    .join("\n\n");
}
