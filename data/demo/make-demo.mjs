// Writes the files of this folder: an invented preschool programme of 20,000 invented children, and
// the faults planted into it. The same seed gives the same bytes. After a build:
//   node data/demo/make-demo.mjs [folder to write to instead]
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { createRandom } from "../../dist/inference/index.js";
import { simulateCohort } from "../../dist/simulation/index.js";
import { plantFindingFaults } from "./plant-finding-faults.mjs";
import { plantReadingFaults } from "./plant-reading-faults.mjs";

const here = new URL("./", import.meta.url);
const out = process.argv[2] === undefined ? here : pathToFileURL(`${process.argv[2]}/`);
const seed = 20_261_125;
const sites = ["Amberfold", "Brindlemoor", "Corvale", "Dellwater"];
const marks = ["", "above range", "below range", "no reading"];
const drops = ["none", "adequate", "weak", ""];

const cohort = await simulateCohort({
  children: 20_000,
  seed,
  parameters: {
    programme: { attempts: 2, passesSampled: 0.05, passesSelfPresented: 0.005, departures: 0.01 },
  },
});
const { readings, findings, truth } = cohort;
const studyId = (index) => `D${String(index + 1).padStart(5, "0")}`;
const dioptres = (value) => {
  if (Number.isNaN(value)) return "";
  return value < 0 ? `-${(-value).toFixed(2)}` : `+${value.toFixed(2)}`;
};
const text = (value) => (Number.isNaN(value) ? "" : String(value));

const word = ({ codes, labels }, row) => labels[codes[row]];

const readingColumns = ["study_id", "site", "age_months", "visit_day", "attempt", "glasses"];
readingColumns.push("decision", "asked_to_exam", "came_to_exam");
for (const eye of ["R", "L"]) {
  for (const part of ["sphere", "cyl", "axis", "score", "pupil"])
    readingColumns.push(`${eye}_${part}`);
}
const readingRows = [];
for (let row = 0; row < readings.n; row += 2) {
  const child = readings.subject.codes[row];
  const cells = {
    study_id: studyId(child),
    site: sites[readings.site.codes[row]],
    age_months: text(readings.ageMonths[row]),
    visit_day: text(readings.day[row]),
    attempt: readings.attempt.labels[readings.attempt.codes[row]],
    glasses: "no",
    decision: word(readings.programmeDecision, row),
    asked_to_exam: word(readings.invited, row),
    came_to_exam: word(readings.came, row),
  };
  for (const [side, eye] of ["R", "L"].entries()) {
    const at = row + side;
    const status = readings.status.codes[at];
    cells[`${eye}_sphere`] = status === 0 ? dioptres(readings.sphere[at]) : marks[status];
    cells[`${eye}_cyl`] = dioptres(readings.cylinder[at]);
    cells[`${eye}_axis`] = text(readings.axis[at]);
    cells[`${eye}_score`] = text(readings.confidenceScore[at]);
    cells[`${eye}_pupil`] = readings.pupilMm[at].toFixed(1);
  }
  readingRows.push(cells);
}

const findingColumns = ["study_id", "site", "age_months", "exam_day", "eye", "method", "drops"];
findingColumns.push("sphere", "cyl", "axis", "equivalent", "strabismus", "opacity", "why_examined");
findingColumns.push("came_unasked");
const findingRows = [];
for (let row = 0; row < findings.n; row++) {
  findingRows.push({
    study_id: studyId(findings.subject.codes[row]),
    site: sites[findings.site.codes[row]],
    age_months: text(findings.ageMonths[row]),
    exam_day: text(findings.day[row]),
    eye: findings.eye.labels[findings.eye.codes[row]],
    method: "retinoscopy",
    drops: drops[findings.cycloplegia.codes[row]],
    sphere: dioptres(findings.sphere[row]),
    cyl: dioptres(findings.cylinder[row]),
    axis: text(findings.axis[row]),
    equivalent: text(findings.sphere[row] + findings.cylinder[row] / 2),
    strabismus: findings.strabismus.labels[findings.strabismus.codes[row]],
    opacity: findings.mediaOpacity.labels[findings.mediaOpacity.codes[row]],
    why_examined: word(findings.verificationReason, row),
    came_unasked: word(findings.selfPresented, row).replace("unknown", ""),
  });
}

const random = createRandom(seed, 1);
const examined = new Set(findingRows.map((row) => row.study_id));
const planted = [
  ...plantReadingFaults(readingRows, examined, random),
  ...plantFindingFaults(findingRows, readingRows, random),
];
write("invented-readings.csv", csv(readingColumns, readingRows));
write("invented-findings.csv", csv(findingColumns, findingRows));
write("invented-identifiers.csv", identifiers());
write("planted-faults.json", json(planted.map(withLines)));
write("invented-truth.json", json(wholeTruth()));
listInReadme(planted);

/** Each fault with the lines of its file on which it stands; the header is line 1. */
function withLines({ rows, ...fault }) {
  const all = fault.file === "invented-readings.csv" ? readingRows : findingRows;
  const lineOf = new Map(all.map((row, index) => [row, index + 2]));
  const lines = rows.map((row) => lineOf.get(row)).sort((a, b) => a - b);
  return { ...fault, count: rows.length, lines };
}

/** Renews the table of faults in the README of this folder. */
function listInReadme(faults) {
  const lines = faults.map(({ id, file, rule, what, rows }) => {
    const short = file === "invented-readings.csv" ? "readings" : "findings";
    return `| ${id} | ${rows.length} | ${short} | ${rule ?? "-"} | ${what} |`;
  });
  const table = ["| id | rows | file | reader's rule | what |", "|---|---|---|---|---|", ...lines];
  const readme = readFileSync(new URL("README.md", here), "utf8");
  const [before] = readme.split("| id | rows |");
  write("README.md", `${before}${table.join("\n")}\n`);
}

/** What all 20,000 exams would have found, before any fault was planted. */
function wholeTruth() {
  const count = (passes) => {
    let children = 0;
    for (let row = 0; row < truth.n; row++) if (passes(row)) children++;
    return children;
  };
  const table = (condition) => ({
    truePositive: count((row) => truth.referred[row] === 1 && condition[row] === 1),
    falsePositive: count((row) => truth.referred[row] === 1 && condition[row] === 0),
    falseNegative: count((row) => truth.referred[row] === 0 && condition[row] === 1),
    trueNegative: count((row) => truth.referred[row] === 0 && condition[row] === 0),
  });
  return {
    note: "Invented children. Default rules of the simulation room; children who could not be read are referred, 1 % of decisions depart from the rule.",
    children: truth.n,
    referred: count((row) => truth.referred[row] === 1),
    examined: count((row) => truth.examined[row] === 1),
    undecidable: count((row) => truth.decision.codes[row] === 2),
    byFinding: table(truth.conditionByFinding),
    byLatent: table(truth.conditionByLatent),
  };
}

/** A small file with a direct identifier of each kind in it; none belongs to anybody. */
function identifiers() {
  const columns = ["study_id", "child_name", "birth_date", "home_address", "postcode"];
  columns.push("guardian_phone", "guardian_email", "record_number", "insurance_number");
  columns.push("device_serial", "photo_link", "ip_address", "age_years", "remark", "R_sphere");
  const given = ["Inventa", "Fictio", "Examplia", "Modella"];
  const rows = Array.from({ length: 20 }, (_, index) => {
    const number = String(index + 1).padStart(2, "0");
    return {
      study_id: studyId(index),
      child_name: `${given[index % 4]} Nobody-${number}`,
      birth_date: `2020-${String((index % 12) + 1).padStart(2, "0")}-${number}`,
      home_address: `${index + 1} Invented Street, Nowhere`,
      postcode: `000${number}`,
      guardian_phone: `+1 555 555 01${number}`,
      guardian_email: `nobody${number}@example.invalid`,
      record_number: `MRN-0000${number}`,
      insurance_number: `000-00-00${number}`,
      device_serial: `SN-INVENTED-${number}`,
      photo_link: `https://example.invalid/photo/${number}`,
      ip_address: `192.0.2.${index + 1}`,
      age_years: index === 19 ? "93" : "5",
      remark: `An invented free remark about ${given[index % 4]}, seen on 3 May 2026`,
      R_sphere: readingRows[index].R_sphere,
    };
  });
  return csv(columns, rows);
}

function csv(columns, rows) {
  const cell = (value) => (/[",\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value);
  const lines = rows.map((row) => {
    const kept = row.ragged ? columns.slice(0, -1) : columns;
    return kept.map((column) => cell(row[column])).join(",");
  });
  return `${[columns.join(","), ...lines].join("\n")}\n`;
}

/** JSON with arrays of numbers on one line. */
function json(value) {
  const spread = JSON.stringify(value, null, 2);
  return `${spread.replace(/\[[\d,\s]+\]/g, (list) => list.replace(/\s+/g, " ").replace("[ ", "[").replace(" ]", "]"))}\n`;
}

function write(name, content) {
  writeFileSync(new URL(name, out), content);
}
