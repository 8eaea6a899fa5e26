package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"railwright/internal/app"
	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/intake"
	"railwright/internal/words"
)

// What the page shows in full: so many changes of a kind, so many tags in a row.
const (
	mostChanges = 20
	mostTags    = 12
)

// imported shows how a list was understood and what it would change.
func (p *page) imported(m *app.Import) {
	res := m.Result
	p.para("", words.Text("import.head", m.File, words.Count(m.Signals, "signal"), words.Count(res.Rows, "row"), words.Count(res.LeftOut, "row"), words.Count(len(res.Rejected), "row")))
	switch {
	case res.Ours && m.Before:
		p.para("", words.Text("import.ours_base"))
	case res.Ours:
		p.para("", words.Text("import.ours"))
	case m.Before:
		p.para("", words.Text("import.later", m.Source))
	}
	if !res.Ours {
		p.columnsRead(res.Columns)
	}
	p.lookAt(withoutQuestions(m.Findings))
	p.assumed(m.Findings)
	p.importChanges(m)
}

// withoutQuestions leaves out what is asked below.
func withoutQuestions(all finding.List) finding.List {
	return slices.DeleteFunc(slices.Clone(all), func(f finding.Finding) bool { return f.Rule == "IMP-080" || f.Rule == "IMP-081" })
}

// columnsRead is the table of columns; sheets that are read alike share it.
func (p *page) columnsRead(all []intake.ColumnUse) {
	p.heading(words.Text("import.columns"))
	seen := map[string]bool{}
	sheets := map[string]bool{}
	for _, c := range all {
		sheets[c.Sheet] = true
	}
	var rows [][]string
	var unused []string
	for _, c := range all {
		key := c.Column + "\x00" + c.Heading + "\x00" + c.Meaning
		if seen[key] {
			continue
		}
		seen[key] = true
		if c.Meaning == "" || c.Meaning == "ignore" {
			if c.Heading != "" && !slices.Contains(unused, c.Heading) {
				unused = append(unused, c.Heading)
			}
			continue
		}
		row := []string{c.Column, c.Heading, c.Meaning, c.How, fmt.Sprintf("%.2f", c.Confidence)}
		if len(sheets) > 1 {
			row = append([]string{c.Sheet}, row...)
		}
		rows = append(rows, row)
	}
	cols := []column{{head: words.Text("import.column")}, {head: words.Text("import.heading")}, {head: words.Text("import.read_as")}, {}, {head: words.Text("import.sure"), right: true}}
	if len(sheets) > 1 {
		cols = append([]column{{head: words.Text("import.sheet")}}, cols...)
	}
	p.table("  ", cols, rows)
	if len(unused) > 0 {
		p.para("  ", words.Text("import.not_used", strings.Join(unused, ", ")))
	}
}

// assumed groups the infos by rule: how many, how sure the least sure one is, and that one in words.
func (p *page) assumed(all finding.List) {
	type group struct {
		rule  string
		n     int
		least float64
		text  string
	}
	at := map[string]*group{}
	var order []*group
	for _, f := range all {
		if f.Severity != finding.Info || f.Rule == "IMP-001" || f.Rule == "IMP-002" || f.Rule == "IMP-003" {
			continue // the table of columns says it
		}
		g := at[f.Rule]
		if g == nil {
			g = &group{rule: f.Rule, least: 2}
			at[f.Rule] = g
			order = append(order, g)
		}
		g.n++
		sure := 1.0
		if c, ok := f.Figures["confidence"]; ok {
			sure = c.Value
		}
		if sure < g.least {
			g.least, g.text = sure, f.Message
			if f.Where != nil && f.Where.Cell != "" {
				g.text = f.Where.Cell + ": " + g.text
			}
		}
	}
	if len(order) == 0 {
		return
	}
	slices.SortStableFunc(order, func(a, b *group) int { return cmp.Compare(a.least, b.least) })
	p.heading(words.Text("import.assumed"))
	var rows [][]string
	for _, g := range order {
		rows = append(rows, []string{g.rule, fmt.Sprint(g.n), fmt.Sprintf("%.2f", g.least), g.text})
	}
	p.table("  ", []column{{head: words.Text("import.assumption")}, {head: words.Text("import.times"), right: true}, {head: words.Text("import.least"), right: true}, {head: words.Text("import.for_instance")}}, rows)
}

// importChanges is the preview.
func (p *page) importChanges(m *app.Import) {
	p.heading(words.Text("import.changes", m.Into))
	var added, removed []string
	var changed, open []int
	for i, c := range m.Preview.Changes {
		switch {
		case m.Asks(i):
			open = append(open, i)
			if c.Kind == intake.Changed {
				changed = append(changed, i)
			}
		case c.Kind == intake.Added:
			added = append(added, c.Tag)
		case c.Kind == intake.Removed && c.Take:
			removed = append(removed, c.Tag)
		case c.Kind == intake.Changed:
			changed = append(changed, i)
		}
	}
	if m.New {
		p.para("  ", words.Text("import.new_folder", m.Into, words.Count(len(added), "signal")))
	} else {
		p.someTags("import.added", added)
		if m.Mended > 0 {
			p.para("  ", words.Text("import.mended", words.Count(m.Mended, "faulty row")))
		}
	}
	p.someTags("import.removed", removed)
	p.changedCells(m, changed)
	if m.Positions > 0 {
		p.para("  ", words.Text("import.positions", words.Thousands(int64(m.Positions))))
	}
	if m.Stay > 0 {
		p.para("  ", words.Sentence(words.Text("import.stay", words.Count(m.Stay, "signal"))))
	}
	if len(open) > 0 {
		p.blank()
		p.para("  ", words.Text("import.open", words.Count(len(open), "question")))
		for n, i := range open {
			if n == mostChanges {
				p.para("    ", words.Text("import.more_changes", words.Thousands(int64(len(open)-n))))
				break
			}
			p.hanging("    ", 6, question(m, i))
		}
	} else if !m.Changes() {
		p.para("  ", words.Text("import.nothing"))
	}
	if !m.New && len(m.NewPlaces) > 0 {
		p.blank()
		p.para("  ", words.Text("import.new_places", strings.Join(m.NewPlaces, ", ")))
		p.blank()
		for _, l := range strings.Split(strings.TrimSpace(m.PlaceLines()), "\n") {
			p.line("    " + clean(l))
		}
	}
}

func (p *page) someTags(key string, tags []string) {
	if len(tags) == 0 {
		return
	}
	text := strings.Join(tags[:min(len(tags), mostTags)], ", ")
	if more := len(tags) - mostTags; more > 0 {
		text = words.Text("summary.and_more", text, words.Thousands(int64(more)))
	}
	if key == "import.added" {
		p.hanging("  ", 4, words.Text("import.added", words.Count(len(tags), "signal"), text))
		return
	}
	p.hanging("  ", 4, words.Text("import.removed", words.Count(len(tags), "signal"), text))
}

// changedCells shows changed signals cell by cell.
func (p *page) changedCells(m *app.Import, changed []int) {
	var rows [][]string
	n := 0
	for _, i := range changed {
		c := &m.Preview.Changes[i]
		tag := c.Tag
		if rev := m.Revision(c); rev != "" {
			tag += " (" + words.Text("import.rev", rev) + ")"
		}
		var own [][]string
		for _, x := range c.Cells {
			if x.Conflict {
				continue
			}
			own = append(own, []string{tag, x.Column, shown(x.Old), "->", shown(x.New)})
			tag = ""
		}
		if len(own) > 0 {
			if n++; n <= mostChanges {
				rows = append(rows, own...)
			}
		}
	}
	if n == 0 {
		return
	}
	p.para("  ", words.Text("import.changed", words.Count(n, "signal")))
	p.table("    ", []column{{}, {}, {}, {}, {}}, rows)
	if n > mostChanges {
		p.para("    ", words.Text("import.more_changes", words.Thousands(int64(n-mostChanges))))
	}
}

// wrote says what was written and what to do next.
func (p *page) wrote(m *app.Import, c *importCommand) {
	p.blank()
	p.para("", words.Text("import.wrote", m.Into, strings.Join(m.Written, ", ")))
	p.heading(words.Text("summary.next"))
	kept := func(ending, key string) {
		if name := folder.ImportsDir + "/" + m.Source + ending; slices.Contains(m.Written, name) {
			p.para("  ", words.Text("import."+key)+":")
			p.line("    " + clean(strings.TrimSuffix(m.Into, "/")+"/"+name))
		}
	}
	kept(folder.RejectedEnding, "see_rejected")
	kept(folder.MarkedEnding, "see_marked")
	kept(folder.ColumnsEnding, "mend_columns")
	if m.New {
		p.para("  ", words.Text("import.fill_in")+":")
		p.line("    " + clean(strings.TrimSuffix(m.Into, "/")+"/"+folder.ProjectFile))
	}
	p.para("  ", words.Text("next.plan")+":")
	p.line("    railwright plan " + quote(m.Into))
}
