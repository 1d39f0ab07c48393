/** Who will see a result: the public sees no mark for one eye, and no small count. */
export type Audience = "journal" | "public";

/** What says who may see it; where nothing is said, the public. */
export interface ForAudience {
  /** "journal" where the data are openly published or invented, as their mapping says; goes with what is made of them. */
  readonly audience?: Audience;
}

/** What is made of all of these is for the strictest of their audiences; nothing where none says one. */
export function jointAudience(...sources: readonly ForAudience[]): ForAudience {
  const said = sources.map(({ audience }) => audience);
  if (said.every((audience) => audience === undefined)) return {};
  return { audience: said.every((audience) => audience === "journal") ? "journal" : "public" };
}

/** Who sees a figure or table: as told, else the stricter of what is said of its rows, else the public. */
export function shownTo(
  told: Audience | undefined,
  ...rows: readonly (object | undefined)[]
): Audience {
  const said = rows.map((one) => (one as ForAudience | undefined)?.audience);
  return told ?? (said.includes("public") ? "public" : (said.find(Boolean) ?? "public"));
}
