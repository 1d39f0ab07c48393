// Plants faults into the rows of the invented programme, each on children of its own, so that the
// counts of planted-faults.json do not overlap. `rule` is the reader's rule that should list it,
// null where another room must find it or nothing can.
import { dealer, isNumber, signed, transposed } from "./fault-tools.mjs";
import { plantRowFaults } from "./plant-row-faults.mjs";

export function plantReadingFaults(rows, examined, random) {
  const file = "invented-readings.csv";
  const attempts = new Map();
  for (const { study_id } of rows) attempts.set(study_id, (attempts.get(study_id) ?? 0) + 1);
  const single = (row) => attempts.get(row.study_id) === 1;
  const measured = (row) => single(row) && isNumber(row.R_sphere) && isNumber(row.L_sphere);
  const unexamined = (row) => measured(row) && !examined.has(row.study_id);
  const astigmatic = (row) => measured(row) && Number(row.R_cyl) < 0 && Number(row.L_cyl) < 0;
  const deal = dealer(rows, random);
  const planted = [];
  const plant = (id, rule, what, dealt, change) => {
    for (const row of dealt) change(row);
    planted.push({ id, file, rule, what, rows: dealt });
  };
  plant(
    "plus-cylinder",
    "mixed-cylinder-sign",
    "both eyes written in plus-cylinder form",
    deal(40, astigmatic),
    (row) => {
      transposed(row, "R_");
      transposed(row, "L_");
    },
  );
  plant(
    "axis-beyond-180",
    "axis-range",
    "right axis with a doubled digit, beyond 180",
    deal(12, (row) => astigmatic(row) && Number(row.R_axis) >= 100),
    (row) => {
      row.R_axis += row.R_axis.at(-1);
    },
  );
  plant(
    "axis-missing",
    "axis-missing",
    "right cylinder without its axis",
    deal(20, astigmatic),
    (row) => {
      row.R_axis = "";
    },
  );
  plant(
    "axis-beside-zero",
    "axis-beside-zero-cylinder",
    "an axis beside a zero right cylinder",
    deal(25, (row) => measured(row) && Number(row.R_cyl) === 0),
    (row) => {
      row.R_axis = "90";
    },
  );
  plant(
    "axis-zero",
    null,
    "right axis of 180 written as 0: the same lens, not a fault",
    deal(10, (row) => astigmatic(row) && row.R_axis === "180"),
    (row) => {
      row.R_axis = "0";
    },
  );
  plant(
    "decimal-point-lost",
    "sphere-range",
    "right sphere without its decimal point",
    deal(9, (row) => measured(row) && Math.abs(Number(row.R_sphere)) >= 0.5),
    (row) => {
      row.R_sphere = row.R_sphere.replace(".", "");
    },
  );
  plant(
    "decimal-comma",
    "not-a-number",
    "right sphere with a decimal comma in a file of points",
    deal(15, measured),
    (row) => {
      row.R_sphere = row.R_sphere.replace(".", ",");
    },
  );
  plant(
    "unicode-minus",
    null,
    "right cylinder with a Unicode minus: a minus all the same",
    deal(11, astigmatic),
    (row) => {
      row.R_cyl = row.R_cyl.replace("-", "\u2212");
    },
  );
  plant(
    "word-for-number",
    "not-a-number",
    "a word that the mapping does not declare in place of a left sphere",
    deal(8, measured),
    (row) => {
      row.L_sphere = "see notes";
    },
  );
  plant(
    "sphere-missing",
    "sphere-missing",
    "left cylinder and axis without a sphere",
    deal(7, astigmatic),
    (row) => {
      row.L_sphere = "";
    },
  );
  plant(
    "cylinder-missing",
    "cylinder-missing",
    "left sphere without cylinder and axis",
    deal(6, astigmatic),
    (row) => {
      row.L_cyl = "";
      row.L_axis = "";
    },
  );
  plant(
    "both-empty",
    null,
    "every cell of both eyes empty: not attempted",
    deal(30, measured),
    (row) => {
      for (const key of Object.keys(row)) if (/^[RL]_/.test(key)) row[key] = "";
    },
  );
  plant(
    "eyes-swapped",
    "eyes-swapped",
    "right and left exchanged, in unequal eyes",
    deal(
      15,
      (row) =>
        measured(row) &&
        examined.has(row.study_id) &&
        Math.abs(Number(row.R_sphere) - Number(row.L_sphere)) >= 1.5,
    ),
    (row) => {
      for (const part of ["sphere", "cyl", "axis", "score", "pupil"]) {
        [row[`R_${part}`], row[`L_${part}`]] = [row[`L_${part}`], row[`R_${part}`]];
      }
    },
  );
  plant(
    "through-glasses",
    null,
    "read through the child's glasses: both eyes near zero; never pooled",
    deal(60, measured),
    (row) => {
      row.glasses = "yes";
      for (const eye of ["R", "L"]) {
        row[`${eye}_sphere`] = signed(Math.round(4 * (random.uniform() - 0.5)) / 4);
        row[`${eye}_cyl`] = "+0.00";
        row[`${eye}_axis`] = "";
      }
    },
  );
  plant(
    "glasses-word",
    "word-unknown",
    "an undeclared word in the glasses column",
    deal(5, measured),
    (row) => {
      row.glasses = "maybe";
    },
  );
  plant(
    "score-off-scale",
    "value-range",
    "right confidence score of 99 on a scale of 1 to 10",
    deal(10, measured),
    (row) => {
      row.R_score = "99";
    },
  );
  plant(
    "pupil-unit",
    "value-range",
    "right pupil in tenths of a millimetre",
    deal(8, measured),
    (row) => {
      row.R_pupil = String(Math.round(Number(row.R_pupil) * 10));
    },
  );
  plant(
    "range-end",
    "range-end",
    "right sphere at the end of the instrument's range",
    deal(6, measured),
    (row) => {
      row.R_sphere = "+7.50";
    },
  );
  planted.push(...plantRowFaults(rows, deal, measured, unexamined));
  return planted;
}
