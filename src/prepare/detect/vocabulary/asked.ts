// What is said of a child beside what is measured; words of names of columns, common practice, no source.
import type { Words } from "./words.js";

export const age: Words = {
  any: "age",
  english: "ages aged",
  spanish: "edad",
  portuguese: "idade",
  german: "alter lebensalter",
  italian: "eta",
  dutch: "leeftijd",
  nordic: "alder ika",
  polish: "wiek",
  turkish: "yas yasi",
  indonesian: "umur usia",
};
export const sex: Words = {
  any: "sex gender m_f f_m m_v v_m m_k k_m h_f l_p j_m b_g g_b f_h",
  english: "sx boy_girl girl_boy boy_or_girl girl_or_boy",
  spanish: "sexo genero",
  portuguese: "sexo genero",
  french: "sexe genre",
  german: "geschl*",
  italian: "sesso genere",
  dutch: "geslacht",
  nordic: "kon kjonn sukupuoli",
  polish: "plec",
  turkish: "cinsiyet*",
  indonesian: "kelamin jk",
};
export const glasses: Words = {
  any: "rx",
  english: "glasses spec specs spects spex spectacles correction prescri* gls eyewear lenses",
  spanish: "gafas lentes lente anteojos correccion",
  portuguese: "oculos lentes lente correcao",
  french: "lunettes verres correction",
  german: "brille*",
  italian: "occhiali lente lenti correzione",
  dutch: "bril brillen",
  nordic: "brille* briller glasogon korreksjon",
  polish: "okulary okularow",
  turkish: "gozluk*",
  indonesian: "kacamata",
};
/** That glasses were given or ordered. */
export const prescribed: Words = {
  any: "prescri* ordin*",
  english:
    "rx_d given ordered issued dispens* needed advis* recommend* new_glasses new_rx new_spec* presc update* written plan",
  spanish: "receta recetad* indicad* prescrit* prescribe* nuevas",
  portuguese: "prescreve receit* prescrit* indicad*",
  french: "prescrit* conseill*",
  german: "verordn* *verordnung verschrieben* neue",
  italian: "prescritt* consigliat*",
  dutch: "voorgeschreven advies recept",
  nordic: "forskriv* foreskrevet foreskriv* ordiner* utskriv*",
  polish: "przepisan* zapisan* zalecon* zlecon*",
  turkish: "verildi recete* onerildi",
  indonesian: "resep diresepkan",
};
export const worn: Words = {
  english:
    "correction corrected worn wear* wore glasses specs spectacles unaided aided with_rx gls eyewear own_rx habitual",
  spanish: "gafas lentes lleva usa correccion",
  portuguese: "oculos usa correcao",
  french: "lunettes porte correction",
  german: "brille* getragen tragt",
  italian: "occhiali porta correzione",
  dutch: "bril draagt",
  nordic: "brille* glasogon bruker bar",
  polish: "okulary nosi",
  turkish: "gozluk*",
  indonesian: "kacamata memakai",
};
export const known: Words = {
  english: "known previous* prior already under_care under_hes existing history past before",
  spanish: "previ* conocid* antecedent* ya",
  portuguese: "previ* conhecid* antecedent* anterior ja acompanh*",
  french: "connu* deja anterieur* antecedent* suivi",
  german: "bekannt* vorbekannt* bereits fruher* behandlung",
  italian: "not[ao] gia precedent*",
  dutch: "bekend* eerder reeds behandeling",
  nordic: "kjent kendt kand tidligere tidigare",
  polish: "znan* wczesniej*",
  turkish: "bilinen onceden onceki",
  indonesian: "riwayat sebelumnya sudah",
};
export const reason: Words = {
  any: "motiv* motif",
  english:
    "reason why because pathway route referral source came attended indication sent_by referred_by origin selection selected basis",
  spanish: "razon origen procedencia",
  portuguese: "razao origem",
  french: "raison origine provenance",
  german: "grund anlass untersuchungsanlass zuweis* uberweisungsgrund",
  italian: "causa provenienza ragione",
  dutch: "reden aanleiding verwezen_door",
  nordic: "grunn grund arsak arsag orsak",
  polish: "powod przyczyna",
  turkish: "neden* sebep",
  indonesian: "alasan sebab",
};
export const decision: Words = {
  any: "screening_status screening_outcome result* verdict screen dictamen",
  english:
    "outcome decision refer refers referred referral pass passed recommendation disposition disp advice action conclusion flagged interpretation classification triage risk fail failed failing referring recall vision_screening vision_screen",
  spanish: "conducta clasificacion deriv* remitid* remis* canaliz* referid* conclusion decision",
  portuguese: "encaminh* decisao resultad* conclusao conduta",
  french: "oriente* adress* conclus* decision bilan orientation",
  german:
    "befund gesamtergebnis auffallig* uberweis* uberwiesen ergebnis* entscheid* befund_auffallig empfehlung",
  italian: "risultat* esito invi* inviat* conclus* decisione",
  dutch: "uitslag conclus* verwij* verwez* besluit resultaat advies",
  nordic:
    "konklusj* vurdering henvis* remiss* remitter* viderehenv* avgjor* beslut* resultat* utfall afgor*",
  polish: "wynik skierow* decyzja",
  turkish: "sonuc* sevk karar yonlendir*",
  indonesian: "hasil rujuk* dirujuk keputusan",
};
export const diagnosis: Words = {
  any: "diag* dx icd astigmat* aniso anisometrop* ambl[iy]op* hy?perm?[eo]t?rop* hy?peropi* m[iy]opi* dg",
  english: "impression condition finding findings problem assessment result_of_exam exam_result",
  spanish: "hallazgo* impresion cie_10",
  portuguese: "achado* hipotese cid_10",
  french: "cim_10 constat*",
  german: "befund*",
  italian: "referto riscontro",
  dutch: "bevinding*",
  nordic: "funn fynd fund",
  polish: "rozpoznan*",
  turkish: "tani teshis",
};
export const freeText: Words = {
  any: "coment* comment* coment* observa* memo",
  english:
    "cmt cmts rmk rmks obs remark remarks note notes free_text narrative description report message details detail letter_text text",
  spanish: "notas nota anotac* detalle*",
  portuguese: "notas nota anotac* detalh*",
  french: "remarque* compte_rendu note",
  german: "bem bemerkung* anmerkung* notiz* hinweis* freitext kommentar*",
  italian: "note annotaz* osserv*",
  dutch: "opmerk* toelichting notitie*",
  nordic: "anmark* bemaerk* merknad* notat* kommentar* anteckning* huomautus",
  polish: "uwagi uwaga notatk* komentarz",
  turkish: "aciklama* notlar yorum*",
  indonesian: "catatan keterangan komentar",
};
export const statusWords: Words = {
  any: "status state message validity statut* estado stato stanje flag",
  english: "readable outcome measurement result quality reading error err failure read_ok valid",
  spanish: "lectura",
  portuguese: "leitura estado",
  french: "etat lecture mesure erreur",
  german: "fehler messung messstatus meldung",
  italian: "esito_lettura lettura",
  dutch: "fout meting melding",
  nordic: "maling matning",
  polish: "stan pomiar komunikat",
  turkish: "durum*",
};
/** Whose row it is, one measurement of several. */
export const repeatWords: Words = {
  english: "repeat rep replicate trial shot attempt try run reading measurement measure test take",
  spanish: "medida medicion toma intento repeticion lectura",
  portuguese: "medida medicao tentativa repeticao leitura",
  french: "mesure essai repetition lecture",
  german: "messung wiederholung durchgang versuch",
  italian: "misura misurazione prova ripetizione tentativo lettura",
  dutch: "meting poging herhaling",
  nordic: "maling forsok gentagelse matning",
  polish: "pomiar proba",
  turkish: "olcum deneme tekrar",
  indonesian: "pengukuran ulangan percobaan",
};
/** What files hold beside, and no analysis here reads. */
export const harmless: Words = {
  any: "tension tensio tonus tio tono trykk iod gib oogdruk stereo* estereo* stereops* titmus randot lang_test ishihara iop tonomet* bmi version firmware software app lux temperature humidity battery",
  english:
    "tongue hx lep ell frl iep adhd photo contrast frisby meals hearing dental dentist audiom* leaflet asthma ehcp special_needs attended present followed_up contacted birth_order temp family_history famil*_history parental hereditary ethnic* race language handedness handed dominan* colou?r light* lighting illumin* brightness cooperat* coop compliance mood consent* assent insurance payer height weight head_circ* distance duration seconds minutes adverse tilt cct thickness pachy* axial plan management therapy treatment shift session season wave phase arm batch cohort npc convergence motility fundus reflex outdoor* outdoors screen_time screen_hours reading_hours near_work sleep sibling* siblings premature* preterm gestation* birth_?weight deprivation imd quintile ses income attempts tries frames images count weekday time allerg* medication* crowding length conv om npc bsv prf fusion vergence interpreter informed notified signed copay fee paid lunch fsm sen disab* absent dna missed dropout withdrawn lost lang merge patch patching hrs decile wks weeks",
  spanish:
    "pantalla intentos autorizacion turno vespertino firmado asistio falta color idioma lengua etnia peso altura talla estatura pio temperatura consentim* distancia luz sueno",
  portuguese:
    "tentativas autorizacao turno periodo assinado termo falta faltou cor idioma raca etnia peso altura pio temperatura consentim* distancia luz",
  french:
    "tentatives essais autorisation absent interprete couleur langue taille poids pio lumiere consentement distance sommeil duree",
  german:
    "versuche bildschirmzeit familiensprache einverstand* sprache muttersprache grosse gewicht groesse augendruck einwilligung licht beleuchtung abstand dauer farbsinn farbe",
  italian:
    "tentativi assenso turno assente colore lingua altezza peso tono consenso distanza luce durata",
  dutch: "pogingen thuistaal taal lengte gewicht oogdruk toestemming afstand licht duur kleur",
  nordic: "hjemmesprog sprog sprak hoyde vekt langd vikt samtykke samtycke avstand lys ljus",
  polish: "jezyk wzrost waga masa zgoda proby odleglosc",
  turkish: "boy_cm boy_uzunlugu kilo agirlik dil onam izni izin mesafe",
  indonesian: "persetujuan izin tinggi berat bahasa jarak",
};
/** Which part of a sample somebody is of; and how likely it was to be drawn. */
export const design: Words = {
  any: "stratum strata strat_no strat_id",
  english: "stratification sampling_fraction inclusion_prob* selection_prob* sampling_prob*",
  spanish: "estrato estratos",
  portuguese: "estrato estratos",
  french: "strate strates",
  german: "schicht schichten",
  italian: "strato strati",
  nordic: "sjikt skikt",
  polish: "warstwa warstwy",
  turkish: "tabaka tabakasi",
};
/** A class of ages. */
export const ageClass: Words = {
  any: "age_(?:group|grp|band|bracket|range|class|cat|category|interval|stratum)",
  english: "agegrp agegroup ageband agecat",
  spanish: "(?:grupo|rango|tramo|intervalo)s?_(?:de_edad|etario) grupo_edad",
  portuguese: "faixa_(?:etaria|de_idade) grupo_(?:etario|de_idade)",
  french: "(?:tranche|groupe|classe)_d_age",
  german: "altersgruppe* altersklasse* alterskategorie",
  italian: "(?:fascia|classe|gruppo)_(?:d|di)_eta",
  dutch: "leeftijds*",
  nordic: "aldersg* aldersk*",
  polish: "(?:grupa|przedzial|kategoria)_wiekow[ay]",
  turkish: "yas_(?:grubu|araligi)",
  indonesian: "kelompok_(?:umur|usia)",
};
/** Of the cornea and the length of the eye, and no refraction. */
export const biometry: Words = {
  any: "k_[12] al axial_length achslange achslaenge augenlange longueur_axiale longitud_axial comprimento_axial lunghezza_assiale aslengte kmean k_mean ker ceratom* al_mm axl_mm acd_mm lt_mm axl acd flat_k steep_k k_flat k_steep km kmax sim_?k cheratom* kerat* cornea* queratom* biometr*",
};
