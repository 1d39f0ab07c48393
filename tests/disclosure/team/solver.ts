import loadHighs from "highs";

/** Whole numbers in ranges, and sums of them that lie between two ends. */
export class Puzzle {
  readonly ranges = new Map<string, readonly [number, number]>();
  /** What is true of each, where it is known here. */
  readonly truth = new Map<string, number>();
  readonly sums: {
    readonly terms: readonly (readonly [name: string, times: number])[];
    readonly low: number;
    readonly high: number;
    readonly said: string;
  }[] = [];

  count(name: string, [low, high]: readonly [number, number], truth?: number): string {
    const before = this.ranges.get(name) ?? [0, Number.POSITIVE_INFINITY];
    this.ranges.set(name, [Math.max(low, before[0]), Math.min(high, before[1])]);
    if (truth !== undefined) this.truth.set(name, truth);
    return name;
  }

  between(
    terms: readonly (readonly [string, number])[],
    [low, high]: readonly [number, number],
    said: string,
  ): void {
    const each = new Map<string, number>();
    for (const [name, times] of terms) {
      if (!this.ranges.has(name)) throw new Error(`no count ${name}`);
      each.set(name, (each.get(name) ?? 0) + times);
    }
    this.sums.push({ terms: [...each].filter(([, times]) => times !== 0), low, high, said });
  }

  makeUp(whole: string, parts: readonly string[], said: string): void {
    this.between([[whole, -1], ...parts.map((part) => [part, 1] as const)], [0, 0], said);
  }

  /** part / whole lies between two shares, each in hundredths or thousandths of `scale`. */
  share(
    part: readonly (readonly [string, number])[],
    whole: readonly (readonly [string, number])[],
    [low, high]: readonly [number, number],
    scale: number,
    said: string,
  ): void {
    const by = (terms: typeof part, factor: number) =>
      terms.map(([name, times]) => [name, factor * times] as const);
    const open = Number.POSITIVE_INFINITY;
    this.between([...by(part, scale), ...by(whole, -low)], [0, open], `${said}, least`);
    this.between([...by(part, scale), ...by(whole, -high)], [-open, 0], `${said}, most`);
  }

  /** Sums that the truth does not fit: a mistake of the attacker's. */
  mistakes(): string[] {
    const out = [...this.truth].filter(([name, value]) => {
      const [low, high] = this.ranges.get(name)!;
      return value < low || value > high;
    });
    const wrong = this.sums.filter(({ terms, low, high }) => {
      if (!terms.every(([name]) => this.truth.has(name))) return false;
      const sum = terms.reduce((all, [name, times]) => all + times * this.truth.get(name)!, 0);
      return sum < low - 1e-6 || sum > high + 1e-6;
    });
    return [...out.map(([name]) => name), ...wrong.map(({ said }) => said)];
  }
}

// its types are those of CommonJS, what is loaded is a module
const highs = await (loadHighs as unknown as typeof loadHighs.default)();

/** The least and the most of a sum over all whole numbers that fit; exact (branch and cut, no gap). */
export class Solver {
  readonly #names: Map<string, string>;
  readonly #rest: string;

  constructor({ ranges, sums }: Puzzle) {
    this.#names = new Map([...ranges.keys()].map((name, at) => [name, `x${at}`]));
    const of = (terms: readonly (readonly [string, number])[]) =>
      terms
        .map(
          ([name, times]) => `${times < 0 ? "-" : "+"} ${Math.abs(times)} ${this.#names.get(name)}`,
        )
        .join(" ");
    const rows = sums
      .filter(({ terms }) => terms.length > 0)
      .flatMap(({ terms, low, high }, at) =>
        low === high
          ? [` r${at}: ${of(terms)} = ${low}`]
          : [
              ...(low === Number.NEGATIVE_INFINITY ? [] : [` l${at}: ${of(terms)} >= ${low}`]),
              ...(high === Number.POSITIVE_INFINITY ? [] : [` h${at}: ${of(terms)} <= ${high}`]),
            ],
      );
    const bounds = [...ranges].map(([name, [low, high]]) =>
      high === Number.POSITIVE_INFINITY
        ? ` ${this.#names.get(name)} >= ${low}`
        : ` ${low} <= ${this.#names.get(name)} <= ${high}`,
    );
    this.#rest = [
      "Subject To",
      ...rows,
      "Bounds",
      ...bounds,
      "General",
      ` ${[...this.#names.values()].join(" ")}`,
      "End",
    ].join("\n");
  }

  /** The numbers at which a sum is least, or most. */
  extreme(towards: "Minimize" | "Maximize", names: readonly string[]): ReadonlyMap<string, number> {
    const aim = names.map((name) => `+ ${this.#names.get(name)}`).join(" ");
    const found = highs.solve(`${towards}\n aim: ${aim}\n${this.#rest}`, {
      output_flag: false,
      mip_rel_gap: 0,
      mip_abs_gap: 0,
      time_limit: 60,
    });
    if (found.Status !== "Optimal") throw new Error(`the solver ends with ${found.Status}`);
    const columns = found.Columns as Record<string, { readonly Primal: number }>;
    return new Map(
      [...this.#names].map(([name, own]) => [name, Math.round(columns[own]?.Primal ?? 0)]),
    );
  }

  /** The least and the most of each count. Those that a solution for all has at 0 and 10 need none of their own. */
  ranges(names: readonly string[], least: number, most: number): Map<string, [number, number]> {
    const seen = new Map<string, [number, number]>();
    const see = (values: ReadonlyMap<string, number>) => {
      for (const name of names) {
        const value = values.get(name)!;
        const [low, high] = seen.get(name) ?? [value, value];
        seen.set(name, [Math.min(low, value), Math.max(high, value)]);
      }
    };
    if (names.length === 0) return seen;
    for (const towards of ["Minimize", "Maximize"] as const) see(this.extreme(towards, names));
    for (const name of names) {
      if (seen.get(name)![0] > least) see(this.extreme("Minimize", [name]));
      if (seen.get(name)![1] < most) see(this.extreme("Maximize", [name]));
    }
    return seen;
  }
}
