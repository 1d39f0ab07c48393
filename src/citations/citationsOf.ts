import { ownVersion } from "../platform/index.js";
import { InputError } from "../results/index.js";
import { analysisUses } from "./analysisUses.js";
import { bibtexEntry } from "./bibtex.js";
import { type Found, foundIn } from "./found.js";
import { methodUses } from "./methodUses.js";
import { inText, namesInText, referenceText, type Source } from "./source.js";
import { sources, toolkit } from "./sources/index.js";
import type { MethodUse } from "./use.js";
import { withoutSource } from "./withoutSource.js";

/** A source that a text on a result should cite; what was not found is null. */
export interface Citation {
  /** Its name in the BibTeX file, such as "wilson1927". */
  readonly key: string;
  /** What it stands for in this result. */
  readonly standsFor: readonly string[];
  /** Names of methods and kinds of results that lead to it. */
  readonly by: readonly string[];
  /** Family name, then initials; "others" last where the list was not found whole. */
  readonly authors: readonly string[];
  /** The title as printed, without a full stop. */
  readonly title: string;
  /** Year of publication. */
  readonly year: number | null;
  /** The journal, the publisher of a book, or who gave out a report. */
  readonly journal: string | null;
  /** Volume of the journal. */
  readonly volume: string | null;
  /** The first page alone where sources differ in the last. */
  readonly pages: string | null;
  /** Digital object identifier, without the address of a resolver. */
  readonly doi: string | null;
  /** The entry as a list of references prints it. */
  readonly text: string;
}

/** What a text on a result should cite. */
export interface Citations {
  readonly kind: "citations";
  /** The toolkit first, then sources in the order in which the result leads to them. */
  readonly entries: readonly Citation[];
  /** Methods of the result that need no citation, and why. */
  readonly withoutSource: readonly { readonly method: string; readonly reason: string }[];
  /** All entries as a file for a reference manager. */
  readonly bibtex: string;
}

/**
 * What a text on a result should cite: the toolkit, and a source for each method that the result names,
 * each analysis in it, each published definition, and each source that its notes name. A result may be
 * any: one analysis, an array or object of several, a whole study, a report.
 *
 * Authors, journal, year, volume, pages and DOI were looked up; what was not found is null. Methods of
 * textbooks are listed under `withoutSource` with the reason.
 *
 * @param result what any function of the toolkit gave, or several in an array or object
 * @throws when it is not given an object, or a promise of a result
 *
 * @example
 * const accuracy = accuracyFromCounts({ truePositive: 40, falsePositive: 20, falseNegative: 10, trueNegative: 130 });
 * citationsOf(accuracy).entries.map(({ key }) => key) // => ["meridional", "wilson1927", "koopman1984", "cornfield1956", "zou2008"]
 */
export function citationsOf(result: object): Citations {
  if ("then" in result)
    throw new InputError("citationsOf requires a result, got a promise of one: await it first");
  const found = foundIn(result);
  const uses = [...usesByMethod(found), ...usesByKind(found), ...usesByText(found)];
  const cited = new Map<string, Citation>();
  for (const { source, standsFor, by } of [ofToolkit, ...uses, ...ofDefinitions(found)]) {
    const before = cited.get(source.key);
    const { type: _, ...record } = source;
    cited.set(source.key, {
      ...record,
      text: referenceText(source),
      standsFor: [...new Set([...(before?.standsFor ?? []), standsFor])],
      by: [...new Set([...(before?.by ?? []), ...by])],
    });
  }
  return {
    kind: "citations",
    entries: [...cited.values()],
    withoutSource: uncited(found),
    bibtex: [...cited.keys()].map((key) => entryOf(key, cited.get(key)!)).join("\n"),
  };
}

interface Used {
  readonly source: Source;
  readonly standsFor: string;
  readonly by: readonly string[];
}

const ofToolkit: Used = { source: toolkit, standsFor: "the software", by: [] };

function entryOf(key: string, citation: Citation): string {
  if (key === toolkit.key) return bibtexEntry(toolkit, ownVersion());
  const type = sources.get(key)?.type ?? "software";
  return bibtexEntry({ ...citation, type });
}

const used = (standsFor: string, keys: readonly string[], by: string): Used[] =>
  keys.map((key) => ({ source: sources.get(key)!, standsFor, by: [by] }));

/** The use of a method in results of a kind; one that names the kind goes before one that does not. */
function useOf(method: string, kind: string): MethodUse | undefined {
  const fitting = methodUses.filter(({ methods }) => methods.includes(method));
  return (
    fitting.find(({ kinds }) => kinds?.includes(kind)) ??
    fitting.find(({ kinds }) => kinds === undefined)
  );
}

function usesByMethod({ methods }: Found): Used[] {
  return [...methods.values()].flatMap(({ method, kind }) => {
    const use = useOf(method, kind);
    return use === undefined ? [] : used(use.standsFor, use.sources, method);
  });
}

function usesByKind({ kinds }: Found): Used[] {
  return analysisUses.flatMap((use) => {
    const by = use.kinds.filter((kind) => kinds.has(kind));
    return by.flatMap((kind) => used(use.standsFor, use.sources, kind));
  });
}

/** Sources that a note or a paragraph names, such as "Bland and Altman 1986, 1999". */
function usesByText({ texts }: Found): Used[] {
  const named = [...texts].filter((text) => /\b(19|20)\d\d\b/.test(text));
  return [...sources.values()].flatMap((source) => {
    const names = namesInText(source.authors).replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
    const mention = new RegExp(`\\b${names},? \\(?(?:(?:19|20)\\d\\d, )*${source.year}\\b`);
    return named.some((text) => mention.test(text))
      ? [{ source, standsFor: "named in its notes or text", by: [] }]
      : [];
  });
}

/** Published definitions as their rules cite them; they have no record of their own. */
function ofDefinitions({ definitions }: Found): Used[] {
  return [...definitions].map((citation, at) => ({
    source: {
      ...toolkit,
      key: `definition${at + 1}`,
      authors: [],
      title: "Published definition of a target condition",
      journal: citation,
    },
    standsFor: "a published definition",
    by: [],
  }));
}

/** The sources of a method as a text names them: "Wilson 1927; Rao and Scott 1992"; "" where there are none. */
export function sourcesInText(method: string, kind = ""): string {
  const keys = useOf(method, kind)?.sources ?? [];
  return keys.map((key) => inText(sources.get(key)!)).join("; ");
}

/** What no source stands for, with the reason. */
function uncited({ methods }: Found): Citations["withoutSource"] {
  const names = [...methods.values()].filter(({ method, kind }) => !useOf(method, kind));
  return [...new Set(names.map(({ method }) => method))].map((method) => ({
    method,
    reason:
      withoutSource.find((one) => one.methods.includes(method))?.reason ?? "no source is recorded",
  }));
}
