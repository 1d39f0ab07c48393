// What is measured of an eye, and how; words of names of columns, common practice, no source.
import type { Words } from "./words.js";

export const sphere: Words = {
  any: "sph* dsph* ds sf sfa* sfe* esf* sfer* sphaer*",
};
export const cylinder: Words = {
  any: "cyl* dcyl* cil* dc astig*",
  german: "zyl*",
  nordic: "syl*",
  turkish: "silindir* silindrik",
  indonesian: "silinder* silindris",
};
export const axis: Words = {
  any: "ax axis axe axes meridian",
  english: "axs",
  spanish: "eje ejes",
  portuguese: "eixo",
  german: "achse achsen achs achslage ach",
  italian: "asse",
  dutch: "asrichting",
  nordic: "akse* axel axeln aksel*",
  polish: "osie",
  turkish: "aks aksi eksen*",
  indonesian: "aksis sumbu",
};
export const equivalent: Words = {
  any: "aquiv* aekviv* se mse ser seq spheq seqv equiv* aequiv* ekviv* sphequiv* seqd sed",
  english: "sph*_eq* spherical_eq* eq_es* eq_sph*",
  spanish: "ee",
  dutch: "sfeq",
  polish: "ekwiw* rownowaz*",
  turkish: "esdeger*",
  indonesian: "ekuival* ekivalen*",
};
export const refraction: Words = {
  any: "rx refr refrac* refrak* refraz* prescription retinoscopy",
  english: "retin skiascopy refn",
  spanish: "graduacion esquiascop* retinoscopia",
  portuguese: "grau esquiascop* retinoscopia",
  french: "skiascopie formule",
  german: "skiaskopie brillenwert*",
  italian: "schiascopia",
  nordic: "skiaskopi",
};
export const interpupillary: Words = {
  any: "pd ipd dip dp di interpup*",
  english: "pupillary_distance pupil_distance pup_dist pupil_dist pupils_apart",
  spanish: "distancia_pup*",
  portuguese: "distancia_pup* dnp",
  french: "ecart_pup* ecart_inter* distance_pup* eip",
  german: "pupillendist* pupillenabst* augenabstand",
  italian: "distanza_pup*",
  dutch: "pupilafstand pupilafst*",
  nordic: "pupillavst* pupilavst* pupilafst* pupillafst*",
  polish: "rozstaw*",
  turkish: "pupiller_mesafe pupil_mesafesi",
  indonesian: "jarak_pupil",
};
export const pupil: Words = {
  any: "pup pupil* pupp* ps",
  polish: "zrenic*",
  turkish: "goz_bebegi pupilla",
  nordic: "pupill*",
};
export const gaze: Words = {
  any: "gaze",
  spanish: "mirada",
  portuguese: "olhar",
  french: "regard",
  german: "blick*",
  italian: "sguardo",
  dutch: "blik*",
  nordic: "blikk*",
  polish: "spojrzen*",
  turkish: "bakis*",
};
export const confidence: Words = {
  any: "conf* konf* qual* kval* certainty score",
  english: "reliab* trust qi rel signal snr probability",
  spanish: "fiab* calidad confiab* confianza",
  portuguese: "confian* fiab* confiab*",
  french: "fiab*",
  german: "zuverl* gute messgute guete messguete vertrauen*",
  italian: "affid* qualita",
  dutch: "betrouw* kwal*",
  nordic: "tillforl* palid* palitel*",
  polish: "wiaryg* jakosc pewnosc",
  turkish: "guven* kalite",
  indonesian: "keandalan kualitas keyakinan kepercayaan",
};
export const acuity: Words = {
  any: "va av avsc avcc vasc vacc visus vision acuity bcva ucva uva dva cva udva cdva bva pva nva logmar log_mar snellen lea hotv",
  english: "sight",
  spanish: "agudeza",
  portuguese: "acuidade visao",
  french: "acuite* avl",
  german: "sehscharf* sehschaerf* fernvisus nahvisus",
  italian: "acuita acutezza visus",
  dutch: "gezichtsscherpte visus",
  nordic: "synsstyrke synskarpa skarpa synsskarphed",
  polish: "ostrosc*",
  turkish: "keskinlig* gorme",
  indonesian: "tajam ketajaman visus",
};
export const strabismus: Words = {
  any: "strab* estrab* tropia heterotropia cover_test covertest ct cover_uncover",
  english:
    "eye_turn misalignment motility squint deviat* alignment hirschberg eye_position eyes_straight",
  spanish: "test_de_cover prueba_de_cover desvia* alineacion",
  portuguese: "teste_de_cobertura desvio* alinhamento",
  french: "deviation* ecran",
  german: "schiel* abdecktest",
  italian: "deviazion*",
  dutch: "afdektest scheel* loensen oogstand",
  nordic: "dekktest tildaekningstest skel* skjel* skelning",
  polish: "zez zaslaniania",
  turkish: "sasilik kayma ortme kapama",
  indonesian: "juling",
};
export const opacity: Words = {
  any: "opac* cataract* katarakt* catarat* media",
  english: "lens_opac* lens_clarity lens_status crystalline",
  spanish: "medios",
  german: "*trubung* *truebung* medien",
  french: "milieux",
  italian: "mezzi",
  dutch: "lenstroebel* *troebel*",
  nordic: "gra_starr *grumling",
  polish: "zacma zmetnien*",
  indonesian: "kekeruhan katarak",
};
export const ptosis: Words = {
  any: "*ptosis ptos* lids lid lid_droop",
  dutch: "ooglid",
  polish: "opadanie",
};
export const drops: Words = {
  any: "cyclo* ciclo* zyklo* siklo* syklo* cyklo* cycloplegi* dilat* mydria* midria* atropin* tropicam* tropikam*",
  english: "cr dfe drop drops wet agent dilution eyedrops",
  spanish: "gotas colirio",
  portuguese: "gotas colirio",
  french: "gouttes collyre",
  german: "pupillenerweiterung tropfen augentropfen weitgetropft weittropf* getropft",
  italian: "gocce collirio",
  dutch: "druppels oogdruppels gedruppeld",
  nordic: "draber oyendraper drypp* ogondroppar droppar ojendraber draper",
  polish: "krople kropl* akomodacji",
  turkish: "damla*",
  indonesian: "tetes",
};
export const method: Words = {
  any: "method* metod* technique tecnica technik how type procedure mode verfahren",
  french: "methode procede",
  dutch: "methode techniek werkwijze",
  nordic: "metode",
  polish: "metoda sposob",
  turkish: "yontem* teknik",
  indonesian: "metode cara",
};
export const instrument: Words = {
  any: "refractor autorefractor autoref* instrument* device machine model apparatus equipment apparat* aparat*",
  spanish: "dispositivo equipo",
  portuguese: "aparelho dispositivo equipamento",
  french: "appareil dispositif",
  german: "gerat geraet messgerat geratetyp",
  italian: "strumento apparecchio dispositivo",
  dutch: "toestel apparaat",
  nordic: "utstyr udstyr enhet",
  polish: "urzadzenie przyrzad",
  turkish: "cihaz*",
  indonesian: "alat",
};
export const serial: Words = {
  any: "serial imei serien* n*_di_serie asset_tag gerate_(?:id|nr) cihaz_no",
  english: "(?:device|unit|instr|instrument|machine|equipment)_(?:id|sn|s_n|no|nr|number|code|tag)",
  spanish: "n*_de_serie n*_serie",
  portuguese: "n*_de_serie",
  french: "n*_de_serie n*_serie",
  german: "geratenr gerateid geratenummer",
  dutch: "serie_nummer serie_nr serienr",
  nordic: "serie_nummer serie_nr",
  polish: "numer_seryjny nr_seryjny seryjny",
  turkish: "seri_no",
  indonesian: "nomor_seri no_seri",
};
