package checker

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// bundle is the signals that share one field cable (section 5).
type bundle struct {
	id, class, device, place string
	signals                  []*signal // by id
}

// cableClass is the class of a signal's cable without its segregation class.
func cableClass(x *signal) string {
	switch {
	case x.mains() || x.highRelay():
		return "mains"
	case x.exi() && x.Kind == project.TC:
		return "exi-tc-" + x.Sensor
	case x.exi():
		return "exi"
	case x.Kind == project.SER:
		return "serial"
	case x.Kind == project.TC:
		return "tc-" + x.Sensor
	case x.screened:
		return "screened"
	}
	return "plain"
}

func (r *run) makeBundles() {
	places := map[string]map[string]bool{}
	for _, x := range r.sigs {
		if places[x.device] == nil {
			places[x.device] = map[string]bool{}
		}
		places[x.device][x.Place] = true
	}
	byKey := map[string][]*bundle{}
	for _, x := range r.sigs { // in order of id
		key := strings.Join([]string{x.device, x.Place, x.cable, x.seg}, "\x00")
		var into *bundle
		for _, b := range byKey[key] {
			if !slices.ContainsFunc(b.signals, func(y *signal) bool { return x.partners[y.ID] }) {
				into = b
				break
			}
		}
		if into == nil {
			into = &bundle{class: x.cable, device: x.device, place: x.Place}
			into.id = bundleID(x, len(places[x.device]) > 1, len(byKey[key]))
			byKey[key] = append(byKey[key], into)
			r.bundles = append(r.bundles, into)
		}
		into.signals = append(into.signals, x)
		r.bundle[x.ID] = into
	}
	slices.SortFunc(r.bundles, func(a, b *bundle) int { return cmp.Compare(a.id, b.id) })
}

func bundleID(x *signal, manyPlaces bool, before int) string {
	id := x.device
	if manyPlaces {
		id += "@" + x.Place
	}
	id += "/" + x.cable
	if x.seg != "" {
		id += " seg:" + x.seg
	}
	if before > 0 {
		id += fmt.Sprintf("~%d", before+1)
	}
	return id
}

// placed returns the bundle's signals that sit on a channel.
func (r *run) placed(b *bundle) []*signal {
	var out []*signal
	for _, x := range b.signals {
		if len(r.at[x.ID]) > 0 {
			out = append(out, x)
		}
	}
	return out
}

func conductors(list []*signal) int {
	n := 0
	for _, x := range list {
		n += len(x.needs)
	}
	return n
}

// areaFor is the least core area that the basis wants for the signals of a bundle.
func (r *run) areaFor(b *bundle, list []*signal) float64 {
	least := 0.0
	if f := family(b); f == "power" || f == "signal" {
		for _, x := range list {
			least = max(least, float64(r.p.Basis.Cable.Area[x.Kind]))
		}
	}
	return least
}

func family(b *bundle) string {
	switch {
	case b.class == "mains":
		return "power"
	case b.class == "exi" || b.class == "serial":
		return b.class
	case strings.HasPrefix(b.class, "tc-"), strings.HasPrefix(b.class, "exi-tc-"):
		return "thermocouple-" + b.class[strings.Index(b.class, "tc-")+3:]
	}
	return "signal"
}

// fieldType is the cheapest field cable for the signals with at least the area; nil if none. A
// decision on the cable of one of the signals overrides.
func (r *run) fieldType(b *bundle, list []*signal, area float64) *hardware.Cable {
	for _, x := range list {
		for _, d := range r.decisions("signal:"+x.ID, "cable") {
			if d.Strength == project.Fixed {
				return r.parts.cable[d.Value]
			}
		}
	}
	return cheapest(r, r.hw.Cables, func(c *hardware.Cable) string { return c.Code }, func(c *hardware.Cable) bool {
		return float64(c.Area) >= area && r.takes(b, list, c)
	})
}

// takes reports whether a cable suits the signals by use, family, screen and cores.
func (r *run) takes(b *bundle, list []*signal, c *hardware.Cable) bool {
	screened := slices.ContainsFunc(list, func(x *signal) bool { return x.screened })
	return c.Use == "field" && c.Family == family(b) && (c.Screened || !screened) && c.Cores >= conductors(list)+r.p.Basis.Cable.SpareCores
}

// longest is the longest field cable that the basis and the type allow, mm; 0 = no limit.
func (r *run) longest(list []*signal, c *hardware.Cable) int64 {
	least := int64(0)
	lower := func(l int64) {
		if l > 0 && (least == 0 || l < least) {
			least = l
		}
	}
	for _, x := range list {
		lower(int64(r.p.Basis.MaxCable[x.Kind]))
	}
	if c != nil {
		lower(int64(c.MaxLength))
	}
	return least
}
