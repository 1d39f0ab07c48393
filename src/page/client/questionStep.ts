import { asText, draftOnce } from "./cellsStep.js";
import { conditionFields } from "./conditionFields.js";
import { button, group, labelled, make, menu, paragraph, textInput } from "./elements.js";
import type { Json } from "./json.js";
import { saveText } from "./save.js";
import type { Page, Step } from "./state.js";

export const questionStep: Step = {
  id: "question",
  title: "Write the question down",
  closed: ({ preparation, isLoaded }) =>
    isLoaded || preparation?.written ? null : "Say what the columns are first.",
  async content(page) {
    await draftOnce(page);
    const { protocol } = page.state;
    if (protocol === null) return [paragraph("There is no protocol yet; see below.")];
    return [
      paragraph(
        "Write every choice down before you look at a result. What is chosen after the data were seen is exploratory, and the report has to say so.",
      ),
      ...fields(page, protocol),
      protocolAsText(page, protocol),
      make(
        "p",
        {},
        button("Save protocol.json", () => saveText("protocol.json", asText(protocol))),
        " ",
        page.state.columns === null
          ? ""
          : button("Save columns.json", () => saveText("columns.json", asText(page.state.columns))),
      ),
      make(
        "p",
        {},
        button("Go on to the run", () => void goOn(page), "next"),
      ),
    ];
  },
};

async function goOn(page: Page): Promise<void> {
  const { state, toolkit } = page;
  await page.doing("checking the protocol", async () => {
    await toolkit.ask({ task: "check", protocol: state.protocol });
    page.go("run");
  });
}

/** Who is counted, and by which eye: two keys of a protocol that belong together. */
const counted = [
  ["child worse", "each child once, by the eye with the more extreme value"],
  ["child right", "each child once, by the right eye"],
  ["child left", "each child once, by the left eye"],
  ["child random", "each child once, by one eye that is drawn"],
  ["eye right", "right eyes"],
  ["eye left", "left eyes"],
  ["eye both", "both eyes, each by itself"],
] as const;

function fields(page: Page, protocol: Json): HTMLElement[] {
  const criteria: Json = protocol.criteria ?? {};
  const changed = () => {
    page.state.outcome = null;
    // without a number there are no criteria
    if (Object.keys(criteria).some((key) => key !== "note")) protocol.criteria = criteria;
    else delete protocol.criteria;
  };
  const text = (label: string, of: Json, key: string, help = "") =>
    labelled(
      label,
      textInput(of[key] ?? "", (value) => {
        of[key] = value;
        changed();
      }),
      help,
    );
  const number = (label: string, of: Json, key: string, help = "") =>
    labelled(
      label,
      textInput(
        of[key] === undefined ? "" : String(of[key]),
        (value) => {
          const given = Number(value.replace(",", "."));
          if (value.trim() === "") delete of[key];
          else of[key] = Number.isNaN(given) ? value : given;
          changed();
        },
        { inputmode: "decimal", class: "short" },
      ),
      help,
    );
  const choice = (
    label: string,
    of: Json,
    key: string,
    choices: readonly (readonly [string, string])[],
    help = "",
  ) =>
    labelled(
      label,
      menu(choices, of[key] ?? choices[0][0], (value) => {
        of[key] = value;
        changed();
      }),
      help,
    );
  const both = `${protocol.unit} ${protocol.eye}`;
  return [
    group(
      "The question",
      text("Title", protocol, "title"),
      text("Question, in one line", protocol, "question"),
      choice(
        "Who sees the report",
        protocol,
        "audience",
        [
          ["public", "anybody: counts are coarse, no eye is drawn"],
          ["journal", "colleagues who may see every eye"],
        ],
        "For anybody, exact counts go to a part of their own that is not passed on.",
      ),
    ),
    group(
      "The reading",
      text("Instrument, as the mapping names it", protocol.indexTest, "instrument"),
      text("The instrument, its settings and distance", protocol.indexTest, "description"),
      choice("Of several readings of an eye", protocol.indexTest, "repeats", [
        ["first", "the first counts"],
        ["last", "the last counts"],
        ["highest-confidence", "the most confident counts"],
      ]),
    ),
    group(
      "The exam",
      text("The exam, its drops, who examined", protocol.referenceStandard, "description"),
      labelled(
        "Which exams are a reference",
        menu(
          [
            ["all", "all of them"],
            ["full", "those in full cycloplegia"],
          ],
          protocol.referenceStandard.cycloplegia?.join() === "full" ? "full" : "all",
          (value) => {
            if (value === "full") protocol.referenceStandard.cycloplegia = ["full"];
            else delete protocol.referenceStandard.cycloplegia;
            changed();
          },
        ),
        "An exam without cycloplegia is no reference for hyperopia.",
      ),
      choice("Were those who passed examined", protocol, "verification", [
        ["complete", "all of them"],
        ["partial", "some of them"],
        ["none", "none of them"],
      ]),
      choice("How children came into the study", protocol, "sampling", [
        ["cohort", "as a programme meets them"],
        ["enriched", "as a clinic meets them, with more of those who have the condition"],
      ]),
    ),
    group(
      "Who is counted",
      labelled(
        "Counted are",
        menu(counted, both, (value) => {
          [protocol.unit, protocol.eye] = value.split(" ");
          changed();
        }),
      ),
      choice("A child without a usable reading counts as", protocol, "undecidable", [
        ["refer", "referred"],
        ["pass", "passed"],
        ["exclude", "left out"],
      ]),
    ),
    ...conditionFields(page, protocol, { text, choice, number, changed }),
    group(
      "Stated in advance",
      number("Difference of M that is acceptable, in dioptres", protocol, "acceptableDifference"),
      number(
        "Sensitivity of at least",
        criteria,
        "sensitivityAtLeast",
        "such as 0.9; empty for none",
      ),
      number(
        "Specificity of at least",
        criteria,
        "specificityAtLeast",
        "such as 0.85; empty for none",
      ),
      number(
        "Share of acceptable differences of at least",
        criteria,
        "withinAcceptableAtLeast",
        "such as 0.8; empty for none",
      ),
      number("Level of the intervals", protocol, "level"),
      number("Replicates", protocol, "replicates"),
      number("Seed", protocol, "seed"),
    ),
  ];
}

function protocolAsText(page: Page, protocol: Json): HTMLElement {
  const text = make("textarea", { rows: "20", spellcheck: "false", id: "protocol-text" });
  text.value = JSON.stringify(protocol, null, 2);
  const details = make(
    "details",
    {},
    make(
      "summary",
      {},
      "The whole protocol as text: groups, windows of days, ages, rules of several limits",
    ),
    labelled("protocol.json", text),
    make(
      "p",
      {},
      button("Take the text over", () => {
        void page.doing("checking the protocol", async () => {
          const given: Json = JSON.parse(text.value);
          await page.toolkit.ask({ task: "check", protocol: given });
          page.state.protocol = given;
          page.state.outcome = null;
          page.refresh();
          page.say("The protocol is taken over.", "done");
        });
      }),
    ),
  );
  // what was typed above is in it
  details.addEventListener("toggle", () => {
    text.value = JSON.stringify(page.state.protocol, null, 2);
  });
  return details;
}
