/** What of a result says how it was made. */
export interface Found {
  /** Methods, each with the kinds of the results that name it; `analysis` is the nearest. */
  readonly methods: ReadonlyMap<string, { readonly method: string; readonly kind: string }>;
  readonly kinds: ReadonlySet<string>;
  /** Texts that may name a source: notes, paragraphs, cells. */
  readonly texts: ReadonlySet<string>;
  /** Published definitions, as their rules cite them. */
  readonly definitions: ReadonlySet<string>;
}

/** Results that are no analyses of their own: a method in them is that of the result around them. */
const parts = new Set(["estimate", "one-sided", "undefined"]);
/** What they hold is data, a wish or drawn: "method" is how a finding was made, or what a plan asks for. */
const settings = new Set([
  "columns",
  "figure",
  "findings",
  "measurement-pairs",
  "protocol",
  "readings",
]);
/** Whether a member names a method: a rule's criterion, such as "myopia", does not. */
const namesMethod = (key: string, kind: string): boolean =>
  key === "method" || key === "interval" || (key === "criterion" && kind === "threshold-choice");

/** Looks through a result, arrays and whatever lies in it. */
export function foundIn(result: unknown): Found {
  const methods = new Map<string, { method: string; kind: string }>();
  const kinds = new Set<string>();
  const texts = new Set<string>();
  const definitions = new Set<string>();
  const look = (value: unknown, key: string, kind: string): void => {
    if (typeof value === "string") {
      if (namesMethod(key, kind)) {
        for (const method of methodsIn(value)) methods.set(`${kind} ${method}`, { method, kind });
      } else if (key === "citation") definitions.add(value);
      else if (key !== "kind") texts.add(value);
      return;
    }
    if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return;
    if (Array.isArray(value)) {
      for (const one of value) look(one, key, kind);
      return;
    }
    const own = "kind" in value && typeof value.kind === "string" ? value.kind : null;
    if (own !== null && settings.has(own)) return;
    if (own !== null) kinds.add(own);
    const nearest = own === null || parts.has(own) ? kind : own;
    for (const [name, one] of Object.entries(value)) look(one, name, nearest);
  };
  look(result, "", "");
  return { methods, kinds, texts, definitions };
}

/** "mover-wilson" is the one made from the other; "wilson at 0.9" is "wilson". */
function methodsIn(text: string): string[] {
  const method = text.replace(/ at [\d.]+$/, "");
  const base = /^mover-(wilson.*|clopper-pearson|agresti-coull|jeffreys|wald)$/.exec(method)?.[1];
  return base === undefined ? [method] : ["mover", base];
}
