package words

// english is the catalogue. Keys are ROOM.WHAT; the verbs are those of package fmt.
var english = map[string]string{
	"schedule.overview":          "Overview",
	"schedule.signals":           "Signal list",
	"schedule.stations":          "Stations",
	"schedule.slots":             "Slots",
	"schedule.channels":          "Channels",
	"schedule.terminals":         "Terminals",
	"schedule.addresses":         "Addresses",
	"schedule.supply_groups":     "Supply groups",
	"schedule.supplies":          "Supply units",
	"schedule.feeders":           "Feeders",
	"schedule.protections":       "Protections",
	"schedule.cables":            "Cables",
	"schedule.wires":             "Wires",
	"schedule.junction_boxes":    "Junction boxes",
	"schedule.network_cables":    "Network cables",
	"schedule.network_addresses": "Network addresses",
	"schedule.parts":             "Parts",
	"schedule.parts_for":         "Parts by use",
	"schedule.labour":            "Labour",
	"schedule.cost":              "Cost",
	"schedule.findings":          "Findings",
	"schedule.unplaced":          "Unplaced signals",
	"schedule.total":             "total",
	"schedule.caution": "Made from stated data; it approves nothing. Check it against the local code; functional safety, hazardous areas " +
		"and mains belong to licensed or competent people.",
}
