// biome-ignore-all lint/suspicious/noApproximativeNumericConstant: digits as the source prints them
/**
 * Worked examples of one eye and of two. Status: SEEN in a document; DERIVED from the formula of
 * Thibos, Wheeler and Horner 1997, Optom Vis Sci 74:367-375, not a published number. Digits as in
 * the source, hence the tolerance of half a unit in the fourth decimal.
 */
export type Lens = readonly [sphere: number, cylinder: number, axis: number | null];

export const rx = ([sphere, cylinder, axis]: Lens) => ({ sphere, cylinder, axis });

/** Prescription, vector [M, J0, J45], B, transposed. DERIVED. */
export const vectors: {
  readonly id: string;
  readonly lens: Lens;
  readonly vector: readonly [number, number, number];
  readonly blur: number;
  readonly minus: Lens;
  readonly transposed: Lens;
}[] = [
  {
    id: "PV01 with the rule",
    lens: [0, -2, 180],
    vector: [-1, 1, 0],
    blur: 1.4142,
    minus: [0, -2, 180],
    transposed: [-2, 2, 90],
  },
  {
    id: "PV02 against the rule",
    lens: [0, -2, 90],
    vector: [-1, -1, 0],
    blur: 1.4142,
    minus: [0, -2, 90],
    transposed: [-2, 2, 180],
  },
  {
    id: "PV03 oblique, J45 positive",
    lens: [0, -2, 45],
    vector: [-1, 0, 1],
    blur: 1.4142,
    minus: [0, -2, 45],
    transposed: [-2, 2, 135],
  },
  {
    id: "PV04 oblique, J45 negative",
    lens: [0, -2, 135],
    vector: [-1, 0, -1],
    blur: 1.4142,
    minus: [0, -2, 135],
    transposed: [-2, 2, 45],
  },
  {
    id: "PV05",
    lens: [2, -1.5, 30],
    vector: [1.25, 0.375, 0.6495],
    blur: 1.4577,
    minus: [2, -1.5, 30],
    transposed: [0.5, 1.5, 120],
  },
  {
    id: "PV06 plus cylinder",
    lens: [-3, 2, 60],
    vector: [-2, 0.5, -0.866],
    blur: 2.2361,
    minus: [-1, -2, 150],
    transposed: [-1, -2, 150],
  },
  {
    id: "PV07 its minus-cylinder twin",
    lens: [-1, -2, 150],
    vector: [-2, 0.5, -0.866],
    blur: 2.2361,
    minus: [-1, -2, 150],
    transposed: [-3, 2, 60],
  },
  {
    id: "PV08 plano",
    lens: [0, 0, 0],
    vector: [0, 0, 0],
    blur: 0,
    minus: [0, 0, null],
    transposed: [0, 0, 90],
  },
  {
    id: "PV09 equivalent 0 hides 2 D",
    lens: [1, -2, 180],
    vector: [0, 1, 0],
    blur: 1,
    minus: [1, -2, 180],
    transposed: [-1, 2, 90],
  },
  {
    id: "PV10 equivalent 0 hides 4 D",
    lens: [2, -4, 180],
    vector: [0, 2, 0],
    blur: 2,
    minus: [2, -4, 180],
    transposed: [-2, 4, 90],
  },
  {
    id: "PV11",
    lens: [4.5, -1.25, 7],
    vector: [3.875, 0.6064, 0.1512],
    blur: 3.9251,
    minus: [4.5, -1.25, 7],
    transposed: [3.25, 1.25, 97],
  },
  {
    id: "PV12 axis 0 as 180",
    lens: [-0.25, -0.5, 0],
    vector: [-0.5, 0.25, 0],
    blur: 0.559,
    minus: [-0.25, -0.5, 180],
    transposed: [-0.75, 0.5, 90],
  },
];

/** Transposition in print. SEEN: an optician course page (TR01), a mock exam station (TR02, TR03). */
export const transpositions: readonly (readonly [id: string, Lens, Lens])[] = [
  ["TR01", [1.5, -0.5, 125], [1, 0.5, 35]],
  ["TR02", [3, -1, 180], [2, 1, 90]],
  ["TR03", [-2, 1.5, 90], [-0.5, -1.5, 180]],
];

/** Vertex: spheres, printed to two decimals on a public optics teaching page. SEEN. */
export const vertexTable: readonly (readonly [
  id: string,
  power: number,
  fromMm: number,
  printed: number,
])[] = [
  ["VX01", -4, 12, -3.82],
  ["VX02", -10, 12, -8.93],
  ["VX03", 10, 12, 11.36],
  ["VX04", 6, 12, 6.47],
  ["VX05", -8, 14, -7.19],
  ["VX06", -15, 12, -12.71],
];

/** Meridians of +2.00 -1.50 x 30. ME01 to ME05, DERIVED. */
export const meridians: readonly (readonly [meridian: number, power: number])[] = [
  [0, 1.625],
  [30, 2],
  [45, 1.8995],
  [90, 0.875],
  [120, 0.5],
];

/** Differences between eyes: [M, sphere, cylinder, greatest meridian, vector, mirrored vector]. AN01 to AN05, DERIVED. */
export const differences: readonly (readonly [
  id: string,
  right: Lens,
  left: Lens,
  expected: readonly [number, number, number, number, number, number],
])[] = [
  ["AN01 a sphere apart", [3.5, -1, 180], [2.25, -1, 180], [1.25, 1.25, 0, 1.25, 1.25, 1.25]],
  ["AN02 mirror-symmetric axes", [2, -2, 10], [2, -2, 170], [0, 0, 0, 0.684, 0.684, 0]],
  ["AN03 one meridian apart", [1, -2, 180], [-1, 0, 180], [1, 2, 2, 2, 1.4142, 1.4142]],
  ["AN04 axes at right angles", [2, -1.5, 90], [2, -1.5, 180], [0, 0, 0, 1.5, 1.5, 1.5]],
  ["AN05", [3, -0.5, 90], [1.25, -0.75, 85], [1.875, 1.75, 0.25, 2.0109, 1.8799, 1.8799]],
];
