import type { z } from "zod";
import { schemaLibrary } from "./node/libraries.js";

export { schemaLibrary };

/**
 * A schema that is built when it is first asked for: importing this package stays quick for those
 * who check nothing.
 */
export function schemaAtFirstUse<Schema>(build: (library: typeof z) => Schema): () => Schema {
  let schema: Schema | undefined;
  return () => {
    schema ??= build(schemaLibrary());
    return schema;
  };
}
