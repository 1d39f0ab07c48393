// Writes two raw exports as a programme would have them, with names and dates, from the first children of
// the invented demo: invented-screening.csv and invented-exams.csv. Nobody in them exists. The
// same files of the demo give the same bytes. Run: node data/raw/make-raw.mjs

import { readFileSync, writeFileSync } from "node:fs";

const here = new URL("./", import.meta.url);
const demo = new URL("../demo/", import.meta.url);
const children = 6000;
const dayZero = Date.UTC(2024, 8, 2);
const given = ["Inventa", "Fictio", "Examplia", "Notia", "Ficta", "Nullo", "Simula", "Modello"];

const rowsOf = (file) => {
  const [head, ...lines] = readFileSync(new URL(file, demo), "utf8").trim().split(/\r?\n/);
  const names = head.split(",");
  return lines
    .map((line) => line.split(",").map((cell) => cell.replace(/^"|"$/g, "")))
    .map((cells) => Object.fromEntries(names.map((name, at) => [name, cells[at] ?? ""])));
};
const numberOf = (id) => Number(id.replace(/\D/g, ""));
const isAmong = ({ study_id: id }) => /^D\d{5}$/.test(id) && numberOf(id) <= children;

// a fixed scatter of the children's numbers, in place of a random draw
const scatter = (number, most) => (number * 7919) % most;
const dateOf = (day) => new Date(dayZero + Number(day) * 86_400_000);
const iso = (date) => date.toISOString().slice(0, 10);

/** So many completed months before the first screening, and some days. */
function bornOn(number, months, day) {
  const date = dateOf(day);
  const month = date.getUTCMonth() - Number(months);
  const born = new Date(Date.UTC(date.getUTCFullYear(), month, 1));
  // between the first of that month and the day of the screening, so that the months stay completed
  born.setUTCDate(1 + scatter(number, Math.min(date.getUTCDate(), 28)));
  return iso(born);
}

const readings = rowsOf("invented-readings.csv").filter(isAmong);
const findings = rowsOf("invented-findings.csv").filter(isAmong);
const births = new Map();
for (const { study_id: id, age_months: months, visit_day: day } of readings) {
  if (!births.has(id) && months !== "" && day !== "") births.set(id, bornOn(numberOf(id), months, day));
}
const child = (id) => ({
  "Child number": `K-${String(scatter(numberOf(id), 9973) + 20_000)}`,
  "First name": given[scatter(numberOf(id), given.length)],
  "Last name": `Nobody-${numberOf(id)}`,
  "Date of birth": births.get(id) ?? "",
});

const screening = readings.map((row) => ({
  ...child(row.study_id),
  Site: row.site,
  "Screening date": row.visit_day === "" ? "" : iso(dateOf(row.visit_day)),
  Attempt: row.attempt,
  Glasses: row.glasses,
  Decision: row.decision,
  "Asked to exam": row.asked_to_exam,
  "Came to exam": row.came_to_exam,
  "R sphere": row.R_sphere,
  "R cylinder": row.R_cyl,
  "R axis": row.R_axis,
  "L sphere": row.L_sphere,
  "L cylinder": row.L_cyl,
  "L axis": row.L_axis,
}));
const exams = findings.map((row) => ({
  ...child(row.study_id),
  "Exam date": row.exam_day === "" ? "" : iso(dateOf(row.exam_day)),
  Eye: row.eye,
  Method: row.method,
  Drops: row.drops,
  Sphere: row.sphere,
  Cylinder: row.cyl,
  Axis: row.axis,
  Strabismus: row.strabismus,
  "Why examined": row.why_examined,
  "Came unasked": row.came_unasked,
}));

for (const [name, rows] of Object.entries({ "invented-screening": screening, "invented-exams": exams })) {
  const lines = [Object.keys(rows[0]), ...rows.map(Object.values)].map((cells) => cells.join(","));
  writeFileSync(new URL(`${name}.csv`, here), `${lines.join("\n")}\n`);
}
