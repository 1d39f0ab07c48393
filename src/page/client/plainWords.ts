/** A library's message for a reader who called no function, and sees labels and no keys. */
export function inWords(message: string): string {
  return message
    .replace(/^\w+ requires a valid protocol, got\s+/, "The protocol is not complete: ")
    .replace(/^\w+ requires /, "This needs ")
    .replaceAll(folderOfMemory, "")
    .replace(/; to carry it along: "own":.*$/, "; it stays in the study file all the same")
    .replaceAll(/ in a (readings |findings )?block of the mapping/g, " in the mapping of step 3")
    .replaceAll("in this block", "among these measurements")
    .replaceAll(pathOfProtocol, (_, path: string) => `${labelOf(path)}: `)
    .replace(/: requires \w+ \(([^)]*)\), one of .*$/gm, ": please say: $1")
    .replace(/(; )?(or )?use the command line for this$/, "");
}

const folderOfMemory = /\/(exports|my-study(-key)?)\//g;
const pathOfProtocol = /(?:^|(?<=\n {2})|(?<=complete: ))([a-z][\w]*(?:\[\d+\]|\.\w[\w-]*)*): /g;

/** Keys of a protocol, the longest first, and what the page calls them. */
const labels: readonly (readonly [RegExp, string])[] = [
  [/target\.choices/, "what the published definition of the condition leaves open"],
  [/target\.limit/, "the limit at the exam"],
  [/target\.relation/, "on which side of its limit the condition lies"],
  [/target/, "the condition at the exam"],
  [/programme\.referWhen\.limit/, "the programme's own limit"],
  [/programme/, "how the programme decided whom to refer"],
  [/referWhen\.limit/, "the referral limit"],
  [/referWhen\.relation/, "on which side of its limit the referral lies"],
  [/referWhen/, "the referral by the reading"],
  [/prevalences/, "how common the condition is"],
  [/conditions.*title/, "the condition in words"],
  [/conditions.*definition/, "whose definition the condition is"],
  [/^title/, "the title"],
  [/^question/, "the question"],
  [/indexTest\.instrument/, "the instrument as the mapping names it"],
  [/indexTest/, "the reading"],
  [/referenceStandard/, "the exam"],
  [/sensitivityAtLeast/, "sensitivity of at least"],
  [/specificityAtLeast/, "specificity of at least"],
  [/withinAcceptableAtLeast/, "share of acceptable differences of at least"],
  [/acceptableDifference/, "difference of M that is acceptable"],
  [/^level/, "level of the intervals"],
  [/^replicates/, "replicates"],
  [/^seed/, "seed"],
  [/^(unit|eye)/, "who is counted"],
  [/^verification/, "were those who passed examined"],
];

function labelOf(path: string): string {
  const found = labels.find(([pattern]) => pattern.test(path))?.[1];
  if (found === undefined) return `in the text of the protocol, ${path}`;
  return `"${found[0].toUpperCase()}${found.slice(1)}"`;
}
