// Persons, places and visits; words of names of columns, common practice, no source.
import type { Words } from "./words.js";

/** That a name stands there, of a person or of a place. */
export const named: Words = {
  english: "name names",
  spanish: "nombre nombres",
  french: "nom",
  german: "namen",
  italian: "nome",
  dutch: "naam",
  nordic: "navn namn",
  turkish: "ad adi isim",
  indonesian: "nama",
};
/** Of a person's name, or of who is near a child. */
export const person: Words = {
  english:
    "surname surnames forename forenames firstname lastname guardian parent parents mother father carer caregiver initials nickname mum dad teacher headteacher",
  spanish: "apellidos? tutor tutora madre padre",
  portuguese: "apelidos? sobrenome responsavel mae pai",
  french: "prenom prenoms parent mere pere",
  german: "vorname nachname rufname eltern* mutter vater erziehungsber* lehrer* familien_?name",
  italian: "cognome nominativo genitore madre padre",
  dutch: "achter_?naam voor_?naam roep_?naam ouder ouders moeder vader verzorger leerkracht",
  nordic:
    "fornavn efternavn etternavn etter_navn fornamn efternamn foresatt foresatte larer laerer vardnadshavare foraldrer",
  polish: "imie imiona nazwisko opiekun rodzic matka ojciec nauczyciel*",
  turkish: "soyad soyadi veli anne baba ogretmen*",
  indonesian: "orangtua orang_tua wali ibu ayah guru",
};
/** Of a child's family: what is said of them is not said of the child. */
export const relatives: Words = {
  english:
    "family fh parent parents parental mother father mum dad sibling siblings brother brothers relative relatives maternal paternal",
  spanish: "familia* padres hermano* hermana*",
  portuguese: "familia* pais irmao* irma irmas",
  french: "famille familial* parents frere* soeur* fratrie",
  german: "familie* eltern* geschwister*",
  italian: "famiglia* familiar* genitor* fratell*",
  dutch: "familie* ouder ouders broer* zus zussen",
  nordic: "familie* foreldre* foraeldre* foraldra* syskon sosken soskende",
  polish: "rodzin* rodzic* rodzenst*",
  turkish: "aile* kardes* ebeveyn*",
  indonesian: "keluarga orang_tua saudara",
};
export const address: Words = {
  any: "addr address* adres(?!sag)*",
  english: "street road house_number",
  spanish: "direccion domicilio calle",
  portuguese: "endereco morada rua",
  french: "rue domicile",
  german: "anschrift strasse wohnort wohnadresse",
  italian: "indirizzo",
  dutch: "straat woonplaats",
  nordic: "bopael gate vej",
  polish: "ulica zamieszkan*",
  indonesian: "alamat",
};
export const postalCode: Words = {
  english: "zip zipcode post_?code postal",
  spanish: "codigo_postal cp",
  portuguese: "cod_postal codigo_postal cep",
  french: "code_postal cp",
  german: "plz postleitzahl",
  italian: "cap",
  dutch: "post_?code",
  nordic: "postnr postnummer post_nummer post_nr",
  polish: "kod_pocztowy",
  turkish: "posta_kodu",
  indonesian: "kode_pos",
};
export const phone: Words = {
  any: "tel telef* telep* phone phones mobile mobil whatsapp gsm",
  english: "contact cell cellphone mob landline contact_(?:number|no|tel)",
  spanish: "movil celular contacto",
  portuguese: "celular telemovel contato contacto",
  french: "portable",
  german: "handy* rufnummer",
  italian: "cellulare recapito",
  dutch: "telefoon* mobiel",
  nordic: "tlf mobilnr",
  polish: "komork*",
  turkish: "cep",
  indonesian: "hp",
};
export const email: Words = {
  any: "email e_mail mail courriel correo e?post eposta e_posta surel",
};
export const nationalNumber: Words = {
  english:
    "nhs nhs_(?:no|number) ssn national_(?:no|number|id) medicaid medicare insurance_(?:no|number|id) mrn aadhaar",
  spanish: "dni nie curp rut rfc cedula",
  portuguese: "cpf cns nif cartao sus",
  french: "nir numero_secu secu nss",
  german: "svnr kvnr versichert* ahv versicherungs*",
  italian: "codice_fiscale tessera cf",
  dutch: "bsn",
  nordic:
    "cpr personnummer personnr fodselsnummer person_nummer person_nr fodsels_nummer cpr_(?:nr|nummer)",
  polish: "pesel",
  turkish: "kimlik tc_no tckn",
  indonesian: "nik nisn",
};
export const examiner: Words = {
  any: "operator* operat* optometr* oftalmo* oftalmolog* ophtalmo* orthopt* ortopt* ortott* doctor doctora tech technic* tecnicos? techniker*",
  english:
    "examiner examined_by screener screened_by nurse tester tested_by technician ophthalmologist physician clinician assessor assessed_by volunteer provider recorded_by entered_by seen_by measured_by done_by staff user observer grader practitioner worker investigator sister matron *assistent* hv rater exmnr opr health_visitor optom dr username recorder clerk chw vht fieldworker field_worker enumerator interviewer by_whom who_(?:tested|screened|examined|measured) team_member staff_member data_collector assistant performed_by collected_by reader consultant gp clin",
  spanish:
    "brigadista responsable examinado_por realizado_por realizo evaluado_por promotor* tamizador* aplicador* medic[oa]s? examinador* evaluador* enfermer[oa] profesional* tecnologo responsable_(?:de_)?(?:medida|toma) realizado_por personal",
  portuguese:
    "medic[oa] avaliador* examinador* enfermeir[oa] profissional realizado_por examinado_por operador agente",
  french:
    "evaluateur evaluatrice examine_par realise_par examinateur examinatrice praticien* medecin infirmi* depist(?:eur|euse)s? profession(?:al|nel) mesure_par intervenant*",
  german:
    "mfa kurzel kuerzel untersucher* prufer* pruefer* arzt* aerzt* augenarzt* bediener* mitarbeiter* helfer* schwester gemessen_von untersucht_von durchgefuhrt_von messperson",
  italian: "rilevator* esaminat* medic[oa] infermier* oculist* valutat*",
  dutch:
    "jeugdarts verpleeg* medewerker onderzoeker arts oogarts screener meter assistent* uitvoerder gemeten_door",
  nordic:
    "helsesykepl* sykepleier* undersoker undersoger sygeplejersk* sjukskoter* skoter* ssk oyelege ogonlakare ojenlaege lege laege lakare maler testleder utfort_av malt_av matt_av undersogt_af malt_af undersokt_av sundhedspl*",
  polish: "lekarz* pielegniark* badajac* badala badal okulist* ortoptyst* wykonal* osoba_bada*",
  turkish: "hekim doktor hemsire muayene_eden olcen teknisyen uygulayan",
  indonesian: "pemeriksa dokter perawat petugas",
};
export const place: Words = {
  any: "site centre center campus hospital* clinic* kindergarten* school",
  english:
    "fac urn udise uai brin npsn loc institute elementary setting where where_(?:seen|tested|screened|examined|done|measured) bldg inst schl hosp phc chc outlet academy daycare creche playgroup branch location place kita nursery preschool sch facility practice village district county community municipality department dept *stas?[jt]i?on organi[sz]ation building establishment setting venue church camp hub borough parish province trust outreach_site",
  spanish:
    "guarderia comuna institucion escuela colegio centro unidad consultorio sede localidad municipio instituto plantel policlinic* jardin distrito",
  portuguese:
    "ubs jardim escola colegio creche unidade posto sede agrupamento municipio freguesia local_de",
  french:
    "maternelle ecole etablissement commune localite lieu creche cabinet college secteur_scolaire",
  german:
    "grundschule praxis tagesstatte schul schule standort einrichtung gemeinde kita praxis ort klinik*",
  italian: "scuola sede ambulator* comune istituto plesso asilo struttura",
  dutch:
    "peuterspeelzaal kinderopvang bureau consultatiebureau wijk locatie school gemeente praktijk basisschool vestiging",
  nordic:
    "institution* bvc bhv skol[ae] skole* skolan sted plats kommune barnehage bornehave forskola helsestasjon mottagning avdelning",
  polish:
    "szkol* placowk* przedszkol* przychodni* poradni* gmina miejsce miejscowosc osrodek powiat",
  turkish: "okul okulu anaokulu ilce mahalle hastane* klinik merkez* kurum*",
  indonesian:
    "sekolah tk paud posyandu puskesmas rumah_sakit klinik lokasi desa kecamatan kelurahan",
};
/** A year of school, or a class that is named by its year. */
export const schoolYear: Words = {
  english:
    "class form_class cohort_group classroom std standard gr grade grd yr_lvl year_level level stage key_stage year_group",
  spanish: "nivel curso grado",
  portuguese: "turma ano_escolar serie",
  french: "classe niveau",
  german: "klasse stufe klassenstufe jahrgang*",
  italian: "classe",
  dutch: "klas groep",
  nordic: "klasse klass arskurs trinn trin luokka",
  polish: "klasa",
  turkish: "sinif*",
  indonesian: "kelas",
};
/** A part of a place, which could be a code of something else as well. */
export const lesserPlace: Words = {
  english:
    "tutor_group registration_group sec route room group team ward region zone area sector stop section homeroom cluster station",
  spanish: "paralelo grupo aula seccion clase zona sector salon",
  portuguese: "grupo sala",
  french: "groupe section",
  german: "gruppe abteilung",
  italian: "gruppo sezione",
  dutch: "afdeling",
  nordic: "stue stuga grupp gruppe avdeling",
  polish: "oddzial grupa",
  turkish: "sube",
  indonesian: "rombel",
};
/** Of any date; those of birth and of other things apart. */
export const dateOf: Words = {
  any: "date dt dttm dat datum dato datoen data fecha fec tarih* tanggal tgl datetime timestamp",
  english: "visit appt opd started start seen on tested screened examined when day dov dos doe",
  spanish: "visto dia consulta",
  portuguese: "visto dia consulta",
  french: "vu jour visite consult*",
  german: "untersucht tag termin",
  italian: "visto giorno visita",
  dutch: "dag bezoek",
  nordic: "undersok* undersog* dag den besok* pvm malt matt",
  polish: "dzien badan* wizyt*",
  turkish: "gun",
  indonesian: "hari",
};
export const birth: Words = {
  english: "dob birth born birthday birthdate bth bdate bday d_o_b",
  spanish: "nac nacim* nacid*",
  portuguese: "nasc nascim* nascid* dn",
  french: "naiss* ne nee ddn",
  german: "geb gebdat geburt* geboren",
  italian: "nascita nat[oa]",
  dutch: "gebo* gebdatum",
  nordic: "fodt fodte fodd fodsel* fodelse* syntyma*",
  polish: "urodz* ur",
  turkish: "dogum* d_tarihi",
  indonesian: "lahir",
};
/** When something was measured. */
export const measuredOn: Words = {
  any: "test* screen* scr consult* badan* control*",
  english:
    "exm exam* visit* seen meas* read* assess* clinic session taken capture* record* attend* dos dov doe encounter encntr enc appointment checked",
  spanish:
    "tamiz* cribado valora* visita* revis* medida* medicion toma examen exploracion consulta cita",
  portuguese: "triagem rastre* consulta avalia* visita medid* exame",
  french: "depist* bilan visite examen mesure* passage",
  german: "untersuch* mess* vorstell* visite aufnahme",
  italian: "esam* vist[ao] visita misura* screening controllo",
  dutch: "meting meet bezoek onderzoek*",
  nordic: "malt matt undersok* undersog* maling besok* matning* kontroll*",
  polish: "badani* wizyt* pomiar*",
  turkish: "muayene* olcum* tarama*",
  indonesian: "pemeriksaan skrining periksa kunjungan",
};
/** Of something else: an export, a letter, a next visit. */
export const otherDate: Words = {
  english:
    "export* print* mail* post* upload* load* extract* download* import* sync* archiv* received creat* modif* updat* letter sent follow next return f_?u fu appointment referral referred entered entry consent* booked calibrat* report* due registered registration enrol* recall review_due invited invitation dispensed last_seen deadline review recall",
  spanish: "prox* derivac* alta citacion envio carta registro ingreso",
  portuguese: "prox* carta envio registo cadastro retorno",
  french: "prochain* rdv rendez lettre envoi saisie edition",
  german: "nachst* wiedervorst* brief versand* druck* erfass* kontrolltermin eingang* versch*",
  italian: "prossim* lettera invio spedi* richiamo",
  dutch: "volgend* controle_over brief verstuur* verzond* invoer* herhaalafspraak",
  nordic: "neste nasta naeste brev sendt skickat registrer*",
  polish: "nastepn* wyslan* wpis* kolejn*",
  turkish: "sonraki gelecek kayit gonder*",
  indonesian: "rujuk* berikutnya kirim kontrol",
};
export const idOf: Words = {
  any: "id ids no nr num numero number code key ref uid pid sid mrn barcode identifier identifiant",
  english: "reference idno idnr refno",
  spanish: "codigo matricula registro folio historia expediente nhc ficha clave nro identificador",
  portuguese: "codigo matricula registo processo prontuario ficha utente",
  french: "matricule dossier ndossier",
  german: "kennung aktenzeichen nummer ident fallnummer kennziffer",
  italian: "codice matricola cartella",
  dutch: "nummer dossier",
  nordic: "nummer kode kod journal lopenr",
  polish: "numer kod identyfikator",
  turkish: "numara numarasi kod kodu",
  indonesian: "nomor kode nis",
};
export const child: Words = {
  any: "subj subject patient* pat pacient* pazient* person study stu chart mrn proband* case",
  english:
    "child children kid pupil student participant learner screening upn hosp_no hospital_no mr_no opd_no roll_no reg_no admission attendee minor infant",
  spanish: "alumn[oa] nino nina menor paciente expediente historia estudiante",
  portuguese: "aluno crianca utente menor estudante",
  french: "eleve enfant",
  german: "schueler* schuler* kind kinder fall",
  italian: "bambin* paziente alunno assistito",
  dutch: "leerling* kind patient",
  nordic: "elev* barn* pasient* deltag* oppilas lapsi potilas",
  polish: "dzieck* uczen ucznia pacjent*",
  turkish: "ogrenci* cocuk* hasta",
  indonesian: "siswa anak murid pasien peserta",
};
