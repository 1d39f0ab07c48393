import { caution } from "../../results/index.js";
import type { CompiledRule, Tree } from "../compileRule.js";
import { pathText } from "../path.js";
import { decisions, type RuleDecisions, undecidableCauses } from "../ruleDecisions.js";
import { limitText } from "../ruleText.js";
import { above, agePlaces, ageUnknown, below, spanning } from "./agePlaces.js";
import { countAtLimit } from "./atLimit.js";
import { yes } from "./certainty.js";
import { blockSize, blockWork, decideLimits, decideTree } from "./decideBlock.js";
import { requireColumns } from "./requireColumns.js";
import type { RuleColumns } from "./ruleColumns.js";

const [, missingValue, noBand, ageSpans, ageMissing] = undecidableCauses.keys();

/** A rule on many children; a block of them at a time, no object a child. */
export function decideColumns(compiled: CompiledRule, columns: RuleColumns): RuleDecisions {
  requireColumns(columns);
  const { rule, leaves, bands } = compiled;
  const { n } = columns;
  const ages = agePlaces(compiled, columns);
  const work = blockWork(compiled);
  const inBands = leaves.map((_, leaf) =>
    membership(
      bands.map(({ tree }) => tree),
      leaf,
    ),
  );
  const atLimit = leaves.map(() => 0);
  const codes = new Uint8Array(n);
  const causes = new Uint8Array(n);
  const crossed = new Uint32Array(n);
  const results = bands.map(() => new Int32Array(blockSize));
  for (let start = 0; start < n; start += blockSize) {
    const size = Math.min(blockSize, n - start);
    decideLimits(compiled, columns, start, size, work);
    const place = ages === null ? null : ages.place.subarray(start, start + size);
    for (const [at, leaf] of leaves.entries()) {
      const right = work.right[work.column[at]].subarray(0, size);
      const left = work.left[work.column[at]].subarray(0, size);
      atLimit[at] += countAtLimit(leaf, right, left, place, inBands[at]);
    }
    for (const [band, { tree }] of bands.entries()) {
      decideTree(tree, work.words, results[band], size);
    }
    if (place === null) take(results[0], start, size);
    else takeByAge(place, start);
  }
  return {
    kind: "rule-decisions",
    rule: rule.id,
    title: rule.title,
    definition: rule.definition,
    citation: rule.citation ?? null,
    appliesTo: rule.appliesTo,
    n,
    decision: { codes, labels: decisions },
    cause: { codes: causes, labels: undecidableCauses },
    crossed,
    criteria: compiled.criteria,
    counts: counted(codes, causes, ages !== null),
    atLimit: leaves.flatMap((leaf, at) =>
      leaf.ends.length === 0 || leaf.negated
        ? []
        : {
            path: pathText(leaf.path),
            criterion: leaf.limit.criterion,
            words: limitText(leaf.limit),
            children: atLimit[at],
          },
    ),
    nearBandEdge: ages?.nearEdge ?? 0,
    caution,
  };

  function take(words: Int32Array, start: number, size: number): void {
    for (let at = 0; at < size; at++) {
      const word = words[at];
      // no 0, unknown 2, yes 3 become pass 0, undecidable 2, refer 1
      const code = (word & 3) - ((word & 1) << 1);
      codes[start + at] = code;
      // the first cause is a missing value
      causes[start + at] = code >> 1;
      crossed[start + at] = word >>> 2;
    }
  }

  function takeByAge(place: Uint8Array, start: number): void {
    const noBandFrom = below;
    for (let at = 0; at < place.length; at++) {
      if (place[at] >= noBandFrom) undecidedByAge(start + at, place[at], at);
      else {
        const word = results[place[at]][at];
        const code = (word & 3) - ((word & 1) << 1);
        codes[start + at] = code;
        causes[start + at] = code >> 1;
        crossed[start + at] = word >>> 2;
      }
    }
  }

  function undecidedByAge(child: number, where: number, at: number): void {
    const word = where === spanning ? agreed(ages!.spans.get(child)!, at) : -1;
    if (word < 0) {
      codes[child] = 2;
      causes[child] = where === spanning ? ageSpans : where === ageUnknown ? ageMissing : noBand;
      return;
    }
    codes[child] = (word & yes) - ((word & 1) << 1);
    causes[child] = codes[child] === 2 ? missingValue : 0;
    crossed[child] = word >>> 2;
  }

  /** What all possible bands say, or -1 where they disagree or an age without a band is possible. */
  function agreed([first, last]: readonly [number, number], at: number): number {
    if (first === below || last === above) return -1;
    let word = results[first][at];
    for (let band = first + 1; band <= last; band++) {
      const other = results[band][at];
      if ((other & yes) !== (word & yes)) return -1;
      word |= other;
    }
    return word;
  }
}

/** By place of an age, whether the band there holds a limit. */
function membership(trees: readonly Tree[], leaf: number): Uint8Array {
  const holds = (tree: Tree): boolean =>
    tree.op === "limit" ? tree.leaf === leaf : tree.members.some(holds);
  const found = new Uint8Array(256);
  trees.forEach((tree, band) => {
    found[band] = Number(holds(tree));
  });
  return found;
}

function counted(codes: Uint8Array, causes: Uint8Array, byAge: boolean): RuleDecisions["counts"] {
  let refer = 0;
  let undecidable = 0;
  for (let child = 0; child < codes.length; child++) {
    refer += codes[child] & 1;
    undecidable += codes[child] >> 1;
  }
  const why = new Uint32Array(undecidableCauses.length);
  if (byAge) for (let child = 0; child < causes.length; child++) why[causes[child]]++;
  return {
    refer,
    pass: codes.length - refer - undecidable,
    undecidable,
    missingValue: byAge ? why[missingValue] : undecidable,
    noBand: why[noBand],
    ageSpansBands: why[ageSpans],
    ageUnknown: why[ageMissing],
  };
}
