/** Values of each criterion, one array a criterion; high is worse. */
export type Measures = { readonly [criterion: string]: ArrayLike<number> };

/** Limits of each criterion, ascending; `Infinity` (or null, as saved) switches the criterion off. */
export type Limits = { readonly [criterion: string]: ArrayLike<number | null> };

export type UnreadablePolicy = "refer" | "pass" | "exclude";
