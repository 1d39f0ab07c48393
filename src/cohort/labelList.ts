/** Distinct words in the order of their first appearance, each with its code. */
export interface LabelList {
  readonly codeOf: (label: string) => number;
  readonly labels: readonly string[];
}

export function labelList(): LabelList {
  const codes = new Map<string, number>();
  const labels: string[] = [];
  return {
    labels,
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
