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
    ...others(protocol),
    `The report is for ${wordsOf(audiences, protocol.audience)}`,
  ];
}

function conditionLines(condition: Json, published: readonly PublishedChoice[]): string[] {
  const { title, role, target, referWhen, prevalences, criteria, choose } = condition;
  return [
    `Condition: ${title}${role === "exploratory" ? " (looked at beside what the study is about)" : ""}; at the exam, ${sideWords(target, published)}`,
    `Referred by the reading: ${sideWords(referWhen, published)}`,
    ...(criteria === undefined
      ? []
      : [`Asked of this condition: ${askedWords(criteria).join("; ")}`]),
    ...(choose === undefined ? [] : ["A limit is also chosen on these data, as exploratory"]),
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
  const said = askedWords(criteria);
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

function askedWords(criteria: Json): string[] {
  return [
    ["sensitivity of at least", criteria.sensitivityAtLeast],
    ["specificity of at least", criteria.specificityAtLeast],
    ["share of acceptable differences of at least", criteria.withinAcceptableAtLeast],
  ].flatMap(([words, value]) => (value === undefined ? [] : [`${words} ${value}`]));
}

/** What only the text of the protocol holds: that it is there is said here, what it is stands there. */
function others({ linkage, eligibility, subgroups, samples, verificationStrata }: Json): string[] {
  const filled = (value: Json) => Object.keys(value ?? {}).some((key) => key !== "note");
  const there = [
    [filled(linkage), "which exam of a child counts"],
    [filled(eligibility), "ages"],
    [filled(subgroups), "groups"],
    [filled(samples), "a second sample"],
    [filled(verificationStrata), "groups within which children were drawn"],
  ].flatMap(([is, words]) => (is === true ? [words] : []));
  return there.length === 0
    ? []
    : [`Further choices, in the text of the protocol: ${there.join(", ")}`];
}
