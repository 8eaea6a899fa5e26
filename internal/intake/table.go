package intake

import (
	"regexp"
	"strconv"
	"strings"
)

// table is one block of rows under one heading, or without one.
type table struct {
	sheet     int
	top       int // first heading row; -1 without heading
	bottom    int // last heading row
	first     int // first row below the heading
	last      int // last row, included
	columns   []column
	style     numberStyle
	issued    bool // a canonical one, issued with a design
	canonical bool // headed by our own column names, cells taken as they are
	guessed   bool // without heading: columns by content or from a sister sheet
}

// column is one column of a table.
type column struct {
	index   int
	heading string // all heading rows joined
	fn      string // function that a column of marks is headed with: "Running"
	unit    string // named in the heading
	cands   []candidate
	role    role
	sure    float64
	how     string // "heading", "content", "heading and content", "column map", "sister sheet"
	prof    profile
}

const (
	scanTop   = 80 // rows in which the first heading is looked for
	maxHeight = 3  // heading rows
)

// rowScore says how much a row looks like a row of headings.
type rowScore struct {
	filled  int
	matched int
	sum     float64
	key     bool // a heading that every list has in some form
	numbers int
	tags    int // cells that look like tags, which headings do not
	named   int // headings of a tag, a description or a kind, in so many words
}

// reNumberedWord is a word with a number, as in "Text 1", which headings have and tags are not.
var reNumberedWord = regexp.MustCompile(`^[A-Z]?[a-zäöüéèñó]{3,}\.? ?\d$`)

func (r *reader) scoreRow(s *Sheet, row int) rowScore {
	var sc rowScore
	seen := map[role]bool{}
	for c := range min(s.Width(row), 400) {
		t := s.cell(row, c)
		if t == "" {
			continue
		}
		sc.filled++
		if _, ok := parseNumber(t, styleUnknown); ok {
			sc.numbers++
			continue
		}
		h := r.heading(t)
		if !h.plausible(t) {
			if functionHeading(t) {
				sc.matched++
				sc.sum += 0.2
			}
			if r.features(t).tag && !reNumberedWord.MatchString(t) {
				sc.tags++
			}
			continue
		}
		sc.matched++
		top := h.cands[0]
		if len(t) == 1 { // L, H and A say little alone
			sc.sum += 0.3
			continue
		}
		if seen[top.role] && !top.role.several() {
			sc.sum += 0.3
			continue
		}
		seen[top.role] = true
		sc.sum += top.prior
		switch top.role {
		case "tag", "description", "kind", "form", roleSymbol, roleAddress, roleRange, roleLoop:
			sc.key = true
			if h.exact && (top.role == "tag" || top.role == "description" || top.role == "kind") {
				sc.named++
			}
		default:
			if _, ok := top.role.count(); ok {
				sc.key = true
			}
		}
	}
	return sc
}

// functionHeading reports whether a text may head a column of marks for a function: "Running", "Start".
func functionHeading(t string) bool {
	t = strings.TrimRight(t, ": ")
	if len(t) > 24 || strings.ContainsAny(t, "0123456789.:") {
		return false
	}
	f := fold(t)
	if inList(f, wFunctions) || inList(f, wStates) || functionKind(t) != "" {
		return true
	}
	n, _, _ := functionSays(t)
	return n != "" && !strings.Contains(f, " ")
}

var wFunctions = phrases("start, stop, reset, enable, stopp, arret, ouvrir, fermer, paro, abrir, cerrar, partir, parar, arrancar, demarrer, demarrage, arranque, einschalten, ausschalten, forward, reverse, close, start stop")

// wStates head columns of marks as well, but alone they could be states or commands.
var wStates = phrases("run, open, ready, ein, aus, auf, zu, start befehl, marche, marcha, vor, zuruck")

// isHeading decides whether a row is one of headings.
func (sc rowScore) isHeading() bool {
	if sc.filled < 2 || !sc.key || sc.numbers*3 > sc.filled || sc.tags > 0 && sc.tags*4 >= sc.matched && (sc.named < 2 || sc.tags*3 > sc.filled) {
		return false
	}
	share := float64(sc.matched) / float64(sc.filled)
	switch {
	case sc.filled == 2:
		return sc.matched == 2 && sc.sum >= 1.8
	case sc.sum >= 1.9 && share >= 0.5:
		return true
	}
	return sc.sum >= 3.2 && share >= 0.3
}

// heading looks a heading up once.
func (r *reader) heading(t string) headed {
	if h, ok := r.heads[t]; ok {
		return h
	}
	h := headings.lookup(t)
	if m, ok := r.opt.Columns[t]; ok {
		h.cands = []candidate{{role: role(m), prior: 1.5}}
	} else if m, ok := r.mapFolded[fold(t)]; ok {
		h.cands = []candidate{{role: role(m), prior: 1.5}}
	}
	if len(r.heads) < 4_000 {
		r.heads[t] = h
	}
	return h
}

// findHeading returns the next block of heading rows at or below from; ok is false where there is
// none down to limit.
func (r *reader) findHeading(s *Sheet, from, limit int) (top, bottom int, ok bool) {
	for row := from; row < min(s.Rows, limit); row++ {
		if !r.mayBeHeading(s, row) {
			continue
		}
		sc := r.scoreRow(s, row)
		if !sc.isHeading() {
			continue
		}
		row = r.betterBelow(s, row, sc)
		top, bottom = row, row
		// A row below may be the better or a second part of the heading.
		for bottom+1 < s.Rows && bottom-top+1 < maxHeight && r.isSubheading(s, bottom, bottom+1) {
			bottom++
		}
		if top > from && r.isOverheading(s, top-1, top) {
			top--
		}
		return top, bottom, true
	}
	return 0, 0, false
}

// betterBelow passes over a title block that looks like headings: within the next rows, with nothing
// like data between, stands a much better heading row.
func (r *reader) betterBelow(s *Sheet, row int, sc rowScore) int {
	for next := row + 2; next < min(s.Rows, row+14); next++ {
		filled := 0
		for c := range min(s.Width(next-1), 40) {
			if s.cell(next-1, c) != "" {
				filled++
			}
		}
		if filled > 6 && filled*2 > sc.filled {
			return row
		}
		if o := r.scoreRow(s, next); o.isHeading() && o.sum > 1.4*sc.sum {
			return next
		}
	}
	return row
}

// mayBeHeading is a cheap test that most data rows fail.
func (r *reader) mayBeHeading(s *Sheet, row int) bool {
	n := 0
	for c := range min(s.Width(row), 60) {
		t := s.cell(row, c)
		if t == "" {
			continue
		}
		if n++; n > 24 {
			return false
		}
		if len(t) > 60 || t[0] >= '0' && t[0] <= '9' {
			continue
		}
		if r.heading(t).plausible(t) {
			return true
		}
	}
	return false
}

// isSubheading reports whether row is a second heading row under above: its cells are headings or
// units, and where above is filled over a cell alone, the cell adds to it.
func (r *reader) isSubheading(s *Sheet, above, row int) bool {
	filled, fits, under, exact := 0, 0, 0, 0
	for c := range min(s.Width(row), 400) {
		t := s.cell(row, c)
		if t == "" {
			continue
		}
		filled++
		if h := r.heading(t); h.exact && (h.cands[0].role == "tag" || h.cands[0].role == "description") {
			exact++
		}
		if _, ok := parseNumber(t, styleUnknown); ok {
			continue
		}
		h := r.heading(t)
		u, known := parseUnit(t)
		bracketed := strings.HasPrefix(t, "(") || strings.HasPrefix(t, "[")
		switch {
		case h.plausible(t), known && u != "", bracketed:
			fits++
		}
		if r.parentText(s, above, c) != "" {
			under++
		}
	}
	if exact >= 2 { // "Tag", "Description" beside forms and voltages under "Digital in"
		return true
	}
	if filled == 0 || fits*10 < filled*7 {
		return false
	}
	if text, _, n := single(s, row); n == 1 { // a section such as "Zone: dosing building" is no heading
		u, known := parseUnit(text)
		_, col, _ := single(s, row)
		isUnit := known && u != "" || strings.HasPrefix(text, "[") || strings.HasPrefix(text, "(")
		if h := r.heading(text); !isUnit && (!h.exact || s.cell(above, col) != "" && !mergedWide(s, above, col)) {
			return false
		}
	}
	// A data row of short codes ("AI", "bar") could fit too: the first data row has a tag or text
	// under a tag or description heading that is no heading itself.
	for c := range s.Width(row) {
		t := s.cell(row, c)
		if t == "" {
			continue
		}
		h := r.heading(s.cell(above, c))
		if len(h.cands) > 0 && (h.cands[0].role == "tag" || h.cands[0].role == "description") && h.cands[0].prior > 0.8 {
			if !r.heading(t).plausible(t) {
				return false
			}
		}
	}
	if filled >= 3 && fits == filled {
		sc := r.scoreRow(s, row)
		return sc.sum >= 1.5 || r.allUnits(s, row) || hasMergeIn(s, above)
	}
	return under > 0 || filled >= 2
}

func (r *reader) allUnits(s *Sheet, row int) bool {
	for c := range s.Width(row) {
		if t := s.cell(row, c); t != "" {
			if _, known := parseUnit(t); !known && !strings.HasPrefix(t, "(") && !strings.HasPrefix(t, "[") {
				return false
			}
		}
	}
	return true
}

func hasMergeIn(s *Sheet, row int) bool {
	for _, m := range s.Merges {
		if row >= m.Row && row <= m.LastRow && m.LastCol > m.Col {
			return true
		}
	}
	return false
}

// isOverheading reports whether the row above a heading names groups of columns: it has fewer filled
// cells, each over columns of the heading, and is no title (one cell at the left).
func (r *reader) isOverheading(s *Sheet, row, below int) bool {
	filled, first, matched := 0, -1, 0
	for c := range min(s.Width(row), 400) {
		t := s.cell(row, c)
		if t == "" {
			continue
		}
		if _, ok := parseNumber(t, styleUnknown); ok {
			return false
		}
		if first < 0 {
			first = c
		}
		if r.heading(t).plausible(t) {
			matched++
		}
		filled++
	}
	under := 0
	for c := range s.Width(below) {
		if s.cell(below, c) != "" {
			under++
		}
	}
	switch {
	case filled == 0 || filled > under || under < 2:
		return false
	case filled == 1 && first == 0:
		// A title, unless it is a heading merged over part of the columns.
		m, ok := mergeAt(s, row, 0)
		return matched == 1 && ok && m.LastCol > 0 && m.LastCol-m.Col+1 < under
	case filled == 1:
		return matched == 1 || mergedWide(s, row, first)
	}
	return matched*2 >= filled || hasMergeIn(s, row)
}

func mergedWide(s *Sheet, row, col int) bool {
	m, ok := mergeAt(s, row, col)
	return ok && m.LastCol > m.Col
}

func mergeAt(s *Sheet, row, col int) (Block, bool) {
	for _, m := range s.Merges {
		if row >= m.Row && row <= m.LastRow && col >= m.Col && col <= m.LastCol {
			return m, true
		}
	}
	return Block{}, false
}

// parentText is the heading that stands over column c in row: its own, that of its merged block, or,
// in files without merges, the nearest one to the left as long as the cells between are empty.
func (r *reader) parentText(s *Sheet, row, c int) string {
	if t := s.cell(row, c); t != "" {
		return t
	}
	if m, ok := mergeAt(s, row, c); ok {
		return s.cell(m.Row, m.Col)
	}
	return ""
}

// headingTexts returns for each column the texts of the heading rows, uppermost first.
func (r *reader) headingTexts(s *Sheet, top, bottom, width int) [][]string {
	out := make([][]string, width)
	for row := top; row <= bottom; row++ {
		spread, spreadFrom := "", -1
		for c := range width {
			t := r.parentText(s, row, c)
			switch {
			case t != "":
				spread, spreadFrom = "", -1
				if row < bottom {
					if _, merged := mergeAt(s, row, c); !merged {
						spread, spreadFrom = t, c
					}
				}
			case spread != "" && row < bottom && c-spreadFrom < 8 && s.cell(row+1, c) != "" && s.cell(row+1, spreadFrom) != "":
				t = spread
			}
			out[c] = append(out[c], t)
		}
	}
	return out
}

// isNumbering reports whether a row only numbers the columns: 1 2 3, or A B C.
func isNumbering(s *Sheet, row int) bool {
	n := 0
	for c := range s.Width(row) {
		t := strings.Trim(s.cell(row, c), "()[]. ")
		if t == "" {
			continue
		}
		n++
		if v, err := strconv.Atoi(t); err == nil {
			if v != n && v != n-1 && v != c+1 {
				return false
			}
			continue
		}
		if len(t) > 2 || t != strings.TrimSuffix(address(0, c), "1") {
			return false
		}
	}
	return n >= 3
}
