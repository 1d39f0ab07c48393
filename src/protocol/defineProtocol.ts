import { schemaLibrary, sha256 } from "../platform/index.js";
import { formerNames, InputError, namedIssues } from "../results/index.js";
import { type Protocol, protocolSchema } from "./schema.js";

/**
 * Checks a study protocol and fills in its stated defaults.
 *
 * Unknown keys are errors, so that a misspelt choice is not silently ignored; a "note" is allowed
 * beside each choice and has no effect.
 *
 * @param json the protocol as read from a JSON file
 * @throws with one line a mistake, each with its path
 *
 * @example
 * import { readFileSync } from "node:fs";
 * const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
 * protocol.level // => 0.95
 */
export function defineProtocol(json: unknown): Protocol {
  const parsed = protocolSchema().safeParse(formerNames("defineProtocol", json, "undecidable"));
  if (parsed.success) return parsed.data;
  const mistakes = parsed.error.issues
    .flatMap((issue) => namedIssues(issue, protocolJsonSchema))
    .map(({ path, message }) => `${pathText(path)}: ${message}`);
  throw new InputError(`defineProtocol requires a valid protocol, got\n  ${mistakes.join("\n  ")}`);
}

/**
 * SHA-256 of the choices alone: key order, spacing and notes do not change it.
 *
 * @param protocol from `defineProtocol`
 * @returns 64 hexadecimal digits
 *
 * @example
 * import { readFileSync } from "node:fs";
 * const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
 * protocolHash({ ...protocol, seed: 1 }) === protocolHash({ ...protocol, seed: 2 }) // => false
 * protocolHash({ ...protocol, note: "said beside the choices" }) === protocolHash(protocol) // => true
 */
export function protocolHash(protocol: Protocol): string {
  return sha256(canonical(protocol));
}

/**
 * JSON Schema of a protocol, for editors that complete and check while one types.
 *
 * @example
 * Object.keys(protocolJsonSchema().properties).includes("question") // => true
 */
export function protocolJsonSchema(): { readonly [key: string]: unknown } {
  return schemaLibrary().toJSONSchema(protocolSchema(), { io: "input", unrepresentable: "any" });
}

function pathText(path: readonly PropertyKey[]): string {
  if (path.length === 0) return "(the whole file)";
  return path
    .map((part) => (typeof part === "number" ? `[${part}]` : `.${String(part)}`))
    .join("")
    .replace(/^\./, "");
}

function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (value !== null && typeof value === "object") {
    const entries = Object.entries(value).filter(
      ([key, item]) => key !== "note" && key !== "$schema" && item !== undefined,
    );
    entries.sort(([a], [b]) => (a < b ? -1 : 1));
    return `{${entries.map(([key, item]) => `${JSON.stringify(key)}:${canonical(item)}`).join(",")}}`;
  }
  return JSON.stringify(value);
}
