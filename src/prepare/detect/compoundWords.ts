// Names that are written in one: "rightsph", "ageyears", "BIRTHDT"; common practice, no source.

/** What such names are put together from; each of at least two letters. */
const pieces = new Set(
  (
    "right left od os re le rt lt eye sph sphere cyl cylinder ax axis se mse rx va bcva ucva acuity pupil " +
    "ser conf confidence qual quality score reliab status state flag " +
    "id ids no nr num number code key ref rec record row line seq " +
    "child kid pupil student pat patient subj subject case person study " +
    "name first last date dt day dob birth born bth age year years yr yrs month months mon mos mths " +
    "sch school site clinic class grade unit device instr serial sn sex gender " +
    "rescreen rescreening retest reexam revisit scr screen screening exam exm visit test result res outcome decision dec referral refer pass " +
    "rdg reading read meas dx diag media opacity cyclo cycloplegia drops method glasses worn " +
    "diagnose diagnosis given dist log examiner tester operator nurse comment comments note notes phone tel mail address"
  ).split(" "),
);

/** A word of its own, although a mark of an eye could be seen at its end ("pupille", "pupill", "pupillare"). */
export function isPiece(word: string): boolean {
  return pieces.has(word) || /^pupill/.test(word);
}

/** What German, Dutch and Scandinavian names end in without a blank before it ("Leerlingnummer"). */
const ending =
  /^(\p{L}{3,}?)(nummer|numer|nr|datum|dato|datoen|naam|navn|namn|alter|leeftijd|alder|tidspunkt)$/u;

/** What was decided or measured, at the end of a short name of a variable ("screfer"). */
const told =
  /^([a-z]{2,4})(refer|result|outcome|decision|status|sphere|cylinder|axis|pupil|visus)$/;

/** An age with its unit: "agem", "ageyr". */
const shortAge = /^(age|alter|edad|idade|eta|leeftijd|alder)(m|mo|mos|mth|mths|y|yr|yrs)$/;

/** A date behind what its variable is cut short to ("exdate", "scrdt"). */
const shortDate = /^([a-z]{1,4})(date|dt|dttm|datum)$/;

/** A word taken apart where all of it is made of known pieces, or its ending is known; else the word alone. */
export function wordPieces(word: string): readonly string[] {
  if (word.length < 5 || isPiece(word))
    return shortDate.exec(word)?.slice(1) ?? shortAge.exec(word)?.slice(1) ?? [word];
  return (
    apart(word) ??
    shortDate.exec(word)?.slice(1) ??
    told.exec(word)?.slice(1) ??
    ending.exec(word)?.slice(1) ?? [word]
  );
}

function apart(word: string): readonly string[] | null {
  if (word === "") return [];
  // the longest piece first: "screening" before "screen"
  for (let length = Math.min(word.length, 11); length >= 2; length--) {
    if (!pieces.has(word.slice(0, length))) continue;
    const rest = apart(word.slice(length));
    if (rest !== null) return [word.slice(0, length), ...rest];
  }
  return null;
}
