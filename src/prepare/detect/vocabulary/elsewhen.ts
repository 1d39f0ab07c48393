// What is not of this child at this visit: of another day, a difference, a spread; common practice, no source.
import type { Words } from "./words.js";

/** Of a day before this one. "ja" is an answer where "nein" stands beside it. */
export const past: Words = {
  english:
    "prev* prior former* old older earlier past last history historic* previously already ever before ago",
  spanish: "previ* anterior* antes pasad[oa] ultim[oa]s? antecedent* ya",
  portuguese: "previ* anterior* antes passad[oa] ultim[oa]s? antecedent* ja(?!_n)",
  french: "anterieur* precedent* ancien* deja auparavant avant dernier* derniere*",
  german:
    "fruher* vorher* vorig* alt alte alten altes vorjahr* vorbefund* vorwert* bereits schon zuvor letzte*",
  italian: "precedent* gia passat[oa] ultim[oa] anterior* vecchi[oa]",
  dutch: "eerder* vorig* reeds vroeger* oud oude laatste",
  nordic: "tidligere tidigare forrige forra fjor fjol sidste siste senaste gammel* gammal*",
  polish: "wczesniej* poprzedni* dawn* ostatni* star[ey]",
  turkish: "onceki onceden once gecen eski",
  indonesian: "sebelum* pernah lama lalu sudah terakhir",
};
/** Between two eyes, two days or two ways of measuring. */
export const difference: Words = {
  any: "delta dif* *differen[czs]* progress*",
  english: "change changed interocular lag drift shift residual bias",
  spanish: "cambio variacion aumento",
  portuguese: "mudanca variacao aumento",
  french: "ecart changement evolution variation",
  german: "*unterschied* anderung* veranderung* zunahme abweichung*",
  italian: "variazion* cambiament* scarto",
  dutch: "verschil* verander* toename",
  nordic: "forskel* forskjell* skillnad* endring* andring* forandring* okning*",
  polish: "roznic* zmian*",
  turkish: "fark* degisim*",
  indonesian: "selisih perubahan beda",
};
/** Of several values of one thing. */
export const spread: Words = { any: "sd cv stdev variance cov sem rms", english: "scatter" };
/** Of a diagnosis that is not the exam's: what was thought before it, or by whoever sent the child. */
export const provisional: Words = {
  english:
    "refer* provisional working suspect* presum* prelim* tentative differential admission screen* query queried gp nurse letter secondary other initial known",
  spanish: "deriv* presunt* probable sospech* ingreso envio remis* provisional inicial",
  portuguese: "encaminh* presum* provavel suspeit* provisor* inicial",
  french: "presum* suspect* adress* provisoire envoi orient* initial",
  german: "verdacht* uberweis* einweis* zuweis* vermut* vorlauf*",
  italian: "invio sospett* presunt* provvisor* ingresso inizial*",
  dutch: "verwij* verwez* vermoed* voorlopig*",
  nordic: "henvis* remiss* forelopig* misstank* mistank* preliminar* tentativ*",
  polish: "wstepn* skierow* podejrz*",
  turkish: "sevk on gecici suphe*",
  indonesian: "rujuk* awal sementara dugaan",
};
/** That somebody was screened or sent on, and not who is known for what. */
export const screened: Words = {
  any: "screen* rescreen* skrin* refer* test*",
  spanish: "tamiz* cribad* deriv* remit* remis*",
  portuguese: "triad* triagem rastre* encaminh*",
  french: "depist* adress* orient*",
  german: "gescreent getestet uberwiesen uberweis* auffallig*",
  italian: "inviat* invio",
  dutch: "gescreend getest verwez* verwij*",
  nordic: "screenet screenad henvist remiss* remitter*",
  polish: "przesiew* skierow*",
  turkish: "tarama* tarand* sevk",
  indonesian: "skrining dirujuk rujuk*",
};
/** Glasses as a thing, whose powers are no measurement of the eye. */
export const spectacles: Words = {
  english: "spectacles? glasses gls specs",
  spanish: "gafas? anteojos",
  portuguese: "oculos",
  french: "lunettes",
  german: "brille brillen",
  italian: "occhial[ei]",
  dutch: "bril",
  nordic: "briller glasogon",
  polish: "okular*",
  turkish: "gozluk*",
  indonesian: "kacamata",
};
