export interface Mistake {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}
