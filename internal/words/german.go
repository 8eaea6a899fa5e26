package words

import "maps"

// german holds the texts of printed documents in German. A key must stand in english too, with the same
// verbs in the same order; a key that is missing here is printed in English.
var german = map[string]string{}

func init() {
	for _, part := range []map[string]string{germanPaper, germanDocument, germanSite, germanDrawing, germanStation, germanSchedule, germanExplain} {
		maps.Copy(german, part)
	}
}

var germanPaper = map[string]string{
	"paper.design":           "Entwurf %s",
	"paper.rev":              "Rev.",
	"paper.date":             "Datum",
	"paper.made":             "Erstellt",
	"paper.checked":          "Geprüft",
	"paper.approved":         "Freigabe",
	"paper.draft":            "NICHT ZUR AUSFÜHRUNG",
	"paper.for_construction": "Zur Ausführung freigegeben:",
	"paper.page":             "Seite %d von %d",
}

var germanSchedule = map[string]string{
	"schedule.overview": "Übersicht", "schedule.signals": "Signalliste", "schedule.stations": "Stationen", "schedule.slots": "Steckplätze", "schedule.channels": "Kanäle",
	"schedule.terminals": "Klemmen", "schedule.addresses": "Adressen", "schedule.supply_groups": "Versorgungsgruppen", "schedule.supplies": "Netzgeräte",
	"schedule.feeders": "Netzzuleitungen", "schedule.protections": "Schutzgeräte", "schedule.cables": "Kabel", "schedule.wires": "Adern", "schedule.junction_boxes": "Klemmenkästen",
	"schedule.network_cables": "Netzwerkkabel", "schedule.network_addresses": "Netzwerkadressen", "schedule.parts": "Teile", "schedule.parts_for": "Teile nach Verwendung",
	"schedule.labour": "Arbeit", "schedule.cost": "Kosten", "schedule.findings": "Befunde", "schedule.unplaced": "Nicht zugeordnete Signale", "schedule.holds": "Offene Punkte",
	"schedule.infeed_terminals": "Klemmen der Einspeisungen", "schedule.box_terminals": "Klemmen der Kästen", "schedule.settings": "Einstellungen der Kanäle",
	"schedule.station_settings": "Einstellungen der Stationen", "schedule.drums": "Trommeln", "schedule.drum_cuts": "Zuschnitte", "schedule.pulls": "Zugliste",
	"schedule.route_sections": "Kabelwege", "schedule.spare_cores": "Reserveadern", "schedule.ferrules": "Aderendhülsen", "schedule.glands": "Verschraubungen",
	"schedule.gland_plates": "Einführungsplatten", "schedule.labels_terminals": "Schilder der Klemmen", "schedule.labels_wires": "Schilder der Adern",
	"schedule.labels_cables": "Schilder der Kabel", "schedule.labels_modules": "Schilder der Module", "schedule.labels_stations": "Schilder der Stationen", "schedule.changes": "Änderungen",
}
