/** A number estimated from data, with the interval that goes with it. */
export interface Estimate {
  readonly kind: "estimate";
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Level of the interval, such as 0.95. */
  readonly level: number;
  /** How the interval was made, such as "wilson". */
  readonly method: string;
  /** Standard error, where the method has one. */
  readonly se?: number;
}

/**
 * What could not be estimated, and why. The absent members are typed, so that `result.value`
 * compiles in a loosely typed notebook cell; strict users look at `kind` first.
 */
export interface Undefined {
  readonly kind: "undefined";
  readonly reason: string;
  readonly value?: undefined;
  /** A lower limit, where the point itself is infinite, or of an interval that has no point. */
  readonly low?: number;
  /** The upper limit of an interval that has no point. */
  readonly high?: number;
  /** Level and method of that interval. */
  readonly level?: number;
  readonly method?: string;
  readonly se?: undefined;
}

/**
 * A number whose interval is closed on one side only: the other end lies beyond what these data
 * reach. `level` is that of the closed side.
 */
export interface OneSided {
  readonly kind: "one-sided";
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly level: number;
  readonly method: string;
  /** Why one end is missing. */
  readonly reason: string;
}

/** Builds an `Undefined` with its reason, and what is known all the same. */
export function undefinedBecause(
  reason: string,
  parts: Pick<Undefined, "low" | "high" | "level" | "method"> = {},
): Undefined {
  const known = Object.entries(parts).filter(([, part]) => part !== undefined);
  return { kind: "undefined", reason, ...Object.fromEntries(known) };
}

/** `offset + factor * estimate`, such as a share per 1000; limits of one without a value stay. */
export function linearEstimate<Of extends Estimate | Undefined>(
  estimate: Of,
  factor: number,
  offset = 0,
): Of {
  const of = (value: number | undefined) => value !== undefined && offset + factor * value;
  const [low, high] = [of(estimate.low), of(estimate.high)];
  const limits = factor < 0 ? { low: high, high: low } : { low, high };
  const { se } = estimate;
  const changed = {
    ...limits,
    value: of(estimate.value),
    se: se !== undefined && Math.abs(factor) * se,
  };
  return {
    ...estimate,
    ...Object.fromEntries(Object.entries(changed).filter(([, value]) => value !== false)),
  };
}
