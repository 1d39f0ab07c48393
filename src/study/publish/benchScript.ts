import { jsonText } from "../../text/index.js";
import { startBench } from "./benchPage.js";
import { benchTools, rounded12 } from "./benchParts.js";
import { type AnyBenchData, startRuleBench } from "./ruleBenchPage.js";

/** The page's script: the texts of functions of the library as they run here, called for each bench. */
export function benchScript(benches: readonly AnyBenchData[]): string {
  const data = jsonText(rounded12(benches));
  const tools = Object.entries(benchTools).map(([name, tool]) => `${name}: ${tool}`);
  const kinds = new Set(benches.map(({ kind }) => kind));
  const starts = [
    ...(kinds.has("bench") ? [`"bench": ${startBench}`] : []),
    ...(kinds.has("rule-bench") ? [`"rule-bench": ${startRuleBench}`] : []),
  ];
  return `"use strict";\nconst benches = ${data};\nconst tools = { ${tools.join(",\n")} };\nconst starts = { ${starts.join(",\n")} };\nfor (const data of benches) starts[data.kind](data, tools, document);\n`;
}
