import { schemaAtFirstUse } from "../platform/index.js";

/** What is read of a notebook of nbformat 4; whatever else it holds stays as it is. */
export const notebookSchema = schemaAtFirstUse((z) => {
  const text = z.union([z.string(), z.array(z.string())]);
  const bundle = z.looseObject({
    data: z.record(z.string(), z.union([text, z.json()])).optional(),
    metadata: z.record(z.string(), z.json()).optional(),
  });
  const output = z.discriminatedUnion("output_type", [
    z.looseObject({
      output_type: z.literal("stream"),
      name: z.enum(["stdout", "stderr"]),
      text,
    }),
    bundle.extend({ output_type: z.literal("display_data") }),
    bundle.extend({ output_type: z.literal("execute_result") }),
    z.looseObject({ output_type: z.literal("error") }),
  ]);
  const cell = z.looseObject({
    cell_type: z.enum(["code", "markdown", "raw"]),
    source: text,
    outputs: z.array(output).optional(),
  });
  return z.looseObject({
    cells: z.array(cell),
    nbformat: z.literal(4).optional(),
    metadata: z.record(z.string(), z.json()).optional(),
  });
});
