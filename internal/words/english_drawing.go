package words

import "maps"

func init() { maps.Copy(english, englishDrawing) }

// englishDrawing holds the texts of drawings.
var englishDrawing = map[string]string{
	"drawing.chapter.loops": "Loop diagrams",
	"drawing.from":          "from sheet",
	"drawing.onto":          "goes on, sheet",

	"drawing.loop.title":      "Loop diagram %s",
	"drawing.loop.title_part": "Loop diagram %s (part %d of %d)",
	"drawing.loop.field":      "Field",
	"drawing.loop.cable":      "Cable",
	"drawing.loop.box":        "Junction box",
	"drawing.loop.station":    "Station",
	"drawing.loop.controller": "Controller",
	"drawing.loop.slot":       "slot %d",
	"drawing.loop.channel":    "channel %d",
	"drawing.loop.free":       "free %s",
	"drawing.loop.supply":     "Supply of the groups above",
	"drawing.loop.no_unit":    "own source",

	"drawing.group.coupler": "coupler",
	"drawing.group.where":   "infeed at %s, feeds slots %d to %d",
	"drawing.group.load":    "%s of %s mA",
	"drawing.group.volts":   "at least %s V at the infeed",
	"drawing.group.fault":   "short gives %s A, trips from %s A",

	"drawing.fact.safe":            "safe state %s",
	"drawing.fact.partner":         "redundant with %s",
	"drawing.fact.volts":           "at least %s V at the end of the cable",
	"drawing.fact.volts_needed":    "at least %s V at the end of the cable, %s V needed",
	"drawing.fact.ohms":            "both cores %s Ω",
	"drawing.fact.kelvin":          "leads read %s K too hot",
	"drawing.fact.reaction":        "reaction %s ms",
	"drawing.fact.reaction_within": "reaction %s ms, %s ms asked",
	"drawing.fact.low":             "low alarm %s",
	"drawing.fact.high":            "high alarm %s",

	"drawing.legend.make":        "contact, closes",
	"drawing.legend.break":       "contact, opens",
	"drawing.legend.proximity":   "proximity switch",
	"drawing.legend.source":      "voltage from the device",
	"drawing.legend.coil":        "coil or solenoid",
	"drawing.legend.relay":       "load fed from elsewhere",
	"drawing.legend.transmitter": "transmitter, current",
	"drawing.legend.volt":        "transmitter, voltage",
	"drawing.legend.actuator":    "actuator",
	"drawing.legend.rtd":         "resistance thermometer",
	"drawing.legend.tc":          "thermocouple",
	"drawing.legend.pulse":       "pulse transmitter",
	"drawing.legend.serial":      "serial device",
	"drawing.legend.terminal":    "wire on a terminal",
	"drawing.legend.sheath":      "one cable",
	"drawing.legend.screen":      "screened cable, screen on the station's screen bar",
	"drawing.legend.group":       "supply group",
}
