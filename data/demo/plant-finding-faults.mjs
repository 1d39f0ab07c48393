// Plants faults into the findings of the invented programme, each on children of its own, so that the
// counts of planted-faults.json do not overlap. `rule` is the reader's rule that should list it,
// null where another room must find it or nothing can.
import { dealer, signed, transposed } from "./fault-tools.mjs";

export function plantFindingFaults(rows, readingRows, random) {
  const file = "invented-findings.csv";
  const visitDay = new Map(readingRows.map((row) => [row.study_id, Number(row.visit_day)]));
  const deal = dealer(rows, random);
  const right = (row) => row.eye === "right" && visitDay.has(row.study_id);
  const astigmatic = (row) => right(row) && Number(row.cyl) < 0;
  const pairOf = (row) => rows.filter(({ study_id }) => study_id === row.study_id);
  const planted = [];
  const plant = (id, rule, what, dealt, change) => {
    for (const row of dealt) change(row);
    planted.push({ id, file, rule, what, rows: dealt });
  };
  plant(
    "finding-plus-cylinder",
    "mixed-cylinder-sign",
    "written in plus-cylinder form",
    deal(60, astigmatic),
    (row) => transposed(row, ""),
  );
  plant(
    "equivalent-wrong",
    "stated-equivalent",
    "a stated equivalent half a dioptre off",
    deal(9, right),
    (row) => {
      row.equivalent = String(Number(row.equivalent) + 0.5);
    },
  );
  plant("finding-axis", "axis-range", "a negative axis", deal(5, astigmatic), (row) => {
    row.axis = `-${row.axis}`;
  });
  plant(
    "finding-word",
    "not-a-number",
    "the clinic's word for a zero sphere",
    deal(10, (row) => right(row) && Number(row.sphere) === 0),
    (row) => {
      row.sphere = "plano";
    },
  );
  plant(
    "without-drops",
    null,
    "both eyes refracted without cycloplegia: no reference",
    deal(30, right).flatMap(pairOf),
    (row) => {
      row.drops = "none";
    },
  );
  plant(
    "drops-unknown",
    null,
    "both eyes without a word on cycloplegia",
    deal(25, right).flatMap(pairOf),
    (row) => {
      row.drops = "";
    },
  );
  plant(
    "working-distance",
    null,
    "both eyes with 1.50 D of working distance left in: no rule can find a single one",
    deal(12, right).flatMap(pairOf),
    (row) => {
      row.sphere = signed(Number(row.sphere) + 1.5);
      row.equivalent = String(Number(row.equivalent) + 1.5);
    },
  );
  plant(
    "exam-before-visit",
    null,
    "both eyes examined before the screening visit",
    deal(8, (row) => right(row) && visitDay.get(row.study_id) > 5).flatMap(pairOf),
    (row) => {
      row.exam_day = String(visitDay.get(row.study_id) - 5);
    },
  );
  plant(
    "exam-a-year-later",
    null,
    "both eyes examined more than a year after the visit",
    deal(10, right).flatMap(pairOf),
    (row) => {
      row.exam_day = String(visitDay.get(row.study_id) + 400);
    },
  );
  plant(
    "unmatched",
    null,
    "both eyes under a study number that nobody was screened with",
    deal(14, right).flatMap(pairOf),
    (row) => {
      row.study_id = row.study_id.replace("D", "X");
    },
  );
  plant(
    "left-eye-missing",
    null,
    "only the right eye came back; the row kept is listed here",
    deal(16, right),
    (row) => {
      rows.splice(
        rows.findIndex((other) => other.study_id === row.study_id && other.eye === "left"),
        1,
      );
    },
  );
  plant(
    "eye-word",
    "eye-unknown",
    "an undeclared word in the eye column",
    deal(4, right),
    (row) => {
      row.eye = "both";
    },
  );
  plant(
    "reason-missing",
    null,
    "both eyes without the reason for the exam: unknown",
    deal(20, right).flatMap(pairOf),
    (row) => {
      row.why_examined = "";
    },
  );
  const twice = deal(6, right);
  const copies = [];
  for (const row of twice) {
    const copy = { ...row, sphere: signed(Number(row.sphere) + 0.25) };
    copy.equivalent = String(Number(row.equivalent) + 0.25);
    rows.splice(rows.indexOf(row) + 1, 0, copy);
    copies.push(copy);
  }
  planted.push({
    id: "finding-twice",
    file,
    rule: "eye-twice",
    what: "a right eye entered twice, 0.25 D apart; the second is listed here",
    rows: copies,
  });
  return planted;
}
