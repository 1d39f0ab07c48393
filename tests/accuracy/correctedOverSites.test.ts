// Accuracy corrected for who was examined, with sites above children: by definition, and its laws.
import { describe, expect, it } from "vitest";
import { correctByDecision, outcomesOfCells, sortedCells } from "../../src/accuracy/index.js";
import { createRandom, normalQuantile, tQuantile } from "../../src/inference/index.js";

const measures = [
  "sensitivity",
  "specificity",
  "positivePredictiveValue",
  "negativePredictiveValue",
  "prevalence",
] as const;
const logit = (share: number) => Math.log(share / (1 - share));

/** Nine sites of unequal size that shift reading and refraction; a studied rule stricter than the programme's. */
function invented(shift: number, seed = 5) {
  const random = createRandom(seed);
  const rows: {
    recorded: string;
    test: boolean;
    reference: boolean | null;
    reason: string;
    site: string;
    child: number;
  }[] = [];
  for (let site = 0; site < 9; site++) {
    const [prevalence, reading] = [shift * random.normal(), shift * random.normal()];
    for (let child = 0; child < 25 + 6 * site; child++) {
      const m = random.normal() + prevalence;
      const read = m + 0.8 * random.normal() + reading;
      const refers = read >= 1;
      const examined = random.uniform() < (refers ? 0.7 : 0.5);
      rows.push({
        recorded: refers ? "refer" : "pass",
        test: read >= 1.2,
        reference: examined ? m >= 0.7 : null,
        reason: !examined ? "not-examined" : refers ? "referred" : "sampled",
        site: `S${site}`,
        child: rows.length,
      });
    }
  }
  return rows;
}
type Rows = ReturnType<typeof invented>;

const columnsOf = (rows: Rows) => ({
  recorded: rows.map(({ recorded }) => recorded),
  test: rows.map(({ test }) => test),
  reference: rows.map(({ reference }) => reference),
  reason: rows.map(({ reason }) => reason),
});
const sitesOf = (rows: Rows) => ({
  clusters: { subject: rows.map(({ child }) => child), site: rows.map(({ site }) => site) },
});
const options = { seed: 4, replicates: 4000 };
const valuesOf = (rows: Rows) => {
  const found = correctByDecision(columnsOf(rows), { replicates: 1 });
  return measures.map((measure) => {
    const one = found[measure];
    if (one.kind === "undefined") throw new Error(one.reason);
    return one.value;
  });
};

describe("corrected accuracy with sites above children", () => {
  const rows = invented(0.5);
  const bySite = correctByDecision({ ...columnsOf(rows), ...sitesOf(rows) }, options);
  const byChild = correctByDecision(columnsOf(rows), options);
  const sites = [...new Set(rows.map(({ site }) => site))];

  // Slowly: every site, and every row, left out once through the public function.
  const jackknife = (lists: Rows[]) => {
    const values = lists.map(valuesOf);
    return measures.map((_, at) => {
      const logits = values.map((value) => logit(value[at]!));
      const mean = logits.reduce((sum, one) => sum + one, 0) / logits.length;
      const squares = logits.reduce((sum, one) => sum + (one - mean) ** 2, 0);
      return ((logits.length - 1) / logits.length) * squares;
    });
  };
  const ofSites = jackknife(sites.map((left) => rows.filter(({ site }) => site !== left)));
  const ofRows = jackknife(rows.map((_, left) => rows.filter((_, row) => row !== left)));

  it("the widening is the jackknife's, and Student's t on effective sites, by definition", () => {
    measures.forEach((measure, at) => {
      const [one, other] = [bySite[measure], byChild[measure]];
      if (one.kind !== "estimate" || other.kind !== "estimate") throw new Error("no estimate");
      expect(one.value).toBe(other.value);
      expect(one.method).toBe("verification-draws-sites");
      const width = (it: typeof one) => logit(it.high) - logit(it.low);
      // children of each site in the denominator: of prevalence all, of the others at the cells' rates
      const rate = (row: Rows[number]) => {
        const cell = rows.filter(
          ({ recorded, test, reference }) =>
            recorded === row.recorded && test === row.test && reference !== null,
        );
        return cell.filter(({ reference }) => reference).length / cell.length;
      };
      const denominators = sites.map((name) =>
        rows
          .filter(({ site }) => site === name)
          .reduce((sum, row) => {
            const p = rate(row);
            const part = {
              sensitivity: p,
              specificity: 1 - p,
              positivePredictiveValue: row.test ? 1 : 0,
              negativePredictiveValue: row.test ? 0 : 1,
              prevalence: 1,
            }[measure];
            return sum + part;
          }, 0),
      );
      const total = denominators.reduce((sum, size) => sum + size, 0);
      const effective = 1 / denominators.reduce((sum, size) => sum + (size / total) ** 2, 0);
      const design = Math.max(1, ofSites[at]! / ofRows[at]!);
      const times = (Math.sqrt(design) * tQuantile(0.975, effective - 1)) / normalQuantile(0.975);
      expect(width(one) / width(other)).toBeCloseTo(times, 8);
    });
    // here sites differ: that is seen
    expect(ofSites[4]! / ofRows[4]!).toBeGreaterThan(2);
  });

  it("never narrower than by child, also where sites do not differ", () => {
    const alike = invented(0);
    const one = correctByDecision({ ...columnsOf(alike), ...sitesOf(alike) }, options);
    const other = correctByDecision(columnsOf(alike), options);
    for (const measure of measures) {
      expect(one[measure].low).toBeLessThan(other[measure].low!);
      expect(one[measure].high).toBeGreaterThan(other[measure].high!);
    }
    expect([one.sites, other.sites]).toEqual([9, undefined]);
  });

  it("uncorrected rates beside them respect the sites too", () => {
    expect(bySite.naive.sensitivity).toMatchObject({ method: "site-jackknife" });
    expect(byChild.naive.sensitivity).toMatchObject({ method: "wilson" });
  });

  it("two sites are rough, one gives no interval, a child in two is refused", () => {
    const part = (names: string[]) => rows.filter(({ site }) => names.includes(site));
    const of = (some: Rows) => correctByDecision({ ...columnsOf(some), ...sitesOf(some) }, options);
    const three = of(part(["S6", "S7", "S8"]));
    expect(three.prevalence).toMatchObject({ method: "verification-draws-sites-rough" });
    const one = of(part(["S8"]));
    expect(one.prevalence).toMatchObject({
      kind: "undefined",
      reason: "1 sites that count as 1.0: fewer than 2 give no interval",
    });
    const torn = sitesOf(rows);
    torn.clusters.subject[1] = torn.clusters.subject.at(-1)!;
    expect(() => correctByDecision({ ...columnsOf(rows), ...torn })).toThrow(
      "requires each child in one site",
    );
  });

  it("shares of all screened are widened alike", () => {
    const { sorted, bySite: counts } = sortedCells(
      "test",
      { ...columnsOf(rows), ...sitesOf(rows) },
      {},
    );
    const settings = { level: 0.95, ...options };
    const wide = outcomesOfCells(sorted, { ...settings, bySite: counts }, bySite);
    const narrow = outcomesOfCells(sorted, settings, byChild);
    expect(wide.referred.low).toBeLessThan(narrow.referred.low!);
    expect(wide.missed).toMatchObject({ method: "verification-draws-sites" });
  });
});
