package fit

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/project"
)

// Bundle is a set of signals that share one field cable and therefore one station.
type Bundle struct {
	ID      string // DEVICE/CLASS, see docs/plan-rules.md section 5
	Device  string // the device, or the signal's id where it has none
	Place   string
	Class   string // cable class
	Signals []int  // indices into the signals given, in order of id
}

// CableClass returns the class of the signal's cable: mains, exi, exi-tc-TYPE, serial, tc-TYPE, screened
// or plain, followed by " seg:CLASS" where the signal has a segregation class of a level above none.
func CableClass(s *project.Signal, b *project.Basis) string {
	class := BareCableClass(s)
	if SegregationLevel(s.Segregate, b) != project.LevelNone {
		class += " seg:" + s.Segregate
	}
	return class
}

// BareCableClass is CableClass without the segregation class.
func BareCableClass(s *project.Signal) string {
	switch {
	case Mains(s):
		return "mains"
	case s.ExLevel != "" && s.Kind == project.TC:
		return "exi-tc-" + s.Sensor
	case s.ExLevel != "":
		return "exi"
	case s.Kind == project.SER:
		return "serial"
	case s.Kind == project.TC:
		return "tc-" + s.Sensor
	case Screened(s):
		return "screened"
	}
	return "plain"
}

// Family returns the cable family that a cable class asks for.
func Family(class string) string {
	bare, _, _ := strings.Cut(class, " seg:")
	switch {
	case bare == "mains":
		return "power"
	case bare == "exi", bare == "serial":
		return bare
	case strings.HasPrefix(bare, "tc-"), strings.HasPrefix(bare, "exi-tc-"):
		return "thermocouple-" + bare[strings.Index(bare, "tc-")+len("tc-"):]
	}
	return "signal"
}

// Bundles parts the signals into bundles, sorted by id. The signals are taken in order of id, so
// their order in the slice does not matter.
func Bundles(signals []project.Signal, b *project.Basis) []Bundle {
	order := make([]int, len(signals))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return strings.Compare(signals[x].ID, signals[y].ID) })
	places := placesOfDevices(signals)
	partners := Partners(signals)
	open := map[string][]int{} // base id -> its bundles
	var out []Bundle
	for _, i := range order {
		s := &signals[i]
		class := CableClass(s, b)
		device := deviceOf(s)
		id := device
		if s.Device != "" && len(places[s.Device]) > 1 {
			id += "@" + s.Place
		}
		id += "/" + class
		if s.Device == "" {
			id = "\x00" + id // a signal without device never joins a device of the same name
		}
		at := -1
		for _, k := range open[id] {
			if !meets(out[k].Signals, partners[i]) {
				at = k
				break
			}
		}
		if at < 0 {
			at = len(out)
			name := strings.TrimPrefix(id, "\x00")
			if n := len(open[id]); n > 0 {
				name += fmt.Sprintf("~%d", n+1)
			}
			out = append(out, Bundle{ID: name, Device: device, Place: s.Place, Class: class})
			open[id] = append(open[id], at)
		}
		out[at].Signals = append(out[at].Signals, i)
	}
	slices.SortStableFunc(out, func(x, y Bundle) int { return strings.Compare(x.ID, y.ID) })
	return out
}

func deviceOf(s *project.Signal) string {
	if s.Device == "" {
		return s.ID
	}
	return s.Device
}

func placesOfDevices(signals []project.Signal) map[string]map[string]bool {
	out := map[string]map[string]bool{}
	for i := range signals {
		d := signals[i].Device
		if d == "" {
			continue
		}
		if out[d] == nil {
			out[d] = map[string]bool{}
		}
		out[d][signals[i].Place] = true
	}
	return out
}

func meets(members, partners []int) bool {
	return slices.ContainsFunc(members, func(m int) bool { return slices.Contains(partners, m) })
}
