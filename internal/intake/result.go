package intake

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// Options say what the reader may lean on besides the list itself. The zero value leans on nothing.
type Options struct {
	// Columns is a column map: heading as written (or folded) to a canonical column name or one of
	// Roles. It outranks everything else. "ignore" leaves a column out.
	Columns map[string]string
	// Places are those of the project; names in the list are matched to their ids.
	Places []project.Place
	// Place is the id of the place for signals whose row names none.
	Place string
	// Sheets restricts reading to the sheets of these names; nil reads all that hold a table.
	Sheets []string
}

// Result is what a list gave.
type Result struct {
	Signals   []project.Signal   // in the list's order
	Decisions []project.Decision // racks, slots, channels, addresses, stations: all preferred
	Findings  finding.List       // sorted
	Rejected  []Rejected         // rows that gave no signal because of a fault, in the list's order
	Columns   []ColumnUse        // how each column was understood
	Rows      int                // data rows seen, without headings, sections, totals and notes
	LeftOut   int                // data rows left out on purpose: spares, deleted, not wired
	Ours      bool               // the list is in this tool's columns and has ids: the project's own, given out and come back
	Issued    bool               // the list is one that this tool issued: its own columns, with where each signal landed

	assumed []uint8           // beside Signals: bits of assumable
	revised map[string]string // row revisions by id
}

// Rejected is a row that gave no signal because of a fault.
type Rejected struct {
	Sheet string
	Row   int      // from 1
	Cells []string // the row as it stands in the list
	Why   []string // messages of the faults
}

// ColumnUse is how one column was understood.
type ColumnUse struct {
	Sheet      string
	Column     string // "F"
	Heading    string // all heading rows, joined by " / "
	Meaning    string // canonical column or role; "" = not used
	Confidence float64
	How        string // "heading", "content", "column map", "sister sheet", "canonical name"
}

// ColumnMap returns the understood columns as a column map that gives the same reading again
// without guessing. Headings that mean different things on different sheets are left out.
func (r *Result) ColumnMap() map[string]string {
	m := map[string]string{}
	bad := map[string]bool{}
	for _, c := range r.Columns {
		meaning := c.Meaning
		if meaning == "" {
			meaning = string(roleIgnore)
		}
		if c.Heading == "" {
			continue
		}
		if old, ok := m[c.Heading]; ok && old != meaning {
			bad[c.Heading] = true
		}
		m[c.Heading] = meaning
	}
	for h := range bad {
		delete(m, h)
	}
	return m
}

// Rule is one kind of message of the reader. Codes are permanent.
type Rule struct{ Code, Title, Text string }

// Rules are all rules of this package: 1 to 19 look at the file and its columns, 20 to 59 at one
// row, 60 to 79 at all rows together, 80 and following at a merge. Faults of single cells that
// reading a canonical list would report as well bear that list's codes (LST).
var Rules = []Rule{
	{"IMP-001", "heading found", "Says in which rows the headings stand."},
	{"IMP-002", "column understood", "Says what a column is read as, from which evidence, with a confidence."},
	{"IMP-003", "column not used", "The column has no meaning for the tool, or another one was taken for it."},
	{"IMP-004", "sheet passed over", "The sheet holds no signal table, or is hidden."},
	{"IMP-005", "no table found", "Nothing in the file looks like a signal list. A column map names the columns by their headings."},
	{"IMP-006", "list without headings", "The columns are told by their content or by those of a sister sheet."},
	{"IMP-007", "rows passed over", "Repeated headings, totals and notes are no signals."},
	{"IMP-008", "section row", "A row with one text gives place, equipment or station for the rows below."},
	{"IMP-009", "decimal sign", "Says how numbers such as 2,500 are read."},
	{"IMP-010", "column map", "An entry of the column map fits no heading or names no column."},
	{"IMP-011", "colours", "Colours of cells or letters carry meaning; it is kept as a remark where a legend names it."},
	{"IMP-012", "hidden rows", "Rows that are hidden or filtered away are read as well."},
	{"IMP-013", "columns moved", "The same headings stand in other columns than on the sheet before."},
	{"IMP-014", "issued list", "The list is one that this tool issued; where signals landed is not read back."},
	{"IMP-020", "kind concluded", "The kind is not stated in so many words; it follows from other cells."},
	{"IMP-021", "kind missing", "Nothing says what kind of signal the row is. The row is left out."},
	{"IMP-022", "kind contradicts the row", "Other cells speak for another kind. The stated kind is kept and put on hold."},
	{"IMP-023", "text understood", "Free text was read as electrical form, wires, supply, contact or the like."},
	{"IMP-024", "text not understood", "The cell adds nothing that the tool knows; it is kept as a remark."},
	{"IMP-025", "tag still open", "The tag is a placeholder. The signal gets a provisional tag and a hold."},
	{"IMP-026", "row is several signals", "Marks, counts or a tag such as ZSC/O stand for more than one channel."},
	{"IMP-027", "row left out on purpose", "Spare, deleted, struck through, or not wired."},
	{"IMP-028", "value is no number", "A limit is given as a symbol or word; it is kept as a remark."},
	{"IMP-029", "raw counts", "A range in counts of a converter is no range of the process; it is kept as a remark."},
	{"IMP-030", "no limit", "The value stands for no limit at all."},
	{"IMP-031", "number ambiguous", "A comma or point may part thousands or decimals; the list's other numbers decide."},
	{"IMP-032", "unit", "The unit is written in the tool's form, or is not a unit that the tool knows."},
	{"IMP-033", "value still open", "The cell says that the value is to come. The signal is put on hold."},
	{"IMP-034", "date instead of a value", "A spreadsheet has turned what was typed into a date. The row is left out."},
	{"IMP-035", "several values", "A cell or several columns state the same thing differently; the first is taken."},
	{"IMP-036", "text repaired", "Characters were damaged by saving in a wrong encoding, or cannot stand in a name."},
	{"IMP-037", "value concluded", "A current from a power, a name from a row above, or the like."},
	{"IMP-038", "error value", "The spreadsheet shows an error instead of a value."},
	{"IMP-039", "signal level without a form", "The level is none of the forms. The signal is put on hold."},
	{"IMP-060", "tag made", "One tag stands for a device with several signals; each signal gets a tag of its own."},
	{"IMP-061", "same row twice", "Rows that say the same are one signal."},
	{"IMP-062", "old and revised sheet", "A tag stands on two revisions of a sheet; the later one is taken."},
	{"IMP-063", "place unknown", "The list's place is none of the project's."},
	{"IMP-064", "no place", "The list says nowhere where the devices stand."},
	{"IMP-065", "place matched", "A place of the list is taken for one of the project."},
	{"IMP-066", "positions kept", "Racks, slots, channels or addresses of the list become preferred decisions."},
	{"IMP-067", "position twice", "Two signals have the same channel or address in the list; none of them is preferred there."},
	{"IMP-080", "renamed or new", "A signal is like one that is gone: asked, not assumed."},
	{"IMP-081", "changed on both sides", "The project and the list have changed the same cell differently."},
}

// groupKey collects equal assumptions into one message.
type groupKey struct{ rule, sheet, text string }

type group struct {
	key   groupKey
	where finding.Where
	n     int
	sure  float64
	cells []string
	order int
}

// assume reports something taken for granted. Equal ones of one sheet become one message that counts.
func (r *reader) assume(rule string, at finding.Where, sure float64, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	k := groupKey{rule, at.Sheet, text}
	g := r.groups[k]
	if g == nil {
		g = &group{key: k, where: at, sure: sure, order: len(r.groups)}
		r.groups[k] = g
	}
	g.n++
	g.sure = min(g.sure, sure)
	if len(g.cells) < 400 && at.Cell != "" {
		g.cells = append(g.cells, at.Cell)
	}
}

// flushGroups turns the collected assumptions into findings.
func (r *reader) flushGroups() {
	all := make([]*group, 0, len(r.groups))
	for _, g := range r.groups {
		all = append(all, g)
	}
	slices.SortFunc(all, func(a, b *group) int { return a.order - b.order })
	for _, g := range all {
		msg := g.key.text
		if g.n > 1 {
			msg += fmt.Sprintf(" (%d cells: %s)", g.n, listCells(g.cells, g.n))
		}
		w := g.where
		r.res.Findings = append(r.res.Findings, info(g.key.rule, w, "project", g.sure, msg))
	}
	r.groups = map[groupKey]*group{}
}

// listCells names cells, runs in one column as "F12-F40".
func listCells(cells []string, n int) string {
	var out []string
	for i := 0; i < len(cells) && len(out) < 12; {
		j := i
		for j+1 < len(cells) && follows(cells[j], cells[j+1]) {
			j++
		}
		if j > i+1 {
			out = append(out, cells[i]+"-"+cells[j])
		} else {
			j = i
			out = append(out, cells[i])
		}
		i = j + 1
		if i < len(cells) && len(out) == 12 {
			out = append(out, "...")
		}
	}
	_ = n
	return strings.Join(out, ", ")
}

func follows(a, b string) bool {
	ca, ra := splitCell(a)
	cb, rb := splitCell(b)
	return ca == cb && rb == ra+1
}

func splitCell(a string) (string, int) {
	i := strings.IndexAny(a, "0123456789")
	if i < 0 {
		return a, 0
	}
	n := 0
	for _, c := range a[i:] {
		n = n*10 + int(c-'0')
	}
	return a[:i], n
}

func info(rule string, at finding.Where, subject string, sure float64, msg string) finding.Finding {
	f := finding.Finding{Rule: rule, Severity: finding.Info, Subject: subject, Message: msg}
	if at != (finding.Where{}) {
		f.Where = &at
	}
	f.Figures = map[string]finding.Figure{"confidence": {Value: float64(int(sure*100+0.5)) / 100}}
	return f
}

func problem(rule string, sev finding.Severity, at finding.Where, subject, msg, remedy string) finding.Finding {
	f := finding.Finding{Rule: rule, Severity: sev, Subject: subject, Message: msg, Remedy: finding.Remedy{Text: remedy}}
	if at != (finding.Where{}) {
		f.Where = &at
	}
	return f
}
