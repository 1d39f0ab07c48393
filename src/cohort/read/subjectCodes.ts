import { labelList, labelTranslator } from "./labelList.js";

/**
 * Codes of subjects from the codes of the columns that name them. A scanned file has a million
 * subjects at times: where one column names them all and none is missing, its list is theirs.
 */
export function subjectCodes(isMissing: (label: string) => boolean, oneColumn: boolean) {
  const list = labelList();
  /** The column's own list, and how many of its labels were looked at. */
  let own: { readonly labels: readonly string[]; looked: number } | null = null;
  const translate = labelTranslator((label) => {
    if (isMissing(label)) return -1;
    // labels of the one list are distinct already
    return own === null ? list.codeOf(label) : list.add(label);
  });

  return {
    /**
     * The subject's code for each label, -1 where it is missing; null where it is the label's own.
     *
     * @param distinct whether the list only grows, each label once, as that of a scanned file does
     */
    of(labels: readonly string[], distinct: boolean): readonly number[] | null {
      if (!distinct || !oneColumn) return translate(labels);
      own ??= { labels, looked: 0 };
      while (own.looked < labels.length && !isMissing(labels[own.looked])) own.looked++;
      // from the first missing one on the subjects have a list of their own
      return own.looked === labels.length ? null : translate(labels);
    },
    labels: (): readonly string[] =>
      own !== null && own.looked === own.labels.length ? own.labels : list.labels,
  };
}
