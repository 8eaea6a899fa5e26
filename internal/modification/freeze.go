package modification

import (
	"slices"
	"strconv"

	"railwright/internal/design"
	"railwright/internal/project"
)

// Frozen returns the decisions that keep the stations of an installed design as they are: where they
// stand, their coupler, every slot with its module and base, every infeed point and protection, the first
// bytes, and for each of the signals its channel and cable. Signals that the list no longer has leave
// their channels free. ids names the stations; nil stands for all.
func Frozen(d *design.Design, ids []string, listed func(signal string) bool) []project.Decision {
	f := freezer{}
	cables := map[string]string{}
	for _, c := range d.Cables {
		if c.Use == "field" {
			for _, s := range c.Signals {
				cables[s] = c.Type
			}
		}
	}
	for _, st := range d.Stations {
		if ids != nil && !slices.Contains(ids, st.ID) {
			continue
		}
		f.station(st)
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				if c.SignalID == "" || !listed(c.SignalID) {
					continue
				}
				f.put("signal:"+c.SignalID, "channel", st.ID+"/"+strconv.Itoa(sl.Slot)+"/"+strconv.Itoa(c.Channel))
				if t := cables[c.SignalID]; t != "" {
					f.put("signal:"+c.SignalID, "cable", t)
				}
			}
		}
	}
	return f.all
}

type freezer struct{ all []project.Decision }

func (f *freezer) put(subject, property, value string) {
	f.all = append(f.all, project.Decision{
		Subject: subject, Property: property, Value: value, Strength: project.Fixed, Origin: project.FromBuilt, Reason: "installed", File: "built.json",
	})
}

func (f *freezer) station(st design.Station) {
	subject := "station:" + st.ID
	f.put(subject, "place", st.Place)
	f.put(subject, "coupler", st.Coupler)
	f.put(subject, "enclosure", st.Enclosure)
	f.put(subject, "input_byte", strconv.Itoa(st.FirstInByte))
	f.put(subject, "output_byte", strconv.Itoa(st.FirstOutByte))
	for _, sl := range st.Slots {
		module := sl.Module
		if sl.Base != "" {
			module += "@" + sl.Base
		}
		f.put(subject, "slot."+strconv.Itoa(sl.Slot), module)
		if sl.Infeed {
			f.put(subject, "infeed."+strconv.Itoa(sl.Slot), "yes")
		}
	}
	for _, g := range st.SupplyGroups {
		if g.Protection == "" {
			continue
		}
		first := g.FirstSlot
		if g.InfeedAt == "coupler" {
			first = 0
		}
		f.put(subject, "protection."+strconv.Itoa(first), g.Protection)
		if g.InfeedMM2 > 0 {
			f.put(subject, "infeed_mm2."+strconv.Itoa(first), strconv.FormatFloat(g.InfeedMM2, 'f', -1, 64))
		}
	}
}
