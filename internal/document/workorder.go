package document

import (
	"strconv"
	"strings"

	"railwright/internal/modification"
	"railwright/internal/paper"
	"railwright/internal/scene"
)

// WorkOrder is a modification as sheets to work from: summary and parts, what is done beside the running
// plant, each outage with its steps to tick, the signals changed.
func WorkOrder(m *modification.Modification, set paper.Setting) []scene.Sheet {
	w := order{m, set}
	chapter := set.Say("modification.order")
	f := paper.NewFlow(set, paper.Block{ID: "work-order", Kind: "work order", Chapter: chapter, Title: chapter})
	f.Heading(1, chapter)
	f.Caution(set.Say("modification.approves_nothing"))
	f.Fields(4,
		paper.Field{Caption: set.Say("modification.steps"), Value: strconv.Itoa(len(m.Steps))}, paper.Field{Caption: set.Say("modification.outages"), Value: strconv.Itoa(len(m.Outages))},
		paper.Field{Caption: set.Say("modification.peak"), Value: strconv.Itoa(m.Peak)}, paper.Field{Caption: set.Say("modification.cores"), Value: strconv.Itoa(m.Cores)},
		paper.Field{Caption: set.Say("modification.responsible")}, paper.Field{Caption: set.Say("modification.released_by")}, paper.Field{Caption: set.Say("modification.begun")}, paper.Field{Caption: set.Say("modification.finished")},
	)
	w.parts(f, "modification.buy", m.Buy)
	w.steps(f)
	w.parts(f, "modification.comes_out", m.Free)
	w.signals(f)
	sheets := f.Sheets()
	paper.Finish(set, sheets)
	return sheets
}

type order struct {
	m   *modification.Modification
	set paper.Setting
}

func (w order) parts(f *paper.Flow, head string, all []modification.PartCount) {
	if len(all) == 0 {
		return
	}
	f.Heading(2, w.set.Say(head))
	t := paper.Table{Columns: []paper.Column{
		{Head: w.set.Say("modification.count"), Anchor: scene.Right},
		{Head: w.set.Say("modification.unit")},
		{Head: w.set.Say("modification.code")},
		{Head: w.set.Say("modification.title"), Grow: true},
		{Head: w.set.Say("modification.there"), Width: 16},
	}}
	for _, p := range all {
		t.Rows = append(t.Rows, []paper.Cell{{Text: strconv.FormatFloat(p.Count, 'g', 6, 64)}, {Text: p.Unit}, {Text: p.Code}, {Text: p.Title}, {Tick: true}})
	}
	f.Table(t)
}

// steps writes a table for each run of steps that lie in one outage, or in none.
func (w order) steps(f *paper.Flow) {
	for from := 0; from < len(w.m.Steps); {
		to := from
		for to < len(w.m.Steps) && w.m.Steps[to].Outage == w.m.Steps[from].Outage {
			to++
		}
		w.head(f, w.m.Steps[from])
		w.table(f, w.m.Steps[from:to])
		from = to
	}
}

func (w order) head(f *paper.Flow, s modification.Step) {
	switch {
	case s.Outage == 0 && s.Number == 1:
		f.Heading(2, w.set.Say("modification.beside"))
	case s.Outage == 0:
		f.Heading(2, w.set.Say("modification.running"))
	default:
		o := w.m.Outages[s.Outage-1]
		f.Heading(2, w.set.Say("modification.outage_head", o.Number, o.Unit, len(o.Signals)))
		f.Fields(2, paper.Field{Caption: w.set.Say("modification.permission_of"), Value: strings.Join(o.Permissions, "; "), Span: 2},
			paper.Field{Caption: w.set.Say("modification.allowed_from")}, paper.Field{Caption: w.set.Say("modification.allowed_by")})
		if len(o.Trips) > 0 {
			f.Caution(w.set.Say("modification.caution_trips", strings.Join(o.Trips, "; ")))
		}
		if len(o.Partners) > 0 {
			f.Caution(w.set.Say("modification.caution_partners", strings.Join(o.Partners, "; ")))
		}
	}
}

func (w order) table(f *paper.Flow, steps []modification.Step) {
	t := paper.Table{Row: 7, Columns: []paper.Column{
		{Head: w.set.Say("modification.step"), Anchor: scene.Right, Width: 10},
		{Head: w.set.Say("modification.what"), Grow: true},
		{Head: w.set.Say("modification.back_head"), Width: 46},
		{Head: w.set.Say("modification.done"), Width: 14},
		{Head: w.set.Say("modification.by_at"), Width: 24},
	}}
	for _, s := range steps {
		text := s.Text
		if s.Kind != modification.Isolate { // its cautions stand above the table
			text = strings.Join(append([]string{s.Text}, s.Cautions...), "\n! ")
		} else if len(s.Cautions) > 0 {
			text += "\n! " + s.Cautions[0]
		}
		t.Rows = append(t.Rows, []paper.Cell{{Text: strconv.Itoa(s.Number)}, {Text: text}, {Text: s.Back}, {Tick: true}, {}})
	}
	f.Table(t)
}

func (w order) signals(f *paper.Flow) {
	f.Heading(2, w.set.Say("modification.sheet_signals"))
	t := paper.Table{Columns: []paper.Column{
		{Head: w.set.Say("modification.signal")}, {Head: w.set.Say("modification.change"), Grow: true}, {Head: w.set.Say("modification.new_sheet"), Width: 30}, {Head: w.set.Say("modification.tested"), Width: 20},
	}}
	for _, c := range w.m.Signals {
		sheet := ""
		if c.Sheet {
			sheet = w.set.Say("modification.yes")
		}
		t.Rows = append(t.Rows, []paper.Cell{{Text: c.Tag}, {Text: strings.Join(c.What, ", ")}, {Text: sheet}, {Tick: c.Sheet}})
	}
	f.Table(t)
}
