/** Distinct words in the order of their first appearance, each with its code. */
export interface LabelList {
  readonly codeOf: (label: string) => number;
  /** Adds a label that is known to be new, without remembering it for `codeOf`. */
  readonly add: (label: string) => number;
  readonly labels: readonly string[];
}

export function labelList(): LabelList {
  const codes = new Map<string, number>();
  const labels: string[] = [];
  return {
    labels,
    add: (label) => labels.push(label) - 1,
    codeOf(label) {
      let code = codes.get(label);
      if (code === undefined) {
        code = labels.length;
        codes.set(label, code);
        labels.push(label);
      }
      return code;
    },
  };
}

/**
 * Something of each label of a list, such as its code. A list that only grows, as those of a scanned
 * file do, is translated once: later calls look at its new labels only.
 */
export function labelTranslator<Meaning>(
  meaningOf: (label: string) => Meaning,
): (labels: readonly string[]) => readonly Meaning[] {
  const known = new WeakMap<readonly string[], Meaning[]>();
  return (labels) => {
    let meanings = known.get(labels);
    if (meanings === undefined) {
      meanings = [];
      known.set(labels, meanings);
    }
    for (let index = meanings.length; index < labels.length; index++) {
      meanings.push(meaningOf(labels[index]));
    }
    return meanings;
  };
}
