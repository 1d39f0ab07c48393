// The words that files use for one thing, and what they stand for; common practice, no source.
import type { Eye, MeasurementStatus } from "../../cohort/index.js";
import { plainLetters } from "./headerWords.js";

/** A word without capitals, accents and signs around it. */
function plain(text: string): string {
  return text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[æœøßłıđð]/g, (letter) => plainLetters[letter])
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
    /^(od|r|rt|re|ra|right|rechts|droit|droite|dcho|derecho|direito|destro|dx|right eye|r eye|eye r|rechtes|rechter|derecha|direita|destra|dch|hojre|hoyre|hoger|prawe|prawy|sag|kanan|oikea|oko prawe|op)$/,
    "right",
  ],
  [
    /^(os|ol|og|oi|oe|l|lt|le|la|left|links|gauche|izq|izquierdo|esquerdo|sinistro|sx|left eye|l eye|eye l|linkes|linker|izquierda|esquerda|esq|sinistra|venstre|vanster|lewe|lewy|sol|kiri|vasen|oko lewe)$/,
    "left",
  ],
]);

/** Letters that stand for an eye beside their fellow only, right first. */
const eyePairs = [
  ["d", "i"],
  ["d", "e"],
  ["d", "g"],
  ["d", "s"],
  ["h", "v"],
  ["p", "l"],
] as const;

/** How a column of words for the eyes is read: letters by each other. */
export function eyeReader(cells: ReadonlyMap<string, number>): (text: string) => Eye | null {
  const words = new Set([...cells.keys()].filter((text) => !isBlankMark(text)).map(plain));
  const pair = eyePairs.find((one) => words.size === 2 && one.every((word) => words.has(word)));
  if (pair === undefined) return eyeOf;
  return (text) => {
    const place = (pair as readonly string[]).indexOf(plain(text));
    return place < 0 ? null : place === 0 ? "right" : "left";
  };
}

const notKnown =
  /^(u|uk|nk|unk|unknown|\?|n ?\/? ?a|na|not (known|recorded|assessed|tested|stated)|unclear|missing|unbekannt|inconnu|desconocido|desconhecido|sconosciuto|onbekend|ukjent|ukendt|okand|nieznan\w*|bilinmiyor)$/;
const no =
  /^(n|no|0|false|f|none|absent|nein|non|nao|neg|negative|nil|not (given|seen|needed|ordered|prescribed|issued)|keine?|nee|nej|nei|nie|geen|ness?un[oa]?|ningun[oa]?|nenhum|aucun|hayir|yok|tidak|bukan|ei|brak)$/;
const yes =
  /^(y|yes|1|true|t|present|j|ja|oui|si|sim|tak|s|pos|positive|given|seen|needed|ordered|prescribed|issued|x|evet|var|ya|ada|kylla)$/;

export const yesNoOf = reader<"yes" | "no" | "unknown">([
  [notKnown, "unknown"],
  [no, "no"],
  [yes, "yes"],
]);

export const strabismusOf = reader<"yes" | "no" | "unknown">([
  [notKnown, "unknown"],
  [no, "no"],
  [
    /^(no|orth?o|straight|none|without|aucun|parallel|gerade|recto|reto|dritto|brak|yok|tidak)|[fp]h?ori/,
    "no",
  ],
  [/tropi[aek]|squint|strab|^zez|juling|kayma|^(et|xt|ht)$/, "yes"],
  // "s" could be straight as well
  [new RegExp(`^(?!s$)(?:${yes.source})`), "yes"],
]);

export const opacityOf = reader<"yes" | "no" | "unknown">([
  [notKnown, "unknown"],
  [
    /^(clear|normal|quiet|klar|claro|clair|transp|chiar|trasp|helder|przejrz|berrak|saydam|jernih)/,
    "no",
  ],
  [no, "no"],
  [/cataract|opac|haz/, "yes"],
  [yes, "yes"],
]);

export const cycloplegiaOf = reader<"none" | "full" | "inadequate" | "unknown">([
  [notKnown, "unknown"],
  [/inadequate|insufficient|incomplete|partial|poor/, "inadequate"],
  [no, "none"],
  [
    /^(no|not|without|un|non|dry|ohne|sans|sin|sem|senza|zonder|uden|utan|uten|bez|tanpa)\b|refus|declin|undilated|uncyclo|noncyclo/,
    "none",
  ],
  [yes, "full"],
  [
    /^(full|adequate|complete|good|wet|cyclo|dilated|drops)|^(with|con|com|avec|mit|met|med|dengan)\b|[csz]i?y?[ck]k?lopent|atrop|tropicam|[csz]i?y?[ck]k?lopl|in drops|\b(c|t|a|cp|tp) ?\d?[.,]?\d* ?%|\b(cyc|tro|atr|cyclo|trop|atrop|pento|cpl|hom|homatrop)\b/,
    "full",
  ],
]);

export const correctionOf = reader<"none" | "glasses" | "contact-lenses" | "unknown">([
  [notKnown, "unknown"],
  [no, "none"],
  [
    /^(no|not|off|unaided|without|sc|uncorrected|ohne|sans|sin|sem|senza|zonder|uden|utan|uten|bez|tanpa)\b/,
    "none",
  ],
  [/contact|^cls?$|lenses/, "contact-lenses"],
  [
    /glass|spec|^(cc|on|y|yes|1|true|with|aided|worn|gls|own rx|ja|oui|si|sim|tak)\b|brille|lunettes|gafas|lentes|oculos|occhiali|bril\b|glasogon|okular|gozluk|kacamata/,
    "glasses",
  ],
]);

export const methodOf = reader<"retinoscopy" | "autorefraction" | "subjective" | "unknown">([
  [/ret|s[ck]h?ia/, "retinoscopy"],
  [/auto|^ar$|objective/, "autorefraction"],
  [/subj|sogg|oznel|manifest/, "subjective"],
  [notKnown, "unknown"],
]);

const referring =
  "refer|fail|^out of range$|alterad|falh|fallo|reprob|revoir|nieprawid|kaldi|verwij|twijfel|at risk|skierow|sevk|rujuk|remitt|abnormal|positiv|auffallig|uberw|adress|orient(?:er|e$)|deriv|remit|encaminh|invi(?:at|ar|o)|rinvi|verw[ei][iz]|henvis|remiss";
const passing =
  "pass|normal|in range|\\bpas[ao]\\b|superat|akkoord|bestatt|i orden|prawidlow|conforme|complies|within|w normie|godkan|godkjen|lulus|gecti|negati[vf]|voldoende|aprobad|aprovad";
const negated =
  "\\b(?:not?|non|nao|ne|pas|nicht|niet|kein\\w*|geen|sin|sem|sans|ohne|zonder|senza|ikke|inte|ej|nie|tidak|ei|geen)\\b ?(?:(?:need\\w*|requir\\w*|to|be|for|any|se|de|d|a|the|was|is) ?)*";

/**
 * What a programme decided, by its word alone; yes and no say it under the column's name only. A "not" before a
 * word turns it round.
 */
export const decisionOf = reader<"refer" | "pass" | "unable" | "unknown">([
  [notKnown, "unknown"],
  [
    /unable|could not|incomplete|not (tested|screened|done|attempted)|no result|inconclusive|^(non|nicht|niet|nao|no) (valut|beurteil|meet|mess|aval|valor|evalu)|illisible|illeggib|ilegib|^(dna|dnt|absent|did not attend)$/,
    "unable",
  ],
  [new RegExp(`${negated}(?:${referring}|risk)|\\b(?:non|un) ?refer|\\bunauffallig`), "pass"],
  [new RegExp(`${negated}(?:${passing})|\\bonvoldoende`), "refer"],
  [
    /no action|no concern|discharge|^(ras|apt[oa]|rien a signaler|nad|clear|unremarkable|n a d|sin novedad|ua|u a|ohne befund|o[. ]*b|sin hallazgos|goed|bestanden)$|^(sans anomal|sin alterac|sem alterac|nella norma|in ordnung)/,
    "pass",
  ],
  [
    /^(ref|rfr|rfd|no apt[oa])$|^(see|needs?|complete|full)\b.*(exam|optic|optom|doctor|specialist|eye)/,
    "refer",
  ],
  [new RegExp(referring), "refer"],
  [new RegExp(`${passing}|^ok$`), "pass"],
]);

export const ageUnitOf = reader<"months" | "years">([
  [
    /^(m|mo|mos|mth|mths|mon|months?|monate?|mois|mes|meses|mesi|maanden|maneder|manader|mnd|mies\w*|ay|bulan)$/,
    "months",
  ],
  [/^(y|yr|yrs|j|a|years?|jahre?|ans?|anos?|jaar|jaren|anni|ar|lat|yil|tahun)$/, "years"],
]);

export const attemptOf = reader<"first" | "final">([
  [/^(first|1st|initial|original)/, "first"],
  [/^(final|last|latest|best|repeat|2nd|second)/, "final"],
]);

export const reasonOf = reader<"referred" | "sampled" | "self-presented" | "unknown">([
  [
    /refer|screen fail|failed screen|positive screen|auffallig|abnormal|encaminh|deriv|adress|uberw|verw[ei][iz]|inviat|rinvi|skierow|sevk|rujuk|henvis|remit|remis/,
    "referred",
  ],
  [
    /sampl|random|audit|control|validation|^every\b|\b\w+(th|nd|rd) child\b|stichprobe|muestra|amostra|echantillon|stikprov|steekproef|losow|campion|acak/,
    "sampled",
  ],
  [
    /self|parent|walk|own wish|concern|eltern|padres|pais|ouders|genitor|rodzic|aile|orang tua|foraldr|foreldr/,
    "self-presented",
  ],
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
    /no (read|result|value|measure|signal|reflex)|not read|\bunread|\bunable\b|unsuccess|\bfail(ed|ure)?\b|error|^err\b|^nr$|^n\/r$|could not|cannot|uncooperat|non ?coop|unreliable|invalid|^ut[or]$|no target|not obtained|small pupil|nicht (mess|les|mog)|keine? mess|no (colab|coop)|nao colab|non collab|unkoop|nicht koop|pas coop|fehlmess|unlesbar|ungultig|pas de mesure|non (mesur|lu|lisible|leggib|misur)|illisible|no (medible|leid|lectura|se pudo)|sin (lectura|medida|resultado)|nao (lid|medid)|sem leitura|illeggib|niet (meet|leesb|gelukt)|onleesb|ikke (malt|lest|mulig)|ej (mat|last)|brak (pomiaru|odczytu)|nieczyteln|okunamad|olculemed|tidak terbaca|gagal|pupils? (too )?small|\bfixat(ion|ed|ing)?\b|\b(eye)?lashes\b|\bblink(s|ed|ing)?\b|\bmoved\b|\bcr(ied|ying)\b|\bbad\b|^(e?chec|fallo|falha|fallid[oa]|fallit[oa]|mislukt|feilet|fejlet|misslyck\w*|nieudan\w*|basarisiz|gescheitert)\b|time ?out|timed out/,
    "unreadable",
  ],
  [
    /^(ok|okay|measured|valid|complete|completed|read|captured|success|successful|good|normal|done|1|yes|y|gemessen|mesure|medid[oa]|misurat[oa]|gemeten|malt|matt|zmierzon[oey]|olculdu|terukur|lu|leid[oa]|lid[oa]|gelukt|letto|gelesen|gelezen|valid[eo]|gultig|godkand|basarili|berhasil)$/,
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
  /^(m|f|male|female|boy|girl|b|g|w|h|man|woman|masc\w*|fem\w*|hombre|mujer|nino|nina|junge|madchen|maedchen|garcon|fille|homme|femme|menino|menina|jongen|meisje|vrouw|ragazz[oa]|maschio|dreng|pige|gutt|jente|pojke|flicka|kvinna|mies|nainen|chlopiec|dziewczynk?a|kobieta|mezczyzna|erkek|kiz|kadin|laki|laki laki|perempuan|varon|poika|tytto|mannlich|u|unknown|x|maennlich|weiblich|0|1|2)$/;
export const decisionWord =
  /refer|pass|fail|rescreen|re screen|normal|abnormal|within|risk|ok|\bunable\b|positive|negative|monitor|retest|recall|discharge|treat|no action|action|complete|incomplete|follow|repe[tr]|ripet|wiederhol|opnieuw|revoir|ricontr/;

export const wordsAlike = plain;
