/** What a method or an analysis stands for, and where it comes from. */
export interface Use {
  readonly standsFor: string;
  /** Keys of the table of sources. */
  readonly sources: readonly string[];
}

/** The method that a result names, in results of some kinds where the name alone does not say enough. */
export interface MethodUse extends Use {
  readonly methods: readonly string[];
  readonly kinds?: readonly string[];
}

/** An analysis, known by the kind of its result. */
export interface AnalysisUse extends Use {
  readonly kinds: readonly string[];
}

/** A method that no paper need be cited for, and why. */
export interface WithoutSource {
  readonly methods: readonly string[];
  readonly reason: string;
}
