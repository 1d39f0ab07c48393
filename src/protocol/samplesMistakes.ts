/** Choices that samples have to go with. */
interface Choices {
  readonly eligibility: { readonly own?: object };
  readonly samples?:
    | { readonly by: string; readonly development: string[]; readonly validation: string[] }
    | { readonly validation: object };
}

/** What is wrong with the two samples of a protocol, each with its path. */
export function samplesMistakes({ eligibility, samples }: Choices) {
  if (samples === undefined) return [];
  const mistakes: { readonly path: readonly string[]; readonly message: string }[] = [];
  const say = (message: string, ...path: string[]) =>
    mistakes.push({ path: ["samples", ...path], message });
  if ("by" in samples) {
    const both = samples.development.filter((value) => samples.validation.includes(value));
    if (both.length > 0) say(`"${both.join('", "')}" is in both samples`, "validation");
    if (Object.hasOwn(eligibility.own ?? {}, samples.by)) {
      say(`the column "${samples.by}" is in eligibility.own already; leave it out there`, "by");
    }
  }
  return mistakes;
}
