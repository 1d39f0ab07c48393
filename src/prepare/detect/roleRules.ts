import { looksLikeNames } from "../../privacy/index.js";
import {
  firstCells,
  holdsPowers,
  isAcuity,
  isDecision,
  isYearsAndMonths,
  share,
} from "./cellForms.js";
import type { ColumnFacts } from "./columnFacts.js";
import { aChild } from "./nameWords.js";
import type { Role } from "./roles.js";
import {
  always,
  averageLength,
  few,
  fewCodes,
  isPerson,
  isPrescribing,
  notNumbers,
  notNumeric01,
  notUnique,
  numeric,
  paddedCodes,
  power,
  repeats,
  words,
} from "./ruleFits.js";
import {
  ageUnitOf,
  attemptOf,
  correctionOf,
  cycloplegiaOf,
  eyeReader,
  methodOf,
  opacityOf,
  reasonOf,
  sexWord,
  statusOf,
  strabismusOf,
  wordsAlike,
  yesNoOf,
} from "./wordLists.js";

/** One way of knowing a role: the words of the name, and what the cells have to be then. */
interface RoleRule {
  readonly is: Role;
  readonly name: RegExp;
  readonly unless?: RegExp;
  readonly fits: (facts: ColumnFacts) => boolean;
}

const freeText =
  /\b(cmts?|rmks?|obs|bem|comments?|remarks?|notes?|free text|memo|narrative|description|bemerkung\w*|observa\w*|anmerkung\w*|anotac\w*|annotaz\w*|opmerk\w*|anmark\w*|bemaerk\w*|merknad\w*|uwagi|commentaires?|remarques?|compte rendu|notas?|report|message|details?)\b/;
const prescribed =
  /\b(prescri\w*|rx d|given|ordered|issued|dispens\w*|needed|advis\w*|recommend\w*|new (glasses|spec\w*)|verordnet|prescrit\w*|voorgeschreven|indicad\w*|receit\w*|recetad\w*|forskriv\w*|ordin\w*)\b/;
const isYesNo = words(yesNoOf);
const identity = /\b(id|ids|no|nr|num|number|code|name|key)\b/;
const siteWords =
  /\b(site|sede|locatie|plats|sted|scuola|skol[ae]|skole\w*|szkol\w*|unidade|unidad|consultorio|ambulator\w*|school|clinic|centre|center|location|place|hospital|kita|kindergarten|nursery|preschool|schule|schul|ecole|escuela|colegio|escola|creche|centro|sch|campus|facility|practice|village|district|county|community|municipality|department|dept|commune|comune|gemeinde|gemeente|kommune|municipio|localite|\w*stas?[jt]i?on|organi[sz]ation|building|establishment|setting|venue|standort|einrichtung|etablissement)\b|^local$/;
const lesserSite =
  /\b(class|classroom|klasse|classe|grade|room|year group|group|groupe|gruppe|grupo|gruppo|groep|grupp|klas|stufe|niveau|curso|turma|team|ward|region|zone|area|sector|stop|sezione|seccion|secao|section|afdeling|abteilung|avdeling)\b|^form\b/;

/** In the order in which they are asked: the first that fits is taken. */
export const rules: readonly RoleRule[] = [
  {
    // of the cornea and the length of the eye, and no refraction
    is: "other",
    name: /\bk [12]\b|\b[kc]h?erat\w*|\bcornea\w*|\b(al|axl|acd|lt) mm\b|\b(flat|steep) k\b|\bk (flat|steep)\b/,
    fits: (facts) => facts.numbers.share >= 0.4,
  },
  {
    is: "prescription",
    name: /^/,
    unless: /\b(comments?|remarks?)\b/,
    fits: (facts) => facts.twoEyes !== null,
  },
  {
    is: "equivalent",
    name: /\b(se|mse|seq|spheq|seqv?|sph\w* eq\w*|spherical eq\w*|[ae]quiv\w*|ekviv\w*|sphequiv\w*)\b/,
    unless: /\b(va|acuity|snellen|logmar)\b/,
    fits: power(-30, 30),
  },
  {
    is: "sphere",
    name: /\b(d?sph\w*|sf|sf[ae]\w*|esf\w*|ds)\b/,
    unless: identity,
    fits: power(-30, 30),
  },
  {
    is: "cylinder",
    name: /\b(d?cyl\w*|zyl\w*|cil\w*|syl\w*|dc|astig\w*)\b/,
    unless: identity,
    // astigmatism as yes and no is a diagnosis
    fits: (facts) => power(-15, 15)(facts) && !(/\bastig/.test(facts.words) && isYesNo(facts)),
  },
  {
    is: "axis",
    name: /\b(ax|axis|axe|axes|achs\w*|ach|eje|eixo|asse|akse\w*|axel|meridian)\b/,
    unless: identity,
    fits: (facts) => power(0, 360)(facts) && facts.numbers.negative <= 0.1 * facts.filled,
  },
  {
    is: "prescription",
    name: /^/,
    unless: /\b(comments?|remarks?)\b/,
    fits: (facts) => facts.notation >= 0.5 && facts.numbers.share < 0.9,
  },
  {
    is: "prescription",
    name: /\b(rx|refraction|prescription|refr|retinoscopy)\b/,
    fits: (facts) => facts.notation >= 0.2 && facts.numbers.share < 0.9,
  },
  {
    is: "interpupillary",
    name: /\b(pd|ipd|dip|interpup\w*|pupillary distance|pupil distance|ecart pup\w*)\b/,
    fits: numeric(20, 90),
  },
  {
    is: "pupil",
    name: /\b(pup|pupil\w*|pupp\w*|ps)\b/,
    unless: /\b(id|no|nr|name|number|code|school)\b/,
    // 0 stands for none
    fits: (facts) =>
      numeric(0, 12)(facts) && facts.numbers.middle >= 0.5 && facts.numbers.high <= 20,
  },
  {
    is: "gaze-horizontal",
    name: /\bgaze\b.*\b(h|hor|horiz\w*|x)\b|\b(h|hor|horiz\w*) gaze\b/,
    fits: numeric(-90, 90),
  },
  {
    is: "gaze-vertical",
    name: /\bgaze\b.*\b(v|ver|vert\w*|y)\b|\b(v|ver|vert\w*) gaze\b/,
    fits: numeric(-90, 90),
  },
  {
    is: "confidence",
    name: /\b(conf\w*|konf\w*|reliab\w*|fiab\w*|affid\w*|zuverl\w*|gute|messgute|betrouw\w*|tillforl\w*|palid\w*|qual\w*|kvalit\w*|certainty|score)\b/,
    unless: /\b(flag|confirm\w*)\b/,
    fits: numeric(0, 1000),
  },
  {
    is: "device-serial",
    unless: aChild,
    name: /\b(serial|imei|serien\w*)\b|\b(device|unit|instr|instrument|machine|equipment) (id|sn|s n|no|nr|number|code)\b|^s ?n$/,
    fits: always,
  },
  {
    is: "examiner",
    name: /\b(examiner|examined by|screener|screened by|operator|nurse|tester|tested by|technician|optometrist|ophthalmologist|doctor|physician|clinician|assessor|assessed by|volunteer|orthoptist|provider|recorded by|entered by|seen by|measured by|done by|staff|user|untersucher\w*|prufer\w*|examinateur|examinatrice|examinador\w*|evaluador\w*|praticien\w*|arzt\w*|aerzt\w*|medic[oa]s?|medecin|optometrist\w*|oftalmolog\w*|ophtalmo\w*|orthoptist\w*|ortoptist\w*|enfermer[oa]|infirmi\w*|infermier\w*|augenarzt\w*|ortottist\w*|oculist\w*|avaliador\w*|esaminat\w*|operat\w*|bediener\w*|tech|technic\w*|tecnicos?|techniker\w*|depist(eur|euse)s?|verpleeg\w*|helsesykepl\w*|sykepleier\w*|profesional\w*|profession(al|nel)|orthoptiste|medewerker|onderzoeker|undersoker|sygeplejersk\w*|sjukskoter\w*)\b|\bby$/,
    unless: new RegExp(`\\b(referred|sent) by\\b|${freeText.source}`),
    fits: (facts) => (notNumbers(facts) || paddedCodes(facts)) && !words(yesNoOf)(facts),
  },
  {
    // persons, whatever the name of the column says
    is: "examiner",
    name: /^/,
    unless: /\b(comments?|remarks?|notes?)\b/,
    fits: (facts) => repeats(facts) && share(facts, isPerson) > 0.7,
  },
  {
    is: "glasses-prescribed",
    name: /\b(glasses|spec|specs|spectacles|rx|correction|prescri\w*|brille\w*|bril|lunettes|oculos|gafas|lentes?|occhiali|glasogon)\b/,
    fits: (facts) =>
      words(yesNoOf)(facts) &&
      (prescribed.test(facts.words) ||
        /(glasses|spec\w*) rx$/.test(facts.words) ||
        share(facts, isPrescribing) >= 0.5),
  },
  {
    is: "eye",
    name: /^(eye|side|laterality|lat|auge|oeil|ojo|olho|occhio|oog|oga|oye|seite|which eye|eye tested|eye side|eye code|tested eye|od os|r l|eye measured)$/,
    fits: (facts) => words(eyeReader(facts.cells), 0.9, 8)(facts),
  },
  {
    is: "age-unit",
    name: /\b(unit|units|einheit|unite|unidad)\b|\b(age|alter|edad)\b/,
    fits: words(ageUnitOf, 0.9, 8),
  },
  {
    is: "age",
    name: /\b(age|alter|edad|idade|eta|leeftijd|alder|wiek)\b/,
    unless: /\b(group|band|gestational|class)\b/,
    fits: (facts) => numeric(0, 1440, 0.7)(facts) || share(facts, isYearsAndMonths) > 0.7,
  },
  {
    is: "age",
    name: /^((in )?(years|yrs|months|mths)|(years|yrs|months|mths) old|meses|mesi|mois|monate|maanden|jahre|anos|anni)$/,
    fits: numeric(0, 1440, 0.7),
  },
  {
    is: "sex",
    name: /\b(sex|gender|geschl\w*|geslacht|sexe|sexo|sesso|kon|kjonn|plec|sx|m f|boy girl)\b/,
    fits: (facts) => few(6)(facts) && share(facts, (text) => sexWord.test(wordsAlike(text))) > 0.8,
  },
  { is: "attempt", name: /\b(attempt|try|versuch)\b/, fits: words(attemptOf) },
  {
    is: "repeat",
    name: /\b(repeat|rep|replicate|trial|shot|attempt|try|run|reading|measurement|measure|test)( (no|nr|num|number))?$/,
    fits: (facts) =>
      facts.numbers.share > 0.95 &&
      facts.numbers.whole === 1 &&
      facts.numbers.low >= 1 &&
      facts.numbers.high <= 30 &&
      facts.cells.size <= 20,
  },
  {
    is: "status",
    name: /\b(status|state|readable|outcome|flag|measurement|result|quality|reading|error|err|failure|fehler|erreur)\b/,
    unless: /\bexam\b/,
    fits: (facts) => words(statusOf, 0.85)(facts) && !isDecision(facts),
  },
  {
    is: "cycloplegia",
    name: /\b([csz]i?y?[ck]k?lo\w*|drops?|dilat\w*|wet|mydria\w*|tropfen|gouttes|gotas|colirio|collirio|collyre|druppels|draber|drypp\w*|agent)\b/,
    fits: (facts) => notNumeric01(facts) && words(cycloplegiaOf)(facts),
  },
  {
    is: "correction",
    name: /\b(correction|corrected|worn|wear\w*|wore|glasses|specs|spectacles|unaided|aided|brille\w*|bril|lunettes|oculos|gafas|occhiali|glasogon|with rx)\b/,
    unless: prescribed,
    // given or needed is said of a prescription, and not of what was worn
    fits: (facts) => words(correctionOf)(facts) && share(facts, isPrescribing) < 0.5,
  },
  {
    is: "method",
    name: /\b(method\w*|metod\w*|technique|tecnica|technik|how|type|procedure|mode|verfahren)\b/,
    fits: words(methodOf, 0.75),
  },
  {
    is: "acuity",
    name: /\b(va|acuity|bcva|ucva|uva|dva|cva|udva|cdva|av|avsc|avcc|agudeza|acuit[ea]|acuidade|sehscharfe|gezichtsscherpte|synsstyrke|synskarpa|logmar|log mar|snellen|visus|vision)\b/,
    unless: /\b(result|outcome|screening|date|test|form|complete\w*|checked)\b/,
    fits: (facts) => share(facts, isAcuity) > 0.6,
  },
  {
    is: "acuity",
    name: /^(20|6)$/,
    fits: (facts) => share(facts, isAcuity) > 0.6 && facts.numbers.high >= 6,
  },
  {
    is: "strabismus",
    name: /\b(e?strab\w*|squint|skj?el\w*|scheel\w*|schiel\w*|cover test|deviat\w*|desvia\w*|alignment|tropia|heterotropia)\b/,
    fits: words(strabismusOf),
  },
  {
    is: "media-opacity",
    name: /\b(opac\w*|cataract\w*|katarakt\w*|media|medios|mezzi|lens|\w*trubung\w*)\b/,
    fits: words(opacityOf),
  },
  { is: "ptosis", name: /\b(ptosis|lid droop|lids?)\b/, fits: words(yesNoOf) },
  {
    is: "known-before",
    name: /\b(known|previous\w*|prior|already|under care|existing|history)\b/,
    fits: words(yesNoOf),
  },
  {
    is: "verification-reason",
    name: /\b(reason|why|because|pathway|route|referral|source|came|attended|indication|motivo|motif|grund|anlass|sent by|referred by)\b/,
    unless: /\bdate\b/,
    fits: words(reasonOf),
  },
  {
    is: "decision",
    name: /\b(result|outcome|decision|refer|referred|referral|pass|passed|recommendation|disposition|advice|action|verdict|decisao|screen|auffallig\w*|uberweis\w*|uberwiesen|ergebnis|resultat\w*|resultado\w*|deriv\w*|remitid\w*|oriente\w*|encaminh\w*|esito|uitslag|conclus\w*|verwij\w*|verwez\w*|adress\w*|inviat\w*|henvis\w*|remiss\w*|dictamen)\b/,
    unless: /\bdate\b/,
    fits: (facts) =>
      facts.cells.size <= 12 &&
      (isDecision(facts) ||
        words(yesNoOf)(facts) ||
        // "Pass / Refer" with P and R
        (/\bpass\b.*\b(refer|fail)\b|\b(refer|fail)\b.*\bpass\b/.test(facts.words) &&
          share(facts, (text) => /^[prf]$/i.test(text)) === 1)),
  },
  {
    is: "diagnosis",
    name: /\b(diag\w*|dx|icd|impression|condition|findings?|ambl[iy]op\w*|astigmat\w*|anisometrop\w*|hy?peropi\w*|m[iy]opi\w*)\b/,
    fits: (facts) =>
      (notNumbers(facts) || fewCodes(facts)) &&
      (facts.cells.size <= 40 || averageLength(facts) < 25) &&
      !(facts.cells.size > facts.filled / 3 && looksLikeNames(firstCells(facts, 5000))),
  },
  {
    is: "site",
    name: siteWords,
    unless: /\b(phone|address|street|type|mail)\b/,
    // the number of a school stands in many rows, that of a child in some
    fits: (facts) =>
      repeats(facts) && (!identity.test(facts.words) || facts.cells.size <= facts.filled / 5),
  },
  {
    is: "site",
    name: lesserSite,
    unless: /\b(id|type|age|alter|sangu\w*|blood|light\w*|lux|illumin\w*|temperature|humidity)\b/,
    fits: repeats,
  },
  {
    is: "instrument",
    name: /\b(instrument|device|machine|model|apparatus|equipment|gerat|geraet|appareil)\b/,
    fits: (facts) => few(20)(facts) && notUnique(facts),
  },
  {
    is: "free-text",
    name: freeText,
    fits: (facts) => facts.numbers.share < 0.9 && !holdsPowers(facts),
  },
  {
    is: "day",
    name: /\b(day|days|study day|day number)\b/,
    unless: /\b(birth|week)\b/,
    fits: (facts) =>
      facts.numbers.share > 0.9 && facts.numbers.whole === 1 && facts.numbers.high < 20_000,
  },
  {
    is: "other",
    name: /\b(ethnic\w*|race|language|handedness|dominan\w*|colou?r|version|firmware|software|light\w*|lux|temperature|battery|cooperat\w*|compliance|mood|consent\w*|insurance|height|weight|bmi|distance|duration|seconds|minutes|stereo\w*|adverse|tilt|cct|thickness|pachy\w*|axial|iop|plan|management|therapy|shift|session|season|wave|phase|arm|batch)\b/,
    unless: /\b(id|no|nr|num|number|code|name|by|date)\b/,
    fits: (facts) =>
      (facts.numbers.share >= 0.9 && facts.numbers.high < 10_000) ||
      (few(12)(facts) && repeats(facts)),
  },
  {
    // of what nobody is measured by: an event of a data base, a form and whether it is complete
    is: "other",
    name: /\b(event|form|project|protocol|module|task|questionnaire) (name|label|title|complete|status|version)\b|\bcomplete$/,
    fits: (facts) => few(20)(facts) && (repeats(facts) || facts.cells.size === 1),
  },
  {
    // a few words where a name speaks of another date: "6 weeks" until the next visit, whether a letter was sent
    is: "other",
    name: /\b(next|follow|letter|brief|lettre|carta|sent|mailed|booked|consent\w*|due)\b/,
    unless: /\b(id|no|nr|num|number|code|by)\b/,
    fits: (facts) => notNumbers(facts) && few(12)(facts) && repeats(facts),
  },
];
