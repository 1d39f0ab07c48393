import type { ColumnFacts } from "./columnFacts.js";
import * as words from "./vocabulary/index.js";
import { type Words, wordPattern } from "./vocabulary/index.js";

/** Words that say nothing of their own; common practice, no source. */
const neutral: Words = {
  english:
    "of the a an in at on to for by is was were be been has have had any with under after used use given done made needed need needs required require instilled today current final overall found present done yn y n yes flag code cd if or and manifest visible obtained received programme program vision sight survey service care patient attending attended new vs auto ocular abnormal abn manifest* spectacle scr sc dec base clear straight during measurement both r l re le od os rt lt pupil pupils optical",
  spanish:
    "manifiesto optica optico de del la el los las con en bajo si se requiere necesita por al a y tiene usa",
  portuguese: "de da do das dos com em sob se necessita por ao e tem usa uso",
  french:
    "portees portee optique de du des la le les l d avec sous en a au est porte port et faite fait",
  german: "der die das des dem den im in mit unter bei am nach ist hat und zu vom gegeben",
  italian: "di del della dei il lo la con in sotto da al e ha porta fatta",
  dutch: "de het een van met onder in bij na is heeft en nodig ja",
  nordic: "i av af med under ved etter efter er har og och pa til den det",
  polish: "w z po na do i jest ma pod",
  turkish: "var mi ile altinda edildi ve yapildi kullaniyor",
  indonesian: "di dengan yang perlu sudah ada mata pakai",
};
const besides = [
  neutral,
  words.measuredOn,
  words.dateOf,
  words.place,
  words.child,
  { any: "eye eyes ojo ojos olho olhos oeil yeux auge augen occhio occhi oog ogen oko oczu goz" },
];

/**
 * Whether every word of a name is one for this thing, or says nothing of its own. "Consent for drops" and "referral
 * accepted" speak of more, so that a yes or no under them is not that of the drops or of the referral.
 */
export function understoodAs(...own: readonly Words[]): (facts: ColumnFacts) => boolean {
  const known = new RegExp(wordPattern(...own, ...besides), "g");
  return ({ bare }) => {
    const rest = bare.replace(known, " ").replace(/\b(\d+|\p{L})\b/gu, " ");
    return rest.trim() === "";
  };
}
