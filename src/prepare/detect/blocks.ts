import type { DetectedColumn } from "./detected.js";
import { blockKind, measuredRoles } from "./measurementKind.js";
import type { Role } from "./roles.js";

const roleWords =
  /\b(d?sph\w*|sf|esf\w*|d?cyl\w*|zyl\w*|cil\w*|ax|axis|axe|achs\w*|eje|axes|rx|refraction|refr|prescription|se|mse|seqv?|equiv\w*|eq|d|dpt|dptr|diopt\w*|deg|degrees|power|pwr|value|val|mm|ds|dc|s|c|a|x|eye|va|acuity|conf\w*|score|pupil|size|diam\w*|status|logmar|snellen|in|of|the)\b/g;
/** What a measurement has one of. */
const centre: ReadonlySet<Role> = new Set(["sphere", "prescription", "equivalent"] as Role[]);

/**
 * The words for each quantity in the language of the file: what all columns of one have in their names, and none of
 * another ("eixo" in every axis), unless they speak of a screening or of an exam.
 */
function ownWords(powers: readonly DetectedColumn[]): Map<Role, ReadonlySet<string>> {
  const roles = new Set(powers.map(({ is }) => is));
  const wordsOf = ({ facts }: DetectedColumn) => facts.bare.split(" ");
  const found = new Map<Role, ReadonlySet<string>>();
  if (roles.size < 2) return found;
  for (const role of roles) {
    const own = powers.filter(({ is }) => is === role);
    const others = new Set(powers.filter(({ is }) => is !== role).flatMap(wordsOf));
    const common = wordsOf(own[0]).filter(
      (word) =>
        own.every((one) => wordsOf(one).includes(word)) &&
        !others.has(word) &&
        blockKind(word) === null,
    );
    found.set(role, new Set(common));
  }
  return found;
}

/** The words that are left of a name when those for the eye and the quantity are gone. */
export function withBlocks(columns: readonly DetectedColumn[]): DetectedColumn[] {
  const powers = columns.filter(({ is }) => measuredRoles.has(is));
  const quantities = ownWords(powers);
  const rest = ({ is, facts }: DetectedColumn) =>
    facts.bare
      .replace(roleWords, " ")
      .split(/\s+/)
      .filter((word) => word !== "" && quantities.get(is)?.has(word) !== true)
      .join(" ");
  const named = new Map(powers.map((column) => [column, column.block || rest(column)]));
  const joined = new Map(powers.map((column) => [column, blockOf(column)]));
  const blocks = new Set(joined.values());
  return columns.map((column) => {
    if (column.block !== "") return column;
    const own = joined.get(column) ?? rest(column);
    return { ...column, block: blocks.size > 1 && blocks.has(own) ? own : "" };
  });

  /** A cylinder or an axis whose words no sphere of the eye has is of the one that lacks it. */
  function blockOf(column: DetectedColumn): string {
    const own = named.get(column) ?? "";
    const sameEye = powers.filter(({ eye }) => eye === column.eye);
    const hasCentre = (block: string) =>
      sameEye.some((one) => centre.has(one.is) && named.get(one) === block);
    if (centre.has(column.is) || hasCentre(own)) return own;
    const lacking = [...new Set(named.values())].filter(
      (block) =>
        hasCentre(block) &&
        !sameEye.some((one) => one.is === column.is && named.get(one) === block),
    );
    return lacking.length === 1 ? lacking[0] : own;
  }
}
