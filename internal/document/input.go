package document

import (
	"cmp"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/drawing"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/schedule"
)

// Input is what documents are made from.
type Input struct {
	Design   *design.Design
	Project  *project.Project // the one that the design was made from
	Hardware *hardware.List
	Setting  paper.Setting
	Rules    []Rule               // what was checked, for the report
	Tables   []schedule.Table     // the schedules to print
	Drawings func() []scene.Sheet // draws the sheets that are bound into the pack; nil: none
}

// Rule is one rule that a design is held against.
type Rule struct {
	Code, Title, Source string
}

// view is an input with the lookups that all sheets need.
type view struct {
	Input
	signals map[string]*project.Signal
	seats   map[string]seat
	wires   map[string][]*design.Wire // by signal id
	lands   map[string][]*design.Wire // by endpoint
	cables  map[string]*design.Cable
	field   map[string]*design.Cable // by signal id
	groups  map[string]*design.SupplyGroup
	protect map[string]*design.Protection
	regs    map[string]*design.Register
	circuit map[string]*design.Circuit
	places  map[string]*project.Place
	tags    map[string]string // by signal id

	pictures *drawing.Steps // of the assembly guides
}

// seat is where a signal sits.
type seat struct {
	station *design.Station
	slot    *design.Slot
	channel *design.Channel
}

func look(in Input) *view {
	v := &view{
		Input: in, signals: map[string]*project.Signal{}, seats: map[string]seat{}, wires: map[string][]*design.Wire{},
		lands: map[string][]*design.Wire{}, cables: map[string]*design.Cable{}, field: map[string]*design.Cable{},
		groups: map[string]*design.SupplyGroup{}, protect: map[string]*design.Protection{}, regs: map[string]*design.Register{},
		circuit: map[string]*design.Circuit{}, places: map[string]*project.Place{}, tags: map[string]string{},
	}
	d := in.Design
	for i := range in.Project.Signals {
		s := &in.Project.Signals[i]
		v.signals[s.ID], v.tags[s.ID] = s, s.Tag
	}
	for i := range in.Project.Places {
		v.places[in.Project.Places[i].ID] = &in.Project.Places[i]
	}
	for i := range d.Stations {
		v.sit(&d.Stations[i])
	}
	for i := range d.Cables {
		c := &d.Cables[i]
		v.cables[c.ID] = c
		for _, s := range c.Signals {
			if v.field[s] == nil || c.Use == "field" {
				v.field[s] = c
			}
		}
	}
	for i := range d.Wires {
		w := &d.Wires[i]
		v.lands[w.From] = append(v.lands[w.From], w)
		v.lands[w.To] = append(v.lands[w.To], w)
		if w.Signal != "" {
			v.wires[w.Signal] = append(v.wires[w.Signal], w)
		}
	}
	for i := range d.Protections {
		v.protect[d.Protections[i].ID] = &d.Protections[i]
		v.protect[d.Protections[i].Protects] = &d.Protections[i]
	}
	for i := range d.Network.Registers {
		v.regs[d.Network.Registers[i].Signal] = &d.Network.Registers[i]
	}
	for i := range d.Circuits {
		v.circuit[d.Circuits[i].Signal] = &d.Circuits[i]
	}
	return v
}

func (v *view) sit(st *design.Station) {
	for i := range st.SupplyGroups {
		v.groups[st.SupplyGroups[i].ID] = &st.SupplyGroups[i]
	}
	for j := range st.Slots {
		for k := range st.Slots[j].Channels {
			if c := &st.Slots[j].Channels[k]; c.Signal != nil {
				v.seats[c.SignalID] = seat{st, &st.Slots[j], c}
				v.tags[c.SignalID] = *c.Signal
			}
		}
	}
}

// say is a text of the catalogue in the language of the pack.
func (v *view) Say(key string, args ...any) string { return v.Setting.Say(key, args...) }

// placed are the ids of all placed signals in the order of stations, slots and channels.
func (v *view) placed() []string {
	var ids []string
	for i := range v.Design.Stations {
		for j := range v.Design.Stations[i].Slots {
			for _, c := range v.Design.Stations[i].Slots[j].Channels {
				if c.Signal != nil {
					ids = append(ids, c.SignalID)
				}
			}
		}
	}
	return ids
}

// set returns the channel set of a module that a channel belongs to; nil where the hardware list has
// none.
func (v *view) set(module string, channel int, kind string) *hardware.ChannelSet {
	m, ok := v.Hardware.Module(module)
	if !ok {
		return nil
	}
	for i := range m.Channels {
		s := &m.Channels[i]
		for n := range s.Count {
			if s.Number(n) == channel && (string(s.Kind) == kind || kind == "") {
				return s
			}
		}
	}
	return nil
}

func (v *view) titleOf(code string) string {
	if n, ok := v.Hardware.Any(code); ok && n.Title != "" {
		return n.Title
	}
	return code
}

func (v *view) place(id string) string {
	if p := v.places[id]; p != nil && p.Name != "" {
		return id + ", " + p.Name
	}
	return id
}

// byFunction orders terminals of a channel as lists print them.
func byFunction(terminals map[string]string) []string {
	var out []string
	for _, f := range hardware.Functions {
		if _, there := terminals[f]; there {
			out = append(out, f)
		}
	}
	var rest []string
	for f := range terminals {
		if !slices.Contains(out, f) {
			rest = append(rest, f)
		}
	}
	slices.Sort(rest)
	return append(out, rest...)
}

// endOf prints an endpoint: "FH1-S1 : 5 : b1" for a station's terminal, the last names of others.
func (v *view) endOf(e string) string {
	kind, rest, _ := strings.Cut(e, ":")
	parts := strings.Split(rest, "/")
	switch kind {
	case "station":
		return strings.Join(parts, " : ")
	case "device":
		name := parts[0]
		if len(parts) == 3 && parts[1] != parts[0] {
			name += " (" + v.tagOf(parts[1]) + ")"
		}
		return name + " : " + parts[len(parts)-1]
	case "supply_bar":
		return v.Say("doc.bar", strings.Join(parts[1:], " "))
	case "protection", "junction_box", "supply":
		return strings.Join(parts, " : ")
	case "board":
		return v.Say("doc.board", rest)
	case "place":
		return v.place(rest)
	case "controller":
		return v.Say("doc.controller")
	}
	return e
}

func (v *view) tagOf(id string) string {
	if t := v.tags[id]; t != "" {
		return t
	}
	return id
}

// natural orders names so that 2 stands before 10.
func natural(a, b string) int {
	for a != "" && b != "" {
		if isDigit(a[0]) && isDigit(b[0]) {
			i, j := digits(a), digits(b)
			x, y := strings.TrimLeft(a[:i], "0"), strings.TrimLeft(b[:j], "0")
			if c := cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(x, y)); c != 0 {
				return c
			}
			a, b = a[i:], b[j:]
			continue
		}
		if a[0] != b[0] {
			return cmp.Compare(a[0], b[0])
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func digits(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}
