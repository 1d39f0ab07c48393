// Plants faults into what identifies a reading: age, day, site, study number, the row itself.

export function plantRowFaults(rows, deal, measured, unexamined) {
  const file = "invented-readings.csv";
  const planted = [];
  const plant = (id, rule, what, dealt, change) => {
    for (const row of dealt) change(row);
    planted.push({ id, file, rule, what, rows: dealt });
  };
  plant(
    "age-in-years",
    null,
    "age in years in a column of months (3 to 6 months old: outside the programme)",
    deal(14, measured),
    (row) => {
      row.age_months = String(Math.floor(Number(row.age_months) / 12));
    },
  );
  plant("age-impossible", "age-range", "an age of 1999 months", deal(6, measured), (row) => {
    row.age_months = "1999";
  });
  plant(
    "age-not-whole",
    "age-not-whole",
    "an age of a month and a half more, written with a decimal",
    deal(9, measured),
    (row) => {
      row.age_months += ".5";
    },
  );
  plant("age-missing", null, "no age", deal(18, measured), (row) => {
    row.age_months = "";
  });
  plant("day-missing", null, "no day of the visit", deal(10, measured), (row) => {
    row.visit_day = "";
  });
  plant(
    "site-spelling",
    null,
    "the site in capitals: a fifth, sixth ... site until mapped",
    deal(21, measured),
    (row) => {
      row.site = row.site.toUpperCase();
    },
  );
  plant("subject-missing", "subject-missing", "no study number", deal(5, unexamined), (row) => {
    row.study_id = "";
  });
  plant("ragged-row", "ragged-row", "the row ends one cell early", deal(3, measured), (row) => {
    row.ragged = true;
  });
  const twice = deal(12, measured);
  const copies = [];
  for (const row of twice) {
    const copy = { ...row };
    rows.splice(rows.indexOf(row) + 1, 0, copy);
    copies.push(copy);
  }
  planted.push({
    id: "row-twice",
    file,
    rule: "eye-twice",
    what: "the same row twice; the second is listed here",
    rows: copies,
  });
  const others = [];
  for (const pair of [0, 1, 2, 3].map(() => deal(2, unexamined))) {
    const [first, second] = pair.sort((one, other) => rows.indexOf(one) - rows.indexOf(other));
    second.study_id = first.study_id;
    second.visit_day = first.visit_day;
    others.push(second);
  }
  planted.push({
    id: "number-shared",
    file,
    rule: "eye-twice",
    what: "two children under one study number on one day; the second is listed here",
    rows: others,
  });
  return planted;
}
