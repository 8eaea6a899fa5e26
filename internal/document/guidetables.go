package document

import (
	"strconv"
	"strings"

	"railwright/internal/calc/conductor"
	"railwright/internal/design"
	"railwright/internal/paper"
	q "railwright/internal/quantity"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// stationParts are the parts that go into a station.
func (v *view) stationParts(st *design.Station) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: v.Say("doc.ready"), Width: 16}, {Head: v.Say("doc.count"), Anchor: scene.Right}, {Head: v.Say("doc.code"), Style: typeface.Mono}, {Head: v.Say("doc.part"), Grow: true},
	}}
	for _, p := range v.Design.Parts {
		if !v.belongs(p.For, st) || p.Unit == "m" {
			continue
		}
		t.Rows = append(t.Rows, []paper.Cell{{Tick: true}, {Text: rounded(p.Count, 1)}, {Text: p.Code}, {Text: p.Title}})
	}
	return t
}

// belongs reports whether a part's use lies in a station.
func (v *view) belongs(use string, st *design.Station) bool {
	kind, id, _ := strings.Cut(use, ":")
	switch kind {
	case "station":
		return id == st.ID
	case "group":
		for i := range st.SupplyGroups {
			if st.SupplyGroups[i].ID == id {
				return true
			}
		}
	}
	return false
}

func (v *view) slotTable(st *design.Station, bases bool) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: v.Say("doc.slot"), Anchor: scene.Right, Style: typeface.Bold}}}
	if bases {
		t.Columns = append(t.Columns, paper.Column{Head: v.Say("doc.base")}, paper.Column{Head: v.Say("doc.placed"), Width: 16})
	}
	t.Columns = append(t.Columns, paper.Column{Head: v.Say("doc.module"), Grow: true}, paper.Column{Head: v.Say("doc.placed"), Width: 16},
		paper.Column{Head: v.Say("doc.group"), Style: typeface.Mono}, paper.Column{Head: v.Say("doc.infeed")})
	for i := range st.Slots {
		s := &st.Slots[i]
		row := []paper.Cell{{Text: strconv.Itoa(s.Slot), Subject: "station:" + st.ID}}
		if bases {
			row = append(row, paper.Cell{Text: s.Base}, paper.Cell{Tick: true})
		}
		infeed := ""
		if s.Infeed {
			infeed = v.Say("doc.yes")
		}
		t.Rows = append(t.Rows, append(row, paper.Cell{Text: v.titleOf(s.Module) + " (" + s.Module + ")"}, paper.Cell{Tick: true}, paper.Cell{Text: s.SupplyGroup}, paper.Cell{Text: infeed}))
	}
	return t
}

func (v *view) supplyTable(st *design.Station) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: v.Say("doc.name"), Style: typeface.Mono}, {Head: v.Say("doc.part"), Grow: true}, {Head: v.Say("doc.protects"), Style: typeface.Mono}, {Head: v.Say("doc.rating")}, {Head: v.Say("doc.placed"), Width: 16},
	}}
	for _, s := range v.Design.Supplies {
		if s.Station == st.ID {
			t.Rows = append(t.Rows, []paper.Cell{{Text: s.ID}, {Text: v.Say("doc.units_of", s.Units, v.titleOf(s.Type))}, {}, {Text: with(s.LimitMA/1000, 2, "A")}, {Tick: true}})
		}
	}
	for _, p := range v.Design.Protections {
		if _, what, _ := strings.Cut(p.Protects, ":"); v.belongs(p.Protects, st) {
			t.Rows = append(t.Rows, []paper.Cell{{Text: p.ID}, {Text: v.titleOf(p.Type)}, {Text: what}, {Text: with(p.RatingA, 2, "A")}, {Tick: true}})
		}
	}
	return t
}

// infeedTable is the supply pair to each infeed point.
func (v *view) infeedTable(st *design.Station) *paper.Table {
	t := v.wiresTable()
	for i := range v.Design.Wires {
		w := &v.Design.Wires[i]
		if w.Signal == "" && w.Cable == "" && strings.HasPrefix(w.To, "station:"+st.ID+"/") {
			t.Rows = append(t.Rows, v.landing(w, w.To, w.From, ""))
		}
	}
	return t
}

// fieldTable lists the cores that land on the station, terminal by terminal.
func (v *view) fieldTable(st *design.Station) *paper.Table {
	t := v.wiresTable()
	for i := range st.Slots {
		s := &st.Slots[i]
		for _, c := range s.Channels {
			if c.Signal == nil {
				continue
			}
			for _, fn := range byFunction(c.Terminals) {
				end := "station:" + st.ID + "/" + strconv.Itoa(s.Slot) + "/" + c.Terminals[fn]
				for _, w := range v.lands[end] {
					if w.Cable != "" {
						t.Rows = append(t.Rows, v.landing(w, end, "", *c.Signal))
					}
				}
			}
		}
	}
	return t
}

func (v *view) wiresTable() *paper.Table {
	return &paper.Table{Size: 2.6, Columns: []paper.Column{
		{Head: v.Say("doc.terminal"), Style: typeface.Mono},
		{Head: v.Say("doc.from"), Style: typeface.Mono, Grow: true},
		{Head: v.Say("doc.core")},
		{Head: v.Say("doc.area")},
		{Head: v.Say("doc.ferrule")},
		{Head: v.Say("doc.strip")},
		{Head: v.Say("doc.tug"), Width: 13},
	}}
}

func (v *view) landing(w *design.Wire, here, other, signal string) []paper.Cell {
	from := v.endOf(other)
	if other == "" {
		from = v.cableName(w.Cable) + "  " + signal
	}
	colour, strip := v.ferrule(w.AreaMM2)
	return []paper.Cell{
		{Text: v.endOf(here), Subject: "wire:" + w.ID, Role: "terminal"},
		{Text: from},
		{Text: w.Core},
		{Text: area(v.Setting, w.AreaMM2)},
		{Text: colour},
		{Text: strip},
		{Tick: true},
	}
}

// ferrule says which ferrule a conductor gets and how far it is stripped.
func (v *view) ferrule(mm2 float64) (colour, strip string) {
	f, err := conductor.FerruleFor(q.CrossSection(mm2), false)
	if err != nil {
		return "", ""
	}
	if f.Colour == "" {
		return v.Say("doc.no_ferrule_colour"), rounded(float64(f.Strip)*1000, 0) + " mm"
	}
	return f.Colour, rounded(float64(f.Strip)*1000, 0) + " mm"
}

// screenTable lists the screened cables that end here.
func (v *view) screenTable(st *design.Station) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: v.Say("doc.cable"), Style: typeface.Mono}, {Head: v.Say("doc.type"), Grow: true}, {Head: v.Say("doc.signals")}, {Head: v.Say("doc.placed"), Width: 16}}}
	for i := range v.Design.Cables {
		c := &v.Design.Cables[i]
		k, ok := v.Hardware.Cable(c.Type)
		if !ok || !k.Screened || c.To != "station:"+st.ID || c.Use != "field" && c.Use != "multicore" {
			continue
		}
		var tags []string
		for _, s := range c.Signals {
			tags = append(tags, v.tagOf(s))
		}
		t.Rows = append(t.Rows, []paper.Cell{{Text: c.Name, Subject: "cable:" + c.ID}, {Text: k.Title}, {Text: strings.Join(tags, ", ")}, {Tick: true}})
	}
	return t
}

func (v *view) feederTable(st *design.Station) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: v.Say("doc.name"), Style: typeface.Mono}, {Head: v.Say("doc.cable"), Style: typeface.Mono}, {Head: v.Say("doc.from")}, {Head: v.Say("doc.area")}, {Head: v.Say("doc.voltage")}, {Head: v.Say("doc.protected_by"), Grow: true}, {Head: v.Say("doc.placed"), Width: 16},
	}}
	for _, fd := range v.Design.Feeders {
		if fd.Station != st.ID {
			continue
		}
		size := ""
		if c := v.cables[fd.Cable]; c != nil {
			size = strconv.Itoa(c.Cores) + " × " + area(v.Setting, c.AreaMM2)
		}
		by := fd.Protection
		if p := v.protect[fd.Protection]; p != nil {
			by += ", " + v.titleOf(p.Type)
		}
		t.Rows = append(t.Rows, []paper.Cell{{Text: fd.ID}, {Text: v.cableName(fd.Cable)}, {Text: v.Say("doc.board", fd.From)}, {Text: size}, {Text: with(fd.VoltageV, 0, "V")}, {Text: by}, {Tick: true}})
	}
	return t
}

func (v *view) networkTable(st *design.Station) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: v.Say("doc.cable"), Style: typeface.Mono}, {Head: v.Say("doc.from"), Grow: true}, {Head: v.Say("doc.to"), Grow: true}, {Head: v.Say("doc.length")}, {Head: v.Say("doc.placed"), Width: 16}}}
	for _, s := range v.Design.Network.Segments {
		if s.From == "station:"+st.ID || s.To == "station:"+st.ID {
			t.Rows = append(t.Rows, []paper.Cell{{Text: v.cableName(s.Cable)}, {Text: v.endOf(s.From)}, {Text: v.endOf(s.To)}, {Text: with(s.LengthM, 1, "m")}, {Tick: true}})
		}
	}
	return t
}
