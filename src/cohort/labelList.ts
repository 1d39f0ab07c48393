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
 * Codes for lists of labels. A list that only grows, as those of a scanned file do, is translated
 * once: later calls look at its new labels only.
 */
export function labelTranslator(
  codeOf: (label: string) => number,
): (labels: readonly string[]) => readonly number[] {
  const known = new WeakMap<readonly string[], number[]>();
  return (labels) => {
    let codes = known.get(labels);
    if (codes === undefined) {
      codes = [];
      known.set(labels, codes);
    }
    for (let index = codes.length; index < labels.length; index++)
      codes.push(codeOf(labels[index]));
    return codes;
  };
}
