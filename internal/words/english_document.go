package words

import "maps"

func init() { maps.Copy(english, englishDocument) }

// englishDocument holds the captions and texts of printed sheets: what many of them share, the report and
// the labels.
var englishDocument = map[string]string{
	"doc.yes": "yes", "doc.no": "no",
	"doc.tag": "Tag", "doc.name": "Name", "doc.type": "Type", "doc.unit": "Unit", "doc.value": "Value", "doc.item": "Item", "doc.title": "Title",
	"doc.kind": "Kind, form", "doc.device": "Device", "doc.equipment": "Equipment", "doc.place": "Place", "doc.station": "Station", "doc.stations": "Stations",
	"doc.slot": "Slot", "doc.slots": "Slots", "doc.slot_module": "Slot, module", "doc.slot_of": "%d, %s", "doc.channel": "Channel", "doc.address": "Address",
	"doc.register": "Register", "doc.range": "Range", "doc.from_to": "%s to %s %s", "doc.safe_state": "Safe state", "doc.hold": "Hold", "doc.remarks": "Remarks",
	"doc.group": "Supply group", "doc.groups": "Groups", "doc.protected_by": "Protected by", "doc.protects": "Protects", "doc.rating": "Rating",
	"doc.cable": "Cable", "doc.cables": "Cables", "doc.wires": "Wires", "doc.core": "Core", "doc.from": "From", "doc.to": "To", "doc.area": "Size", "doc.length": "Length",
	"doc.terminal": "Terminal", "doc.ferrule": "Ferrule", "doc.no_ferrule_colour": "no colour", "doc.strip": "Strip", "doc.tug": "Tug test", "doc.signals": "Signals",
	"doc.voltage": "Voltage", "doc.part": "Part", "doc.code": "Code", "doc.count": "Count", "doc.base": "Base", "doc.module": "Module", "doc.infeed": "Infeed",
	"doc.class": "Class", "doc.coupler": "Coupler", "doc.rail": "Rail", "doc.enclosure": "Enclosure", "doc.construction": "Construction", "doc.network": "Network",
	"doc.network_address": "Network address", "doc.slots_groups": "Slots, supply groups", "doc.slots_groups_are": "%d slots, %d groups", "doc.units_of": "%d × %s",
	"doc.bar": "bar %s", "doc.board": "board %s", "doc.controller": "controller", "doc.not_stated": "not stated",

	"doc.contents": "Contents", "doc.sheet": "Sheet", "doc.sheets": "Sheets", "doc.chapter": "Chapter", "doc.schedules": "Schedules", "doc.no_rows": "Nothing to list: %s.",
	"doc.cover_intro":        "Documents of one design (stations: %d, signals: %d). Drawings, schedules and sheets show the same data; where paper and file differ, the file holds.",
	"doc.address_convention": "Address convention", "doc.controller_name": "Controller", "doc.project": "Project", "doc.revision": "Revision", "doc.revision_is": "revision %s",
	"doc.caution_general": "Made from stated data; it approves nothing. Check it against the local code before anything is built or switched on. " +
		"Functional safety, hazardous areas and mains belong to licensed or competent people.",
	"doc.caution_draft": "Not for construction: the design is not accepted, or values are still to be confirmed (holds). Do not buy, build or wire from these sheets.",

	"doc.report": "Calculation report", "doc.report_summary": "Summary", "doc.report_basis": "Design basis", "doc.report_rules": "Rules and their results",
	"doc.report_findings": "Findings", "doc.report_formulas": "Formulas", "doc.report_calculations": "Calculations", "doc.report_sources": "Sources",
	"doc.result": "Result", "doc.signals_listed": "Signals in the list", "doc.signals_placed": "Signals placed", "doc.signals_unplaced": "Signals not placed",
	"doc.cost_total": "Cost of the design", "doc.cost_home_run": "Cost of home runs for the same signals", "doc.lower_bound": "Proven lower bound of the objective", "doc.gap": "Gap to the bound",
	"doc.update_of": "update %s ms", "doc.input_hash": "Hash of the input", "doc.made_by": "Made by", "doc.used_channels": "Channels used / built", "doc.heat": "Heat", "doc.inside_max": "Inside at most",
	"doc.why": "Why", "doc.proof": "Proof", "doc.where": "Where", "doc.hold_on": "Hold on %s: %s",
	"doc.basis_intro": "Every stated value that a calculation of this design leans on, with its place in project.toml. What stands there in no key is a default of the format.",
	"doc.stated_at":   "Stated at", "doc.times_used": "Times used",
	"doc.rules_intro": "Each rule was held against the whole design. A rule with a result other than \"nothing found\" is spoken of under Findings.",
	"doc.rule":        "Rule", "doc.checked_what": "Checked", "doc.source": "Source", "doc.nothing_found": "nothing found", "doc.rule_of_lists": "reading of the list, the project and the hardware list",
	"doc.n_errors": "errors: %d", "doc.n_warnings": "warnings: %d", "doc.n_infos": "infos: %d", "doc.errors": "Errors (%d)", "doc.warnings": "Warnings (%d)", "doc.infos": "For information (%d)",
	"doc.no_findings": "No rule found anything.", "doc.subject": "Subject", "doc.finding": "Finding", "doc.remedy": "Remedy",
	"doc.formulas_intro": "Each formula once, as it is evaluated. The report of calculations names them.",
	"doc.formula":        "Formula", "doc.inputs": "Inputs",
	"doc.calculations_intro": "Each figure with the values in it and where each of them comes from: project: stated in project.toml; signal: in the signal list; hardware: in the hardware list; cite: in a published source; calc: another line of this list.",
	"doc.calculation":        "Calculation", "doc.and_more": "and %d more",
	"doc.sources_intro": "What the formulas, rules and values lean on. \"From memory\" must be checked against the document before anybody relies on it.",
	"doc.document":      "Document", "doc.how_seen": "How it was seen, or what it is not",

	"doc.terminal_labels": "Terminal labels", "doc.wire_labels": "Wire labels, one for each end",
	"doc.labels": "Labels", "doc.station_plates": "Station plates", "doc.cable_tags": "Cable tags, one for each end", "doc.module_labels": "Module labels",
}
