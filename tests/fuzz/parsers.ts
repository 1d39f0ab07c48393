import { readFileSync } from "node:fs";
import { defineColumns } from "../../src/cohort/index.js";
import { problemLog } from "../../src/cohort/problemLog.js";
import { readTextTable } from "../../src/cohort/read/readTextTable.js";
import { dateColumn } from "../../src/prepare/detect/dateColumn.js";
import { readPrintedRows } from "../../src/printed/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { readPrescription } from "../../src/refraction/parsePrescription.js";
import { defineRule, publishedRules } from "../../src/rules/index.js";

export interface SeededRandom {
  readonly uniform: () => number;
  readonly integer: (below: number) => number;
}

/** One way in for text or JSON. */
export interface Parser {
  readonly name: string;
  /** Texts that are right, from which the wrong ones are made. */
  readonly seeds: readonly string[];
  /** Words of its trade. */
  readonly words: readonly string[];
  readonly json: boolean;
  /** Whether it throws where it is given something wrong; the detection of dates says null. */
  readonly refuses: boolean;
  /** What is read; an InputError where it is refused. Anything else is a fault. */
  readonly read: (text: string) => unknown;
  /** Source files whose branches are counted. */
  readonly files: RegExp;
}

const keysIn = (texts: readonly string[]) => [
  ...new Set(
    texts.flatMap((text) => [...text.matchAll(/"([A-Za-z][\w-]{0,30})"/g)].map(([, word]) => word)),
  ),
];
const file = (path: string) => readFileSync(path, "utf8");
const rules = Object.values(publishedRules)
  .filter((rule) => rule.kind === "rule")
  .map((rule) => JSON.stringify(rule));
const protocols = ["data/children/protocol.json", "data/demo/protocol.json"].map(file);
const mappings = ["data/children/columns.json", "data/survey/columns.json"].map(file);

export const parsers: readonly Parser[] = [
  {
    name: "prescription",
    seeds: [
      "+1.25 -0.50 x 180",
      "pl −0,75 × 90°",
      "-2.00 DS",
      "+3.25 -1.00 @ 175",
      "plano",
      "-1.00/-0.50*10",
      "+0.75 sph +1.25 cyl ax 90 degrees",
      "-4.5",
      "+1.00 DC x 5",
    ],
    words: [
      "sph",
      "cyl",
      "ax",
      "axis",
      "DS",
      "DC",
      "D",
      "plano",
      "pl",
      "x",
      "@",
      "*",
      "°",
      "deg",
      "degrees",
      " ",
      "+",
      "-",
      "/",
      "180",
      "0.25",
    ],
    json: false,
    refuses: true,
    read: readPrescription,
    files: /refraction\/parsePrescription/,
  },
  {
    name: "text-table",
    seeds: [
      "a,b\n1,2\n3,4\n",
      'a;b\r\n"x;y";2\r\n',
      "a\tb\n1\t\n",
      '"h ""q""",b\n"l1\nl2",3',
      "\ufeffa|b\n1|2\n\n",
    ],
    words: [",", ";", "\t", "|", "\n", "\r\n", "\r", '"', '""', '"a"', "a,b\n", "1.25"],
    json: false,
    refuses: true,
    read: (text) =>
      readTextTable("invented.csv", text, { decimal: "." }, problemLog("table"), "readReadings"),
    files: /cohort\/read\/(readTextTable|plainLines|textTable)/,
  },
  {
    name: "dates",
    seeds: [
      "2031-03-09\n2031-03-10",
      "09/03/2031\n25/03/2031",
      "3/9/31",
      "9 March 2031\n10. März 2031",
      "20310309",
      "44000\n44001",
      "2031-03-09T10:11:12Z",
    ],
    words: [
      "/",
      "-",
      ".",
      " ",
      "\n",
      "31",
      "12",
      "2031",
      "00",
      "Mar",
      "March",
      "Mai",
      "août",
      "T00:00",
      "Z",
      "44000",
    ],
    json: false,
    refuses: false,
    read: (text) => {
      const words = new Map<string, number>();
      for (const cell of text.split("\n"))
        words.set(cell.trim(), (words.get(cell.trim()) ?? 0) + 1);
      words.delete("");
      return dateColumn(words, { serials: true });
    },
    files: /prepare\/detect\/dateColumn|cohort\/.*[dD]ate/,
  },
  {
    name: "printed-rows",
    seeds: [
      "label,n,sensitivity\nA,185,100 (85.18-100)",
      "label,bias,limits,unit\nB,-0.25,-0.94 to 4.85,percent\nC,0.1,-1 to 1,percent",
      '[{"label":"A","n":"185","specificity":"87.04"}]',
    ],
    words: [
      "label",
      "n",
      "sensitivity",
      "specificity",
      "bias",
      "limits",
      " to ",
      "(",
      ")",
      "-",
      "percent",
      "\n",
      ",",
      '"',
      "[",
      "{",
    ],
    json: false,
    refuses: true,
    read: readPrintedRows,
    files: /printed\/readPrintedRows/,
  },
  {
    name: "columns",
    seeds: mappings,
    words: keysIn(mappings),
    json: true,
    refuses: true,
    read: (text) => defineColumns(JSON.parse(text)),
    files: /cohort\/(defineColumns|mappingChecks|columnMapping)/,
  },
  {
    name: "rule",
    seeds: rules,
    words: keysIn(rules),
    json: true,
    refuses: true,
    read: (text) => defineRule(JSON.parse(text)),
    files: /rules\/(defineRule|checkRule|checkLimit|schema|mistake|neverTrue|path|criteria)/,
  },
  {
    name: "protocol",
    seeds: protocols,
    words: keysIn(protocols),
    json: true,
    refuses: true,
    read: (text) => defineProtocol(JSON.parse(text)),
    files: /protocol\//,
  },
];
