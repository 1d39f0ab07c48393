import { schemaAtFirstUse } from "../../platform/index.js";

/** Whose counts a public report shows: everybody in the files, the eligible, the compared. */
export const steps = ["known", "eligible", "compared"] as const;
export type Step = (typeof steps)[number];

/** Which children a public report is about; kept in its confidential folder as `children.json`. */
export interface ReleasedChildren {
  readonly kind: "released-children";
  readonly version: 1;
  readonly protocolHash: string;
  /** Counts below this one are hidden. */
  readonly fewerThan: number;
  /** Hashes of the study numbers, in order of the hash. Whoever guesses a number can look it up here. */
  readonly children: { readonly [Name in Step]: readonly string[] };
}

const releasedSchema = schemaAtFirstUse((z) => {
  const hashes = z.array(z.string());
  return z.object({
    kind: z.literal("released-children"),
    version: z.literal(1),
    protocolHash: z.string(),
    fewerThan: z.number(),
    children: z.object({ known: hashes, eligible: hashes, compared: hashes }),
  });
});

/** Whether JSON says which children a release is about, in this version's form. */
export function readReleased(json: unknown): ReleasedChildren | undefined {
  const parsed = releasedSchema().safeParse(json);
  return parsed.success ? parsed.data : undefined;
}
