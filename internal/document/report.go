package document

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/cite"
	"railwright/internal/explain"
	"railwright/internal/finding"
	"railwright/internal/formula"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Report is the calculation report: what the design stands on, what it was held against, each figure with
// its working, and the sources.
func Report(in Input) []scene.Sheet { return look(in).report() }

func (v *view) report() []scene.Sheet {
	var out []scene.Sheet
	for _, part := range []struct {
		id, title string
		write     func(*paper.Flow)
	}{
		{"summary", v.Say("doc.report_summary"), v.summary},
		{"basis", v.Say("doc.report_basis"), v.basis},
		{"rules", v.Say("doc.report_rules"), v.rules},
		{"findings", v.Say("doc.report_findings"), v.findings},
		{"formulas", v.Say("doc.report_formulas"), v.formulas},
		{"calculations", v.Say("doc.report_calculations"), v.calculations},
		{"sources", v.Say("doc.report_sources"), v.sources},
	} {
		f := paper.NewFlow(v.Setting, paper.Block{ID: "report/" + part.id, Kind: "report", Chapter: v.Say("doc.report"), Title: part.title})
		f.Heading(1, part.title)
		part.write(f)
		out = append(out, f.Sheets()...)
	}
	return out
}

func (v *view) summary(f *paper.Flow) {
	d := v.Design
	f.Caution(v.Say("doc.caution_general"))
	if v.Setting.Draft {
		f.Caution(v.Say("doc.caution_draft"))
	}
	for _, u := range v.holds() {
		f.Bullet(u)
	}
	used := len(v.placed())
	money := func(x float64) string { return fixed(x, 2) + " " + d.Cost.Currency }
	f.Heading(2, v.Say("doc.result"))
	rows := [][]string{
		{v.Say("doc.project"), d.Project.Name},
		{v.Say("doc.revision"), d.Project.Revision},
		{v.Say("doc.controller_name"), d.Project.Controller},
		{v.Say("doc.signals_listed"), strconv.Itoa(d.Project.Signals)},
		{v.Say("doc.signals_placed"), strconv.Itoa(used)},
		{v.Say("doc.signals_unplaced"), strconv.Itoa(len(d.Unplaced))},
		{v.Say("doc.stations"), strconv.Itoa(len(d.Stations))},
		{v.Say("doc.cables"), strconv.Itoa(len(d.Cables))},
		{v.Say("doc.wires"), strconv.Itoa(len(d.Wires))},
		{v.Say("doc.cost_total"), money(d.Cost.Total)},
		{v.Say("doc.cost_home_run"), money(d.HomeRun.Cost)},
		{v.Say("doc.lower_bound"), money(d.Siting.LowerBound)},
		{v.Say("doc.gap"), rounded(d.Siting.Gap*100, 2) + " %"},
		{v.Say("doc.network"), d.Network.Profile + ", " + d.Network.Topology + ", " + v.Say("doc.update_of", rounded(d.Network.UpdateMS, 2))},
		{v.Say("doc.input_hash"), d.Input.SHA256},
		{v.Say("doc.made_by"), d.Input.Tool},
	}
	f.Table(pairs(v.Say("doc.item"), v.Say("doc.value"), rows))
	f.Heading(2, v.Say("doc.stations"))
	f.Table(v.stationsTable())
	if len(d.Unplaced) > 0 {
		f.Heading(2, v.Say("doc.signals_unplaced"))
		var rows [][]string
		for _, u := range d.Unplaced {
			rows = append(rows, []string{u.Tag, u.Why, u.Proof, u.Where})
		}
		f.Table(paper.Plain([]string{v.Say("doc.tag"), v.Say("doc.why"), v.Say("doc.proof"), v.Say("doc.where")}, rows))
	}
}

func pairs(a, b string, rows [][]string) paper.Table {
	t := paper.Plain([]string{a, b}, rows)
	t.Columns[1].Grow = true
	return t
}

func (v *view) holds() []string {
	var out []string
	for _, id := range slices.Sorted(maps.Keys(v.signals)) {
		if s := v.signals[id]; s.Hold != "" {
			out = append(out, v.Say("doc.hold_on", s.Tag, s.Hold))
		}
	}
	return out
}

func (v *view) stationsTable() paper.Table {
	t := paper.Table{Columns: []paper.Column{
		{Head: v.Say("doc.station"), Style: typeface.Mono},
		{Head: v.Say("doc.place"), Grow: true},
		{Head: v.Say("doc.slots"), Anchor: scene.Right},
		{Head: v.Say("doc.used_channels"), Anchor: scene.Right},
		{Head: v.Say("doc.groups"), Anchor: scene.Right},
		{Head: v.Say("doc.rail"), Anchor: scene.Right},
		{Head: v.Say("doc.heat"), Anchor: scene.Right},
		{Head: v.Say("doc.inside_max"), Anchor: scene.Right},
	}}
	for i := range v.Design.Stations {
		st := &v.Design.Stations[i]
		all, used := 0, 0
		for _, s := range st.Slots {
			all += len(s.Channels)
			for _, c := range s.Channels {
				if c.Signal != nil {
					used++
				}
			}
		}
		t.Rows = append(t.Rows, []paper.Cell{
			{Text: st.ID, Subject: "station:" + st.ID},
			{Text: v.place(st.Place)},
			{Text: strconv.Itoa(len(st.Slots))},
			{Text: strconv.Itoa(used) + " / " + strconv.Itoa(all)},
			{Text: strconv.Itoa(len(st.SupplyGroups))},
			{Text: strconv.FormatInt(st.RailMM, 10) + " mm"},
			{Text: with(st.HeatW, 1, "W")},
			{Text: with(st.InsideMaxC, 1, "°C")},
		})
	}
	return t
}

// basis lists every stated value that some calculation leans on, where it stands, and how often it is used.
func (v *view) basis(f *paper.Flow) {
	type stated struct {
		value formula.Value
		uses  int
	}
	seen := map[string]*stated{}
	for _, id := range slices.Sorted(maps.Keys(v.Design.Calculations)) {
		for _, in := range inputs(v.Design.Calculations[id]) {
			path, ok := strings.CutPrefix(in.From, "project:")
			if !ok {
				continue
			}
			if seen[path] == nil {
				seen[path] = &stated{value: in}
			}
			seen[path].uses++
		}
	}
	f.Paragraph(v.Say("doc.basis_intro"))
	t := paper.Table{Columns: []paper.Column{{Head: v.Say("doc.stated_at"), Style: typeface.Mono, Grow: true}, {Head: v.Say("doc.value"), Anchor: scene.Right}, {Head: v.Say("doc.unit")}, {Head: v.Say("doc.times_used"), Anchor: scene.Right}}}
	for _, path := range slices.SortedFunc(maps.Keys(seen), natural) {
		x := seen[path]
		t.Rows = append(t.Rows, []paper.Cell{{Text: path}, {Text: short(x.value.Value)}, {Text: unit(x.value.Unit)}, {Text: strconv.Itoa(x.uses)}})
	}
	f.Table(t)
}

// rules lists every rule with its result.
func (v *view) rules(f *paper.Flow) {
	count := map[string][3]int{}
	for _, x := range v.Design.Findings {
		c := count[x.Rule]
		switch x.Severity {
		case finding.Error:
			c[0]++
		case finding.Warning:
			c[1]++
		default:
			c[2]++
		}
		count[x.Rule] = c
	}
	known := map[string]bool{}
	f.Paragraph(v.Say("doc.rules_intro"))
	t := paper.Table{Columns: []paper.Column{{Head: v.Say("doc.rule"), Style: typeface.Mono}, {Head: v.Say("doc.checked_what"), Grow: true}, {Head: v.Say("doc.result")}, {Head: v.Say("doc.source")}}}
	for _, r := range v.Rules {
		known[r.Code] = true
		t.Rows = append(t.Rows, v.ruleRow(r, count[r.Code]))
	}
	for _, code := range slices.Sorted(maps.Keys(count)) { // of lists and files
		if !known[code] {
			t.Rows = append(t.Rows, v.ruleRow(Rule{Code: code, Title: v.Say("doc.rule_of_lists")}, count[code]))
		}
	}
	f.Table(t)
}

func (v *view) ruleRow(r Rule, n [3]int) []paper.Cell {
	result := paper.Cell{Text: v.Say("doc.nothing_found"), Role: "result"}
	var parts []string
	for i, text := range []string{v.Say("doc.n_errors", n[0]), v.Say("doc.n_warnings", n[1]), v.Say("doc.n_infos", n[2])} {
		if n[i] > 0 {
			parts = append(parts, text)
		}
	}
	if len(parts) > 0 {
		result = paper.Cell{Text: strings.Join(parts, ", "), Style: typeface.Bold, Role: "result"}
	}
	return []paper.Cell{{Text: r.Code}, {Text: r.Title}, result, {Text: r.Source}}
}

func (v *view) findings(f *paper.Flow) {
	if len(v.Design.Findings) == 0 {
		f.Paragraph(v.Say("doc.no_findings"))
	}
	for _, s := range []finding.Severity{finding.Error, finding.Warning, finding.Info} {
		t := paper.Table{Columns: []paper.Column{{Head: v.Say("doc.rule"), Style: typeface.Mono}, {Head: v.Say("doc.subject"), Style: typeface.Mono}, {Head: v.Say("doc.finding"), Grow: true}, {Head: v.Say("doc.remedy"), Grow: true}}}
		for _, x := range v.Design.Findings {
			if x.Severity == s {
				t.Rows = append(t.Rows, []paper.Cell{{Text: x.Rule}, {Text: x.Subject, Subject: x.Subject}, {Text: x.Message}, {Text: x.Remedy.Text}})
			}
		}
		if len(t.Rows) > 0 {
			f.Heading(2, v.severity(s, len(t.Rows)))
			f.Table(t)
		}
	}
}

func (v *view) severity(s finding.Severity, n int) string {
	switch s {
	case finding.Error:
		return v.Say("doc.errors", n)
	case finding.Warning:
		return v.Say("doc.warnings", n)
	}
	return v.Say("doc.infos", n)
}

// formulas lists each formula once.
func (v *view) formulas(f *paper.Flow) {
	f.Paragraph(v.Say("doc.formulas_intro"))
	t := paper.Table{Columns: []paper.Column{{Head: v.Say("doc.name"), Style: typeface.Mono}, {Head: v.Say("doc.formula"), Style: typeface.Mono, Grow: true}, {Head: v.Say("doc.inputs"), Grow: true}, {Head: v.Say("doc.source")}}}
	for _, name := range slices.Sorted(maps.Keys(v.Design.Formulas)) {
		x := v.Design.Formulas[name]
		var ins []string
		for _, in := range x.Inputs {
			text := in.Name
			if u := unit(in.Unit); u != "" {
				text += " [" + u + "]"
			}
			if in.Doc != "" {
				text += ": " + in.Doc
			}
			ins = append(ins, text)
		}
		t.Rows = append(t.Rows, []paper.Cell{{Text: name}, {Text: x.Result.Name + " = " + x.Text}, {Text: strings.Join(ins, "\n")}, {Text: x.Source}})
	}
	f.Table(t)
}

// calculations lists every record: what it is, the formula, its inputs with their origin, the result.
func (v *view) calculations(f *paper.Flow) {
	f.Paragraph(v.Say("doc.calculations_intro"))
	t := paper.Table{Size: paper.Small, Columns: []paper.Column{
		{Head: v.Say("doc.calculation"), Width: 50}, {Head: v.Say("doc.formula"), Width: 33}, {Head: v.Say("doc.inputs"), Grow: true}, {Head: v.Say("doc.result"), Anchor: scene.Right, Width: 27},
	}}
	for _, id := range slices.SortedFunc(maps.Keys(v.Design.Calculations), natural) {
		r := v.Design.Calculations[id]
		var ins []string
		for _, in := range inputs(r) {
			ins = append(ins, in.Name+" = "+strings.TrimSpace(short(in.Value)+" "+unit(in.Unit))+"  ("+in.From+")")
		}
		if n := len(ins); n > 12 {
			ins = append(ins[:12], v.Say("doc.and_more", n-12))
		}
		name := id
		if key := explain.TitleKey(id); key != "" {
			name = v.Setting.Language.Say("explain."+key) + "\n" + id
		}
		t.Rows = append(t.Rows, []paper.Cell{{Text: name}, {Text: r.Formula}, {Text: strings.Join(ins, "\n")}, {Text: strings.TrimSpace(short(r.Result.Value) + " " + unit(r.Result.Unit)), Style: typeface.Bold}})
	}
	f.Table(t)
}

// inputs are a record's inputs by name.
func inputs(r formula.Record) []formula.Value {
	var out []formula.Value
	for _, name := range slices.SortedFunc(maps.Keys(r.Inputs), natural) {
		in := r.Inputs[name]
		in.Name = name
		out = append(out, in)
	}
	return out
}

// sources lists what is cited by rules, findings and calculations.
func (v *view) sources(f *paper.Flow) {
	cited := map[string]bool{}
	note := func(ref string) {
		key, _, _ := strings.Cut(strings.TrimPrefix(ref, "cite:"), "#")
		if key != "" {
			cited[key] = true
		}
	}
	for _, x := range v.Design.Formulas {
		note(x.Source)
	}
	for _, r := range v.Design.Calculations {
		for _, in := range r.Inputs {
			if strings.HasPrefix(in.From, "cite:") {
				note(in.From)
			}
		}
	}
	for _, r := range v.Rules {
		note(r.Source)
	}
	t := paper.Table{Columns: []paper.Column{{Head: v.Say("doc.source"), Style: typeface.Mono}, {Head: v.Say("doc.document"), Grow: true}, {Head: v.Say("doc.how_seen"), Grow: true}}}
	for _, key := range slices.Sorted(maps.Keys(cited)) {
		if s, err := cite.Lookup(key); err == nil {
			t.Rows = append(t.Rows, []paper.Cell{{Text: key}, {Text: s.Title}, {Text: s.Note}})
		}
	}
	f.Paragraph(v.Say("doc.sources_intro"))
	f.Table(t)
}

// short prints a figure with at most six digits that say something.
func short(x float64) string {
	s := strconv.FormatFloat(x, 'g', 6, 64)
	if y, err := strconv.ParseFloat(s, 64); err == nil {
		return rounded(y, 9)
	}
	return s
}

// unit prints a unit with its signs; "" for a plain number.
func unit(u string) string {
	if u == "1" {
		return ""
	}
	return strings.NewReplacer("ohm", "Ω", "degC", "°C", "mm2", "mm²", "m2", "m²", "A2s", "A²s").Replace(u)
}
