import { asText, carriedNote, draftOnce } from "./cellsStep.js";
import {
  audiences,
  counted,
  repeats,
  samplings,
  undecidables,
  verifications,
} from "./choiceWords.js";
import { conditionFields } from "./conditionFields.js";
import { button, group, labelled, make, menu, paragraph, textInput } from "./elements.js";
import type { Json } from "./json.js";
import { keepDecider } from "./programme.js";
import { programmeFields } from "./programmeFields.js";
import { protocolAsText } from "./protocolAsText.js";
import { draftFiles, saveText, zipButton } from "./save.js";
import type { Page, Step } from "./state.js";
import { openWords, stillOpen } from "./unwritten.js";

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
      ...carriedNote(page.state),
      paragraph(
        "Write every choice down before you look at a result. What is chosen after the data were seen is exploratory, and the report has to say so.",
      ),
      ...fields(page, protocol),
      protocolAsText(page, protocol),
      paragraph(
        "A draft holds the protocol, the mapping and the study files: bring it in the first step, as it is, to go on another day.",
      ),
      make(
        "p",
        { class: "saves" },
        zipButton("Save the draft", "draft.zip", () => draftFiles(page)),
        button("Save protocol.json", () => saveText("protocol.json", asText(protocol))),
        page.state.columns === null
          ? ""
          : button("Save columns.json", () => saveText("columns.json", asText(page.state.columns))),
      ),
      make(
        "p",
        {},
        button("Go on to the run", () => void goOn(page), "next"),
      ),
      // below the button: a line that grows or goes must not move what is being pressed
      unwritten(page),
    ];
  },
};

const unwrittenId = "unwritten";

/** What is still to be written, as it stands. */
function unwritten({ state, known }: Page): HTMLElement {
  const open = stillOpen(state.protocol, known.published, state.decider);
  const line = paragraph(open.length === 0 ? "" : openWords(open), "note");
  line.id = unwrittenId;
  line.hidden = open.length === 0;
  return line;
}

async function goOn(page: Page): Promise<void> {
  const { state, toolkit } = page;
  const needed = stillOpen(state.protocol, page.known.published, state.decider).filter(
    ({ isNeeded }) => isNeeded,
  );
  if (needed.length > 0) {
    page.say(openWords(needed), "wrong");
    document.querySelector<HTMLElement>("#step [aria-invalid]")?.focus();
    return;
  }
  await page.doing("checking the protocol", async () => {
    await toolkit.ask({ task: "check", protocol: state.protocol });
    page.go("run");
  });
}

function fields(page: Page, protocol: Json): HTMLElement[] {
  const criteria: Json = protocol.criteria ?? {};
  const changed = () => {
    page.state.outcome = null;
    // what was said was of the protocol before
    page.say("");
    keepDecider(protocol, page.state.decider);
    document.getElementById(unwrittenId)?.replaceWith(unwritten(page));
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
        if (value === "") delete of[key];
        else of[key] = value;
        changed();
      }),
      help,
    );
  const own = { text, choice, number, changed };
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
        audiences,
        "For anybody, exact counts go to a part of their own that is not passed on.",
      ),
    ),
    group(
      "The reading",
      text("Instrument, as the mapping names it", protocol.indexTest, "instrument"),
      text("The instrument, its settings and distance", protocol.indexTest, "description"),
      choice("Of several readings of an eye", protocol.indexTest, "repeats", repeats),
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
      labelled(
        "Were those who passed examined",
        menu(
          verifications,
          protocol.verification,
          (value) => {
            protocol.verification = value;
            changed();
            // what the programme decided is asked where some were not examined
            page.refresh();
          },
          { id: "verification" },
        ),
      ),
      choice("How children came into the study", protocol, "sampling", samplings),
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
      choice("A child without a usable reading counts as", protocol, "undecidable", undecidables),
    ),
    ...conditionFields(page, protocol, own),
    ...programmeFields(page, protocol, own),
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
