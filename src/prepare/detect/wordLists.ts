// The words that files use for one thing, and what they stand for; common practice, no source.
import type { Eye, MeasurementStatus } from "../../cohort/index.js";

/** A word without capitals, accents and signs around it. */
function plain(text: string): string {
  return text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[_-]+/g, " ")
    .replace(/^[\s.([]+|[\s.)\]]+$/g, "")
    .replace(/\s+/g, " ")
    .trim();
}

type Rules<Word extends string> = readonly (readonly [RegExp, Word])[];

function reader<Word extends string>(rules: Rules<Word>): (text: string) => Word | null {
  return (text) => {
    const word = plain(text);
    return rules.find(([pattern]) => pattern.test(word))?.[1] ?? null;
  };
}

export const eyeOf = reader<Eye>([
  [
    /^(od|r|rt|re|ra|right|rechts|droit|droite|dcho|derecho|direito|destro|dx|right eye|r eye|eye r)$/,
    "right",
  ],
  [
    /^(os|ol|og|oi|oe|l|lt|le|la|left|links|gauche|izq|izquierdo|esquerdo|sinistro|sx|left eye|l eye|eye l)$/,
    "left",
  ],
]);

const notKnown =
  /^(u|uk|nk|unk|unknown|\?|n ?\/? ?a|na|not (known|recorded|assessed|tested|stated)|unclear|missing|unbekannt|inconnu)$/;
const no =
  /^(n|no|0|false|f|none|absent|nein|non|nao|neg|negative|nil|not (given|seen|needed|ordered|prescribed|issued)|keine?)$/;
const yes =
  /^(y|yes|1|true|t|present|ja|oui|si|sim|pos|positive|given|seen|needed|ordered|prescribed|issued|x)$/;

export const yesNoOf = reader<"yes" | "no" | "unknown">([
  [notKnown, "unknown"],
  [no, "no"],
  [yes, "yes"],
]);

export const strabismusOf = reader<"yes" | "no" | "unknown">([
  [notKnown, "unknown"],
  [/^(no|ortho|straight|none|without)|phori|^n$|^0$|^false$|^absent$/, "no"],
  [/tropia|squint|strab|^(et|xt|ht)$/, "yes"],
  [yes, "yes"],
]);

export const opacityOf = reader<"yes" | "no" | "unknown">([
  [notKnown, "unknown"],
  [/^(clear|normal|quiet)/, "no"],
  [no, "no"],
  [/cataract|opac|haz/, "yes"],
  [yes, "yes"],
]);

export const cycloplegiaOf = reader<"none" | "full" | "inadequate" | "unknown">([
  [notKnown, "unknown"],
  [/inadequate|insufficient|incomplete|partial|poor/, "inadequate"],
  [no, "none"],
  [/^(no|not|without|un|non|dry|ohne|sans)\b|refus|declin|undilated|uncyclo|noncyclo/, "none"],
  [yes, "full"],
  [
    /^(full|adequate|complete|good|wet|cyclo|dilated|drops|with)|cyclopent|atrop|cycloplegi|in drops/,
    "full",
  ],
]);

export const correctionOf = reader<"none" | "glasses" | "contact-lenses" | "unknown">([
  [notKnown, "unknown"],
  [/^(no|none|not|unaided|without|sc|uncorrected|n|0|false|ohne|sans)\b/, "none"],
  [/contact|^cls?$|lenses/, "contact-lenses"],
  [/glass|spec|^(cc|y|yes|1|true|with|aided|worn|gls|own rx)\b|brille|lunettes/, "glasses"],
]);

export const methodOf = reader<"retinoscopy" | "autorefraction" | "subjective" | "unknown">([
  [/ret|skia/, "retinoscopy"],
  [/auto|^ar$|objective/, "autorefraction"],
  [/subj|manifest/, "subjective"],
  [notKnown, "unknown"],
]);

/** What a programme decided, by its word alone; yes and no say it under the column's name only. */
export const decisionOf = reader<"refer" | "pass" | "unable" | "unknown">([
  [notKnown, "unknown"],
  [
    /^(not?|non|un) ?(refer|at risk|risk)|no action|no concern|discharge|unauffallig|^(ras|apto|apta|rien a signaler|ohne befund|o ?b|sin hallazgos)$/,
    "pass",
  ],
  [
    /unable|could not|incomplete|not (tested|screened|done|attempted)|no result|inconclusive/,
    "unable",
  ],
  [
    /refer|fail|at risk|abnormal|positive|auffallig|uberw|adress|orient(er|e$)|deriv|remit|encaminh|^(ref|rfr|rfd|no apt[oa])$|^(see|needs?|complete|full)\b.*(exam|optic|optom|doctor|specialist|eye)/,
    "refer",
  ],
  [/pass|normal|within|negative|^ok$/, "pass"],
]);

export const ageUnitOf = reader<"months" | "years">([
  [/^(m|mo|mos|mth|mths|mon|months?|monate?|mois|mes|meses)$/, "months"],
  [/^(y|yr|yrs|j|a|years?|jahre?|ans?|anos?)$/, "years"],
]);

export const attemptOf = reader<"first" | "final">([
  [/^(first|1st|initial|original)/, "first"],
  [/^(final|last|latest|best|repeat|2nd|second)/, "final"],
]);

export const reasonOf = reader<"referred" | "sampled" | "self-presented" | "unknown">([
  [/refer|screen fail|failed screen|positive screen|encaminh|deriv|adress|uberw/, "referred"],
  [
    /sampl|random|audit|control|validation|^every\b|\b\w+(th|nd|rd) child\b|stichprobe|muestra|amostra|echantillon/,
    "sampled",
  ],
  [/self|parent|walk|own wish|concern/, "self-presented"],
  [notKnown, "unknown"],
]);

export const statusOf = reader<MeasurementStatus>([
  [
    /^(over|above|high|hi|too high|more than|greater)\b|^(>|\+{2,})|over ?range|out of range ?(\+|high|above)|beyond \+|^oor ?(\+|h)/,
    "over-range",
  ],
  [
    /^(under|below|low|lo|too low|less than)\b|^<|under ?range|out of range ?(-|low|below)|beyond -|^oor ?(-|l)/,
    "under-range",
  ],
  [
    /not (attempted|done|tested|tried|performed|measured|taken|screened)|\babsent\b|\brefus|\bdeclin|^nd$|\bskipped\b/,
    "not-attempted",
  ],
  [
    /no (read|result|value|measure|signal|reflex)|not read|\bunread|\bunable\b|unsuccess|\bfail(ed|ure)?\b|error|^err\b|^nr$|^n\/r$|could not|cannot|uncooperat|non ?coop|unreliable|invalid|^ut[or]$|no target|not obtained|small pupil|\bbad\b/,
    "unreadable",
  ],
  [
    /^(ok|okay|measured|valid|complete|completed|read|success|successful|good|normal|done|1|yes|y)$/,
    "measured",
  ],
]);

/** What files write in an empty cell. */
export function isBlankMark(text: string): boolean {
  return /^([-–—.*_?/]+|n\/?a|nan|null|none|nil|missing|#n\/a|blank|empty|\(blank\)|nd)$/i.test(
    text.trim(),
  );
}

export const sexWord =
  /^(m|f|male|female|boy|girl|b|g|w|h|man|woman|masc\w*|fem\w*|hombre|mujer|nino|nina|junge|madchen|maedchen|garcon|fille|homme|femme|menino|menina|mannlich|u|unknown|x|maennlich|weiblich|0|1|2)$/;
export const decisionWord =
  /refer|pass|fail|rescreen|re screen|normal|abnormal|within|risk|ok|\bunable\b|positive|negative|monitor|retest|recall|discharge|treat|no action|action|complete|incomplete|follow/;

export const wordsAlike = plain;
