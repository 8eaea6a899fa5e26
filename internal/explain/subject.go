package explain

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/words"
)

// thing is a subject that was found.
type thing struct {
	subject  string
	about    []string
	prefixes []string // of its records; those that end in a point stand for all below
	also     []string // subjects whose findings belong to it
}

// kinds are the kinds of subjects in the order in which a bare name is looked up.
var kinds = []string{"signal", "station", "group", "supply", "feeder", "cable"}

func find(d *design.Design, name string) (thing, bool) {
	kind, id, given := strings.Cut(name, ":")
	if given && slices.Contains(kinds, kind) {
		return ofKind(d, kind, id)
	}
	if name == "project" {
		return thing{
			subject: "project", about: []string{words.Text("explain.about_project", d.Project.Name, len(d.Stations))},
			prefixes: []string{"cost.total", "cost.constant", "cost.objective", "siting.gap", "home_run.cost", "home_run.cable_m", "network."},
		}, true
	}
	for _, k := range kinds {
		if t, ok := ofKind(d, k, name); ok {
			return t, true
		}
	}
	return thing{}, false
}

func ofKind(d *design.Design, kind, id string) (thing, bool) {
	switch kind {
	case "signal":
		return signal(d, id)
	case "station":
		for i := range d.Stations {
			if s := &d.Stations[i]; s.ID == id {
				return thing{
					subject: "station:" + id, prefixes: []string{"station:" + id + "."},
					about: []string{words.Text("explain.about_station", s.Name, s.Construction, s.Coupler, len(s.Slots), len(s.SupplyGroups)), words.Text("explain.about_enclosure", s.Enclosure)},
				}, true
			}
		}
	case "group":
		for i := range d.Stations {
			for _, g := range d.Stations[i].SupplyGroups {
				if g.ID == id {
					return thing{
						subject: "group:" + id, prefixes: []string{"group:" + id + "."},
						about: []string{words.Text("explain.about_group", g.Group, d.Stations[i].ID, g.Class), words.Text("explain.about_group_fed", g.FirstSlot, g.LastSlot, g.Protection)},
					}, true
				}
			}
		}
	case "supply":
		return supply(d, id)
	case "feeder":
		for _, f := range d.Feeders {
			if f.ID == id {
				return feeder(d, f), true
			}
		}
	case "cable":
		return cable(d, id)
	}
	return thing{}, false
}

func signal(d *design.Design, name string) (thing, bool) {
	for i := range d.Stations {
		st := &d.Stations[i]
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				if c.Signal == nil || c.SignalID != name && *c.Signal != name {
					continue
				}
				t := thing{
					subject: "signal:" + c.SignalID, prefixes: []string{"signal:" + c.SignalID + ".", fmt.Sprintf("station:%s.reaction.%s.%s", st.ID, sl.Module, c.Kind)},
					about: []string{words.Text("explain.about_signal", *c.Signal, c.Kind, st.ID, sl.Slot, c.Channel, sl.Module)},
				}
				for _, w := range d.Cables {
					if w.Use == "field" && slices.Contains(w.Signals, c.SignalID) {
						t.prefixes = append(t.prefixes, "cable:"+w.ID+".")
						t.about = append(t.about, cableLine(w))
					}
				}
				if sl.SupplyGroup != "" {
					t.about = append(t.about, words.Text("explain.about_in_group", sl.SupplyGroup))
				}
				return t, true
			}
		}
	}
	for _, u := range d.Unplaced {
		if u.Signal == name || u.Tag == name {
			return thing{subject: "signal:" + u.Signal, about: []string{words.Text("explain.about_unplaced", u.Tag, u.Why)}}, true
		}
	}
	return thing{}, false
}

// supply takes the records of the first of like units, which stand for all of them.
func supply(d *design.Design, id string) (thing, bool) {
	for _, s := range d.Supplies {
		if s.ID != id {
			continue
		}
		first := id
		for _, o := range d.Supplies {
			if _, ok := d.Calculations["supply:"+o.ID+".load"]; ok && o.Station == s.Station && o.Class == s.Class && o.Type == s.Type {
				first = o.ID
				break
			}
		}
		return thing{
			subject: "supply:" + id, prefixes: []string{"supply:" + first + "."}, also: []string{"supply:" + first},
			about: []string{words.Text("explain.about_supply", s.Type, s.Station, s.Class, s.Feeder)},
		}, true
	}
	return thing{}, false
}

func feeder(d *design.Design, f design.Feeder) thing {
	return thing{
		subject: "feeder:" + f.ID, prefixes: []string{"feeder:" + f.ID + ".", "cable:" + f.Cable + "."}, also: []string{"cable:" + f.Cable},
		about: []string{words.Text("explain.about_feeder", f.From, f.Station, f.Class, f.Cable, deviceOf(d, "feeder:"+f.ID))},
	}
}

func deviceOf(d *design.Design, subject string) string {
	for _, p := range d.Protections {
		if p.Protects == subject {
			return p.Type
		}
	}
	return words.Text("explain.none")
}

func cable(d *design.Design, id string) (thing, bool) {
	for _, c := range d.Cables {
		if c.ID != id {
			continue
		}
		t := thing{subject: "cable:" + id, prefixes: []string{"cable:" + id + "."}, about: []string{cableLine(c)}}
		for _, s := range c.Signals {
			t.also = append(t.also, "signal:"+s)
			t.prefixes = append(t.prefixes, "signal:"+s+".")
		}
		for _, f := range d.Feeders {
			if f.Cable == id {
				t.prefixes = append(t.prefixes, "feeder:"+f.ID+".")
				t.also = append(t.also, "feeder:"+f.ID)
			}
		}
		return t, true
	}
	return thing{}, false
}

func cableLine(c design.Cable) string {
	return words.Text("explain.about_cable", c.ID, c.From, c.To, c.Type, number(c.LengthM))
}

// suggest names subjects that were perhaps meant.
func suggest(d *design.Design, name string) []string {
	kind, id, given := strings.Cut(name, ":")
	if !given {
		kind, id = "", name
	}
	var all []string
	add := func(k, s string) {
		if s != "" && (kind == "" || kind == k) {
			all = append(all, s)
		}
	}
	for _, s := range d.Stations {
		add("station", s.ID)
		for _, g := range s.SupplyGroups {
			add("group", g.ID)
		}
		for _, sl := range s.Slots {
			for _, c := range sl.Channels {
				if c.Signal != nil {
					add("signal", *c.Signal)
				}
			}
		}
	}
	for _, s := range d.Supplies {
		add("supply", s.ID)
	}
	for _, f := range d.Feeders {
		add("feeder", f.ID)
	}
	for _, c := range d.Cables {
		add("cable", c.ID)
	}
	if best, ok := finding.Nearest(id, all); ok {
		return []string{best}
	}
	return nil
}
