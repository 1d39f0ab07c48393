const eye = { choose: "directionOfDifference" };

/** A difference of the eyes that counts only where it is one of hyperopia. */
export function inHyperopia(quantity: unknown, relation: ">" | ">=", limit: number): object {
  return {
    allOf: [
      { criterion: "anisometropia", quantity, relation, limit },
      { criterion: "hyperopia", quantity, eye, relation: ">", limit: 0 },
    ],
  };
}

/** A difference of the eyes that counts only where it is one of myopia. */
export function inMyopia(quantity: unknown, relation: ">" | ">=", limit: number): object {
  return {
    allOf: [
      { criterion: "anisometropia", quantity, relation, limit },
      { criterion: "myopia", quantity, eye, relation: "<", limit: 0 },
    ],
  };
}
