package document

import (
	"strings"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// LoopSheetID is the ID of a signal's loop sheet, for references.
func LoopSheetID(signalID string) string { return "loop-sheet/" + signalID }

// LoopSheets are the sheets on which the checkout of each placed signal is recorded, in the order of
// stations, slots and channels.
func LoopSheets(in Input) []scene.Sheet { return look(in).loopSheets() }

func (v *view) loopSheets() []scene.Sheet {
	var out []scene.Sheet
	for _, id := range v.placed() {
		if s := v.signals[id]; s != nil {
			out = append(out, v.loopSheet(s)...)
		}
	}
	return out
}

func (v *view) loopSheet(s *project.Signal) []scene.Sheet {
	f := paper.NewFlow(v.Setting, paper.Block{
		ID: LoopSheetID(s.ID), Kind: "loop sheet", Chapter: v.Say("doc.loop_sheets"), Title: v.Say("doc.loop_sheet_of", s.Tag),
	})
	at := v.seats[s.ID]
	set := v.set(at.slot.Module, at.channel.Channel, at.channel.Kind)
	v.loopHead(f, s, at)
	v.connections(f, s)
	v.loopCaution(f, s)
	v.expected(f, s, set)
	v.signature(f)
	return f.Sheets()
}

func (v *view) loopHead(f *paper.Flow, s *project.Signal, at seat) {
	f.Heading(1, s.Tag+"  "+s.Description)
	subject := "signal:" + s.ID
	field := func(caption, value string) paper.Field {
		return paper.Field{Caption: caption, Value: value, Subject: subject}
	}
	reg := ""
	if r := v.regs[s.ID]; r != nil {
		reg = r.Table + " " + rounded(float64(r.Number), 0)
	}
	rng := ""
	if s.RangeLow.Set && s.RangeHigh.Set {
		rng = v.Say("doc.from_to", rounded(s.RangeLow.Value, 6), rounded(s.RangeHigh.Value, 6), degree(s.Unit))
	}
	f.Fields(4,
		field(v.Say("doc.kind"), strings.TrimSpace(string(s.Kind)+" "+s.Form+" "+s.Contact+" "+s.Sensor)), field(v.Say("doc.device"), s.Device),
		field(v.Say("doc.equipment"), s.Equipment), field(v.Say("doc.place"), v.place(s.Place)),
		field(v.Say("doc.station"), at.station.ID), field(v.Say("doc.slot_module"), v.Say("doc.slot_of", at.slot.Slot, at.slot.Module)),
		field(v.Say("doc.channel"), rounded(float64(at.channel.Channel), 0)), paper.Field{Caption: v.Say("doc.address"), Value: at.channel.Address, Style: typeface.Mono, Subject: subject},
		field(v.Say("doc.group"), at.slot.SupplyGroup), field(v.Say("doc.protected_by"), v.protectionOf(at.slot.SupplyGroup)),
		field(v.Say("doc.register"), reg), field(v.Say("doc.range"), rng),
		field(v.Say("doc.safe_state"), v.safeState(s)), field(v.Say("doc.hold"), s.Hold), field(v.Say("doc.remarks"), s.Remarks),
		paper.Field{Caption: v.Say("doc.loop_diagram"), Value: "–", Role: paper.RoleSheet, Sheet: "loop/" + s.Device},
	)
}

func (v *view) protectionOf(group string) string {
	g := v.groups[group]
	if g == nil {
		return ""
	}
	if p := v.protect["group:"+group]; p != nil {
		return p.ID + ", " + rounded(p.RatingA, 3) + " A"
	}
	return g.Protection
}

func (v *view) safeState(s *project.Signal) string {
	if s.SafeState == "" {
		if s.Kind.Output() {
			return v.Say("doc.not_stated")
		}
		return ""
	}
	if s.Kind == project.AO && s.SafeState != "hold" {
		return strings.TrimSpace(s.SafeState + " " + degree(s.Unit))
	}
	return s.SafeState
}

// connections lists each core between the device and the channel.
func (v *view) connections(f *paper.Flow, s *project.Signal) {
	t := paper.Table{Size: 2.8, Row: 6, Columns: []paper.Column{
		{Head: v.Say("doc.from"), Style: typeface.Mono},
		{Head: v.Say("doc.cable"), Style: typeface.Mono},
		{Head: v.Say("doc.core")},
		{Head: v.Say("doc.area")},
		{Head: v.Say("doc.to"), Style: typeface.Mono, Grow: true},
		{Head: v.Say("doc.continuity"), Width: 24},
	}}
	for _, w := range v.wires[s.ID] {
		t.Rows = append(t.Rows, v.wireRow(w))
	}
	if c := v.field[s.ID]; c != nil {
		f.Note(v.Say("doc.cable_is", c.Name, degree(v.titleOf(c.Type)), rounded(c.LengthM, 1), v.loopOhm(s.ID)))
	}
	f.Table(t)
}

func (v *view) loopOhm(id string) string {
	if c := v.circuit[id]; c != nil && c.LoopOhm > 0 {
		return v.Say("doc.loop_ohm", rounded(c.LoopOhm, 2))
	}
	return ""
}

func (v *view) wireRow(w *design.Wire) []paper.Cell {
	return []paper.Cell{
		{Text: v.endOf(w.From), Subject: "wire:" + w.ID, Role: "from"},
		{Text: v.cableName(w.Cable), Subject: "cable:" + w.Cable},
		{Text: w.Core, Subject: "wire:" + w.ID, Role: "core"},
		{Text: area(v.Setting, w.AreaMM2)},
		{Text: v.endOf(w.To), Subject: "wire:" + w.ID, Role: "to"},
		{Tick: true},
	}
}

func (v *view) cableName(id string) string {
	if c := v.cables[id]; c != nil {
		return c.Name
	}
	return id
}

func (v *view) loopCaution(f *paper.Flow, s *project.Signal) {
	switch {
	case strings.HasPrefix(s.SupplyClass, "safety:"):
		f.Caution(v.Say("doc.caution_safety_loop"))
	case s.ExLevel != "":
		f.Caution(v.Say("doc.caution_ex_loop", s.ExLevel))
	case s.Kind.Output():
		f.Caution(v.Say("doc.caution_output_loop"))
	case strings.HasSuffix(s.Form, "vac"):
		f.Caution(v.Say("doc.caution_mains_loop"))
	}
}

// expected is the table of expected values with room for what was found.
func (v *view) expected(f *paper.Flow, s *project.Signal, set *hardware.ChannelSet) {
	f.Heading(3, v.Say("doc.expected"))
	switch s.Kind {
	case project.DI, project.DO:
		v.stateTable(f, v.states(s, set))
		if s.Kind == project.DO {
			f.Note(v.Say("doc.loss_of_network", v.safeState(s)))
		}
	case project.AI, project.AO, project.RTD, project.TC:
		c := v.scaleOf(s, set)
		v.pointTable(f, s, &c)
		if s.Kind == project.AO {
			f.Note(v.Say("doc.loss_of_network", v.safeState(s)))
		}
	case project.CNT:
		v.stateTable(f, v.pulses(s))
	case project.SER:
		v.stateTable(f, []point{{name: v.Say("doc.ask"), value: v.Say("doc.answers")}, {name: v.Say("doc.ask_100"), value: v.Say("doc.no_errors")}})
	}
}

func (v *view) stateTable(f *paper.Flow, points []point) {
	t := paper.Table{Size: 3, Row: 12, Columns: []paper.Column{
		{Head: v.Say("doc.state"), Style: typeface.Bold, Width: 26},
		{Head: v.Say("doc.means"), Grow: true},
		{Head: v.Say("doc.terminals_show"), Width: 34},
		{Head: v.Say("doc.as_found"), Width: 24},
		{Head: v.Say("doc.as_left"), Width: 24},
		{Head: v.Say("doc.passed"), Width: 16},
	}}
	for _, p := range points {
		t.Rows = append(t.Rows, []paper.Cell{{Text: p.name, Role: "state"}, {Text: p.value}, {Text: p.signal, Role: "expected"}, {}, {}, {Tick: true}})
	}
	f.Table(t)
}

func (v *view) pointTable(f *paper.Flow, s *project.Signal, c *scale) {
	tc := s.Kind == project.TC
	signal := v.Say("doc.at_terminals")
	if tc {
		signal = v.Say("doc.mv_at_0")
	}
	t := paper.Table{Size: 2.9, Row: 9.5, Columns: []paper.Column{
		{Head: v.Say("doc.point"), Style: typeface.Bold, Width: 24}, {Head: v.Say("doc.value"), Anchor: scene.Right, Grow: true}, {Head: signal, Anchor: scene.Right, Width: 23},
	}}
	if tc {
		t.Columns = append(t.Columns, paper.Column{Head: v.Say("doc.mv_at_cold", rounded(float64(coldJunction), 0)), Anchor: scene.Right, Width: 23})
	}
	t.Columns = append(t.Columns, paper.Column{Head: v.Say("doc.raw"), Anchor: scene.Right, Width: 15},
		paper.Column{Head: v.Say("doc.found_up"), Width: 18}, paper.Column{Head: v.Say("doc.found_down"), Width: 18}, paper.Column{Head: v.Say("doc.as_left"), Width: 18}, paper.Column{Head: v.Say("doc.passed"), Width: 15})
	points := append(c.points(), v.alarms(c)...)
	for _, p := range append(points, v.faults(c)...) {
		row := []paper.Cell{{Text: p.name, Role: "state"}, {Text: p.value, Role: "value"}, {Text: p.signal, Role: "expected"}}
		if tc {
			row = append(row, paper.Cell{Text: p.second, Role: "expected"})
		}
		t.Rows = append(t.Rows, append(row, paper.Cell{Text: p.raw, Role: "raw"}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{Tick: true}))
	}
	f.Table(t)
	switch {
	case tc:
		f.Note(v.Say("doc.cold_junction_note", s.Sensor))
	case s.Kind == project.RTD:
		f.Note(v.Say("doc.rtd_note", s.Sensor))
	}
	if !c.ranged {
		f.Note(v.Say("doc.no_range"))
	}
}

// signature is where the test is signed.
func (v *view) signature(f *paper.Flow) {
	empty := func(caption string) paper.Field { return paper.Field{Caption: caption, Lines: 2} }
	f.Fields(5, empty(v.Say("doc.instrument")), empty(v.Say("doc.calibrated")), empty(v.Say("doc.tested_on")), empty(v.Say("doc.initials")), empty(v.Say("doc.witness")))
	f.Fields(5, empty(v.Say("doc.result")), paper.Field{Caption: v.Say("doc.found_remarks"), Span: 4, Lines: 4})
}
