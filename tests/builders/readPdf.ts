import { inflateSync } from "node:zlib";

/** What a reader of a PDF written by this package needs, by a second way: from the bytes alone. */
export interface ReadPdf {
  /** Text of each page, a line for each piece that was put down. */
  readonly pages: readonly string[];
  readonly title: string;
  readonly language: string;
  /** Alternative texts of the structure, in the order of the file. */
  readonly alternatives: readonly string[];
  /** Every date written in it. */
  readonly dates: readonly string[];
  /** Types of the structure's elements with how often they come. */
  readonly structure: Readonly<Record<string, number>>;
  /** Titles of the outline. */
  readonly outline: readonly string[];
}

/**
 * Reads classic PDF objects (ISO 32000-1, 7.3 and 7.5), text by each font's ToUnicode map (9.10.3).
 * Only what pdfkit writes: no object streams, text as hexadecimal strings of two-byte codes.
 */
export function readPdf(bytes: Uint8Array): ReadPdf {
  const file = Buffer.from(bytes).toString("latin1");
  const objects = new Map<number, string>();
  for (const [, id, body] of file.matchAll(/(\d+) 0 obj\n([\s\S]*?)\nendobj/g)) {
    objects.set(Number(id), body);
  }
  const streamOf = (id: number): string => {
    const body = objects.get(id) ?? "";
    const [head, rest] = body.split(/\nstream\n/, 2);
    if (rest === undefined) return "";
    const raw = Buffer.from(rest.slice(0, rest.lastIndexOf("\nendstream")), "latin1");
    return head.includes("/FlateDecode")
      ? inflateSync(raw).toString("latin1")
      : raw.toString("latin1");
  };
  const all = [...objects.values()];
  const fonts = new Map<string, Map<string, string>>();
  for (const body of all) {
    for (const [, name, id] of body.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
      const unicode = /\/ToUnicode (\d+) 0 R/.exec(objects.get(Number(id)) ?? "");
      if (unicode) fonts.set(name, unicodeMap(streamOf(Number(unicode[1]))));
    }
  }
  const catalog = all.find((body) => body.includes("/Type /Catalog")) ?? "";
  const pageTree = objects.get(Number(/\/Pages (\d+) 0 R/.exec(catalog)?.[1])) ?? "";
  const pageIds = [...(/\/Kids \[([^\]]*)\]/.exec(pageTree)?.[1] ?? "").matchAll(/(\d+) 0 R/g)];
  const pages = pageIds.map(([, id]) => {
    const content = /\/Contents (\d+) 0 R/.exec(objects.get(Number(id)) ?? "");
    return pageText(streamOf(Number(content?.[1])), fonts);
  });
  const structure: Record<string, number> = {};
  for (const body of all) {
    const type = /^<<\n\/S \/(\w+)/.exec(body)?.[1];
    if (type) structure[type] = (structure[type] ?? 0) + 1;
  }
  const info = all.find((body) => body.includes("/Producer")) ?? "";
  return {
    pages,
    title:
      strings(
        `/Title ${objects.get(Number(/\/Title (\d+) 0 R/.exec(info)?.[1])) ?? ""}`,
        "Title",
      )[0] ?? "",
    language: strings(catalog, "Lang")[0] ?? "",
    alternatives: all.flatMap((body) => strings(body, "Alt")),
    dates: [...file.matchAll(/\(D:([^)]*)\)/g)].map(([, date]) => date),
    structure,
    outline: all
      .filter((body) => body.includes("/Parent"))
      .flatMap((body) => strings(body, "Title")),
  };
}

/** Every text of a page: what is shown in the font that is current, as an array or as one piece. */
function pageText(
  content: string,
  fonts: ReadonlyMap<string, ReadonlyMap<string, string>>,
): string {
  const lines: string[] = [];
  let font: ReadonlyMap<string, string> | undefined;
  const shown = /\/(F\d+) [\d.]+ Tf|\[([^\]]*)\] TJ|((?:<[0-9a-f]*> Tj\s*(?:[-\d. ]+Td\s*)?)+)/g;
  for (const [, name, array, pieces] of content.matchAll(shown)) {
    if (name) font = fonts.get(name);
    else {
      const codes = [...(array ?? pieces).matchAll(/<([0-9a-f]*)>/g)]
        .map(([, hex]) => hex)
        .join("");
      lines.push((codes.match(/.{4}/g) ?? []).map((code) => font?.get(code) ?? "\uFFFD").join(""));
    }
  }
  return lines.join("\n");
}

/** Codes to letters, from the lists and ranges of a character map. */
function unicodeMap(map: string): Map<string, string> {
  const letters = new Map<string, string>();
  const text = (hex: string) => Buffer.from(hex, "hex").swap16().toString("utf16le");
  for (const [, from, , list] of map.matchAll(/<(\w+)> <(\w+)> \[([^\]]*)\]/g)) {
    [...list.matchAll(/<([\w ]*)>/g)].forEach(([, hex], at) => {
      const code = (Number.parseInt(from, 16) + at).toString(16).padStart(4, "0");
      letters.set(code, text(hex.replaceAll(" ", "")));
    });
  }
  return letters;
}

/** The text strings under a key: in parentheses, UTF-16 where they begin with its mark. */
function strings(body: string, key: string): string[] {
  return [...body.matchAll(new RegExp(`/${key} \\(((?:\\\\.|[^\\\\)])*)\\)`, "gs"))].map(
    ([, escaped]) => {
      const raw = escaped.replace(
        /\\(.)/gs,
        (_, sign) => ({ n: "\n", r: "\r", t: "\t", b: "\b", f: "\f" })[sign as string] ?? sign,
      );
      return raw.startsWith("\u00FE\u00FF")
        ? Buffer.from(raw.slice(2), "latin1").swap16().toString("utf16le")
        : raw;
    },
  );
}
