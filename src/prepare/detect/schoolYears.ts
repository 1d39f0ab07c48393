// Years of school and classes of ages, as cells write them; common practice, no source.
import { share } from "./cellForms.js";
import type { ColumnFacts } from "./columnFacts.js";
import { wordsAlike } from "./wordLists.js";

const level =
  "(?:grades?|gr|class|std|standard|years?|yr|y|p|primary|stage|level|form|klassenstufe|klasse|stufe|jahrgang\\w*|klas|groep|trinn|trin|arskurs|ak|klass|classe|niveau|curso|grado|nivel|basico|primaria|ano|serie|anno|klasa|sinif|kelas|luokka)";
/** The years before the first, and the French ones that are letters. */
const early =
  "k|pk|tk|jk|sk|kg|[lu]kg|pre ?k|pre ?kg|kindergarten|kinder|pre ?kinder\\w*|reception|nursery|pre ?school|pre ?primary|foundation|prep|vorschule|preescolar|pre ?escolar|parvulos|prekinder|(?:junior|senior) infants|zerowka|ps|ms|gs|cp|ce ?[12]|cm ?[12]|r|n";
const schoolYear = new RegExp(
  `^(?:${level}\\.? ?)?(?:(?:1[0-3]|\\d)(?:st|nd|rd|th|[\u00ba\u00aa\u00b0]|eme|er|e)?\\.?|i{1,3}|iv|vi{0,3}|ix|x|${early})(?: ${level})?$`,
);

/** "3", "Grade 3", "3rd", "3. Klasse", "III", "K", "Reception", "CE1"; "3A" is a class of one school. */
export function isYearsOfSchool(facts: ColumnFacts): boolean {
  const telling = [...facts.cells.keys()].some((text) => /\d|..|[ivk]/i.test(text));
  return telling && share(facts, (text) => schoolYear.test(wordsAlike(text))) > 0.9;
}

const unit =
  "(?: ?(?:y|yrs?|years?|j|jahre?|ans?|anos?|anni|jaar|ar|lat|yas|thn|tahun|m|mo|mths?|months?|mon|monate|mois|meses|mesi))?";
const ageRange = new RegExp(
  `^(?:(?:<|>|\u2264|\u2265|under|over|unter|uber) ?\\d{1,3}|\\d{1,3}${unit} ?(?:-|\u2013|to|bis|a|tot|til|till|do) ?<? ?\\d{1,3}|\\d{1,3} ?\\+|\\d{1,3})${unit}\\+?$`,
);

/** "4-5", "60 to 71 months", "under 4", "7+"; an age alone may stand among them. */
export function isAgeRange(text: string): boolean {
  return ageRange.test(text.trim().toLowerCase()) && !/^\d+$/.test(text.trim());
}
