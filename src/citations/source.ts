/** A paper, a book or a report as it was published. What was not looked up is null, never filled in. */
export interface Source {
  readonly key: string;
  readonly type: "article" | "book" | "report" | "software";
  /** Family name, then initials: "Wilson EB". Last "others" where the list was not looked up whole. */
  readonly authors: readonly string[];
  readonly title: string;
  readonly year: number | null;
  /** The journal, the publisher of a book, or who gave out a report. */
  readonly journal: string | null;
  readonly volume: string | null;
  /** "209-212"; the first page alone where sources differ in the last. */
  readonly pages: string | null;
  readonly doi: string | null;
}

/** Authors and title, then journal, year, volume, pages and DOI as the source has them. */
export type SourceRow = readonly [
  authors: string,
  title: string,
  journal: string,
  year: number,
  volume: string | null,
  pages: string | null,
  doi: string | null,
];

/** Rows of a table of sources by key; authors are separated by commas. */
export function sourcesOf(
  rows: { readonly [key: string]: SourceRow },
  type: Source["type"] = "article",
): Source[] {
  return Object.entries(rows).map(
    ([key, [authors, title, journal, year, volume, pages, doi]]): Source => ({
      key,
      type,
      authors: authors.split(", "),
      title,
      year,
      journal,
      volume,
      pages,
      doi,
    }),
  );
}

/** Family name of an author: "Rao" of "Rao JNK", "van Ebbenhorst Tengbergen" whole. */
export const familyName = (author: string): string => author.replace(/ [A-Z]{1,4}$/, "");

/** How a text names a source: "Wilson 1927", "Rao and Scott 1992", "Bossuyt and others 2015". */
export function inText({ authors, year }: Pick<Source, "authors" | "year">): string {
  return `${namesInText(authors)}${year === null ? "" : ` ${year}`}`;
}

/** Its names alone; more than three authors are the first and others. */
export function namesInText(authors: readonly string[]): string {
  const names = authors.map(familyName);
  if (names.length > 3 || names.at(-1) === "others") return `${names[0]} and others`;
  return names.length < 2 ? names[0]! : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}

/** A source as a list of references prints it. */
export function referenceText(source: Source): string {
  const { authors, title, journal, year, volume, pages, doi } = source;
  const names = authors.map((name) => (name === "others" ? "and others" : name)).join(", ");
  const pageText = pages === null ? "" : `:${pages}`;
  const place = `${year ?? ""}${volume === null ? "" : `;${volume}${pageText}`}`;
  const published = [journal, place].filter(Boolean).join(" ");
  return [names, title, published, doi === null ? "" : `doi:${doi}`]
    .filter(Boolean)
    .map((part) => `${part}.`)
    .join(" ");
}
