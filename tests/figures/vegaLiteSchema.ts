import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { Ajv } from "ajv";

// The schema that vega-lite publishes with its build. Its parts become functions of their own: written into each
// other they take four times as long to compile.
const path = createRequire(import.meta.url).resolve("vega-lite/vega-lite-schema.json");
const options = {
  strict: false,
  validateFormats: false,
  inlineRefs: false,
  code: { optimize: false },
};

/** Whether a specification is valid; if not, its `errors` say why. */
export const validVegaLite = new Ajv(options).compile(JSON.parse(readFileSync(path, "utf8")));
