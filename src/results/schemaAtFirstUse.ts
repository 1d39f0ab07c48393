import { createRequire } from "node:module";
import type { z } from "zod";

/** The schema library, loaded when it is first asked for. */
export function schemaLibrary(): typeof z {
  return createRequire(import.meta.url)("zod").z;
}

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
