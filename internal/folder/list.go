package folder

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
	"railwright/internal/tabular"
)

// headingRows is how far down the heading row is looked for: some lists have a title above it.
const headingRows = 30

// list is the signal list as read.
type list struct {
	rows  []project.Row
	cells [][]string // canonical cells of each row, beside rows
	found finding.List
}

// readList reads a signal list with canonical columns, the column map of project.toml, or common
// names of the columns.
func readList(file string, data []byte, s *stated) list {
	var l list
	book, err := tabular.Read(file, data, tabular.Options{})
	if err != nil {
		where, remedy := &finding.Where{File: file}, "Save it again as CSV (UTF-8), .xlsx or .ods."
		msg := err.Error()
		if e := (*tabular.Error)(nil); errors.As(err, &e) {
			where.Sheet, where.Cell, msg, remedy = e.Sheet, e.Cell, e.What, e.Remedy
		}
		l.found = append(l.found, finding.Finding{Rule: "PRJ-052", Severity: finding.Error, Subject: "project", Where: where, Message: msg, Remedy: finding.Remedy{Text: sentence(remedy)}})
		return l
	}
	for _, n := range book.Notes {
		l.add("LST-059", finding.Info, &finding.Where{File: file, Sheet: n.Sheet, Cell: n.Cell}, n.Message, sentence(n.Remedy))
	}
	h := findHeading(book, s.columns)
	if h.sheet == nil {
		l.add("LST-054", finding.Error, &finding.Where{File: file}, "the list is empty", "Write a heading row ("+exampleHeading+") and one signal a row.")
		return l
	}
	if h.others > 0 {
		l.add("LST-058", finding.Info, &finding.Where{File: file, Sheet: h.sheet.Name}, fmt.Sprintf("the file has %d sheets; this one is read", h.others+1), "")
	}
	h.file = file
	if !l.heading(&h, s) {
		return l
	}
	l.body(&h)
	if len(l.rows) == 0 {
		l.add("LST-054", finding.Error, h.where(h.row, 0), "the list has a heading but no signals", "Write one signal a row below the heading.")
	}
	return l
}

const exampleHeading = "tag, kind, place and what else is known"

func sentence(s string) string {
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

func (l *list) add(rule string, sev finding.Severity, where *finding.Where, msg, remedy string) {
	l.found = append(l.found, finding.Finding{Rule: rule, Severity: sev, Subject: "project", Where: where, Message: msg, Remedy: finding.Remedy{Text: remedy}})
}

// heading is the heading row of a sheet.
type heading struct {
	file   string
	sheet  *tabular.Sheet
	row    int
	others int // other sheets of the file
	at     map[string]int
}

func (h *heading) where(row, col int) *finding.Where {
	return &finding.Where{File: h.file, Sheet: h.sheet.Name, Cell: tabular.Address(row, col)}
}

// findHeading picks the sheet named Signals, or else the first with a heading row, or else the
// first that is not empty; in it the row that names the most columns.
func findHeading(book *tabular.Book, mapped map[string]string) heading {
	best := heading{}
	bestScore := -1
	for _, s := range book.Sheets {
		row, score := 0, 0
		for r := range min(s.Rows(), headingRows) {
			n := 0
			seen := map[string]bool{}
			for c := range s.Width(r) {
				if m := matchHeading(s.Text(r, c), mapped); m.column != "" && !seen[m.column] {
					seen[m.column] = true
					n++
				}
			}
			if n > score {
				row, score = r, n
			}
		}
		if s.Rows() == 0 {
			continue
		}
		if strings.EqualFold(strings.TrimSpace(s.Name), "signals") && score > 0 {
			score += 1000
		}
		if score > bestScore {
			best, bestScore = heading{sheet: s, row: row}, score
		}
	}
	best.others = len(book.Sheets) - 1
	if best.sheet != nil && bestScore <= 0 { // no row names a column: the first filled one was meant to
		for best.row = 0; best.row < best.sheet.Rows()-1 && best.sheet.Width(best.row) == 0; {
			best.row++
		}
	}
	return best
}

// heading reads the heading row; false means that no row can be read with it.
func (l *list) heading(h *heading, s *stated) bool {
	h.at = map[string]int{}
	used := map[string]bool{}
	known := project.ColumnNames()
	var unread []string
	canonical := true
	for c := range h.sheet.Width(h.row) {
		text := strings.TrimSpace(h.sheet.Text(h.row, c))
		if text == "" {
			continue
		}
		m := matchHeading(text, s.columns)
		if m.mapped != "" {
			used[m.mapped] = true
		}
		canonical = canonical && project.ColumnNamed(text) != nil
		first, twice := h.at[m.column]
		switch {
		case m.column == "":
			msg := fmt.Sprintf("the column %q is not known and not read", text)
			remedy := fmt.Sprintf("Rename it, or add to project.toml under [columns]: %q = \"…\".", text)
			if near, ok := finding.Nearest(text, known); ok {
				msg += fmt.Sprintf("; did you mean %s?", near)
				remedy = fmt.Sprintf("Rename it to %s.", near)
			}
			l.add("LST-051", finding.Warning, h.where(h.row, c), msg, remedy)
			unread = append(unread, text)
		case twice:
			l.add("LST-053", finding.Warning, h.where(h.row, c), fmt.Sprintf("%q is the column %s a second time (first in %s); the first is read", text, m.column, tabular.Address(h.row, first)), "Delete or rename one of them.")
		default:
			h.at[m.column] = c
			if m.why != "" {
				l.add("LST-052", finding.Info, h.where(h.row, c), fmt.Sprintf("%q is read as the column %s (%s)", text, m.column, m.why), "")
			}
		}
	}
	for _, head := range slices.Sorted(keys(s.columns)) {
		if len(used) == 0 && canonical {
			break // the map is for lists that are imported
		}
		if !used[strings.ToLower(head)] {
			l.add("LST-057", finding.Warning, &finding.Where{File: ProjectFile, Line: s.headers[head]}, fmt.Sprintf("[columns] maps %q to %s, but the list has no such heading", head, s.columns[head]), "Mend or delete the entry.")
		}
	}
	return l.required(h, unread)
}

func (l *list) required(h *heading, unread []string) bool {
	var missing []string
	for _, c := range project.Columns() {
		if _, ok := h.at[c.Name]; c.Required && !ok {
			missing = append(missing, c.Name)
		}
	}
	if len(missing) == 0 {
		return true
	}
	rule, msg := "LST-050", fmt.Sprintf("the list has no column %s", joinAnd(missing))
	if len(h.at) == 0 {
		msg = "no heading row was found: no cell of the first rows names a column"
	}
	remedy := "Name the columns in the first row: " + exampleHeading + "."
	if len(unread) > 0 && len(h.at) > 0 {
		remedy = fmt.Sprintf("Name the columns so, or map them in project.toml under [columns], for instance %q = %q.", unread[0], missing[0])
	}
	l.add(rule, finding.Error, h.where(h.row, 0), msg, remedy)
	return false
}

// body reads the rows below the heading.
func (l *list) body(h *heading) {
	letters := map[string]string{}
	var read []int
	for column, c := range h.at {
		letters[column] = tabular.Column(c)
		read = append(read, c)
	}
	slices.Sort(read)
	stray := map[int]bool{}
	for r := h.row + 1; r < h.sheet.Rows(); r++ {
		filled := false
		for c := range h.sheet.Width(r) {
			t := strings.TrimSpace(h.sheet.Text(r, c))
			if t == "" {
				continue
			}
			if _, isRead := slices.BinarySearch(read, c); isRead {
				filled = true
			} else if !stray[c] && strings.TrimSpace(h.sheet.Text(h.row, c)) == "" {
				stray[c] = true
				l.add("LST-055", finding.Warning, h.where(r, c), fmt.Sprintf("%q stands in column %s, which has no heading; the column is not read", clip(t), tabular.Column(c)), "Give the column a heading, or delete it.")
			}
		}
		if filled {
			l.row(h, r, letters)
		}
	}
}

func (l *list) row(h *heading, r int, letters map[string]string) {
	at := project.At{File: h.file, Sheet: h.sheet.Name, Row: r + 1, Columns: letters}
	var broken []string
	cells := make([]string, len(project.Columns()))
	for i, col := range project.Columns() {
		c, ok := h.at[col.Name]
		if !ok {
			continue
		}
		cell := h.sheet.Cell(r, c)
		if cell.Kind == tabular.Fault || cell.NoValue {
			broken = append(broken, col.Name)
			continue
		}
		cells[i] = cell.Text
	}
	row, found := project.ReadRow(func(column string) string { return cells[columnIndex[column]] }, at)
	for _, column := range broken {
		c := h.at[column]
		msg := fmt.Sprintf("%s is a formula without a stored value", column)
		if t := h.sheet.Text(r, c); t != "" {
			msg = fmt.Sprintf("%s holds the spreadsheet's own error %s", column, clip(t))
		}
		f := finding.Finding{
			Rule: "LST-056", Severity: finding.Error, Subject: project.RowSubject(row.Signal), Where: at.Where(column),
			Message: msg, Remedy: finding.Remedy{Text: "Mend the formula, or write the value itself."},
		}
		found = append(found, f)
		if !row.Faulty {
			row.Faulty, row.Why, row.Cell = true, f.Message, f.Where
		}
	}
	l.rows = append(l.rows, row)
	l.cells = append(l.cells, cells)
	l.found = append(l.found, found...)
}

var columnIndex = func() map[string]int {
	m := map[string]int{}
	for i, c := range project.Columns() {
		m[c.Name] = i
	}
	return m
}()

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
