package intake

import (
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// record is one data row, seen through the roles of its table's columns.
type record struct {
	r     *reader
	s     *Sheet
	t     *table
	row   int
	ctx   *section
	texts []string // by position in t.columns, tidied, dittos and merges resolved
	mute  string   // see tableState
	by    map[role][]int
}

// section is what section rows have said.
type section struct {
	place, equipment, station, text string
	kind                            project.Kind // "Digital inputs" over rows that state none
	dir                             string       // "in" or "out": "Inputs" over rows
	form                            string       // "Analogue inputs 0-10 V"
	atStation                       bool         // the place is that of the station
	row                             int
}

// tableState goes along while a table is read.
type tableState struct {
	by     map[role][]int
	above  []string // last text of each column, for dittos and for cells left empty below a name
	spread map[[2]int]string
	fill   []bool // columns whose empty cells take the text above
	ctx    section
	remote bool // the kind column speaks of télésignalisations

	located   bool    // some addresses are those of inputs and outputs
	registers bool    // all addresses are registers of a link
	stated    bool    // most rows state their kind
	tagged    bool    // descriptions begin with tags
	swap      *[2]int // From and To, where they change places with the direction
	atEnd     bool    // descriptions end with tags
	letters   string  // "dir" or "nature": what single letters in a column of kinds mean
	mute      string  // function letters that all tags have and that therefore say nothing
}

func (r *reader) state(s *Sheet, t *table) *tableState {
	st := &tableState{by: map[role][]int{}, above: make([]string, len(t.columns)), fill: make([]bool, len(t.columns))}
	for i, c := range t.columns {
		st.by[c.role] = append(st.by[c.role], i)
		switch c.role {
		case "place", "equipment", "station", roleRack, roleSlot, rolePanel, roleBox, "device":
			st.fill[i] = c.prof.n > 0 && c.prof.rows > 4 && c.prof.n*2 < c.prof.rows && c.prof.distinct > 1
		}
	}
	r.cardColumns(s, t, st)
	for _, i := range st.by["kind"] {
		st.remote = r.remoteWords(s, t, t.columns[i].index)
	}
	st.spread = verticalMerges(s, t)
	r.learnRows(s, t, st)
	return st
}

// cardColumns lets columns that are filled in the first row of each card, and in no other, speak for
// the whole card: rack, slot and type of card beside channels that run.
func (r *reader) cardColumns(s *Sheet, t *table, st *tableState) {
	for _, slot := range st.by[roleSlot] {
		if !st.fill[slot] || len(st.by[roleChannel]) == 0 {
			continue
		}
		for i, c := range t.columns {
			switch c.role {
			case roleRack, rolePanel, "station", roleElectrical, "form", "kind":
			default:
				continue
			}
			same := true
			for row := t.first; row <= t.last && row < t.first+500; row++ {
				same = same && (s.cell(row, c.index) == "" || s.cell(row, t.columns[slot].index) != "")
			}
			st.fill[i] = st.fill[i] || same && c.prof.n > 0
		}
	}
}

// remoteWords reports whether a kind column holds TS or TM, so that TC in it is a command.
func (r *reader) remoteWords(s *Sheet, t *table, col int) bool {
	for row := t.first; row <= t.last && row < t.first+500; row++ {
		if u := strings.ToUpper(s.cell(row, col)); u == "TS" || u == "TM" {
			return true
		}
	}
	return false
}

// verticalMerges gives the cells of blocks merged over several rows the text of their first cell.
func verticalMerges(s *Sheet, t *table) map[[2]int]string {
	out := map[[2]int]string{}
	for _, m := range s.Merges {
		if m.LastRow == m.Row || m.Row < t.first || m.Row > t.last || m.LastRow-m.Row > 5000 || m.LastCol-m.Col > 2 {
			continue
		}
		text := s.cell(m.Row, m.Col)
		if text == "" {
			continue
		}
		for row := m.Row + 1; row <= m.LastRow && len(out) < 200_000; row++ {
			out[[2]int{row, m.Col}] = text
		}
	}
	return out
}

var dittos = map[string]bool{"\"": true, "''": true, "„": true, "“": true, "”": true, "〃": true, "ditto": true, "do.": true, "idem": true, "id.": true, "dito": true, "-\"-": true, "- \" -": true, "\"\"": true, "–\"–": true}

// texts fills a record's cells: merges over rows, dittos, and names that stand once for many rows.
func (st *tableState) texts(s *Sheet, t *table, row int, buf []string) []string {
	buf = buf[:0]
	for i, c := range t.columns {
		text := s.cell(row, c.index)
		if text == "" && len(st.spread) > 0 {
			text = st.spread[[2]int{row, c.index}]
		}
		if dittos[strings.ToLower(text)] && st.above[i] != "" {
			text = st.above[i]
		}
		if text != "" {
			st.above[i] = text
		}
		buf = append(buf, text)
	}
	return buf
}

// filledDown gives empty cells of name columns the text above; only for rows that are data.
func (st *tableState) filledDown(texts []string) {
	for i, fill := range st.fill {
		if fill && texts[i] == "" {
			texts[i] = st.above[i]
		}
	}
}

// get returns the first filled cell of a role and its position in the table's columns, -1 if none.
func (rec *record) get(ro role) (string, int) {
	for _, i := range rec.by[ro] {
		if rec.texts[i] != "" {
			return rec.texts[i], i
		}
	}
	return "", -1
}

func (rec *record) text(ro role) string {
	t, _ := rec.get(ro)
	return t
}

// all returns the filled cells of a role.
func (rec *record) all(ro role) []string {
	var out []string
	for _, i := range rec.by[ro] {
		if rec.texts[i] != "" {
			out = append(out, rec.texts[i])
		}
	}
	return out
}

// where is the spot of the cell at position i of the table's columns; of the row for i < 0.
func (rec *record) where(i int) finding.Where {
	col := 0
	if i >= 0 {
		col = rec.t.columns[i].index
	} else if len(rec.t.columns) > 0 {
		col = rec.t.columns[0].index
		for _, ro := range []role{"tag", "description"} {
			if at := rec.by[ro]; len(at) > 0 {
				col = rec.t.columns[at[0]].index
				break
			}
		}
	}
	return rec.r.at(rec.t.sheet, address(rec.row, col))
}

func (rec *record) cellKind(i int) CellKind { return rec.s.kind(rec.row, rec.t.columns[i].index) }

// cachedTraits parses electrical text once per different text.
func (r *reader) cachedTraits(text string) traits {
	k := traitKey{text, r.style}
	if t, ok := r.traits[k]; ok {
		return t
	}
	t := parseTraits(text, r.style)
	if len(text) <= 80 && len(r.traits) < 4_000 { // what comes again and again
		r.traits[k] = t
	}
	return t
}
