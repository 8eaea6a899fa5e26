package explain

import (
	"slices"
	"strings"
	"unicode"
)

// ends are the ends of record ids in the order in which a sheet shows them. Each has a title in the
// message catalogue, "explain." and the end; test: every record of a design has one.
var ends = []string{
	// signals
	"on", "off", "device", "coupled", "transmitter", "hart_r", "hart_rc", "error", "load", "lead_error", "lead", "cold_junction", "tolerance", "middle", "drift", "module_k", "budget",
	"least_load", "leak", "f_max", "rise", "fall", "exi_c", "exi_l", "resolution", "module_error", "life", "reaction",
	// groups and feeders
	"voltage", "current", "at_load", "drop_percent", "ampacity", "ambient_factor", "i2", "i2_max", "trip", "holds", "inrush",
	"fault_min", "fault_max", "fault_end", "loop_before", "fault_loop", "feeder_end", "survives",
	// stations
	"logic", "logic_at_supply", "input_bytes", "output_bytes", "rail", "heat", "surface", "inside_max", "inside_limit", "sun", "front", "heat_in_sun",
	"inside_in_sun", "inside_min", "dry", "heater", "glands", "gland_share", "input_load", "output_load",
	// supply units
	"need", "output", "units", "power", "loss", "short", "hold_up", "installed", "battery", "battery_ah", "output_inside",
	// cables and conductors
	"route", "laid", "ordered", "loop", "r20", "hot", "cold",
	// what many lean on
	"low", "high", "bytes", "length", "cycle", "input_bits", "output_bits", "bits", "bus_load", "kept", "input_resistance", "k_outdoors", "48",
	"total", "constant", "objective", "gap",
}

// end is the part of a record id that says what it is.
func end(id string) string {
	switch {
	case strings.Contains(id, ".reaction."):
		return "reaction"
	case strings.HasPrefix(id, "cost.") && id != "cost.total" && id != "cost.constant" && id != "cost.objective":
		return "cost"
	case id == "home_run.cost" || id == "home_run.cable_m":
		return strings.ReplaceAll(id, ".", "_")
	case id == "home_run.laid" || strings.HasSuffix(id, ".metres"):
		return "home_metres"
	case strings.HasPrefix(id, "home_run.at.") && !strings.HasSuffix(id, ".route") && !strings.HasSuffix(id, ".laid") && !strings.HasSuffix(id, ".ordered"):
		return "home_metres"
	case strings.HasPrefix(id, "home_run.cable.") || strings.HasPrefix(id, "home_run.box.") || strings.HasPrefix(id, "home_run.labour."):
		return "cost"
	case strings.HasPrefix(id, "resolution:"):
		return "steps"
	case strings.HasPrefix(id, "conductor:") && strings.Contains(id, ".at "):
		return "at_temperature"
	}
	if i := strings.LastIndexByte(id, '.'); i >= 0 {
		return id[i+1:]
	}
	return id
}

// TitleKey is the key of a record's title in the message catalogue, behind "explain."; "" where it has
// none.
func TitleKey(id string) string {
	e := end(id)
	if slices.Contains(ends, e) || slices.Contains([]string{"cost", "steps", "at_temperature", "home_run_cost", "home_run_cable_m", "home_metres"}, e) {
		kind, _, _ := strings.Cut(id, ":")
		if e == "load" && kind == "signal" || e == "load" && kind == "group" || e == "load" && kind == "supply" {
			return "load_" + kind
		}
		return e
	}
	if strings.HasPrefix(id, "feeder:") {
		return "unit_input"
	}
	return ""
}

func rank(id string) int {
	if i := slices.Index(ends, end(id)); i >= 0 {
		return i
	}
	return len(ends)
}

// natural orders names so that slot 2 stands before slot 10.
func natural(a, b string) int {
	for a != "" && b != "" {
		if isDigit(a[0]) && isDigit(b[0]) {
			x, y := digits(a), digits(b)
			if n, m := strings.TrimLeft(x, "0"), strings.TrimLeft(y, "0"); n != m {
				if len(n) != len(m) {
					return len(n) - len(m)
				}
				return strings.Compare(n, m)
			}
			a, b = a[len(x):], b[len(y):]
			continue
		}
		if a[0] != b[0] {
			return int(a[0]) - int(b[0])
		}
		a, b = a[1:], b[1:]
	}
	return len(a) - len(b)
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func digits(s string) string {
	i := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsDigit(r) })
	if i < 0 {
		return s
	}
	return s[:i]
}
