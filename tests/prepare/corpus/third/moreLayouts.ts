// More layouts of the third part.
import {
  both,
  type Cell,
  type Column,
  column,
  dated,
  numbers,
  people,
  places,
  powers,
  rx,
} from "./cohort.js";
import type { ThirdLayout } from "./index.js";

const { signed, short, plain } = numbers;
const place: Cell = (child) => places[child.place]!;
const person: Cell = (child) => people[child.person]!;
const id: Cell = (child) => String(child.id);
const eyeOf = (name: string, right: string, left: string): Column =>
  column(name, "eye", (_, eye) => (eye === "right" ? right : left));
const drops = (name: string, yes: string, no: string): Column =>
  column(name, "cycloplegia", (child) => (child.drops ? yes : no));
const inClinic = ({ inClinic }: { inClinic: boolean }) => inClinic;
const half = (of: "reading" | "finding", eye: "right" | "left"): Cell => {
  return (child) => {
    const power = child[of][eye];
    return power === null ? "" : signed(power[0] + power[1] / 2);
  };
};

export const moreLayouts: Record<string, ThirdLayout> = {
  "camel-case-parquet": {
    note: "Two parquet files in camel case, ids alike.",
    files: [
      {
        file: "screening.parquet",
        more: { written: "parquet" },
        columns: [
          column("subjectCode", "subject", ({ id }) => `S-${id}`),
          dated("visitDate", "seen", "iso"),
          column("ageMonths", "age", ({ months }) => String(months), { unit: "months" }),
          column("siteName", "site", place),
          ...both(
            ["rightSphere", "rightCylinder", "rightAxis"],
            ["leftSphere", "leftCylinder", "leftAxis"],
          ),
          column("rightPupilMm", "pupil", ({ pupil }) => pupil.toFixed(2), { eye: "right" }),
          column("leftPupilMm", "pupil", ({ pupil }) => pupil.toFixed(2), { eye: "left" }),
          column("interpupillaryMm", "interpupillary", ({ distance }) => String(distance)),
          column("createdBy", "examiner", person),
        ],
      },
      {
        file: "reference.parquet",
        holds: ["findings"],
        who: inClinic,
        more: { written: "parquet" },
        columns: [
          column("subjectCode", "subject", ({ id }) => `S-${id}`),
          dated("examinationDate", "examined", "iso"),
          ...both(
            ["refRightSphere", "refRightCylinder", "refRightAxis"],
            ["refLeftSphere", "refLeftCylinder", "refLeftAxis"],
            { of: "finding" },
          ),
          column("cycloplegic", "cycloplegia", ({ drops }) => String(drops)),
          column("strabismusPresent", "strabismus", ({ squint }) => String(squint)),
        ],
      },
    ],
  },
  "two-instruments-wide": {
    note: "Two instruments side by side in one row, told apart by a word before the names.",
    files: [
      {
        file: "comparison.csv",
        columns: [
          column("ID", "subject", id),
          dated("Test date", "seen", "slashes"),
          ...both(
            ["Handheld RE sph", "Handheld RE cyl", "Handheld RE axis"],
            ["Handheld LE sph", "Handheld LE cyl", "Handheld LE axis"],
            { more: { block: "handheld" } },
          ),
          ...both(
            ["Tabletop RE sph", "Tabletop RE cyl", "Tabletop RE axis"],
            ["Tabletop LE sph", "Tabletop LE cyl", "Tabletop LE axis"],
            { of: "second", more: { block: "tabletop" } },
          ),
          column("Tester", "examiner", person),
        ],
      },
    ],
  },
  "dry-and-wet": {
    note: "The clinic measured before and after drops, both in one row.",
    files: [
      {
        file: "school_list.csv",
        columns: [
          column("Child no", "subject", id),
          dated("Date", "seen", "dots"),
          column("Class", "other", ({ place }) => `Year ${place + 1}`, { or: ["site"] }),
          ...both(["R S", "R C", "R A"], ["L S", "L C", "L A"], { write: signed, mark: "-" }),
        ],
      },
      {
        file: "eye_clinic.csv",
        holds: ["findings"],
        who: inClinic,
        columns: [
          column("Child no", "subject", id),
          dated("Date of visit", "examined", "dots"),
          ...both(["Dry R S", "Dry R C", "Dry R A"], ["Dry L S", "Dry L C", "Dry L A"], {
            ...{ of: "second", write: signed, more: { block: "dry" } },
          }),
          ...both(
            ["Cyclo R S", "Cyclo R C", "Cyclo R A"],
            ["Cyclo L S", "Cyclo L C", "Cyclo L A"],
            {
              ...{ of: "finding", write: signed, more: { block: "wet" } },
            },
          ),
          column("Squint", "strabismus", ({ squint }) => (squint ? "1" : "0")),
          column("Letter sent", "other-date", ({ examined }) => examined),
        ],
      },
    ],
  },
  "readings-repeated": {
    note: "Three readings an eye, a row each, initials as names.",
    files: [
      {
        file: "repeat_study.csv",
        per: "repeat",
        columns: [
          column("Subj", "subject", ({ id }) => `RS${id}`),
          dated("Day of test", "seen", "iso"),
          eyeOf("Eye", "RE", "LE"),
          column("Reading no.", "repeat", (_, __, row) => String((row % 3) + 1)),
          ...powers(["S", "C", "A"], null, { write: signed, mark: "err" }),
          column("Conf.", "confidence", ({ score }) => String(score)),
        ],
      },
    ],
  },
  "equivalents-only": {
    note: "Only spherical equivalents, in whole words.",
    files: [
      {
        file: "equivalents.csv",
        columns: [
          column("Serial of child", "subject", id, { mayAsk: true }),
          dated("Screening date", "seen", "longName"),
          column("Spherical equivalent, right eye", "equivalent", half("reading", "right"), {
            eye: "right",
          }),
          column("Spherical equivalent, left eye", "equivalent", half("reading", "left"), {
            eye: "left",
          }),
          column("Sex (1 = boy, 2 = girl)", "sex", ({ girl }) => (girl ? "2" : "1")),
          column("Age in years", "age", ({ months }) => String(Math.floor(months / 12)), {
            unit: "years",
          }),
        ],
      },
    ],
  },
  "years-and-months": {
    note: "Ages as years and months; words for what became of the reading; gaze.",
    files: [
      {
        file: "kinder.csv",
        columns: [
          column("Code", "subject", ({ id }) => `K${id}`),
          dated("Date of screening", "seen", "dayTime"),
          column(
            "Age at screening",
            "age",
            ({ months }) => `${Math.floor(months / 12)}y ${months % 12}m`,
            { unit: "years-and-months" },
          ),
          column("Kindergarten", "site", place),
          ...powers(["SPH right", "CYL right", "AX right"], "right", { write: signed }),
          column("Status right", "status", ({ reading }) => (reading.right ? "OK" : "not read"), {
            eye: "right",
          }),
          column("Gaze right horizontal", "gaze-horizontal", ({ noise }) => plain(9 * noise - 4), {
            eye: "right",
          }),
          column("Gaze right vertical", "gaze-vertical", ({ noise }) => plain(3 - 5 * noise), {
            eye: "right",
          }),
          ...powers(["SPH left", "CYL left", "AX left"], "left", { write: signed }),
          column("Status left", "status", ({ reading }) => (reading.left ? "OK" : "not read"), {
            eye: "left",
          }),
          column("Gaze left horizontal", "gaze-horizontal", ({ noise }) => plain(8 * noise - 4), {
            eye: "left",
          }),
          column("Gaze left vertical", "gaze-vertical", ({ noise }) => plain(2 - 3 * noise), {
            eye: "left",
          }),
        ],
      },
    ],
  },
  "serials-and-prefix": {
    note: "Dates as numbers of a spreadsheet; one file writes a prefix before the ids.",
    ignore: ["prefix"],
    files: [
      {
        file: "spring.csv",
        columns: [
          column("Identifier", "subject", ({ id }) => `WF-${10_000 + id}`),
          dated("Date tested", "seen", "serial"),
          dated("Date of birth", "born", "serial"),
          column("Setting", "site", place),
          ...both(["Sph (R)", "Cyl (R)", "Axis (R)"], ["Sph (L)", "Cyl (L)", "Axis (L)"]),
          column("Referred", "decision", ({ refer }) => (refer ? "TRUE" : "FALSE")),
        ],
      },
      {
        file: "follow-up.csv",
        holds: ["findings"],
        who: inClinic,
        columns: [
          column("Identifier", "subject", ({ id }) => String(10_000 + id)),
          dated("Date examined", "examined", "serial"),
          ...both(["Sph (R)", "Cyl (R)", "Axis (R)"], ["Sph (L)", "Cyl (L)", "Axis (L)"], {
            of: "finding",
          }),
          drops("Cycloplegia used", "Y", "N"),
        ],
      },
    ],
  },
  "case-and-blanks": {
    note: "Ids in other case and with blanks; the clinic's file is a row an eye with plus cylinders.",
    ignore: ["case", "blanks"],
    files: [
      {
        file: "list A.csv",
        columns: [
          column("Child ID", "subject", ({ id }) => `AB ${id} C`),
          dated("Tested on", "seen", "compact"),
          ...both(["RSPH", "RCYL", "RAX"], ["LSPH", "LCYL", "LAX"], {
            write: short,
            mark: "99.99",
          }),
        ],
      },
      {
        file: "list B.csv",
        holds: ["findings"],
        per: "eye",
        who: inClinic,
        more: { cylinder: "plus" },
        columns: [
          column("Child ID", "subject", ({ id }) => `ab${id}c`),
          dated("Seen on", "examined", "compact"),
          eyeOf("Side", "Right", "Left"),
          ...powers(["Sphere", "Cylinder", "Axis"], null, { of: "finding", plus: true }),
          column("Method", "method", ({ noise }) => (noise < 0.8 ? "retinoscopy" : "subjective")),
        ],
      },
    ],
  },
  "three-files": {
    note: "Who the children are, the screening, and the exam, each in a file.",
    files: [
      {
        file: "children.csv",
        holds: ["children"],
        columns: [
          column("pupil_id", "subject", ({ id }) => `N${id}`),
          column("forename", "name", ({ given }) => given),
          column("surname", "name", ({ family }) => family),
          dated("birth_date", "born", "iso"),
          column("sex", "sex", ({ girl }) => (girl ? "f" : "m")),
          column("home_address", "address", ({ id }) => `${id} Quay Lane`),
          column("telephone", "phone", ({ id }) => `01632 960${id}`),
        ],
      },
      {
        file: "visits.csv",
        columns: [
          column("pupil_id", "subject", ({ id }) => `N${id}`),
          dated("visit_date", "seen", "iso"),
          column("school_name", "site", place),
          ...both(
            ["right_sphere", "right_cylinder", "right_axis"],
            ["left_sphere", "left_cylinder", "left_axis"],
          ),
          column("technician", "examiner", person),
        ],
      },
      {
        file: "exams.csv",
        holds: ["findings"],
        who: inClinic,
        columns: [
          column("pupil_id", "subject", ({ id }) => `N${id}`),
          dated("exam_date", "examined", "iso"),
          ...both(
            ["right_sphere", "right_cylinder", "right_axis"],
            ["left_sphere", "left_cylinder", "left_axis"],
            { of: "finding" },
          ),
          drops("dilating_drops", "yes", "no"),
          column("diagnosis", "diagnosis", ({ squint }) => (squint ? "H50.0" : "H52.0")),
        ],
      },
    ],
  },
  "one-file-both": {
    note: "One row a child with the screening and the later exam; the names say which.",
    files: [
      {
        file: "linked.csv",
        holds: ["readings", "findings"],
        columns: [
          column("Study no", "subject", id),
          dated("Screening date", "seen", "iso"),
          ...both(
            ["Screening R sphere", "Screening R cyl", "Screening R axis"],
            ["Screening L sphere", "Screening L cyl", "Screening L axis"],
            { more: { of: "readings" } },
          ),
          dated("Exam date", "examined", "iso"),
          ...both(
            ["Exam R sphere", "Exam R cyl", "Exam R axis"],
            ["Exam L sphere", "Exam L cyl", "Exam L axis"],
            { of: "finding", more: { of: "findings" } },
          ),
          drops("Exam cycloplegia", "yes", "no"),
        ],
      },
    ],
  },
  "record-and-contacts": {
    note: "Two numbers a child, of which one is of the health service and only in this file.",
    files: [
      {
        file: "register.csv",
        columns: [
          column("Health service number", "record-number", ({ id }) =>
            String(4_850_000_000 + 7919 * id),
          ),
          column("Screening ID", "subject", ({ id }) => `SC${id}`),
          column("Postcode", "postal-code", ({ place }) => `ZE${place + 1} 0AA`),
          column("Contact number", "phone", ({ id }) => `07700 900${id}`),
          dated("D.O.B.", "born", "slashes"),
          dated("Screened", "seen", "slashes"),
          ...both(["R DS", "R DC", "R axis"], ["L DS", "L DC", "L axis"], { write: signed }),
          column("Action", "decision", ({ refer }) => (refer ? "Refer" : "No action")),
          column("Known to eye clinic", "known-before", ({ squint }) => (squint ? "Y" : "N")),
        ],
      },
      {
        file: "outcomes.csv",
        holds: ["findings"],
        who: inClinic,
        columns: [
          column("Screening ID", "subject", ({ id }) => `SC${id}`),
          dated("Clinic date", "examined", "slashes"),
          ...(["right", "left"] as const).map((eye) =>
            rx(
              eye === "right" ? "Refraction RE" : "Refraction LE",
              eye,
              "finding",
              ([sphere, cylinder, axis]) => `${signed(sphere)} ${signed(cylinder)} ax ${axis}`,
            ),
          ),
          drops("Cyclo used?", "Y", "N"),
          column("VA R (logMAR)", "acuity", ({ acuity }) => Math.log10(acuity / 6).toFixed(2), {
            ...{ eye: "right", notation: "logMAR" },
          }),
          column("VA L (logMAR)", "acuity", ({ acuity }) => Math.log10(acuity / 6).toFixed(2), {
            ...{ eye: "left", notation: "logMAR" },
          }),
          column("Ptosis", "ptosis", ({ noise }) => (noise < 0.05 ? "Y" : "N")),
          column("Media opacity", "media-opacity", ({ noise }) => (noise > 0.95 ? "Y" : "N")),
        ],
      },
    ],
  },
  "gzip-plus-cylinder": {
    note: "Compressed, plus cylinders written with signs, decimal acuity at the screening.",
    files: [
      {
        file: "all_results.csv.gz",
        more: { written: "gzip", cylinder: "plus" },
        columns: [
          column("Record", "subject", ({ id }) => `R${id}`, { mayAsk: true }),
          dated("Examination", "seen", "dots"),
          ...both(["OD SPH", "OD CYL", "OD AX"], ["OS SPH", "OS CYL", "OS AX"], {
            ...{ plus: true, write: signed, mark: "out of range" },
          }),
          column("OD VA (dec.)", "acuity", ({ acuity }) => (6 / acuity).toFixed(2), {
            ...{ eye: "right", notation: "decimal" },
          }),
          column("OS VA (dec.)", "acuity", ({ acuity }) => (6 / acuity).toFixed(2), {
            ...{ eye: "left", notation: "decimal" },
          }),
          column("Remarks", "free-text", ({ noise }) =>
            noise < 0.2 ? "glasses forgotten at home" : "",
          ),
        ],
      },
    ],
  },
  "days-and-attempts": {
    note: "Already without dates: days of the study; first and final attempts; worn correction.",
    files: [
      {
        file: "cohort_readings.csv",
        per: "eye",
        columns: [
          column("Participant", "subject", ({ id }) => `C${id}`),
          column("Study day", "day", ({ seen }) =>
            String((Date.parse(seen) - Date.UTC(2024, 8, 1)) / 86_400_000),
          ),
          column("Attempt", "attempt", ({ noise }) => (noise < 0.2 ? "final" : "first")),
          column("Device", "instrument", ({ noise }) =>
            noise < 0.5 ? "handheld A" : "handheld B",
          ),
          eyeOf("Laterality", "right", "left"),
          ...powers(["Sphere (D)", "Cylinder (D)", "Axis (deg)"], null),
          column("Correction worn", "correction", ({ noise }) =>
            noise < 0.1 ? "glasses" : "none",
          ),
        ],
      },
    ],
  },
  "bilingual-mark": {
    note: "A byte order mark, blanks round the names, a column of house numbers of the programme.",
    files: [
      {
        file: "Gesamtliste.csv",
        delimiter: ";",
        more: { written: "utf-8-mark", decimal: "," },
        columns: [
          column("Lfd. Nr.", "row-number", (_, __, row) => String(row + 1)),
          column("Kind-ID", "subject", ({ id }) => `${id}-${id % 7}`),
          column("Nachname", "name", ({ family }) => family),
          column("Vorname", "name", ({ given }) => given),
          dated("geb. am", "born", "dots"),
          dated("untersucht am", "seen", "dots"),
          column("Geschlecht", "sex", ({ girl }) => (girl ? "w" : "m")),
          column("Kindergarten", "site", place),
          ...both(["R Sphäre", "R Zylinder", "R Achse"], ["L Sphäre", "L Zylinder", "L Achse"], {
            write: numbers.signedComma,
            mark: "n.m.",
          }),
          column("auffällig", "decision", ({ refer }) => (refer ? "ja" : "nein")),
          column("Untersucher", "examiner", person),
        ],
      },
    ],
  },
};
