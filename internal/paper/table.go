package paper

import (
	"strings"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Column is one column of a table.
type Column struct {
	Head   string
	Anchor scene.Anchor // Left or Right
	Style  typeface.Style
	Width  float64 // mm; 0 = as its cells need
	Grow   bool    // takes the room that is left over
}

// Cell is one cell. Text that is too wide for its column takes more lines.
type Cell struct {
	Text    string
	Style   typeface.Style // "" = the column's
	Subject string
	Role    string
	Sheet   string // ID of the sheet that the cell refers to
	Tick    bool   // an empty box to tick, before the text
}

// Table is a table that may run over many sheets: its heads are repeated on each.
type Table struct {
	Columns []Column
	Rows    [][]Cell
	Size    float64 // em height; 0 = 2.7
	Row     float64 // least height of a row, mm: for rows that are filled in by hand
	Total   bool    // the last row holds totals: a thicker line above it, bold
	breaks  bool    // names may be broken at hyphens
	Repeat  int     // columns repeated at the left of each part, where the table is too wide for the paper; 0 = 1
}

// Plain makes a table of texts only.
func Plain(heads []string, rows [][]string) Table {
	t := Table{}
	for _, h := range heads {
		t.Columns = append(t.Columns, Column{Head: h})
	}
	for _, r := range rows {
		cells := make([]Cell, len(heads))
		for i := range cells {
			if i < len(r) {
				cells[i].Text = r[i]
			}
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

const (
	cellPad   = 1.0
	tableSize = 2.7
	tickSide  = 3.4
)

func (t *Table) size() float64 {
	if t.Size == 0 {
		return tableSize
	}
	return t.Size
}

func (t *Table) styleOf(row, col int) typeface.Style {
	c := &t.Rows[row][col]
	switch {
	case c.Style != "":
		return c.Style
	case t.Total && row == len(t.Rows)-1:
		return typeface.Bold
	}
	return styleOr(t.Columns[col].Style)
}

// Table writes a table. One that is too wide for the paper is parted into several below each other, each
// with the first columns (Repeat) at its left.
func (f *Flow) Table(t Table) {
	if len(t.Columns) == 0 {
		return
	}
	for i := range t.Rows {
		for j := range t.Rows[i] {
			t.Rows[i][j].Text = printable(t.Rows[i][j].Text)
		}
	}
	for _, part := range t.parts(f.free.W) {
		f.one(part)
		f.Space(4)
	}
}

// parts cuts a table into as few tables as the width asks for. One that is only a little too wide is
// printed smaller instead, then with its names broken at hyphens.
func (t *Table) parts(width float64) []Table {
	for _, try := range []struct {
		size   float64
		breaks bool
	}{{t.size(), false}, {Small, false}, {Small, true}} {
		t.Size, t.breaks = min(try.size, t.size()), try.breaks
		if sum(first(t.needs())) <= width || len(t.Columns) < 3 {
			return []Table{*t}
		}
	}
	t.breaks = false
	least, _ := t.needs()
	repeat := max(t.Repeat, 1)
	head := 0.0
	for _, w := range least[:min(repeat, len(least))] {
		head += w
	}
	if head > width*0.6 {
		repeat, head = 1, least[0]
	}
	var parts []Table
	for i := repeat; i < len(t.Columns); {
		n, w := 0, head
		for i+n < len(t.Columns) && (n == 0 || w+least[i+n] <= width) {
			w += least[i+n]
			n++
		}
		parts = append(parts, t.columns(repeat, i, i+n))
		i += n
	}
	return parts
}

func first(a, _ []float64) []float64 { return a }

func sum(all []float64) float64 {
	s := 0.0
	for _, x := range all {
		s += x
	}
	return s
}

// columns is the table of the first columns and of those from one to before another.
func (t *Table) columns(repeat, from, to int) Table {
	out := *t
	out.Columns = append(append([]Column{}, t.Columns[:repeat]...), t.Columns[from:to]...)
	out.Rows = make([][]Cell, len(t.Rows))
	for i, r := range t.Rows {
		out.Rows[i] = append(append([]Cell{}, r[:repeat]...), r[from:to]...)
	}
	return out
}

// needs returns for each column the least width at which only very long words break, and the width at
// which nothing breaks.
func (t *Table) needs() (least, whole []float64) {
	size := t.size()
	least, whole = make([]float64, len(t.Columns)), make([]float64, len(t.Columns))
	for j, c := range t.Columns {
		if c.Width > 0 {
			least[j], whole[j] = c.Width, c.Width
			continue
		}
		most := 26 * size * 0.55 // a word longer than that may break
		if styleOr(c.Style) == typeface.Mono {
			most = 24 * size * 0.6
		}
		l, w := wordWidth(typeface.Bold, c.Head, size, t.breaks), typeface.Width(typeface.Bold, c.Head, size)
		for i := range t.Rows {
			text := t.Rows[i][j].Text
			extra := 0.0
			if t.Rows[i][j].Tick {
				extra = tickSide + cellPad
			}
			if text == "" {
				l, w = max(l, extra), max(w, extra)
				continue
			}
			style := t.styleOf(i, j)
			full := typeface.Width(style, text, size) + extra
			w = max(w, full)
			if full > l { // only then can a word be wider
				l = max(l, wordWidth(style, text, size, t.breaks)+extra)
			}
		}
		least[j] = min(l, most) + 2*cellPad + 0.05
		whole[j] = max(w, 4) + 2*cellPad + 0.05
	}
	return least, whole
}

// wordWidth is the width of the widest piece of a text that is kept whole: a word, or with breaks what
// stands between hyphens.
func wordWidth(style typeface.Style, text string, size float64, breaks bool) float64 {
	w := 0.0
	if breaks {
		for _, piece := range typeface.Pieces(text) {
			w = max(w, typeface.Width(style, strings.TrimRight(piece, " "), size))
		}
		return w
	}
	for _, word := range strings.Fields(text) {
		w = max(w, typeface.Width(style, word, size))
	}
	return w
}

// widths gives each column its share of the width.
func (t *Table) widths(width float64) []float64 {
	least, whole := t.needs()
	sumLeast, sumWhole, grow := 0.0, 0.0, 0
	for j := range least {
		sumLeast += least[j]
		sumWhole += whole[j]
		if t.Columns[j].Grow {
			grow++
		}
	}
	out := make([]float64, len(least))
	switch {
	case sumWhole <= width && grow > 0:
		copy(out, whole)
		for j := range out {
			if t.Columns[j].Grow {
				out[j] += (width - sumWhole) / float64(grow)
			}
		}
	case sumWhole <= width: // not stretched beyond half as much again: gaps are hard to read across
		copy(out, whole)
		free := 0.0
		for j := range out {
			if t.Columns[j].Width == 0 {
				free += whole[j]
			}
		}
		for j := range out {
			if t.Columns[j].Width == 0 && free > 0 {
				out[j] += whole[j] * min((width-sumWhole)/free, 0.5)
			}
		}
	case sumLeast <= width:
		for j := range out {
			out[j] = least[j] + (whole[j]-least[j])*(width-sumLeast)/max(sumWhole-sumLeast, 1e-9)
		}
	default:
		for j := range out {
			out[j] = least[j] * width / sumLeast
		}
	}
	return out
}
