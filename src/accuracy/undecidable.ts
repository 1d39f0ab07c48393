import { InputError } from "../results/index.js";
import { type TestColumn, testCodes, type UndecidablePolicy } from "../rows/index.js";

/** Codes of a test under a policy: 1 positive, 0 negative, 2 left out. */
export function decidedCodes(
  caller: string,
  name: string,
  column: TestColumn,
  policy: UndecidablePolicy | undefined,
): Uint8Array {
  if (policy !== undefined && !policies.includes(policy)) {
    throw new InputError(`${caller} requires undecidable ${policies.join(", ")}, got ${policy}`);
  }
  const codes = testCodes(caller, name, column);
  if (policy === undefined && codes.includes(2)) {
    throw new InputError(
      `${caller} requires undecidable "refer", "pass" or "exclude" when ${name} holds "undecidable", got none`,
    );
  }
  if (policy === undefined || policy === "exclude") return codes;
  return codes.map((code) => (code === 2 ? Number(policy === "refer") : code));
}

const policies: readonly UndecidablePolicy[] = ["refer", "pass", "exclude"];
