import type { PublishedChoice } from "../messages.js";
import {
  audiences,
  counted,
  deciders,
  relations,
  repeats,
  samplings,
  undecidables,
  verifications,
  wordsOf,
} from "./choiceWords.js";
import type { Json } from "./json.js";
import { perCentOf } from "./prevalences.js";
import { type Decider, decisionColumn } from "./programme.js";

/** What a protocol says, a line a choice, to be read once more before a result is seen. */
export function protocolInWords(
  protocol: Json,
  {
    published,
    columns,
    decider,
  }: {
    readonly published: readonly PublishedChoice[];
    readonly columns: Json;
    readonly decider: Decider;
  },
): readonly string[] {
  const { indexTest, referenceStandard } = protocol;
  return [
    `Title: ${protocol.title}`,
    `Question: ${protocol.question}`,
    ...protocol.conditions.flatMap((one: Json) => conditionLines(one, published)),
    `Instrument: ${indexTest.instrument}; ${indexTest.description}`,
    `Readings: ${dropsOf(indexTest.cycloplegia)}; of several of an eye, ${wordsOf(repeats, indexTest.repeats ?? "first")}`,
    `Exam: ${referenceStandard.description}; ${
      referenceStandard.cycloplegia === undefined
        ? "with any drops"
        : `only exams that are ${referenceStandard.cycloplegia.map(dropsOf).join(" or ")}`
    }`,
    `Examined of those who passed: ${wordsOf(verifications, protocol.verification)}`,
    ...(protocol.verification === "complete"
      ? []
      : [`The programme referred: ${deciderWords(protocol, decider, columns)}`]),
    `Children came into the study ${wordsOf(samplings, protocol.sampling)}`,
    `Counted: ${wordsOf(counted, `${protocol.unit} ${protocol.eye}`)}; a child without a usable reading counts as ${wordsOf(undecidables, protocol.undecidable)}`,
    `Stated in advance: ${criteriaWords(protocol)}`,
    `The report is for ${wordsOf(audiences, protocol.audience)}`,
  ];
}

function conditionLines(condition: Json, published: readonly PublishedChoice[]): string[] {
  const { title, role, target, referWhen, prevalences } = condition;
  return [
    `Condition: ${title}${role === "exploratory" ? " (looked at beside what the study is about)" : ""}; at the exam, ${sideWords(target, published)}`,
    `Referred by the reading: ${sideWords(referWhen, published)}`,
    ...(prevalences === undefined
      ? []
      : [`How common it is where the referral would be used: ${perCentOf(prevalences)} per cent`]),
  ];
}

function sideWords(side: Json, published: readonly PublishedChoice[]): string {
  if ("quantity" in side) {
    if (side.limit === undefined || side.relation === undefined) return "not written yet";
    return `${side.quantity} ${wordsOf(relations, side.relation).slice(0, 1)} ${side.limit} D`;
  }
  const own = published.find(({ id }) => id === side.published);
  if (own === undefined) return "by a rule of its own";
  const chosen = own.open.map(
    ({ name, question, options }) =>
      `${question} ${options.find(({ id }) => id === side.choices?.[name])?.words ?? "not said yet"}`,
  );
  return [own.title, ...chosen].join("; ");
}

function deciderWords(protocol: Json, decider: Decider, columns: Json): string {
  switch (decider) {
    case "recorded":
      return `as the column "${decisionColumn(columns)}" records it`;
    case "limit":
      return `by another limit: ${sideWords(protocol.programme.referWhen, [])}`;
    case "rule":
      return "by a rule of its own";
    case "":
      return "not said";
    default:
      return wordsOf(deciders, decider);
  }
}

function criteriaWords({ criteria = {}, acceptableDifference, level = 0.95 }: Json): string {
  const { sensitivityAtLeast, specificityAtLeast, withinAcceptableAtLeast } = criteria;
  const said = [
    ["sensitivity of at least", sensitivityAtLeast],
    ["specificity of at least", specificityAtLeast],
    ["share of acceptable differences of at least", withinAcceptableAtLeast],
  ].flatMap(([words, value]) => (value === undefined ? [] : [`${words} ${value}`]));
  return [
    ...(said.length === 0 ? ["no criteria, so that there is no verdict"] : said),
    `a difference of M of ${acceptableDifference} D is acceptable`,
    `intervals at ${level}`,
  ].join("; ");
}

function dropsOf(state: string | undefined): string {
  const words: { readonly [state: string]: string } = {
    none: "without drops",
    full: "in full cycloplegia",
    inadequate: "with drops, not in full",
  };
  return words[state ?? ""] ?? "with unknown drops";
}
