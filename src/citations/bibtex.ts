import { escapeLatex } from "../text/index.js";
import { familyName, type Source } from "./source.js";

const entryTypes = { article: "article", book: "book", report: "techreport", software: "misc" };
/** Which member of an entry says who published. */
const publishers = {
  article: "journal",
  book: "publisher",
  report: "institution",
  software: "howpublished",
};

/** A source as an entry of a BibTeX file; what was not looked up is left out. */
export function bibtexEntry(source: Source, version: string | null = null): string {
  const { authors, title, journal, year, volume, pages, doi, type, key } = source;
  const fields: readonly (readonly [string, string | null])[] = [
    ["author", authors.length === 0 ? null : authors.map(bibtexAuthor).join(" and ")],
    ["title", `{${escapeLatex(title)}}`],
    [publishers[type], journal === null ? null : escapeLatex(journal)],
    ["year", year === null ? null : String(year)],
    ["volume", volume],
    ["pages", pages === null ? null : pages.replace("-", "--")],
    // a DOI stands as it is: programs that read the file take it for a name, not for text
    ["doi", doi],
    ["version", version],
  ];
  const lines = fields.flatMap(([name, value]) =>
    value === null ? [] : [`  ${name} = {${value}}`],
  );
  return `@${entryTypes[type]}{${key},\n${lines.join(",\n")}\n}\n`;
}

/** "Wilson, E. B."; a name without initials is that of a group and stays whole. */
function bibtexAuthor(author: string): string {
  if (author === "others") return author;
  const family = familyName(author);
  if (family === author) return `{${escapeLatex(author)}}`;
  const initials = [...author.slice(family.length + 1)].map((letter) => `${letter}.`).join(" ");
  return `${escapeLatex(family)}, ${initials}`;
}
