import type { TableModel, TableRow } from "../../results/index.js";
import { quantityText } from "../../rows/index.js";
import type { PublicProtocol } from "../coarse/coarseStudy.js";
import { policyWords } from "../run/referralWords.js";
import type { ReportSection } from "./report.js";
import { type Shown, shownIn } from "./shownIn.js";
import { text } from "./tableParts.js";

/** An item, what it asks in our words, where the report meets it ("": nowhere), what is left to write. */
type Item = readonly [item: string, what: string, met: string, left: string];

/**
 * The two reporting checklists, filled in from what the report's sections hold: an item names a section,
 * a table or a figure only where it stands there.
 *
 * @param sections of the report, without the checklists themselves
 */
export function reportingChecklists(
  sections: readonly ReportSection[],
  protocol: PublicProtocol,
  protocolHash: string,
): readonly [TableModel, TableModel] {
  const shown = shownIn(sections);
  return [
    checklist(
      "Reporting items for accuracy (STARD 2015, in our words)",
      accuracyItems(shown, protocol, protocolHash),
    ),
    checklist(
      "Reporting items for agreement (GRRAS, in our words)",
      agreementItems(shown, protocol),
    ),
  ];
}

/**
 * The items of STARD 2015 (Bossuyt and others, BMJ 2015;351:h5527), by the list in Korevaar and others,
 * Res Integr Peer Rev 2016;1:7.
 */
function accuracyItems(shown: Shown, protocol: PublicProtocol, protocolHash: string): Item[] {
  const { section, table, figure, note, row } = shown;
  const written = writtenBy(shown, protocol);
  const groups = table("By ");
  const undecided = table("Without a decision by the reading", "One rate, counted in each way");
  const missing = [table("Participants"), undecided].filter(Boolean).join("; ");
  const flow = figure("participant-flow");
  return [
    ["1", "A study of accuracy, by a measure of it, in the title or abstract", "", "title"],
    ["2", "Structured abstract", "", `abstract; its numbers: ${section("answer")}`],
    [
      "3",
      "Background, intended use and role of the reading",
      ...written("rationale", "background, intended use"),
    ],
    ["4", "Objectives and hypotheses", section("answer"), "hypotheses"],
    [
      "5",
      "Data collected after or before the study was planned",
      "",
      "prospective or retrospective",
    ],
    ["6", "Eligibility", section("methods"), ""],
    ["7", "How those who might be eligible were found", "", "how children were found"],
    ["8", "Where and when they were found", ...written("setting", "setting, places, dates")],
    ["9", "Consecutive, random or convenience series", "", "kind of series"],
    ["10a", "Index test, to be repeated", section("methods"), "settings, who did it"],
    [
      "10b",
      "Reference standard, to be repeated",
      section("methods"),
      "drops, time waited, who did it",
    ],
    ["11", "Why this reference standard", "", "the reason"],
    [
      "12a",
      "Limits of the index test; fixed in advance or explored",
      [section("methods"), table("Limit chosen on these data"), section("validation")]
        .filter(Boolean)
        .join("; "),
      "why these limits",
    ],
    [
      "12b",
      "Definition of the condition; fixed in advance or explored",
      section("methods"),
      "why this one",
    ],
    ["13a", "What those who took the reading knew of the exam", ...written("masking", "masking")],
    ["13b", "What the examiners knew of the reading", ...written("masking", "masking")],
    ["14", "How accuracy was estimated or compared", section("methods"), ""],
    [
      "15",
      "Readings or exams without a decision",
      [`without a decision by the reading: ${policyWords[protocol.undecidable]}`, undecided]
        .filter(Boolean)
        .join("; "),
      "",
    ],
    ["16", "Missing readings and exams", missing, missing === "" ? "what was missing" : ""],
    [
      "17",
      "Variation of accuracy; planned or explored",
      groups === ""
        ? ""
        : `${groups}, ${note("By ", "p = ") || note("By ", "p <") ? "with" : "without"} a test`,
      groups !== ""
        ? ""
        : protocol.subgroups.length === 0
          ? "no subgroup in the protocol"
          : "accuracy by subgroup, which this form leaves out",
    ],
    ["18", "Intended number of children and how it came", "", "sample size"],
    [
      "19",
      "Flow of participants, as a diagram",
      flow || table("Participants"),
      flow === "" ? "the diagram" : "",
    ],
    ["20", "Baseline characteristics", table("Baseline"), "what the data do not hold"],
    ["21a", "Severity in those with the condition", "", "how severe it was"],
    ["21b", "Other diagnoses in those without it", "", "other diagnoses"],
    [
      "22",
      "Time and treatment between reading and exam",
      row("Baseline", "Days from screening to exam"),
      "new glasses, treatment between",
    ],
    ["23", "Reading against exam, as counts", table("Counts: "), ""],
    ["24", "Accuracy with its precision", table("Accuracy"), ""],
    ["25", "Adverse events", "", "of the reading, of the drops"],
    [
      "26",
      "Limitations, bias, uncertainty, for whom it holds",
      section("limitations"),
      "for whom it holds",
    ],
    ["27", "Implications, intended use and role", "", "implications"],
    ["28", "Registration", "", "number, registry"],
    [
      "29",
      "Where the full protocol is",
      `hash of its choices ${protocolHash.slice(0, 12)}`,
      "where it is",
    ],
    ["30", "Funding and role of funders", "", "funding"],
  ];
}

/**
 * The items of GRRAS (Kottner and others, J Clin Epidemiol 2011;64:96-106), as quoted in table 1 of BMC
 * Women's Health 2013;13:3.
 */
function agreementItems(shown: Shown, protocol: PublicProtocol): Item[] {
  const { section, table, figure, row } = shown;
  const written = writtenBy(shown, protocol);
  const [masked, unmasked] = written("masking", "masking, what was known");
  const within = table("Differences within");
  return [
    ["1", "A study of agreement, in the title or abstract", "", "title, abstract"],
    ["2", "The instrument", section("methods"), "make and version"],
    ["3", "The children for whom it is meant", section("methods"), "for whom it is meant"],
    ["4", "Who takes readings", "", "who took them"],
    [
      "5",
      "What is known of its agreement; why this study",
      ...written("rationale", "what is known, why"),
    ],
    ["6", "How the number of children and of repeated readings was chosen", "", "sample size"],
    ["7", "How children were sampled", section("methods"), "kind of series"],
    [
      "8",
      "How readings were taken: time between, what was known, masking",
      [row("Baseline", "Days from screening to exam"), masked].filter(Boolean).join("; "),
      unmasked,
    ],
    [
      "9",
      "Whether readings were independent of each other",
      ...written("masking", "who knew which result"),
    ],
    ["10", "Statistical analysis", section("methods"), ""],
    [
      "11",
      "Number of children, readers and repeated readings",
      table("Participants"),
      "number of readers",
    ],
    ["12", "Who the children and the readers were", table("Baseline"), "training of the readers"],
    [
      "13",
      "Agreement with its precision",
      [table("Agreement, test minus reference"), figure("difference-against-mean-M")]
        .filter(Boolean)
        .join("; "),
      "",
    ],
    [
      "14",
      "What it means in practice",
      [
        `acceptable difference stated in advance: ${quantityText(protocol.acceptableDifference)} of M`,
        within,
      ]
        .filter(Boolean)
        .join("; "),
      "why this difference; what it means",
    ],
    [
      "15",
      "Detailed results",
      protocol.audience === "journal" ? "tables/, figures/, result.json" : "tables/, figures/",
      "",
    ],
  ];
}

/** Where an author's text stands, or what is left to write: exactly one of the two. */
function writtenBy({ section }: Shown, protocol: PublicProtocol) {
  return (key: "rationale" | "setting" | "masking", left: string): [met: string, left: string] =>
    protocol[key] === undefined ? ["", left] : [`${section("methods")}, ${key}`, ""];
}

function checklist(title: string, items: readonly Item[]): TableModel {
  const cells = (item: Item): TableRow => ({ cells: item.map((cell) => cell || "–") });
  return {
    kind: "table",
    title,
    columns: [text("Item"), text("What"), text("Met here"), text("Author to write")],
    rows: items.map(cells),
    notes: [],
  };
}
