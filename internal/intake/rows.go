package intake

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"railwright/internal/finding"
)

// readTable walks through a table's rows.
func (r *reader) readTable(t *table) {
	s := &r.book.Sheets[t.sheet]
	r.style = t.style
	if t.canonical {
		r.readOurs(t)
		return
	}
	st := r.state(s, t)
	st.ctx = r.above(s, t)
	if k, ok := kindOfGroup(s.Name); ok && len(st.by["kind"])+len(st.by[roleNature]) == 0 && st.ctx.kind == "" {
		st.ctx.kind = k
		r.note("IMP-008", t.sheet, "", 0.85, fmt.Sprintf("the sheet's name gives the kind %s of its rows", k))
	}
	passed := map[string]int{}
	hidden := 0
	var buf []string
	for row := t.first; row <= t.last; row++ {
		if s.Width(row) == 0 {
			continue
		}
		what := r.classify(s, t, st, row)
		switch what {
		case "":
		case "blank", "section":
			continue
		default:
			passed[what]++
			continue
		}
		buf = st.texts(s, t, row, buf)
		if allEmpty(buf) {
			continue
		}
		st.filledDown(buf)
		if s.rowHidden(row) {
			hidden++
		}
		rec := &record{r: r, s: s, t: t, row: row, ctx: &st.ctx, texts: buf, by: st.by, mute: st.mute}
		r.colour(rec)
		r.readRow(rec, st)
	}
	for _, what := range []string{"repeated heading", "total", "note", "legend", "column numbers", "spare"} {
		if n := passed[what]; n > 0 {
			r.note("IMP-007", t.sheet, "", 0.9, fmt.Sprintf("%d rows passed over: %s", n, what))
		}
	}
	if hidden > 0 {
		r.note("IMP-012", t.sheet, "", 0.8, fmt.Sprintf("%d hidden rows are read as well", hidden))
	}
}

func allEmpty(texts []string) bool {
	for _, t := range texts {
		if t != "" {
			return false
		}
	}
	return true
}

// single returns the only text of a row, its column, and how many cells are filled.
func single(s *Sheet, row int) (text string, col, n int) {
	for c := range min(s.Width(row), 400) {
		if x := s.cell(row, c); x != "" {
			if n == 0 {
				text, col = x, c
			} else if x == text {
				continue
			}
			n++
		}
	}
	return text, col, n
}

var (
	reTotal = regexp.MustCompile(`(?i)^(?:grand |sub[- ]?)?(?:totals?|sum|summe|gesamt|gesamtsumme|zwischensumme|summen|übertrag|somme|total général|sous[- ]total|sous[- ]?totaux|suma|subtotal|total i/?os?|total points|anzahl gesamt|i/o count|count)\b`)
	reNote  = regexp.MustCompile(`(?i)^(?:notes?|remarks?|hinweise?|legende?|anmerkung(?:en)?|bemerkung(?:en)?|remarques?|légende|nota|notas|observaciones|leyenda|abbreviations?|abkürzungen|rev(?:ision)?\b.*|issued|prepared|checked|approved|erstellt|geprüft|datum|date|page|seite|blatt|sheet|end of list|ende|fin|\*+|\d+\)|\(\d+\)|\*)(?:\b|:|\s|$)`)
)

// classify says what a row is: "" for data, "blank", "section", or a kind of row that is passed over.
// A section changes st.
func (r *reader) classify(s *Sheet, t *table, st *tableState, row int) string {
	first, col, n := single(s, row)
	if n == 0 {
		return "blank"
	}
	if t.top >= 0 && n >= 2 && r.repeats(s, t, row) {
		return "repeated heading"
	}
	if n >= 3 && row <= t.first+1 && isNumbering(s, row) {
		return "column numbers"
	}
	if isTotal(s, t, row, first, n) {
		return "total"
	}
	if n == 1 {
		return r.lonely(s, t, st, row, col, first)
	}
	if n <= 2 && r.outside(s, t, st, row) {
		if spareRow(s, row) {
			return ""
		}
		if reNote.MatchString(first) || len(first) > 60 {
			return "note"
		}
		text := joinedRow(s, row)
		if r.applySection(&st.ctx, text, row, t.sheet, 0.6, false) {
			return "section"
		}
	}
	return ""
}

// spareRow reports whether one of the cells of a row with few says that the channel is a spare.
func spareRow(s *Sheet, row int) bool {
	for c := range min(s.Width(row), 60) {
		if f := fold(s.cell(row, c)); f != "" && inList(f, wSpare) {
			return true
		}
	}
	return false
}

// repeats reports whether a row is the heading again: most of its cells say what the heading says.
func (r *reader) repeats(s *Sheet, t *table, row int) bool {
	same, n := 0, 0
	for i := range t.columns {
		c := &t.columns[i]
		text := s.cell(row, c.index)
		if text == "" {
			continue
		}
		n++
		for h := t.top; h <= t.bottom; h++ {
			if strings.EqualFold(s.cell(h, c.index), text) {
				same++
				break
			}
		}
		if n == 4 && same == 0 {
			return false
		}
	}
	return n >= 2 && same*10 >= n*7
}

// isTotal: a row that begins with a word for a sum and holds no tag.
func isTotal(s *Sheet, t *table, row int, first string, n int) bool {
	numbers := 0
	hit := reTotal.MatchString(first)
	for _, c := range t.columns {
		text := s.cell(row, c.index)
		if text == "" {
			continue
		}
		if _, ok := parseNumber(text, styleUnknown); ok {
			numbers++
		}
		if c.role == "tag" && text != first {
			if !reTotal.MatchString(text) {
				return false
			}
			hit = true
		}
		switch c.role {
		case "description":
			hit = hit || len(text) < 40 && n-numbers <= 2 && reTotal.MatchString(text)
		case roleRowNo, "", roleDocument, roleNote, "remarks", "equipment", "place", roleQuantity:
			hit = hit || len(text) < 24 && n-numbers <= 2 && reTotal.MatchString(text)
		}
	}
	return hit && (numbers > 0 || n <= 2)
}

// joinedRow is the text of a row with few cells.
func joinedRow(s *Sheet, row int) string {
	var out []string
	for c := range min(s.Width(row), 60) {
		if t := s.cell(row, c); t != "" && (len(out) == 0 || out[len(out)-1] != t) {
			out = append(out, t)
		}
	}
	return strings.Join(out, " ")
}

// outside reports whether a row of one or two cells leaves empty what a data row of this table has.
func (r *reader) outside(s *Sheet, t *table, st *tableState, row int) bool {
	for i := range t.columns {
		c := &t.columns[i]
		if s.cell(row, c.index) == "" {
			continue
		}
		switch c.role {
		case "kind", "form", roleRange, "range_low", "range_high", "unit", roleNature, roleDirection, roleElectrical, roleAddress, "sensor", "contact", roleChannel, roleSlot:
			return false
		}
		if _, ok := c.role.count(); ok {
			return false
		}
		if c.role == "tag" && looksTag(s.cell(row, c.index)) {
			return false
		}
	}
	// A list that has nothing but tags and descriptions has only such rows.
	for ro := range st.by {
		switch ro {
		case "kind", "form", roleRange, "range_high", "unit", roleNature, roleDirection, roleElectrical, roleAddress:
			return true
		}
		if _, ok := ro.count(); ok {
			return true
		}
	}
	return false
}

func looksTag(t string) bool { return look(t).tag }

// legend reads a sheet or block that explains colours: a coloured cell with its meaning in it or
// beside it.
func (r *reader) legend(s *Sheet) {
	for row := range min(s.Rows, 200) {
		for c := range min(s.Width(row), 20) {
			l := s.look(row, c)
			colour := l.Fill
			if colour == "" {
				colour = l.Font
			}
			if colour == "" {
				continue
			}
			text := s.cell(row, c)
			if next := s.cell(row, c+1); text == "" || len(next) > len(text) && s.look(row, c+1).Fill == "" {
				text = next
			}
			if text != "" && r.colours[colour] == "" && len(text) < 120 {
				r.colours[colour] = text
			}
		}
	}
}

// colour counts the colours of a data row and keeps what a legend says about them.
func (r *reader) colour(rec *record) {
	if rec.s.Look == nil {
		return
	}
	seen := ""
	for i := range rec.t.columns {
		l := rec.s.look(rec.row, rec.t.columns[i].index)
		for _, c := range []string{l.Fill, l.Font} {
			if c != "" && c != seen {
				seen = c
				r.coloured[c]++
			}
		}
	}
}

// colourMeaning returns what the legend says about the row's colours.
func (rec *record) colourMeaning() string {
	if rec.s.Look == nil || len(rec.r.colours) == 0 {
		return ""
	}
	for i := range rec.t.columns {
		l := rec.s.look(rec.row, rec.t.columns[i].index)
		for _, c := range []string{l.Fill, l.Font} {
			if m := rec.r.colours[c]; c != "" && m != "" {
				return m
			}
		}
	}
	return ""
}

// reportColours says which colours the list uses and what is done with them.
func (r *reader) reportColours() {
	var known, unknown []string
	for _, c := range sortedKeys(r.coloured) {
		if m := r.colours[c]; m != "" {
			known = append(known, fmt.Sprintf("%s means %s (%d rows)", c, quoted(m), r.coloured[c]))
		} else {
			unknown = append(unknown, fmt.Sprintf("%s (%d rows)", c, r.coloured[c]))
		}
	}
	if len(known) > 0 {
		r.res.Findings = append(r.res.Findings, info("IMP-011", finding.Where{File: r.book.File}, "project", 0.8, "the legend's colours are kept as remarks: "+strings.Join(known, "; ")))
	}
	if len(unknown) > 0 && len(unknown) <= 12 {
		r.res.Findings = append(r.res.Findings, info("IMP-011", finding.Where{File: r.book.File}, "project", 0.5, "rows are coloured and no legend says why; colours are not kept: "+strings.Join(unknown, ", ")))
	}
}

func sortedKeys(m map[string]int) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
