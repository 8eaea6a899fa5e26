package words

import "maps"

func init() { maps.Copy(english, englishStation) }

// englishStation holds the texts of the drawings of one station.
var englishStation = map[string]string{
	"drawing.chapter.stations":     "Stations",
	"drawing.rail.title":           "Rail of station %s, %s",
	"drawing.rail.coupler":         "coupler",
	"drawing.rail.groups":          "Supply groups",
	"drawing.rail.slots":           "Slots",
	"drawing.rail.slot":            "slot %d",
	"drawing.head.group":           "group",
	"drawing.head.slots":           "slots",
	"drawing.head.infeed":          "infeed at",
	"drawing.head.supply":          "supply",
	"drawing.head.protection":      "protection",
	"drawing.head.conductor":       "conductor",
	"drawing.head.load":            "load/limit",
	"drawing.head.slot":            "slot",
	"drawing.head.module":          "module",
	"drawing.head.base":            "base",
	"drawing.head.bytes":           "bytes",
	"drawing.head.used":            "in use",
	"drawing.head.sheet":           "sheet",
	"drawing.rail.length":          "%s mm (widths 1 : %s, heights not to scale)",
	"drawing.module.title":         "Connections of %s, station %s slot %d",
	"drawing.module.base":          "base %s",
	"drawing.module.infeed":        "infeed point",
	"drawing.module.spare":         "spare",
	"drawing.module.bar":           "bar %s of %s",
	"drawing.module.hold":          "HOLD: %s",
	"drawing.module.rail":          "rail of the station: sheet",
	"drawing.legend.conductor":     "conductor with its core",
	"drawing.legend.screened":      "screened cable, screen on the bar",
	"drawing.legend.group_of":      "supply group of the module",
	"drawing.legend.load":          "its load within its limit",
	"drawing.legend.bus":           "supply bus",
	"drawing.legend.infeed":        "supply pair, infeed point",
	"drawing.legend.channels":      "channel in use, spare",
	"drawing.legend.infeed_module": "infeed module",
	"drawing.legend.base":          "module on its base",
}
