package folder

import (
	"iter"
	"maps"
	"strings"

	"railwright/internal/project"
)

// synonyms are headings of the trade that can mean only one canonical column. Whole foreign lists,
// with values in other words too, are the import's work.
var synonyms = map[string]string{
	"tag no": "tag", "tag number": "tag", "tag name": "tag", "signal": "tag", "signal name": "tag", "signal tag": "tag",
	"uid": "id", "signal id": "id",
	"service": "description", "signal description": "description", "text": "description", "function": "description",
	"type": "kind", "signal type": "kind", "signal kind": "kind", "io type": "kind", "i/o type": "kind",
	"signal form": "form", "electrical form": "form",
	"location": "place", "site location": "place",
	"instrument": "device", "field device": "device", "device tag": "device",
	"machine": "equipment", "equipment no": "equipment", "equipment tag": "equipment",
	"range min": "range_low", "range from": "range_low", "lrv": "range_low", "lower range value": "range_low",
	"range max": "range_high", "range to": "range_high", "urv": "range_high", "upper range value": "range_high",
	"eu": "unit", "units": "unit", "engineering unit": "unit", "eng unit": "unit",
	"low alarm": "alarm_low", "high alarm": "alarm_high",
	"number of wires": "wires", "no of wires": "wires", "sensor type": "sensor", "element": "sensor",
	"voltage": "voltage_v", "current": "current_ma", "inrush": "inrush_ma", "load": "load_ohm", "frequency": "frequency_hz",
	"fail state": "safe_state", "fail safe state": "safe_state", "safe position": "safe_state",
	"supply": "supply_class", "power supply": "supply_class", "segregation": "segregate",
	"redundant": "redundant_with", "redundancy partner": "redundant_with", "redundancy": "redundant_with",
	"ex protection": "ex_level", "zone": "ex_zone", "gas group": "ex_gas",
	"shield": "screen", "screened": "screen", "cable type": "cable",
	"tbc": "hold", "to be confirmed": "hold", "on hold": "hold",
	"remark": "remarks", "comment": "remarks", "comments": "remarks", "note": "remarks", "notes": "remarks",
}

// match says what a heading means.
type match struct {
	column string // "" = unknown
	why    string // why it may be read so; "" for the canonical name itself
	mapped string // heading of the column map that it matched, in lower case
}

// matchHeading finds the column that a heading means: by the column map, as canonical name (case,
// blanks, hyphens and brackets do not count), or as synonym.
func matchHeading(text string, mapped map[string]string) match {
	t := strings.ToLower(strings.TrimSpace(text))
	if t == "" || len(t) > 100 {
		return match{}
	}
	for head, column := range mapped {
		if strings.ToLower(strings.TrimSpace(head)) == t {
			return match{column, "column map", strings.ToLower(head)}
		}
	}
	if c := project.ColumnNamed(strings.Join(words(t), "_")); c != nil {
		return match{column: c.Name}
	}
	if c := synonyms[strings.Join(words(t), " ")]; c != "" {
		return match{column: c, why: "common name"}
	}
	return match{}
}

// words splits a heading at blanks and punctuation.
func words(t string) []string {
	return strings.FieldsFunc(t, func(r rune) bool { return strings.ContainsRune(" _-.()[]\n\r\t\u00A0:#", r) })
}

func keys[V any](m map[string]V) iter.Seq[string] { return maps.Keys(m) }
