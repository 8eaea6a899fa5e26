package intake

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// reader holds the state of one Read.
type reader struct {
	book      *Book
	opt       Options
	mapFolded map[string]string
	heads     map[string]headed
	feats     map[string]features
	traits    map[traitKey]traits
	groups    map[groupKey]*group
	res       Result
	drafts    []*draft
	scratch   []draftCell // where a draft's cells are gathered
	block     []draftCell // room for those of finished drafts
	rows      map[rowKey]*rowFate
	colours   map[string]string // colour to meaning, from legends
	coloured  map[string]int
	style     numberStyle
	doneRows  []rowKey
	byID      map[string]int                              // signals by id
	lined     []linedSheet                                // sheets whose cells hold whole lines
	letters   map[[canonicalCount]int16]map[string]string // columns of a row, shared by rows alike
}

type rowKey struct{ sheet, row int }

// rowFate collects what became of a data row.
type rowFate struct {
	faults  []string
	leftOut bool
	signals int
}

type traitKey struct {
	text  string
	style numberStyle
}

// Read understands a book of sheets as a signal list.
func Read(book *Book, opt Options) *Result {
	r := &reader{
		book: book, opt: opt, mapFolded: map[string]string{}, heads: map[string]headed{}, feats: map[string]features{},
		traits: map[traitKey]traits{}, groups: map[groupKey]*group{}, rows: map[rowKey]*rowFate{}, colours: map[string]string{}, coloured: map[string]int{}, byID: map[string]int{}, letters: map[[canonicalCount]int16]map[string]string{},
	}
	r.checkMap()
	r.book = r.unpacked(book)
	for _, l := range r.lined {
		r.note("IMP-001", l.sheet, "A1", 0.85, fmt.Sprintf("each cell of the first column holds a whole line; the lines are parted at %q, and columns are counted in them", l.sep))
	}
	tables := r.findTables()
	if len(tables) == 0 {
		r.res.Findings = append(r.res.Findings, problem("IMP-005", finding.Error, finding.Where{File: book.File}, "project",
			"no signal table was found: no row names columns such as tag, description or type, and no column holds tags beside kinds, forms or ranges",
			"Check that the file is the signal list; if it is, name its columns with a column map."))
	}
	r.res.Ours = ours(tables)
	r.decimalSign(tables)
	for _, t := range tables {
		r.readTable(t)
	}
	r.finish()
	r.flushGroups()
	r.reportColours()
	r.rejected()
	r.res.Findings.Sort()
	res := r.res
	return &res // what was only needed on the way is let go
}

// Roles returns the names that a column map may use besides the canonical columns.
func Roles() []string {
	out := []string{}
	for _, k := range project.Kinds {
		out = append(out, string(countRole(string(k))))
	}
	for _, ro := range []role{
		roleIgnore, roleRowNo, roleDirection, roleNature, roleRange, roleElectrical, roleNormal, roleAlarmLL, roleAlarmHH, roleAlarm, roleRack, roleSlot, roleChannel, roleAddress, roleSymbol,
		roleLoop, roleOldTag, roleFunction, roleRevision, roleStatus, roleQuantity, roleTagPart, roleEx, roleBox, rolePanel, roleDocument, roleMaker, roleSetpoint, roleRating, roleSafety, roleSource, roleNote,
	} {
		out = append(out, string(ro))
	}
	slices.Sort(out)
	return out
}

// checkMap reads the column map and reports entries that name nothing.
func (r *reader) checkMap() {
	names := append(project.ColumnNames(), Roles()...)
	heads := make([]string, 0, len(r.opt.Columns))
	for h := range r.opt.Columns {
		heads = append(heads, h)
	}
	slices.Sort(heads)
	clean := map[string]string{}
	for _, h := range heads {
		m := r.opt.Columns[h]
		if !slices.Contains(names, m) {
			msg := fmt.Sprintf("the column map reads heading %s as %s, which is no column", quoted(h), quoted(m))
			remedy := "Use a canonical column or one of: " + strings.Join(Roles(), ", ") + "."
			if near, ok := finding.Nearest(m, names); ok {
				remedy = "Did you mean " + near + "?"
			}
			r.res.Findings = append(r.res.Findings, problem("IMP-010", finding.Warning, finding.Where{File: r.book.File}, "project", msg, remedy))
			continue
		}
		clean[tidy(h)] = m
		r.mapFolded[fold(h)] = m
	}
	r.opt.Columns = clean
}

// findTables finds the tables of all sheets and gives their columns roles.
func (r *reader) findTables() []*table {
	var all []*table
	var bare []int // sheets without a heading
	for i := range r.book.Sheets {
		s := &r.book.Sheets[i]
		if r.opt.Sheets != nil && !slices.Contains(r.opt.Sheets, s.Name) {
			continue
		}
		if s.Hidden {
			if s.Rows > 0 {
				r.note("IMP-004", i, "", 0.7, fmt.Sprintf("sheet %s is hidden and passed over", quoted(s.Name)))
			}
			continue
		}
		found := r.sheetTables(i)
		if len(found) == 0 && s.Rows > 0 {
			bare = append(bare, i)
		}
		all = append(all, found...)
	}
	if issued := onlyIssued(all); issued != nil {
		all, bare = issued, nil
		r.res.Issued = true
		r.res.Findings = append(r.res.Findings, info("IMP-014", finding.Where{File: r.book.File, Sheet: r.book.Sheets[issued[0].sheet].Name}, "project", 0.99,
			"the list was issued by this tool: state, station, slot, module, channel, address, terminals, supply group, cable and length are results of a plan and are not read back; other sheets are passed over"))
	}
	for _, i := range bare {
		if t := r.bareTable(i, all); t != nil {
			all = append(all, t)
		} else {
			r.legend(&r.book.Sheets[i])
			r.note("IMP-004", i, "", 0.8, fmt.Sprintf("sheet %s holds no signal table and is passed over", quoted(r.book.Sheets[i].Name)))
		}
	}
	slices.SortStableFunc(all, func(a, b *table) int {
		if a.sheet != b.sheet {
			return a.sheet - b.sheet
		}
		return a.first - b.first
	})
	r.reportTables(all)
	return all
}

// ours reports whether all tables are lists of this project, in its columns and with its ids.
func ours(tables []*table) bool {
	for _, t := range tables {
		ids := false
		for _, c := range t.columns {
			ids = ids || c.role == "id" && c.prof.n > 0
		}
		if !t.canonical || !ids {
			return false
		}
	}
	return len(tables) > 0
}

// onlyIssued returns the tables that this tool issued, nil where there is none.
func onlyIssued(all []*table) []*table {
	var out []*table
	for _, t := range all {
		if t.issued {
			out = append(out, t)
		}
	}
	return out
}

// sheetTables finds the headed tables of a sheet. Equal headings further down are repeated ones and
// stay inside their table; different ones begin a new table.
func (r *reader) sheetTables(i int) []*table {
	s := &r.book.Sheets[i]
	var out []*table
	top, bottom, ok := r.findHeading(s, 0, scanTop)
	if !ok {
		top, bottom, ok = r.findHeading(s, scanTop, min(s.Rows, 2000))
	}
	for ok {
		t := &table{sheet: i, top: top, bottom: bottom, first: bottom + 1, last: s.Rows - 1}
		nextTop, nextBottom, more := 0, 0, false
		for from := bottom + 1; ; from = nextBottom + 1 {
			if ourHeading(s, top) {
				break
			}
			if nextTop, nextBottom, more = r.nextHeading(s, t, from); !more || !r.sameHeading(s, t, nextBottom, nextTop) {
				break
			}
		}
		if more {
			t.last = nextTop - 1
		}
		if t.first <= t.last {
			r.assign(s, t)
			if t.usable() {
				out = append(out, t)
			} else {
				r.legend(s)
			}
		}
		top, bottom, ok = nextTop, nextBottom, more
	}
	return out
}

// ourHeading reports whether a row is the heading of a canonical list; nothing but rows follows it.
func ourHeading(s *Sheet, row int) bool {
	n := 0
	for c := range min(s.Width(row), 100) {
		if t := s.cell(row, c); isCanonical(t) && strings.Contains(t, "_") {
			n++
		}
	}
	return n >= 8
}

// nextHeading looks for a further heading below a table's first rows. Only a row whose first filled
// cells name a tag, description or row number is looked at closely.
func (r *reader) nextHeading(s *Sheet, t *table, from int) (int, int, bool) {
	for row := from; row < s.Rows; row++ {
		n, hit := 0, false
		for c := range min(s.Width(row), 40) {
			text := s.cell(row, c)
			if text == "" {
				continue
			}
			if n++; n > 4 {
				break
			}
			if len(text) > 40 || len(text) < 2 && text != "#" || digitsIn(text) > 1 { // no heading is numbered beyond 9
				continue
			}
			if h, ok := r.heads[text]; ok && len(h.cands) == 0 {
				continue
			}
			h := r.heading(text)
			if len(h.cands) > 0 && h.cands[0].prior > 0.9 {
				switch h.cands[0].role {
				case "tag", "description", roleRowNo, "device", "equipment", roleSymbol, roleLoop, "kind":
					hit = true
				}
			}
		}
		if !hit {
			continue
		}
		if top, bottom, ok := r.findHeading(s, row, row+1); ok && !saidAbove(s, t, bottom) {
			return top, bottom, true
		}
	}
	return 0, 0, false
}

// saidAbove reports whether several cells of a row say what cells of the same columns have said as
// data in the rows before: "Digital input" and "Dry contact" are headings elsewhere, but not here.
func saidAbove(s *Sheet, t *table, row int) bool {
	again, n := 0, 0
	for c := range min(s.Width(row), 60) {
		text := s.cell(row, c)
		if text == "" {
			continue
		}
		n++
		for above := max(t.first, row-60); above < row; above++ {
			if s.cell(above, c) == text {
				again++
				break
			}
		}
	}
	return again >= 2 && again*3 >= n && !repeatedAbove(s, t, row)
}

// repeatedAbove reports whether a row repeats the table's heading, which may have been repeated before.
func repeatedAbove(s *Sheet, t *table, row int) bool {
	same, n := 0, 0
	for c := range min(s.Width(row), 60) {
		text := s.cell(row, c)
		if text == "" {
			continue
		}
		n++
		for h := t.top; h <= t.bottom; h++ {
			if strings.EqualFold(s.cell(h, c), text) {
				same++
				break
			}
		}
	}
	return same*2 >= n
}

// headedAt reports whether a table has a heading over column c.
func headedAt(s *Sheet, t *table, c int) bool {
	for h := t.top; h <= t.bottom; h++ {
		if s.cell(h, c) != "" {
			return true
		}
	}
	return false
}

func digitsIn(s string) int {
	n := 0
	for i := range len(s) {
		if s[i] >= '0' && s[i] <= '9' {
			n++
		}
	}
	return n
}

// sameHeading reports whether the rows top..bottom repeat the table's heading.
func (r *reader) sameHeading(s *Sheet, t *table, bottom, top int) bool {
	same, n := 0, 0
	for row := top; row <= bottom; row++ {
		for c := range s.Width(row) {
			text := s.cell(row, c)
			if text == "" {
				continue
			}
			n++
			known := false
			for h := t.top; h <= t.bottom; h++ {
				if strings.EqualFold(s.cell(h, c), text) {
					same++
					break
				}
				known = known || s.cell(h, c) != ""
			}
			if !known && same < n && r.heading(text).plausible(text) && !headedAt(s, t, c) {
				return false // a column that the table above does not have
			}
		}
	}
	return n > 0 && same*10 >= n*8
}

// usable reports whether a table can give signals: something names them and something says more.
func (t *table) usable() bool {
	name, more := false, false
	for _, c := range t.columns {
		switch c.role {
		case "tag", roleTagPart, roleAddress:
			name = true
		case "description":
			name, more = true, more || c.prof.n > 0
		case "kind", "form", roleRange, "range_high", "unit", roleElectrical, roleNature, roleDirection, roleSlot, roleChannel, "contact", "sensor":
			more = true
		default:
			if _, ok := c.role.count(); ok {
				more = true
			}
		}
	}
	return name && more
}

// bareTable reads a sheet without headings: like a sister sheet if its columns fit, or by content.
func (r *reader) bareTable(i int, others []*table) *table {
	s := &r.book.Sheets[i]
	first, last := -1, s.Rows-1
	for row := range s.Rows {
		n := 0
		for c := range min(s.Width(row), 60) {
			if s.cell(row, c) != "" {
				n++
			}
		}
		if n >= 3 {
			first = row
			break
		}
	}
	if first < 0 {
		return nil
	}
	var bestFit *table
	top := 0.0
	for _, o := range others {
		if t, fit := o.like(s, r, first, last); t != nil && fit > top {
			bestFit, top = t, fit
		}
	}
	if bestFit != nil && top >= 0.7 {
		bestFit.sheet = i
		return bestFit
	}
	return r.byContent(s, i, first, last)
}

func (r *reader) at(sheet int, cell string) finding.Where {
	return finding.Where{File: r.book.File, Sheet: r.book.Sheets[sheet].Name, Cell: cell}
}

func (r *reader) note(rule string, sheet int, cell string, sure float64, msg string) {
	r.res.Findings = append(r.res.Findings, info(rule, r.at(sheet, cell), "project", sure, msg))
}

// reportTables says how each table and column is read.
func (r *reader) reportTables(tables []*table) {
	where := map[role]int{}
	for n, t := range tables {
		s := &r.book.Sheets[t.sheet]
		switch {
		case t.guessed && len(t.columns) > 0 && t.columns[0].how == "sister sheet":
			r.note("IMP-006", t.sheet, address(t.first, 0), 0.7, "no headings; the columns are read like those of another sheet of this file")
		case t.guessed:
			r.note("IMP-006", t.sheet, address(t.first, 0), 0.6, "no headings; the columns are told by their content")
		case t.bottom > t.top:
			r.note("IMP-001", t.sheet, address(t.top, 0), 0.95, fmt.Sprintf("the headings stand in rows %d to %d", t.top+1, t.bottom+1))
		default:
			r.note("IMP-001", t.sheet, address(t.top, 0), 0.97, fmt.Sprintf("the headings stand in row %d", t.top+1))
		}
		var unused []string
		for i := range t.columns {
			c := &t.columns[i]
			r.res.Columns = append(r.res.Columns, ColumnUse{
				Sheet: s.Name, Column: strings.TrimSuffix(address(0, c.index), "1"), Heading: c.heading, Meaning: string(c.role), Confidence: c.sure, How: c.how,
			})
			if c.role == "" || c.role == roleIgnore || c.role == roleRowNo || c.role == roleDocument || c.role == roleMaker {
				if c.heading != "" && c.how != "column map" {
					unused = append(unused, quoted(c.heading))
				}
				continue
			}
			if c.how != "canonical name" {
				msg := c.describe()
				if c.how != "heading" {
					msg += " (" + c.how + ")"
				}
				r.note("IMP-002", t.sheet, address(max(t.top, 0), c.index), c.sure, msg)
			}
			if old, ok := where[c.role]; ok && n > 0 && old != c.index && !c.role.several() && (c.role == "tag" || c.role == "kind" || c.role == "description") {
				r.note("IMP-013", t.sheet, address(max(t.top, 0), c.index), 0.9, fmt.Sprintf("%s stands in column %s here, in column %s before", c.role, strings.TrimSuffix(address(0, c.index), "1"), strings.TrimSuffix(address(0, old), "1")))
			}
			where[c.role] = c.index
		}
		if len(unused) > 0 {
			r.note("IMP-003", t.sheet, address(max(t.top, 0), 0), 0.8, "not used: "+strings.Join(unused, ", "))
		}
	}
}

// decimalSign finds out how each table writes decimals: from its texts (numbers that a spreadsheet
// holds as numbers say nothing), else from the language of its headings. Departments differ.
func (r *reader) decimalSign(tables []*table) {
	for _, t := range tables {
		if t.canonical {
			continue // decimal points only
		}
		points, commas := 0, 0
		comma := false
		s := &r.book.Sheets[t.sheet]
		for _, c := range t.columns {
			switch c.role {
			case roleRange, "range_low", "range_high", "alarm_low", "alarm_high", roleAlarm, roleElectrical, "current_ma", "voltage_v", roleRating, roleSetpoint, "form", roleAlarmHH, roleAlarmLL, "description":
				for row := t.first; row <= t.last && row < t.first+3000; row++ {
					if s.kind(row, c.index) != CellNumber {
						styleOf(s.Text(row, c.index), &points, &commas)
					}
				}
			}
			comma = comma || hasAny(fold(c.heading), commaWords)
		}
		sign, n := "point", points
		switch {
		case commas > 0 && commas >= 4*points:
			t.style, sign, n = styleComma, "comma", commas
		case points > 0 && points >= 4*commas:
			t.style = stylePoint
		case points == 0 && commas == 0 && comma:
			t.style = styleComma
		}
		if n > 0 && t.style != styleUnknown {
			r.note("IMP-009", t.sheet, address(max(t.top, 0), 0), 0.9, fmt.Sprintf("numbers are read with a decimal %s (%d numbers of the table show it)", sign, n))
		}
	}
}

var commaWords = phrases("beschreibung, bezeichnung, einheit, messbereich, signalart, bereich, anlage, kennzeichen, benennung, libelle, repere, unite, plage, echelle, designation du, descripcion, unidad, rango, senal, tipo de senal, bemerkung, messstelle, remarques, observaciones, denominacion, voie, adresse")
