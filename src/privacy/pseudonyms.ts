import { hmacSha256, secretInteger } from "../platform/index.js";
import { InputError } from "../results/index.js";

/**
 * Random study numbers for subjects, without repetition and in no relation to the subjects' order.
 * Numbers in `known` are kept, so that several files of one study share a key.
 *
 * @param subjects ids, one a row
 * @param known numbers given before, by subject
 * @throws InputError when a known number is used for two subjects
 *
 * @example
 * randomPseudonyms(["a", "b"], new Map([["a", "P000001"]])).get("a") // => "P000001"
 */
export function randomPseudonyms(
  subjects: readonly string[],
  known: ReadonlyMap<string, string> = new Map(),
): Map<string, string> {
  const given = new Map(known);
  const used = new Set(known.values());
  if (used.size !== known.size) {
    throw new InputError("randomPseudonyms requires one number a subject, got one for several");
  }
  const digits = Math.max(6, String(10 * (subjects.length + known.size)).length);
  for (const subject of subjects) {
    if (given.has(subject)) continue;
    let number = "";
    do number = `P${String(secretInteger(10 ** digits)).padStart(digits, "0")}`;
    while (used.has(number));
    used.add(number);
    given.set(subject, number);
  }
  return given;
}

/**
 * Keyed hashes of subjects (HMAC-SHA-256, 64 bits of it): pseudonymised, derived from the record
 * number. Whoever has the secret can find a subject again, so the secret is kept like a key table.
 *
 * @param subjects ids, one a row
 * @param secret kept apart from the data: who has it can make the pseudonyms again
 * @throws InputError for a secret shorter than 16 characters, or two subjects with one hash
 *
 * @example
 * hashedPseudonyms(["a"], "sixteen letters!").get("a") // => "a5e561d020e38ace"
 */
export function hashedPseudonyms(subjects: readonly string[], secret: string): Map<string, string> {
  if (secret.length < 16) {
    throw new InputError(
      `hashedPseudonyms requires a secret of at least 16 characters, got ${secret.length}`,
    );
  }
  const given = new Map(
    subjects.map((subject) => [subject, hmacSha256(secret, subject).slice(0, 16)]),
  );
  if (new Set(given.values()).size !== given.size) {
    throw new InputError("hashedPseudonyms requires another secret, got one hash for two subjects");
  }
  return given;
}
