package document

import (
	"slices"
	"strings"

	"railwright/internal/paper"
	q "railwright/internal/quantity"
	"railwright/internal/scene"
	"railwright/internal/schedule"
)

// Schedules are the schedules on paper: the same tables as in the workbook, without the columns that are
// empty throughout.
func Schedules(in Input) []scene.Sheet { return look(in).schedules() }

func (v *view) schedules() []scene.Sheet {
	var out []scene.Sheet
	var empty []string
	for i := range v.Tables {
		if t := &v.Tables[i]; !t.File && len(t.Rows) == 0 {
			empty = append(empty, v.tableTitle(t))
		}
	}
	for i := range v.Tables {
		t := &v.Tables[i]
		if t.File || len(t.Rows) == 0 {
			continue
		}
		f := paper.NewFlow(v.Setting, paper.Block{ID: "schedule/" + t.Key, Kind: "schedule", Chapter: v.Say("doc.schedules"), Title: v.tableTitle(t), Lying: true})
		f.Heading(2, v.tableTitle(t))
		for _, p := range parted(t, v.printed(t)) {
			if p.name != "" {
				f.Heading(3, p.name)
			}
			f.Table(p.table)
		}
		if len(out) == 0 && len(empty) > 0 {
			f.Paragraph(v.Say("doc.no_rows", strings.Join(empty, ", ")))
		}
		out = append(out, f.Sheets()...)
	}
	return out
}

// part is what a table shows of one station or box; the name is empty where the table is one.
type part struct {
	name  string
	table paper.Table
}

// parted cuts a printed table where the schedule's column for parts changes.
func parted(t *schedule.Table, whole paper.Table) []part {
	by := slices.Index(t.Heads, t.By)
	if by < 0 {
		return []part{{"", whole}}
	}
	var out []part
	for i, row := range t.Rows {
		name := row[by].Text
		if n := len(out); n == 0 || out[n-1].name != name {
			one := whole
			one.Rows = nil
			out = append(out, part{name, one})
		}
		last := &out[len(out)-1].table
		last.Rows = append(last.Rows, whole.Rows[i])
	}
	return out
}

// printed is a schedule's table for paper.
func (v *view) printed(t *schedule.Table) paper.Table {
	out := paper.Table{Total: t.Total, Size: 2.6}
	var use []int
	for _, j := range columns(t) {
		head := t.Heads[j]
		numeric, filled := true, false
		for _, row := range t.Rows {
			if row[j].Kind != schedule.Empty {
				filled = true
				numeric = numeric && row[j].Kind == schedule.Number
			}
		}
		if !filled || t.Paper == nil && twin(t, j) {
			continue
		}
		use = append(use, j)
		c := paper.Column{Head: v.head(head)}
		if numeric {
			c.Anchor = scene.Right
		}
		out.Columns = append(out.Columns, c)
	}
	for _, row := range t.Rows {
		cells := make([]paper.Cell, len(use))
		for k, j := range use {
			switch c := row[j]; c.Kind {
			case schedule.Text:
				cells[k].Text = c.Text
			case schedule.Number:
				cells[k].Text = q.Short(c.Number)
			case schedule.YesNo:
				cells[k].Text = v.Say("doc.no")
				if c.Number == 1 {
					cells[k].Text = v.Say("doc.yes")
				}
			}
		}
		out.Rows = append(out.Rows, cells)
	}
	return out
}

// columns are the columns that paper shows, in their order.
func columns(t *schedule.Table) []int {
	var out []int
	for _, name := range t.Paper {
		if j := slices.Index(t.Heads, name); j >= 0 {
			out = append(out, j)
		}
	}
	for j := range t.Heads {
		if t.Paper == nil {
			out = append(out, j)
		}
	}
	return out
}

// twin reports whether a column says the same as one before it in every row.
func twin(t *schedule.Table, j int) bool {
	for k := range j {
		same := true
		for _, row := range t.Rows {
			if row[j] != row[k] {
				same = false
				break
			}
		}
		if same && len(t.Rows) > 3 {
			return true
		}
	}
	return false
}

func (v *view) tableTitle(t *schedule.Table) string {
	return v.Setting.Language.Or("schedule."+t.Key, t.Title)
}

// head prints the name of a column: "area_mm2" as "area, mm²".
func (v *view) head(name string) string {
	if s := v.Setting.Language.Head(name); s != "" {
		return s
	}
	words := strings.Split(name, "_")
	if n := len(words); n > 1 {
		if u, ok := units[words[n-1]]; ok {
			return strings.Join(words[:n-1], " ") + ", " + u
		}
	}
	return strings.Join(words, " ")
}

// units are the ends of column names that are units, as printed.
var units = map[string]string{
	"m": "m", "mm": "mm", "mm2": "mm²", "ma": "mA", "a": "A", "v": "V", "w": "W", "ms": "ms", "s": "s", "ohm": "Ω", "c": "°C", "k": "K", "nf": "nF",
	"mh": "mH", "mw": "mW", "hz": "Hz", "percent": "%", "kg": "kg", "h": "h",
}
