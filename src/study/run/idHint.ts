import type { Findings, LoudFault, Readings } from "../../cohort/index.js";
import { idMatches, matchWords } from "../../prepare/index.js";

/**
 * Whether more children of the two files would match if ids were compared in another way, such as without
 * leading zeros; null where nothing would be gained. Nothing is changed by it.
 */
export function idHint(
  readings: Readings,
  findings: Findings,
  accepted: Readonly<Record<string, string>> = {},
): LoudFault | null {
  if (accepted["ids-as-written"] !== undefined) return null;
  const found = idMatches([idsOf(readings), idsOf(findings)]);
  const [asWritten] = found.matches;
  const gained = found.best.matched - asWritten.matched;
  if (gained <= 0) return null;
  const eyes = Math.round((gained / found.children[1]) * findings.n);
  return {
    kind: "loud-fault",
    rule: "ids-as-written",
    eyes,
    of: findings.n,
    message: `ids of the two files match in part only: ${matchWords(found)}; meridional prepare gives both files one number`,
  };
}

/** The subjects that have a row; those of rejected rows alone are nobody. */
function idsOf({ n, subject }: Readings | Findings): string[] {
  const has = new Uint8Array(subject.labels.length);
  for (let row = 0; row < n; row++) has[subject.codes[row]] = 1;
  return subject.labels.filter((_, code) => has[code] === 1);
}
