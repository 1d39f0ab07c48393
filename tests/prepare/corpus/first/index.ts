// The half that the detector was built on: an invented cohort in 24 layouts, as systems write such things.
import type { ColumnTruth, FileTruth, WrittenLayout } from "../layout.js";
import type { InventedChild, Power } from "./cohort.js";

type Side = "right" | "left";
/** A column: its name, what is true of it, and its cell; `eye` is the row's where a row is an eye's. */
type Column = readonly [
  string,
  ColumnTruth,
  (child: InventedChild, eye: Side, row: number) => string,
];
interface FileParts {
  readonly file: string;
  readonly holds: FileTruth["holds"];
  readonly rows: "child" | "eye";
  readonly columns: readonly Column[];
  readonly of?: (child: InventedChild) => boolean;
  readonly delimiter?: string;
  readonly more?: Partial<FileTruth>;
}

const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const parts = (iso: string) => iso.split("-").map(Number) as [number, number, number];
const two = (value: number) => String(value).padStart(2, "0");
export const dateForms = {
  iso: (iso: string) => iso,
  "day-first": (iso: string) => parts(iso).reverse().map(two).join("/"),
  dotted: (iso: string) => parts(iso).reverse().map(two).join("."),
  "month-first": (iso: string) => `${parts(iso)[1]}/${parts(iso)[2]}/${parts(iso)[0]}`,
  "month-name": (iso: string) =>
    `${two(parts(iso)[2])}-${months[parts(iso)[1] - 1]}-${parts(iso)[0]}`,
  compact: (iso: string) => iso.replaceAll("-", ""),
  serial: (iso: string) => String(Date.parse(iso) / 86_400_000 + 25_569),
  timed: (iso: string) => `${iso}T09:30:00`,
} as const;
type Form = keyof typeof dateForms;
const orderOf = (form: Form) => (form === "dotted" ? "day-first" : form === "timed" ? "iso" : form);

const signed = (value: number) => `${value < 0 ? "-" : "+"}${Math.abs(value).toFixed(2)}`;
const plain = (value: number) => value.toFixed(2);
const comma = (value: number) => signed(value).replace(".", ",");
const plus = ({ sphere, cylinder, axis }: Power): Power => ({
  sphere: sphere + cylinder,
  cylinder: -cylinder + 0,
  axis: cylinder === 0 ? axis : axis > 90 ? axis - 90 : axis + 90,
});
const reading = (child: InventedChild, eye: Side) => child.reading[eye];
const finding = (child: InventedChild, eye: Side) => child.exam![eye];

/** Sphere, cylinder and axis of one eye, or of the row's. */
function powers(
  names: readonly [string, string, string],
  eye: Side | null,
  of: "reading" | "finding",
  options: {
    write?: (value: number) => string;
    mark?: string;
    plus?: true;
    more?: Partial<ColumnTruth>;
  } = {},
): Column[] {
  const { write = signed, mark = "" } = options;
  return (["sphere", "cylinder", "axis"] as const).map((is, at) => [
    names[at]!,
    { is, ...(eye === null ? {} : { eye }), ...options.more },
    (child, rowEye) => {
      const power = (of === "reading" ? reading : finding)(child, eye ?? rowEye);
      if (power === null) return is === "sphere" ? mark : "";
      const shown = options.plus ? plus(power) : power;
      return is === "axis" ? String(shown.axis) : write(shown[is]);
    },
  ]);
}

function notation(name: string, eye: Side, of: "reading" | "finding", sign = " x "): Column {
  return [
    name,
    { is: "prescription", eye },
    (child) => {
      const power = (of === "reading" ? reading : finding)(child, eye);
      return power === null
        ? ""
        : `${signed(power.sphere)} ${signed(power.cylinder)}${sign}${power.axis}`;
    },
  ];
}

const id = (name: string, write: (id: number) => string = String): Column => [
  name,
  { is: "subject" },
  ({ id }) => write(id),
];
const seen = (name: string, form: Form): Column => [
  name,
  { is: "date", order: orderOf(form) },
  (child) => dateForms[form](child.seen),
];
const examined = (name: string, form: Form): Column => [
  name,
  { is: "date", order: orderOf(form) },
  (child) => dateForms[form](child.exam!.day),
];
const born = (name: string, form: Form): Column => [
  name,
  { is: "birth-date", order: orderOf(form) },
  (child) => dateForms[form](child.born),
];
const eyeColumn = (name: string, right: string, left: string): Column => [
  name,
  { is: "eye" },
  (_, eye) => (eye === "right" ? right : left),
];
const school = (name: string): Column => [name, { is: "site" }, (child) => child.school];
const childName = (name: string): Column => [name, { is: "name" }, (child) => child.name];
const screener = (name: string): Column => [name, { is: "examiner" }, (child) => child.screener];
const sex = (name: string): Column => [name, { is: "sex" }, (child) => child.sex];
const score = (name: string): Column => [
  name,
  { is: "confidence" },
  (child) => String(child.score),
];
const pupil = (
  name: string,
  eye?: Side,
  write: (value: number) => string = (value) => value.toFixed(1),
): Column => [name, { is: "pupil", ...(eye && { eye }) }, (child) => write(child.pupil)];
const drops = (name: string, yes: string, no: string): Column => [
  name,
  { is: "cycloplegia" },
  (child) => (child.exam!.drops ? yes : no),
];
const decision = (name: string, refer: string, pass: string): Column => [
  name,
  { is: "decision" },
  (child) => (child.refer ? refer : pass),
];
const remark = (name: string): Column => [
  name,
  { is: "free-text" },
  ({ id }) => (id % 3 === 0 ? "mother says she sits close to the board" : ""),
];
const number = (name: string): Column => [
  name,
  { is: "row-number" },
  (_, __, row) => String(row + 1),
];
const strabismus = (name: string, yes: string, no: string): Column => [
  name,
  { is: "strabismus" },
  (child) => (child.exam!.strabismus ? yes : no),
];
const acuity = (
  name: string,
  eye: Side,
  write: (denominator: number) => string,
  kind: string,
): Column => [name, { is: "acuity", eye, notation: kind }, (child) => write(child.exam!.acuity)];
const age = (name: string, unit: string): Column => [
  name,
  { is: "age", unit },
  (child) => {
    const [y, m, d] = parts(child.born);
    const [atY, atM, atD] = parts(child.seen);
    const completed = 12 * (atY - y) + atM - m - (atD < d ? 1 : 0);
    if (unit === "months") return String(completed);
    if (unit === "years") return String(Math.floor(completed / 12));
    if (unit === "decimal-years") return (completed / 12 + 0.04).toFixed(2);
    return `${Math.floor(completed / 12)}y ${completed % 12}m`;
  },
];
const fixed = (
  name: string,
  is: string,
  text: string | ((child: InventedChild) => string),
): Column => [name, { is }, (child) => (typeof text === "string" ? text : text(child))];

const readings = (
  file: string,
  rows: "child" | "eye",
  columns: Column[],
  rest: Partial<FileParts> = {},
): FileParts => ({
  ...{ file, holds: ["readings"], rows, columns },
  ...rest,
});
const findings = (
  file: string,
  rows: "child" | "eye",
  columns: Column[],
  rest: Partial<FileParts> = {},
): FileParts => ({
  ...{
    file,
    holds: ["findings"],
    rows,
    columns,
    of: (child: InventedChild) => child.exam !== null,
  },
  ...rest,
});
const od = ["OD Sph", "OD Cyl", "OD Axis"] as const;
const os = ["OS Sph", "OS Cyl", "OS Axis"] as const;

const layouts: Readonly<Record<string, { files: FileParts[]; ignore?: string[] }>> = {
  "both-eyes-iso": {
    files: [
      readings("screening.csv", "child", [
        id("Student ID"),
        seen("Screening Date", "iso"),
        born("Date of Birth", "iso"),
        school("School"),
        ...powers(od, "right", "reading", { mark: "No reading" }),
        ...powers(os, "left", "reading", { mark: "No reading" }),
        score("Confidence"),
        decision("Result", "Refer", "Pass"),
      ]),
      findings("exam.csv", "child", [
        id("Student ID"),
        examined("Exam Date", "iso"),
        ...powers(od, "right", "finding"),
        ...powers(os, "left", "finding"),
        drops("Cycloplegia", "Yes", "No"),
      ]),
    ],
  },
  "padded-ids": {
    files: [
      readings("screening_export.csv", "child", [
        number("No"),
        id("Pupil ID", (one) => String(one).padStart(8, "0")),
        childName("Name"),
        seen("Date", "day-first"),
        born("DOB", "day-first"),
        school("School Name"),
        ...powers(["R Sph", "R Cyl", "R Axis"], "right", "reading", { mark: "----" }),
        ...powers(["L Sph", "L Cyl", "L Axis"], "left", "reading", { mark: "----" }),
        screener("Screener"),
        remark("Comments"),
      ]),
      findings("clinic.csv", "child", [
        id("Patient No"),
        examined("Visit Date", "month-name"),
        notation("Rx R", "right", "finding"),
        notation("Rx L", "left", "finding"),
        drops("Drops", "Y", "N"),
        acuity("VA R", "right", (one) => `6/${one}`, "snellen-metres"),
        acuity("VA L", "left", (one) => `6/${one}`, "snellen-metres"),
      ]),
    ],
    ignore: ["leading-zeros"],
  },
  "semicolons-and-commas": {
    files: [
      readings(
        "Messungen.csv",
        "child",
        [
          id("Kind-Nr"),
          seen("Datum", "dotted"),
          born("Geb.-Datum", "dotted"),
          school("Schule"),
          ...powers(["R Sph", "R Zyl", "R Achse"], "right", "reading", { write: comma }),
          ...powers(["L Sph", "L Zyl", "L Achse"], "left", "reading", { write: comma }),
          remark("Bemerkung"),
        ],
        { delimiter: ";", more: { decimal: ",", written: "latin1" } },
      ),
      findings(
        "Klinik_exam.csv",
        "eye",
        [
          id("Kind-Nr"),
          examined("Untersuchung Datum", "dotted"),
          eyeColumn("Auge", "R", "L"),
          ...powers(["Sphäre", "Zylinder", "Achse"], null, "finding", { write: comma }),
          drops("Tropfen", "ja", "nein"),
        ],
        { delimiter: ";", more: { decimal: ",", written: "latin1" } },
      ),
    ],
  },
  "row-an-eye": {
    files: [
      readings(
        "device_readings.tsv",
        "eye",
        [
          id("child_id"),
          seen("test_date", "timed"),
          eyeColumn("eye", "right", "left"),
          ...powers(["sphere", "cylinder", "axis"], null, "reading", { mark: "error" }),
          score("quality"),
          pupil("pupil_size"),
          age("age_months", "months"),
          fixed("device_serial", "device-serial", "KX-20311"),
        ],
        { delimiter: "\t" },
      ),
      findings(
        "exam_findings.tsv",
        "eye",
        [
          id("child_id"),
          examined("exam_date", "iso"),
          eyeColumn("eye", "OD", "OS"),
          ...powers(["sph", "cyl", "ax"], null, "finding", { plus: true }),
          drops("cycloplegia", "full", "none"),
          strabismus("strabismus", "yes", "no"),
        ],
        { delimiter: "\t", more: { cylinder: "plus" } },
      ),
    ],
  },
  "month-first": {
    files: [
      readings("VisionScreening2026.csv", "child", [
        id("StudentID"),
        childName("StudentName"),
        fixed("GuardianPhone", "phone", ({ id }) => `(555) 010-${id}`),
        born("BirthDate", "month-first"),
        seen("ScreenDate", "month-first"),
        school("SchoolName"),
        sex("Gender"),
        ...powers(["ODSph", "ODCyl", "ODAxis"], "right", "reading", { mark: "UNABLE" }),
        ...powers(["OSSph", "OSCyl", "OSAxis"], "left", "reading", { mark: "UNABLE" }),
        decision("ScreeningResult", "REFER", "PASS"),
      ]),
      findings("EyeExams2026.csv", "child", [
        id("StudentID"),
        examined("ExamDate", "month-first"),
        fixed("DoctorName", "examiner", "Orla Stent"),
        ...powers(["ODSph", "ODCyl", "ODAxis"], "right", "finding"),
        ...powers(["OSSph", "OSCyl", "OSAxis"], "left", "finding"),
        drops("Dilated", "Yes", "No"),
        fixed("Diagnosis", "diagnosis", ({ refer }) => (refer ? "Hyperopia" : "Normal")),
      ]),
    ],
  },
  "utf-16": {
    files: [
      readings(
        "Export readings.txt",
        "child",
        [
          id("Child Number"),
          seen("Visit", "day-first"),
          age("Age (years)", "decimal-years"),
          ...powers(
            ["Right sphere (D)", "Right cylinder (D)", "Right axis (deg)"],
            "right",
            "reading",
          ),
          ...powers(["Left sphere (D)", "Left cylinder (D)", "Left axis (deg)"], "left", "reading"),
          pupil("Right pupil (mm)", "right"),
          pupil("Left pupil (mm)", "left"),
        ],
        { delimiter: "\t", more: { written: "utf-16le" } },
      ),
      findings(
        "Export exams.txt",
        "child",
        [
          id("Child Number"),
          examined("Exam", "day-first"),
          ...powers(
            ["Right sphere (D)", "Right cylinder (D)", "Right axis (deg)"],
            "right",
            "finding",
          ),
          ...powers(["Left sphere (D)", "Left cylinder (D)", "Left axis (deg)"], "left", "finding"),
          drops("Cyclo", "Y", "N"),
        ],
        { delimiter: "\t", more: { written: "utf-16be" } },
      ),
    ],
  },
  workbooks: {
    files: [
      readings(
        "screening.xlsx",
        "child",
        [
          id("ID"),
          seen("Date of screening", "iso"),
          born("DOB", "iso"),
          school("School"),
          ...powers(["RE Sph", "RE Cyl", "RE Axis"], "right", "reading"),
          ...powers(["LE Sph", "LE Cyl", "LE Axis"], "left", "reading"),
        ],
        { more: { written: "xlsx", dateCells: ["Date of screening", "DOB"] } },
      ),
      findings(
        "eye exam.xlsx",
        "child",
        [
          id("ID"),
          examined("Date of exam", "iso"),
          ...powers(["RE Sph", "RE Cyl", "RE Axis"], "right", "finding"),
          ...powers(["LE Sph", "LE Cyl", "LE Axis"], "left", "finding"),
          drops("Cycloplegic", "yes", "no"),
        ],
        { more: { written: "xlsx", dateCells: ["Date of exam"] } },
      ),
    ],
  },
  "notation-both": {
    files: [
      readings("handheld.csv", "child", [
        id("Participant"),
        seen("Date", "iso"),
        notation("Reading OD", "right", "reading"),
        notation("Reading OS", "left", "reading"),
        score("Reliability"),
        age("Age", "years-and-months"),
      ]),
      findings("retinoscopy.csv", "child", [
        id("Participant"),
        examined("Date of exam", "iso"),
        notation("Ret OD", "right", "finding", " @ "),
        notation("Ret OS", "left", "finding", " @ "),
        drops("Drops given", "cyclopentolate 1%", "none"),
      ]),
    ],
  },
  "prefixed-ids": {
    files: [
      readings("school_screening.csv", "child", [
        id("Ref", (one) => `SCH-${one}`),
        seen("Screened on", "iso"),
        age("Age in months", "months"),
        school("Site"),
        ...powers(["Sph R", "Cyl R", "Ax R"], "right", "reading", { write: plain }),
        ...powers(["Sph L", "Cyl L", "Ax L"], "left", "reading", { write: plain }),
      ]),
      findings("hospital_exam.csv", "eye", [
        id("Ref", (one) => `HOS ${one}`),
        examined("Examined on", "iso"),
        eyeColumn("Laterality", "Right", "Left"),
        ...powers(["Sph", "Cyl", "Axis"], null, "finding", { write: plain }),
        drops("Cycloplegia used", "TRUE", "FALSE"),
      ]),
    ],
    ignore: ["prefix"],
  },
  "capitals-and-blanks": {
    files: [
      readings("screening list.csv", "child", [
        id("Child code", (one) => `ab-${one}`),
        seen("Test date", "iso"),
        ...powers(od, "right", "reading"),
        ...powers(os, "left", "reading"),
        fixed("Class", "site", ({ school }) => `Class ${school.length}`),
      ]),
      findings("exam list.csv", "child", [
        id("Child code", (one) => `AB${one}`),
        examined("Exam date", "iso"),
        ...powers(od, "right", "finding"),
        ...powers(os, "left", "finding"),
        drops("Cyclo drops", "yes", "no"),
      ]),
    ],
    ignore: ["case", "blanks"],
  },
  "serial-dates": {
    files: [
      readings("screen.csv", "child", [
        id("Case No"),
        seen("Screening date", "serial"),
        born("Birth date", "serial"),
        ...powers(["Sphere OD", "Cylinder OD", "Axis OD"], "right", "reading"),
        ...powers(["Sphere OS", "Cylinder OS", "Axis OS"], "left", "reading"),
      ]),
      findings("exam.csv", "child", [
        id("Case No"),
        examined("Exam date", "serial"),
        ...powers(["Sphere OD", "Cylinder OD", "Axis OD"], "right", "finding"),
        ...powers(["Sphere OS", "Cylinder OS", "Axis OS"], "left", "finding"),
        drops("Cycloplegia", "1", "0"),
      ]),
    ],
  },
  "compact-dates": {
    files: [
      readings(
        "readings_pipe.csv",
        "child",
        [
          id("SUBJECT_ID"),
          seen("SCREEN_DT", "compact"),
          born("BIRTH_DT", "compact"),
          ...powers(["OD_SPH", "OD_CYL", "OD_AX"], "right", "reading"),
          ...powers(["OS_SPH", "OS_CYL", "OS_AX"], "left", "reading"),
          score("CONF"),
        ],
        { delimiter: "|" },
      ),
      findings(
        "exams_pipe.csv",
        "child",
        [
          id("SUBJECT_ID"),
          examined("EXAM_DT", "compact"),
          ...powers(["OD_SPH", "OD_CYL", "OD_AX"], "right", "finding"),
          ...powers(["OS_SPH", "OS_CYL", "OS_AX"], "left", "finding"),
          drops("CYCLO_YN", "Y", "N"),
        ],
        { delimiter: "|" },
      ),
    ],
  },
  "letters-only": {
    files: [
      readings("photo_screen.csv", "child", [
        id("Kid ID"),
        seen("When", "iso"),
        ...powers(["R_S", "R_C", "R_A"], "right", "reading"),
        ...powers(["L_S", "L_C", "L_A"], "left", "reading"),
        age("Age", "years"),
      ]),
      findings("clinic_exam.csv", "child", [
        id("Kid ID"),
        examined("When examined", "iso"),
        ...powers(["R_S", "R_C", "R_A"], "right", "finding"),
        ...powers(["L_S", "L_C", "L_A"], "left", "finding"),
        drops("Wet", "yes", "no"),
      ]),
    ],
  },
  "three-files": {
    files: [
      {
        file: "roster.csv",
        holds: ["children"],
        rows: "child",
        columns: [
          id("Pupil number"),
          childName("Full name"),
          born("Born", "day-first"),
          fixed("Postcode", "postal-code", "ZZ1 9ZZ"),
          sex("Sex"),
        ],
      },
      readings("screening day.csv", "child", [
        id("Pupil number"),
        seen("Seen", "day-first"),
        school("School"),
        ...powers(od, "right", "reading"),
        ...powers(os, "left", "reading"),
      ]),
      findings("clinic visits.csv", "child", [
        id("Pupil number"),
        examined("Clinic date", "day-first"),
        ...powers(od, "right", "finding"),
        ...powers(os, "left", "finding"),
        drops("Cyclopentolate", "yes", "no"),
      ]),
    ],
  },
  parquet: {
    files: [
      readings(
        "readings.parquet",
        "eye",
        [
          id("subject_key"),
          seen("visit_date", "iso"),
          eyeColumn("laterality", "R", "L"),
          ...powers(["sph_d", "cyl_d", "axis_deg"], null, "reading"),
          pupil("pupil_mm"),
        ],
        { more: { written: "parquet" } },
      ),
      findings(
        "exam.parquet",
        "eye",
        [
          id("subject_key"),
          examined("exam_date", "iso"),
          eyeColumn("laterality", "R", "L"),
          ...powers(["sph_d", "cyl_d", "axis_deg"], null, "finding"),
          drops("cycloplegia", "yes", "no"),
        ],
        { more: { written: "parquet" } },
      ),
    ],
  },
  gzipped: {
    files: [
      readings(
        "screening.csv.gz",
        "child",
        [
          id("id"),
          seen("screening_date", "iso"),
          ...powers(["right_sph", "right_cyl", "right_axis"], "right", "reading", {
            mark: "over range",
          }),
          ...powers(["left_sph", "left_cyl", "left_axis"], "left", "reading", {
            mark: "over range",
          }),
        ],
        { more: { written: "gzip" } },
      ),
      findings(
        "exam.csv",
        "child",
        [
          id("id"),
          examined("exam_date", "iso"),
          ...powers(["right_sph", "right_cyl", "right_axis"], "right", "finding"),
          ...powers(["left_sph", "left_cyl", "left_axis"], "left", "finding"),
          drops("dilation", "dilated", "undilated"),
          acuity(
            "va_right",
            "right",
            (one) => (one / 6 === 1 ? "0.0" : Math.log10(one / 6).toFixed(2)),
            "logMAR",
          ),
        ].map((column) =>
          column[0] === "va_right" ? (["logmar_right", column[1], column[2]] as const) : column,
        ),
        { more: { written: "utf-8-mark" } },
      ),
    ],
  },
  "one-file": {
    files: [
      {
        file: "all.csv",
        holds: ["readings", "findings"],
        rows: "child",
        of: (child) => child.exam !== null,
        columns: [
          id("Study ID"),
          seen("Screening date", "iso"),
          examined("Exam date", "iso"),
          school("School"),
          ...powers(
            ["Screening OD Sph", "Screening OD Cyl", "Screening OD Axis"],
            "right",
            "reading",
            { more: { of: "readings" } },
          ),
          ...powers(
            ["Screening OS Sph", "Screening OS Cyl", "Screening OS Axis"],
            "left",
            "reading",
            { more: { of: "readings" } },
          ),
          ...powers(["Exam OD Sph", "Exam OD Cyl", "Exam OD Axis"], "right", "finding", {
            more: { of: "findings" },
          }),
          ...powers(["Exam OS Sph", "Exam OS Cyl", "Exam OS Axis"], "left", "finding", {
            more: { of: "findings" },
          }),
        ],
      },
    ],
  },
  feet: {
    files: [
      readings("screening results.csv", "child", [
        id("Student Number"),
        seen("Screening Date", "month-first"),
        fixed("Grade", "other", ({ school }) => `Grade ${school.length % 4}`),
        ...powers(od, "right", "reading"),
        ...powers(os, "left", "reading"),
        fixed("Email", "e-mail", ({ id }) => `parent${id}@example.invalid`),
        screener("Screened By"),
      ]),
      findings(
        "exam results.csv",
        "child",
        [
          id("Student Number"),
          examined("Exam Date", "month-first"),
          ...powers(od, "right", "finding", { plus: true }),
          ...powers(os, "left", "finding", { plus: true }),
          acuity("Acuity OD", "right", (one) => `20/${(one / 6) * 20}`, "snellen-feet"),
          acuity("Acuity OS", "left", (one) => `20/${(one / 6) * 20}`, "snellen-feet"),
          strabismus("Strabismus", "Esotropia", "None"),
          drops("Cycloplegic drops", "Yes", "No"),
          fixed("Glasses prescribed", "glasses-prescribed", ({ refer }) => (refer ? "Yes" : "No")),
        ],
        { more: { cylinder: "plus" } },
      ),
    ],
  },
  reasons: {
    files: [
      readings("autoref_readings.csv", "eye", [
        id("participant_id"),
        seen("session_date", "iso"),
        eyeColumn("eye", "OD", "OS"),
        ...powers(["s", "c", "a"], null, "reading"),
        fixed("glasses_worn", "correction", ({ id }) => (id % 5 === 0 ? "yes" : "no")),
        fixed("instrument", "instrument", "device one"),
      ]),
      findings("reference_exams.csv", "eye", [
        id("participant_id"),
        examined("date", "iso"),
        eyeColumn("eye", "OD", "OS"),
        ...powers(["sphere", "cylinder", "axis"], null, "finding"),
        fixed("method", "method", "retinoscopy"),
        drops("cycloplegia", "adequate", "none"),
        fixed("reason_examined", "verification-reason", ({ refer }) =>
          refer ? "referred" : "sampled",
        ),
        fixed("media_opacity", "media-opacity", "no"),
      ]),
    ],
  },
  "undecided-dates": {
    files: [
      readings("screening.csv", "child", [
        id("Child ID"),
        [
          "Screening date",
          { is: "date", order: "day-first", mayAsk: true },
          (child) => dateForms["day-first"](`${child.seen.slice(0, 8)}0${1 + (child.id % 9)}`),
        ],
        ...powers(od, "right", "reading"),
        ...powers(os, "left", "reading"),
      ]),
      findings("exam.csv", "child", [
        id("Child ID"),
        examined("Exam date", "iso"),
        ...powers(od, "right", "finding"),
        ...powers(os, "left", "finding"),
        drops("Cycloplegia", "Yes", "No"),
      ]),
    ],
  },
  "day-numbers": {
    files: [
      readings("trial_screen.csv", "child", [
        id("Subject"),
        ["Study day", { is: "day" }, ({ id }) => String(id % 50)],
        age("Age (mo)", "months"),
        ...powers(od, "right", "reading"),
        ...powers(os, "left", "reading"),
      ]),
      findings("trial_exam.csv", "child", [
        id("Subject"),
        ["Study day", { is: "day" }, ({ id }) => String((id % 50) + 30)],
        ...powers(od, "right", "finding"),
        ...powers(os, "left", "finding"),
        drops("Cycloplegia", "Yes", "No"),
      ]),
    ],
  },
  "stated-equivalents": {
    files: [
      readings(
        "kiosk_capture.csv",
        "child",
        [
          id("CaptureRef"),
          seen("CapturedAt", "timed"),
          ...powers(["RightSph", "RightCyl", "RightAxis"], "right", "reading"),
          ...powers(["LeftSph", "LeftCyl", "LeftAxis"], "left", "reading"),
          [
            "RightSE",
            { is: "equivalent", eye: "right" },
            ({ reading: { right } }: InventedChild) =>
              right === null ? "" : plain(right.sphere + right.cylinder / 2),
          ],
          ["IPD", { is: "interpupillary" }, ({ id }: InventedChild) => String(48 + (id % 12))],
        ].map((one) => one as unknown as Column),
      ),
      findings("exam.csv", "child", [
        id("CaptureRef"),
        examined("ExamDate", "iso"),
        ...powers(["RightSph", "RightCyl", "RightAxis"], "right", "finding"),
        ...powers(["LeftSph", "LeftCyl", "LeftAxis"], "left", "finding"),
        [
          "SphEq R",
          { is: "equivalent", eye: "right" },
          ({ exam }) => plain(exam!.right.sphere + exam!.right.cylinder / 2),
        ],
        drops("Cyclo", "Yes", "No"),
      ] as Column[]),
    ],
  },
};

export function firstHalf(cohort: readonly InventedChild[]): WrittenLayout[] {
  return Object.entries(layouts).map(([name, { files, ignore = [] }]) => {
    const rowsOf = ({ of = () => true, rows }: FileParts) =>
      cohort
        .filter(of)
        .flatMap((child) =>
          rows === "child"
            ? [[child, "right"] as const]
            : [[child, "right"] as const, [child, "left"] as const],
        );
    const idsOf = ({ of = () => true }: FileParts) =>
      new Set(cohort.filter(of).map((child) => child.id));
    const sets = files.map(idsOf);
    return {
      name,
      layout: {
        kind: "layout",
        note: "Invented.",
        files: files.map(({ file, holds, columns, more }) => ({
          ...{ file, holds },
          cylinder: "minus",
          columns: Object.fromEntries(columns.map(([column, truth]) => [column, truth])),
          ...more,
        })),
        children: {
          ...Object.fromEntries(files.map(({ file }, at) => [file, sets[at]!.size])),
          both: [...sets[0]!].filter((one) => sets.every((set) => set.has(one))).length,
        },
        ignore,
      },
      texts: Object.fromEntries(
        files.map((parts) => {
          const { columns, delimiter = "," } = parts;
          const quote = (cell: string) => (cell.includes(delimiter) ? `"${cell}"` : cell);
          const lines = rowsOf(parts).map(([child, eye], row) =>
            columns.map(([, , cell]) => quote(cell(child, eye, row))).join(delimiter),
          );
          return [
            parts.file,
            `${[columns.map(([column]) => quote(column)).join(delimiter), ...lines].join("\n")}\n`,
          ];
        }),
      ),
    };
  });
}
