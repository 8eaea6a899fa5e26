package tagcsv

import (
	"strconv"
	"strings"

	"railwright/internal/exchange"
)

// FieldNames are the fields of a template in the order in which docs/exchange.md lists them.
var FieldNames = []string{
	"row", "name", "tag", "id", "description", "kind", "form", "contact", "unit", "equipment", "device", "place", "hold", "safe_state",
	"type", "address", "area", "size", "byte", "bit", "bits", "station", "node", "node_address", "slot", "module", "channel", "terminals", "state",
	"raw_low", "raw_high", "value_low", "value_high", "register_table", "register", "register_words",
}

// value returns a field of a point; row counts from 1.
func value(field string, p exchange.Point, name string, row int) string {
	switch field {
	case "row":
		return strconv.Itoa(row)
	case "name":
		return name
	case "tag":
		return p.Tag
	case "id":
		return p.ID
	case "description":
		return p.Description
	case "kind":
		return string(p.Kind)
	case "form":
		return p.Form
	case "contact":
		return p.Contact
	case "unit":
		return p.Unit
	case "equipment":
		return p.Equipment
	case "device":
		return p.Device
	case "place":
		return p.Place
	case "hold":
		return p.Hold
	case "safe_state":
		return p.SafeState
	case "state":
		if p.Spare {
			return "spare"
		}
		return "used"
	}
	return located(field, p)
}

func located(field string, p exchange.Point) string {
	switch field {
	case "type":
		return p.Type
	case "address":
		return p.Address
	case "area":
		return string(p.Area)
	case "size":
		return strings.TrimLeft(p.Address, "%IQ")[:1]
	case "byte":
		return strconv.Itoa(p.Span.Byte())
	case "bit":
		return strconv.Itoa(p.Span.Bit())
	case "bits":
		return strconv.Itoa(p.Span.Bits)
	case "station":
		return p.Station
	case "node":
		return strconv.Itoa(p.Node.Node)
	case "node_address":
		return p.Node.Address
	case "slot":
		return strconv.Itoa(p.Slot)
	case "module":
		return p.Module
	case "channel":
		return strconv.Itoa(p.Channel)
	case "terminals":
		return p.Terminals
	}
	return scaled(field, p)
}

func scaled(field string, p exchange.Point) string {
	s, r := p.Scale, p.Register
	switch {
	case strings.HasPrefix(field, "register") && r == nil, !strings.HasPrefix(field, "register") && !s.Known:
		return ""
	}
	switch field {
	case "raw_low":
		return strconv.FormatInt(s.RawLow, 10)
	case "raw_high":
		return strconv.FormatInt(s.RawHigh, 10)
	case "value_low":
		return strconv.FormatFloat(s.Low, 'f', -1, 64)
	case "value_high":
		return strconv.FormatFloat(s.High, 'f', -1, 64)
	case "register_table":
		return r.Table
	case "register":
		return strconv.Itoa(r.Number)
	case "register_words":
		return strconv.Itoa(r.Words)
	}
	return ""
}
