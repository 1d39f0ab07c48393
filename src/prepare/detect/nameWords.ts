import type { ColumnFacts } from "./columnFacts.js";

// Words of the names of columns; common practice, no source.

export const nameWords =
  /\b(name|names|surname|forename|firstname|lastname|vorname|nachname|prenom|nom|nombre|apellidos?|apelidos?|sobrenome|cognome|nome|naam|navn|namn|achter ?naam|voor ?naam|familien?name|fornavn|efternavn|etternavn|fornamn|efternamn|imie|nazwisko|guardian|parent|mother|father|carer|tutor|responsavel|initials)\b|^(first|last|given|family|middle)$/;
const dateWords =
  /\b(date|dob|datum|fec|undersok\w*|undersog\w*|untersucht|consult\w*|revis\w*|dato|datoen|fecha|data|visit|seen|born|birth|on|dt|tested|screened|examined|geb\w*|geburt\w*|naiss\w*|nacim\w*|nac|nascim\w*|nascita|gebo\w*|fodt|fodsel\w*|fodelse\w*|urodz\w*|ne|nee|vu|visto|when|day|timestamp)\b/;
export const birthWords =
  /\b(dob|birth|born|birthday|birthdate|geb|gebdat|geburt\w*|geboren|naiss\w*|ne|nee|nac|nacim\w*|nascim\w*|nasc|nascita|gebo\w*|fodt|fodsel\w*|fodelse\w*|urodz\w*|bth|d o b)\b/;
export const otherDateWords =
  /\b(export\w*|print\w*|mail\w*|post\w*|upload\w*|load\w*|extract\w*|download\w*|import\w*|sync\w*|archiv\w*|received|creat\w*|modif\w*|updat\w*|letter|sent|follow|next|appointment|referral|referred|entered|entry|consent\w*|booked|calibrat\w*|report\w*|due|registered|registration|enrol\w*|wiedervorst\w*|nachst\w*|prox\w*|prochain\w*|rdv|prossim\w*|volgende?|neste|nasta|rendez|carta|lettre|brief)\b/;

/** Words of dates that can be the measurement's or another's. */
export const eitherDateWords =
  /\b(follow|next|appointment|referral|referred|entered|entry|booked|report\w*|registered|registration|enrol\w*)\b/;

export function mayBeDate(facts: ColumnFacts): boolean {
  return dateWords.test(facts.words) || otherDateWords.test(facts.words);
}

/** Words of the quantities of a refraction: a number under one of them is nobody's id. */
export const powerWords =
  /\b(d?sph\w*|esf\w*|sf[ae]\w*|d?cyl\w*|zyl\w*|cil\w*|syl\w*|ax|axis|axe|achs\w*|eje|eixo|asse|[ae]quiv\w*|mse|seq)\b/;

/** Words of the date at which something was measured. */
export const measuredDateWords =
  /\b(scr|screen\w*|exm|exam\w*|esam\w*|test\w*|visit\w*|seen|vist[ao]|meas\w*|read\w*|assess\w*|untersuch\w*|mess\w*|meting\w*|meet|bezoek|onderzoek\w*|depist\w*|bilan|tamiz\w*|cribado|triagem|rastre\w*|valora\w*|consult\w*|undersok\w*|undersog\w*|badan\w*|clinic|session|taken|capture\w*|record\w*)\b/;

/** Of the words that name a child's number. */
export const idWords =
  /\b(id|ids|no|nr|num|numero|nummer|numer|number|code|codice|codigo|kode|kod|ref|reference|key|identifier|kennung|matricule|barcode|uid|pid|sid|mrn|dossier|expediente|aktenzeichen|matricula|registro|folio|historia|nhc)\b/;
export const aChild = /\b(child|kid|pupil|student|patient|participant|person|subject)\b/;
export const childWords =
  /\b(subj|subject|child|kid|pupil|student|patient|participant|person|learner|study|schueler|schuler|kind|proband\w*|eleve|enfant|alumn[oa]|aluno|nino|menor|paciente|paziente|bambin\w*|crianca|utente|leerling|patient\w*|elev|barn\w*|expediente|historia|pat|stu|chart|mrn|screening|case|fall)\b/;
