// The layouts of the third part: what each system's export looks like.
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
import type { FileParts, ThirdLayout } from "./index.js";

const { signed, comma, signedComma } = numbers;
const eyeOf = (name: string, right: string, left: string): Column =>
  column(name, "eye", (_, eye) => (eye === "right" ? right : left));
const yes = (name: string, is: string, of: Cell, more: object = {}) => column(name, is, of, more);
const place: Cell = (child) => places[child.place]!;
const person: Cell = (child) => people[child.person]!;
const id: Cell = (child) => String(child.id);
const padded =
  (width: number): Cell =>
  (child) =>
    String(child.id).padStart(width, "0");
const fullName: Cell = (child) => `${child.given} ${child.family}`;
const remark: Cell = (child) =>
  child.noise < 0.25 ? "asked to come back, tired and would not sit still" : "";
const equivalent = (of: "reading" | "finding", eye: "right" | "left" | null): Cell => {
  return (child, rowEye) => {
    const power = child[of][eye ?? rowEye];
    return power === null ? "" : (power[0] + power[1] / 2).toFixed(3);
  };
};
const findings = (file: string, columns: Column[], more: Partial<FileParts> = {}): FileParts => ({
  ...{ file, columns, holds: ["findings"], who: ({ inClinic }) => inClinic },
  ...more,
});

export const layouts: Record<string, ThirdLayout> = {
  "snake-case-od-os": {
    note: "A register of a camp: snake case, both eyes in one row, minutes of the visit.",
    files: [
      {
        file: "camp_register.csv",
        columns: [
          column("participant_id", "subject", padded(5)),
          dated("dob", "born", "iso"),
          dated("screened_at", "seen", "isoTime"),
          column("camp_site", "site", place),
          ...both(["sph_od", "cyl_od", "axis_od"], ["sph_os", "cyl_os", "axis_os"], {
            mark: "NR",
          }),
          column("ipd_mm", "interpupillary", ({ distance }) => String(distance)),
          column("outcome", "decision", ({ refer }) => (refer ? "referred" : "passed")),
          column("operator", "examiner", person),
          column("comments", "free-text", remark),
        ],
      },
    ],
  },
  "row-an-eye-semicolons": {
    note: "A row an eye, semicolons, decimal commas; the clinic's list has a row a visit.",
    files: [
      {
        file: "messung.csv",
        per: "eye",
        delimiter: ";",
        more: { decimal: "," },
        columns: [
          column("Probanden-Nr.", "subject", id),
          dated("Messdatum", "seen", "dots"),
          column("Alter (Monate)", "age", ({ months }) => String(months), { unit: "months" }),
          eyeOf("Auge", "R", "L"),
          ...powers(["Sphäre [dpt]", "Zylinder [dpt]", "Achse [°]"], null, {
            write: comma,
            mark: "---",
          }),
          column("Pupille [mm]", "pupil", ({ pupil }) => pupil.toFixed(1).replace(".", ",")),
        ],
      },
      findings(
        "befund.csv",
        [
          column("Probanden-Nr.", "subject", id),
          dated("Untersuchungsdatum", "examined", "dots"),
          ...both(["Sph R", "Cyl R", "A R"], ["Sph L", "Cyl L", "A L"], {
            of: "finding",
            write: signedComma,
          }),
          yes("Zykloplegie", "cycloplegia", ({ drops }) => (drops ? "ja" : "nein")),
          column("Bemerkungen", "free-text", remark),
        ],
        { delimiter: ";", more: { decimal: ",", written: "latin1" } },
      ),
    ],
  },
  "french-accents": {
    note: "French headers and words, UTF-16.",
    files: [
      {
        file: "depistage.csv",
        delimiter: ";",
        more: { decimal: ",", written: "utf-16le" },
        columns: [
          column("N° de dossier", "subject", id),
          column("Nom", "name", ({ family }) => family),
          column("Prénom", "name", ({ given }) => given),
          dated("Date de naissance", "born", "slashes"),
          dated("Date du dépistage", "seen", "slashes"),
          column("Sexe", "sex", ({ girl }) => (girl ? "F" : "M")),
          column("École", "site", place),
          ...both(["OD Sphère", "OD Cylindre", "OD Axe"], ["OG Sphère", "OG Cylindre", "OG Axe"], {
            write: signedComma,
          }),
          column("Observations", "free-text", remark),
        ],
      },
      findings(
        "consultation.csv",
        [
          column("N° de dossier", "subject", id),
          dated("Date de l'examen", "examined", "slashes"),
          ...both(["Sphère OD", "Cylindre OD", "Axe OD"], ["Sphère OG", "Cylindre OG", "Axe OG"], {
            of: "finding",
            write: signedComma,
          }),
          yes("Cycloplégie", "cycloplegia", ({ drops }) => (drops ? "oui" : "non")),
        ],
        { delimiter: ";", more: { decimal: ",", written: "utf-16le" } },
      ),
    ],
  },
  "spanish-one-file": {
    note: "Spanish, tabs, one file.",
    files: [
      {
        file: "tamizaje.tsv",
        delimiter: "\t",
        columns: [
          column("Expediente", "subject", id),
          column("Nombre completo", "name", fullName),
          dated("Fecha de nacimiento", "born", "dashes"),
          dated("Fecha", "seen", "dashes"),
          column("Escuela", "site", place),
          ...both(["OD Esfera", "OD Cilindro", "OD Eje"], ["OI Esfera", "OI Cilindro", "OI Eje"], {
            write: signed,
            mark: "NP",
          }),
          column("Examinador", "examiner", person),
          column("Notas", "free-text", remark),
        ],
      },
    ],
  },
  "clinic-notation": {
    note: "Notation in one cell with a slash before the cylinder; acuity in metres; diagnosis.",
    ignore: ["leading-zeros"],
    files: [
      {
        file: "vision checks.csv",
        columns: [
          column("Ref", "subject", padded(7)),
          dated("Seen", "seen", "shortName"),
          column("Nursery", "site", place),
          ...(["right", "left"] as const).map((eye) =>
            rx(
              eye === "right" ? "Reading R" : "Reading L",
              eye,
              "reading",
              ([sphere, cylinder, axis]) =>
                cylinder === 0
                  ? `${signed(sphere)} DS`
                  : `${signed(sphere)}/${signed(cylinder)}x${axis}`,
            ),
          ),
          column("Refer?", "decision", ({ refer }) => (refer ? "Y" : "N")),
        ],
      },
      findings("orthoptic clinic.csv", [
        column("Hosp No", "subject", id),
        dated("Appt", "examined", "shortName"),
        ...(["right", "left"] as const).map((eye) =>
          rx(eye === "right" ? "RE Rx" : "LE Rx", eye, "finding", ([sphere, cylinder, axis]) =>
            cylinder === 0
              ? sphere === 0
                ? "plano"
                : `${signed(sphere)} sph`
              : `${signed(sphere)} / ${signed(cylinder)} @ ${axis}`,
          ),
        ),
        ...(["right", "left"] as const).map((eye) =>
          column(
            eye === "right" ? "RE acuity" : "LE acuity",
            "acuity",
            ({ acuity }) => `6/${acuity}`,
            { eye, notation: "snellen-metres" },
          ),
        ),
        column("Impression", "diagnosis", ({ squint }) => (squint ? "esotropia" : "hyperopia")),
        column("Orthoptist", "examiner", person),
      ]),
    ],
  },
  "warehouse-extract": {
    note: "Capitals and suffixes of a data warehouse; a row an eye; times with zone; load date.",
    files: [
      {
        file: "RFR_MEAS_EXTRACT.csv",
        per: "eye",
        columns: [
          column("PERSON_KEY", "subject", padded(9)),
          dated("MEAS_DTTM", "seen", "isoZone"),
          eyeOf("EYE_CD", "OD", "OS"),
          ...powers(["SPH_PWR", "CYL_PWR", "CYL_AXIS"], null, { mark: "" }),
          column("SPH_EQUIV", "equivalent", equivalent("reading", null)),
          column("PUPIL_DIAM_MM", "pupil", ({ pupil }) => pupil.toFixed(2)),
          column("DEVICE_SERIAL_NO", "device-serial", () => "4419-A7"),
          column("LOAD_DT", "other-date", () => "2026-01-04"),
          column("ROW_ID", "row-number", (_, __, row) => String(row + 1)),
        ],
      },
    ],
  },
  "district-month-first": {
    note: "A school district: month first, padded ids in one file, contacts.",
    ignore: ["leading-zeros"],
    files: [
      {
        file: "District Screening Fall.csv",
        columns: [
          column("Student Number", "subject", padded(6)),
          column("Last", "name", ({ family }) => family),
          column("First", "name", ({ given }) => given),
          column("Parent Email", "e-mail", ({ id }) => `p${id}@example.org`),
          column("Zip", "postal-code", ({ id }) => String(90_000 + id)),
          column("Building", "site", place),
          dated("Birthdate", "born", "american"),
          dated("Date Screened", "seen", "americanTime"),
          column("Gender", "sex", ({ girl }) => (girl ? "Female" : "Male")),
          ...both(
            ["OD Sphere (DS)", "OD Cylinder (DC)", "OD Axis (deg)"],
            ["OS Sphere (DS)", "OS Cylinder (DC)", "OS Axis (deg)"],
            { write: signed, mark: "Unable" },
          ),
          column("Result", "decision", ({ refer }) => (refer ? "Fail" : "Pass")),
        ],
      },
      findings(
        "Eye Doctor Reports.csv",
        [
          column("Student Number", "subject", id),
          dated("Exam Date", "examined", "american"),
          ...both(["R Sph", "R Cyl", "R Ax"], ["L Sph", "L Cyl", "L Ax"], {
            of: "finding",
            write: signed,
            plus: true,
          }),
          column("Dilated", "cycloplegia", ({ drops }) => (drops ? "Yes" : "No"), { mayAsk: true }),
          column("VA OD", "acuity", ({ acuity }) => `20/${(acuity / 6) * 20}`, {
            ...{ eye: "right", notation: "snellen-feet" },
          }),
          column("VA OS", "acuity", ({ acuity }) => `20/${(acuity / 6) * 20}`, {
            ...{ eye: "left", notation: "snellen-feet" },
          }),
          column("Glasses Rx'd", "glasses-prescribed", ({ refer }) => (refer ? "Yes" : "No")),
        ],
        { more: { cylinder: "plus" } },
      ),
    ],
  },
  "workbook-units": {
    note: "A workbook with date cells, units in brackets, a sheet of notes before the data.",
    files: [
      {
        file: "Screening 2024-25.xlsx",
        more: { written: "xlsx", otherSheet: true, sheet: "Results", dateCells: ["Visit date"] },
        columns: [
          column("Study ID", "subject", ({ id }) => `P${String(id).padStart(4, "0")}`),
          dated("Visit date", "seen", "iso"),
          column("Age (y)", "age", ({ months }) => (months / 12).toFixed(2), {
            unit: "decimal-years",
          }),
          column("School", "site", place),
          ...both(
            ["Right sphere (D)", "Right cylinder (D)", "Right axis (°)"],
            ["Left sphere (D)", "Left cylinder (D)", "Left axis (°)"],
            { mark: "no reading" },
          ),
          column("Right pupil (mm)", "pupil", ({ pupil }) => pupil.toFixed(1), { eye: "right" }),
          column("Left pupil (mm)", "pupil", ({ pupil }) => (pupil + 0.1).toFixed(1), {
            eye: "left",
          }),
          column("Quality index", "confidence", ({ score }) => String(score)),
        ],
      },
    ],
  },
};
