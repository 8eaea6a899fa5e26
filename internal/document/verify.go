package document

import (
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// VerifyID is the ID of the first verification sheet of a station.
func VerifyID(station string) string { return "verify/" + station }

// Verifications are the routine verification and the energising sheets of all stations.
func Verifications(in Input) []scene.Sheet { return look(in).verifications() }

func (v *view) verifications() []scene.Sheet {
	var out []scene.Sheet
	for i := range v.Design.Stations {
		st := &v.Design.Stations[i]
		out = append(out, v.verify(st)...)
		out = append(out, v.energise(st)...)
	}
	return append(append(out, v.punchList()...), v.forceRegister()...)
}

// punchList is where everything goes that the checkout leaves open.
func (v *view) punchList() []scene.Sheet {
	f := paper.NewFlow(v.Setting, paper.Block{ID: "punch-list", Kind: "form", Chapter: v.Say("doc.verifications"), Title: v.Say("doc.punch_list")})
	f.Heading(1, v.Say("doc.punch_list"))
	f.Paragraph(v.Say("doc.punch_list_intro"))
	f.Table(v.form(20, v.Say("doc.number"), v.Say("doc.tag"), v.Say("doc.what_open"), v.Say("doc.who"), v.Say("doc.by_when"), v.Say("doc.closed_by")))
	return f.Sheets()
}

// forceRegister is where every force and bypass is entered before it is set.
func (v *view) forceRegister() []scene.Sheet {
	f := paper.NewFlow(v.Setting, paper.Block{ID: "force-register", Kind: "form", Chapter: v.Say("doc.verifications"), Title: v.Say("doc.force_register")})
	f.Heading(1, v.Say("doc.force_register"))
	f.Caution(v.Say("doc.caution_force"))
	f.Table(v.form(18, v.Say("doc.number"), v.Say("doc.tag"), v.Say("doc.forced_to"), v.Say("doc.why"), v.Say("doc.set_by"), v.Say("doc.removed_by")))
	return f.Sheets()
}

// form is an empty table to fill in: a number, a name, a wide column, the rest for names and dates.
func (v *view) form(rows int, heads ...string) paper.Table {
	t := paper.Table{Row: 9}
	for i, h := range heads {
		t.Columns = append(t.Columns, paper.Column{Head: h, Width: []float64{10, 30, 0, 26, 26, 28}[i], Grow: i == 2})
	}
	for i := range rows {
		row := make([]paper.Cell, len(heads))
		row[0].Text = strconv.Itoa(i + 1)
		t.Rows = append(t.Rows, row)
	}
	return t
}

// test is one line of a verification: what, how, the limit, and whether a value is measured.
type test struct{ what, how, limit string }

func (v *view) testTable(tests []test) paper.Table {
	t := paper.Table{Row: 8, Columns: []paper.Column{
		{Head: v.Say("doc.test"), Grow: true}, {Head: v.Say("doc.how"), Grow: true}, {Head: v.Say("doc.limit"), Width: 30}, {Head: v.Say("doc.measured"), Width: 24}, {Head: v.Say("doc.passed"), Width: 16},
	}}
	for _, x := range tests {
		t.Rows = append(t.Rows, []paper.Cell{{Text: x.what}, {Text: x.how}, {Text: x.limit, Role: "limit"}, {}, {Tick: true}})
	}
	return t
}

func (v *view) verify(st *design.Station) []scene.Sheet {
	f := paper.NewFlow(v.Setting, paper.Block{ID: VerifyID(st.ID), Kind: "verification", Chapter: v.Say("doc.verifications"), Title: v.Say("doc.verification_of", st.ID)})
	f.Heading(1, v.Say("doc.verification_title", st.ID, st.Name))
	f.Caution(v.Say("doc.caution_verify"))
	v.stationFields(f, st)
	f.Heading(2, v.Say("doc.by_eye"))
	f.Table(v.testTable([]test{
		{v.Say("doc.eye_parts"), v.Say("doc.eye_parts_how"), ""},
		{v.Say("doc.eye_marks"), v.Say("doc.eye_marks_how"), ""},
		{v.Say("doc.eye_wires"), v.Say("doc.eye_wires_how"), ""},
		{v.Say("doc.eye_tight"), v.Say("doc.eye_tight_how"), v.Say("doc.by_maker")},
		{v.Say("doc.eye_mains"), v.Say("doc.eye_mains_how"), ""},
		{v.Say("doc.eye_ip"), v.Say("doc.eye_ip_how"), ""},
	}))
	f.Heading(2, v.Say("doc.without_power"))
	f.Table(v.testTable([]test{
		{v.Say("doc.pe"), v.Say("doc.pe_how"), v.Say("doc.pe_limit")},
		{v.Say("doc.insulation"), v.Say("doc.insulation_how"), "≥ 1 MΩ, 500 V DC"},
		{v.Say("doc.insulation_elv"), v.Say("doc.insulation_elv_how"), "≥ 0.5 MΩ, 250 V DC"},
		{v.Say("doc.polarity"), v.Say("doc.polarity_how"), ""},
		{v.Say("doc.no_short"), v.Say("doc.no_short_how"), v.Say("doc.no_short_limit")},
		{v.Say("doc.apart"), v.Say("doc.apart_how"), ""},
	}))
	f.Note(v.Say("doc.verify_sources"))
	v.signature(f)
	return f.Sheets()
}

func (v *view) energise(st *design.Station) []scene.Sheet {
	f := paper.NewFlow(v.Setting, paper.Block{ID: "energise/" + st.ID, Kind: "energising", Chapter: v.Say("doc.verifications"), Title: v.Say("doc.energising_of", st.ID)})
	f.Heading(1, v.Say("doc.energising_title", st.ID, st.Name))
	f.Caution(v.Say("doc.caution_energise"))
	n := v.node(st.ID)
	var first []test
	for _, fd := range v.Design.Feeders {
		if fd.Station == st.ID {
			first = append(first, test{v.Say("doc.feeder_on", fd.ID, fd.Protection), v.Say("doc.feeder_on_how"), v.Say("doc.ac_limit", rounded(fd.VoltageV, 0))})
		}
	}
	for _, s := range v.Design.Supplies {
		if s.Station == st.ID {
			first = append(first, test{v.Say("doc.supply_on", s.ID), v.Say("doc.supply_on_how"), "20.4 – 28.8 V DC"})
		}
	}
	first = append(first, test{v.Say("doc.coupler_on"), v.Say("doc.coupler_on_how"), ""})
	f.Table(v.testTable(first))
	f.Heading(2, v.Say("doc.group_after_group"))
	f.Table(v.groupTable(st))
	f.Heading(2, v.Say("doc.identity"))
	f.Table(v.testTable([]test{
		{v.Say("doc.identity_name"), v.Say("doc.identity_name_how"), strings.TrimSpace(n.Name + " " + n.Address)},
		{v.Say("doc.identity_bytes"), v.Say("doc.identity_bytes_how"), v.Say("doc.bytes_are", st.InputBytes, st.OutputBytes)},
		{v.Say("doc.watchdog"), v.Say("doc.watchdog_how"), ""},
	}))
	f.Heading(2, v.Say("doc.real_designed"))
	f.Table(v.realTable(st))
	f.Heading(2, v.Say("doc.loss"))
	f.Caution(v.Say("doc.caution_loss"))
	f.Table(v.testTable(v.losses(st)))
	f.Note(v.Say("doc.energise_sources"))
	v.signature(f)
	return f.Sheets()
}

// losses take away one thing after another.
func (v *view) losses(st *design.Station) []test {
	var out []test
	for i := range st.SupplyGroups {
		g := &st.SupplyGroups[i]
		out = append(out, test{v.Say("doc.loss_group", g.ID), v.Say("doc.loss_group_how", g.FirstSlot, g.LastSlot), v.Say("doc.loss_group_limit")})
	}
	return append(out,
		test{v.Say("doc.loss_supply"), v.Say("doc.loss_supply_how"), v.Say("doc.loss_reported")},
		test{v.Say("doc.loss_net"), v.Say("doc.loss_net_how"), v.Say("doc.loss_reported")})
}

// groupTable switches on one supply group after another.
func (v *view) groupTable(st *design.Station) paper.Table {
	t := paper.Table{Row: 8, Columns: []paper.Column{
		{Head: v.Say("doc.group"), Style: typeface.Mono},
		{Head: v.Say("doc.class"), Grow: true},
		{Head: v.Say("doc.slots")},
		{Head: v.Say("doc.protected_by"), Style: typeface.Mono},
		{Head: v.Say("doc.volts_limit")},
		{Head: v.Say("doc.volts_at_infeed"), Width: 22},
		{Head: v.Say("doc.current_designed"), Anchor: scene.Right},
		{Head: v.Say("doc.current_measured"), Width: 20},
		{Head: v.Say("doc.passed"), Width: 16},
	}}
	for i := range st.SupplyGroups {
		g := &st.SupplyGroups[i]
		limit := ""
		if strings.HasPrefix(g.Class, "24vdc") {
			limit = "20.4 – 28.8 V"
		}
		by := g.Protection
		if p := v.protect["group:"+g.ID]; p != nil {
			by = p.ID
		}
		t.Rows = append(t.Rows, []paper.Cell{
			{Text: g.ID, Subject: "group:" + g.ID},
			{Text: g.Class},
			{Text: strconv.Itoa(g.FirstSlot) + " – " + strconv.Itoa(g.LastSlot)},
			{Text: by},
			{Text: limit, Role: "limit"},
			{},
			{Text: with(g.LoadMA, 0, "mA")},
			{},
			{Tick: true},
		})
	}
	return t
}

// realTable compares what the station reports with what was designed.
func (v *view) realTable(st *design.Station) paper.Table {
	t := paper.Table{Columns: []paper.Column{
		{Head: v.Say("doc.slot"), Anchor: scene.Right, Style: typeface.Bold}, {Head: v.Say("doc.module_designed"), Grow: true}, {Head: v.Say("doc.input_bytes")}, {Head: v.Say("doc.output_bytes")}, {Head: v.Say("doc.module_found"), Width: 42}, {Head: v.Say("doc.same"), Width: 16},
	}}
	span := func(first, n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(first) + " – " + strconv.Itoa(first+n-1)
	}
	for _, s := range st.Slots {
		t.Rows = append(t.Rows, []paper.Cell{{Text: strconv.Itoa(s.Slot)}, {Text: s.Module}, {Text: span(s.InputByte, s.InputBytes)}, {Text: span(s.OutputByte, s.OutputBytes)}, {}, {Tick: true}})
	}
	return t
}
