import type { Font } from "fontkit";
import type { Tables } from "./woff.js";

/**
 * The letters of some lines of text as the tables of a font of their own: outlines and widths of the
 * bundled font, which characters they are for, and the kerning of the pairs that the lines hold. Glyphs
 * that join letters are left out. Formats: OpenType 1.9, chapters cmap, kern, name and post.
 */
export function fontSubset(font: Font, lines: readonly string[]): Tables {
  const subset = font.createSubset();
  const glyphs = new Map<number, number>();
  for (const letter of new Set(lines.join(""))) {
    const point = letter.codePointAt(0)!;
    // no letter of this package lies beyond the first plane
    if (point > 0xffff || !font.hasGlyphForCodePoint(point)) continue;
    glyphs.set(point, subset.includeGlyph(font.glyphForCodePoint(point).id));
  }
  return {
    ...tablesOf(subset.encode()),
    cmap: cmapTable([...glyphs].sort(([a], [b]) => a - b)),
    kern: kernTable(kerningOf(font, lines, glyphs)),
    name: nameTable(font.copyright),
    post: postTable(),
    "OS/2": rawTable(font, "OS/2"),
  };
}

/** Pairs of glyphs with what stands between them beside their widths, in the font's units. */
function kerningOf(
  font: Font,
  lines: readonly string[],
  glyphs: ReadonlyMap<number, number>,
): readonly (readonly [left: number, right: number, value: number])[] {
  const pairs = new Map<string, readonly [number, number, number]>();
  for (const line of lines) {
    const letters = [...line];
    for (const [at, letter] of letters.entries()) {
      const pair = letter + (letters[at + 1] ?? "");
      const [left, right] = [...pair].map((one) => glyphs.get(one.codePointAt(0)!));
      if (pairs.has(pair) || left === undefined || right === undefined) continue;
      const { glyphs: drawn, positions } = font.layout(pair);
      const value = drawn.length === 2 ? positions[0]!.xAdvance - drawn[0]!.advanceWidth : 0;
      pairs.set(pair, [left, right, Math.round(value)]);
    }
  }
  return [...pairs.values()]
    .filter(([, , value]) => value !== 0)
    .sort(([a, b], [c, d]) => a - c || b - d);
}

/** The tables of a font file by their tags. */
function tablesOf(file: Uint8Array): Tables {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  return Object.fromEntries(
    Array.from({ length: view.getUint16(4) }, (_, at) => {
      const entry = 12 + 16 * at;
      const tag = String.fromCharCode(...file.subarray(entry, entry + 4));
      const from = view.getUint32(entry + 8);
      return [tag, file.slice(from, from + view.getUint32(entry + 12))];
    }),
  );
}

function rawTable(font: Font, tag: string): Uint8Array {
  const { directory, stream } = font as unknown as {
    readonly directory: {
      readonly tables: Readonly<
        Record<string, { readonly offset: number; readonly length: number }>
      >;
    };
    readonly stream: { readonly buffer: Uint8Array };
  };
  const { offset, length } = directory.tables[tag]!;
  return stream.buffer.slice(offset, offset + length);
}

/** Numbers of 16 bits, one after the other. */
function words(numbers: readonly number[]): Uint8Array {
  const bytes = new Uint8Array(2 * numbers.length);
  const view = new DataView(bytes.buffer);
  numbers.forEach((one, at) => {
    view.setUint16(2 * at, one & 0xffff);
  });
  return bytes;
}

/** What a binary search of so many entries of so many bytes starts from. */
function searchWords(entries: number, size: number): readonly number[] {
  const power = Math.floor(Math.log2(Math.max(1, entries)));
  const range = size * 2 ** power;
  return [range, power, size * entries - range];
}

/** Format 4, a segment for each character. */
function cmapTable(glyphs: readonly (readonly [point: number, glyph: number])[]): Uint8Array {
  const segments = [...glyphs.filter(([point]) => point < 0xffff), [0xffff, 0] as const];
  const points = segments.map(([point]) => point);
  const deltas = segments.map(([point, glyph]) => (point === 0xffff ? 1 : glyph - point));
  return words([
    ...[0, 1, 3, 1, 0, 12],
    ...[4, 16 + 8 * segments.length, 0, 2 * segments.length],
    ...searchWords(segments.length, 2),
    ...[...points, 0, ...points],
    ...[...deltas, ...segments.map(() => 0)],
  ]);
}

/** Format 0, horizontal. */
function kernTable(pairs: readonly (readonly [number, number, number])[]): Uint8Array {
  const length = 14 + 6 * pairs.length;
  return words([
    0,
    1,
    0,
    length,
    1,
    pairs.length,
    ...searchWords(pairs.length, 6),
    ...pairs.flat(),
  ]);
}

/** The subset goes by a name of its own, as the licence asks of what was changed. */
function nameTable(copyright: string): Uint8Array {
  const licence = "SIL Open Font License, Version 1.1, http://scripts.sil.org/OFL";
  const own = "Figure letters";
  const texts: readonly (readonly [number, string])[] = [
    [0, copyright],
    [1, own],
    [2, "Regular"],
    [4, own],
    [6, "FigureLetters"],
    [13, licence],
  ];
  const letters = texts.map(([, text]) => [...text].map((one) => one.charCodeAt(0)));
  let offset = 0;
  const records = texts.flatMap(([id], at) => {
    const length = 2 * letters[at]!.length;
    const record = [3, 1, 0x409, id, length, offset];
    offset += length;
    return record;
  });
  return words([0, texts.length, 6 + 12 * texts.length, ...records, ...letters.flat()]);
}

/** Version 3: glyphs without names. */
function postTable(): Uint8Array {
  return words([0x0003, ...Array.from({ length: 15 }, () => 0)]);
}
