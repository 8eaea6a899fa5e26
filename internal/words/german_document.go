package words

var germanDocument = map[string]string{
	"doc.yes": "ja", "doc.no": "nein",
	"doc.tag": "Kennzeichen", "doc.name": "Name", "doc.type": "Typ", "doc.unit": "Einheit", "doc.value": "Wert", "doc.item": "Angabe", "doc.title": "Titel",
	"doc.kind": "Art, Form", "doc.device": "Gerät", "doc.equipment": "Anlagenteil", "doc.place": "Ort", "doc.station": "Station", "doc.stations": "Stationen",
	"doc.slot": "Platz", "doc.slots": "Plätze", "doc.slot_module": "Platz, Modul", "doc.slot_of": "%d, %s", "doc.channel": "Kanal", "doc.address": "Adresse",
	"doc.register": "Register", "doc.range": "Messbereich", "doc.from_to": "%s bis %s %s", "doc.safe_state": "Sicherer Zustand", "doc.hold": "Offen", "doc.remarks": "Bemerkungen",
	"doc.group": "Versorgungsgruppe", "doc.groups": "Gruppen", "doc.protected_by": "Geschützt durch", "doc.protects": "Schützt", "doc.rating": "Nennwert",
	"doc.cable": "Kabel", "doc.cables": "Kabel", "doc.wires": "Adern", "doc.core": "Ader", "doc.from": "Von", "doc.to": "Nach", "doc.area": "Querschnitt", "doc.length": "Länge",
	"doc.terminal": "Klemme", "doc.ferrule": "Hülse", "doc.no_ferrule_colour": "ohne Farbe", "doc.strip": "Abisolieren", "doc.tug": "Zugprobe", "doc.signals": "Signale",
	"doc.voltage": "Spannung", "doc.part": "Teil", "doc.code": "Code", "doc.count": "Zahl", "doc.base": "Sockel", "doc.module": "Modul", "doc.infeed": "Einspeisung",
	"doc.class": "Klasse", "doc.coupler": "Koppler", "doc.rail": "Schiene", "doc.enclosure": "Gehäuse", "doc.construction": "Bauweise", "doc.network": "Netzwerk",
	"doc.network_address": "Netzwerkadresse", "doc.slots_groups": "Plätze, Versorgungsgruppen", "doc.slots_groups_are": "%d Plätze, %d Gruppen", "doc.units_of": "%d × %s",
	"doc.bar": "Sammelschiene %s", "doc.board": "Verteiler %s", "doc.controller": "Steuerung", "doc.not_stated": "nicht angegeben",

	"doc.contents": "Inhalt", "doc.sheet": "Blatt", "doc.sheets": "Blätter", "doc.chapter": "Kapitel", "doc.schedules": "Listen", "doc.no_rows": "Nichts aufzuführen: %s.",
	"doc.cover_intro":        "Unterlagen eines Entwurfs: %d Stationen, %d Signale. Zeichnungen, Listen und Blätter zeigen dieselben Daten; wo Papier und Datei sich unterscheiden, gilt die Datei.",
	"doc.address_convention": "Adresszählung", "doc.controller_name": "Steuerung", "doc.project": "Projekt", "doc.revision": "Revision", "doc.revision_is": "Revision %s",
	"doc.caution_general": "Aus angegebenen Daten erstellt; damit ist nichts genehmigt. Vor Bau und Einschalten gegen die örtlichen Vorschriften prüfen. " +
		"Funktionale Sicherheit, Ex-Bereiche und Netzspannung gehören in die Hände von befugten Fachleuten.",
	"doc.caution_draft": "Nicht zur Ausführung: Der Entwurf ist nicht angenommen, oder Werte sind noch offen. Nach diesen Blättern nichts kaufen, bauen oder verdrahten.",

	"doc.report": "Berechnungen", "doc.report_summary": "Zusammenfassung", "doc.report_basis": "Auslegungsgrundlagen", "doc.report_rules": "Regeln und ihre Ergebnisse",
	"doc.report_findings": "Befunde", "doc.report_formulas": "Formeln", "doc.report_calculations": "Rechnungen", "doc.report_sources": "Quellen",
	"doc.result": "Ergebnis", "doc.signals_listed": "Signale der Liste", "doc.signals_placed": "Zugeordnete Signale", "doc.signals_unplaced": "Nicht zugeordnete Signale",
	"doc.cost_total": "Kosten des Entwurfs", "doc.cost_home_run": "Kosten von Einzelleitungen bis zur Steuerung", "doc.lower_bound": "Bewiesene untere Schranke des Ziels", "doc.gap": "Abstand zur Schranke",
	"doc.update_of": "Aktualisierung %s ms", "doc.input_hash": "Prüfsumme der Eingaben", "doc.made_by": "Erstellt mit", "doc.used_channels": "Kanäle belegt / vorhanden", "doc.heat": "Wärme", "doc.inside_max": "Innen höchstens",
	"doc.why": "Warum", "doc.proof": "Beweis", "doc.where": "Wo", "doc.hold_on": "Offen bei %s: %s",
	"doc.basis_intro": "Jeder angegebene Wert, auf den sich eine Rechnung dieses Entwurfs stützt, mit seiner Stelle in project.toml. Was dort nicht steht, ist eine Vorgabe des Formats.",
	"doc.stated_at":   "Angegeben in", "doc.times_used": "Benutzt",
	"doc.rules_intro": "Jede Regel wurde am ganzen Entwurf geprüft. Zu jedem anderen Ergebnis als „ohne Befund“ steht Näheres unter Befunde.",
	"doc.rule":        "Regel", "doc.checked_what": "Geprüft", "doc.source": "Quelle", "doc.nothing_found": "ohne Befund", "doc.rule_of_lists": "Lesen der Liste, des Projekts und der Geräteliste",
	"doc.n_errors": "Fehler: %d", "doc.n_warnings": "Warnungen: %d", "doc.n_infos": "Hinweise: %d", "doc.errors": "Fehler (%d)", "doc.warnings": "Warnungen (%d)", "doc.infos": "Hinweise (%d)",
	"doc.no_findings": "Keine Regel hat etwas gefunden.", "doc.subject": "Gegenstand", "doc.finding": "Befund", "doc.remedy": "Abhilfe",
	"doc.formulas_intro": "Jede Formel einmal, wie sie ausgewertet wird. Die Rechnungen nennen sie beim Namen.",
	"doc.formula":        "Formel", "doc.inputs": "Eingaben",
	"doc.calculations_intro": "Jede Größe mit den Werten darin und der Herkunft jedes Wertes: project: in project.toml angegeben; signal: in der Signalliste; hardware: in der Geräteliste; cite: in einer Veröffentlichung; calc: eine andere Zeile dieser Liste.",
	"doc.calculation":        "Rechnung", "doc.and_more": "und %d weitere",
	"doc.sources_intro": "Worauf Formeln, Regeln und Werte sich stützen. Was „from memory“ heißt, ist vor Gebrauch am Dokument zu prüfen.",
	"doc.document":      "Dokument", "doc.how_seen": "Wie es vorlag, oder was es nicht ist",

	"doc.labels": "Schilder", "doc.station_plates": "Schilder der Stationen", "doc.cable_tags": "Kabelschilder, eines je Ende", "doc.module_labels": "Schilder der Module",
}
