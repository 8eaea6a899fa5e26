package tabular

import "strings"

// Kind says what a cell holds.
type Kind uint8

// The kinds of cells. The zero Kind is an empty cell.
const (
	Empty  Kind = iota
	Text        // as typed
	Number      // Text is the number as the package comment says
	Date        // Text is ISO 8601: a date, a date with time, or a time
	Bool        // Text is TRUE or FALSE
	Fault       // a spreadsheet's own error value: Text is "#N/A", "#REF!", ...
)

// Look is how a cell looks, as far as it may carry meaning. Colours are "RRGGBB" or "" where the
// cell has none of its own.
type Look struct {
	Fill, Font           string
	Bold, Italic, Struck bool
}

// Cell is one cell. The zero Cell is an empty one.
type Cell struct {
	Text string
	Kind Kind
	Look Look
	// Formula says that the cell is computed; NoValue that the file holds no computed value.
	Formula, NoValue bool
}

// Range is a block of cells, from 0, both ends included.
type Range struct{ Row, Col, LastRow, LastCol int }

// Note is something a reader had to assume or leave out.
type Note struct {
	Code    string // permanent code, "TAB-001" and following
	Sheet   string
	Cell    string
	Message string
	Remedy  string
}

// Format is a kind of file.
type Format string

// The kinds of files that are read.
const (
	CSV      Format = "csv"
	XLSX     Format = "xlsx"
	ODS      Format = "ods"
	Markdown Format = "markdown"
)

// Book is one file as sheets. A text file has one sheet with the name "".
type Book struct {
	File      string // base name of the file
	Format    Format
	Encoding  string // of a text file: "UTF-8", "UTF-16LE", "UTF-16BE", "Windows-1252"
	Delimiter rune   // of a CSV file
	Sheets    []*Sheet
	Notes     []Note
	MoreNotes int // notes beyond the first ones that are kept

	texts []string // texts[0] is ""
	looks []Look   // looks[0] is the zero Look
}

// Sheet is one table of rows. Rows and columns count from 0; Address counts as people do.
type Sheet struct {
	Name       string
	Hidden     bool
	Merges     []Range
	HiddenCols []Range // only Col and LastCol are set

	book  *Book
	cells []packed
	rows  []rowSpan
	cols  int
}

// packed keeps a cell in eight bytes, so that a long list stays small: texts and looks that repeat
// are held once by the book.
type packed struct {
	text  uint32
	look  uint16
	kind  Kind
	flags uint8
}

const (
	flagFormula = 1 << iota
	flagNoValue
)

type rowSpan struct {
	start  uint32
	n      uint32
	hidden bool
}

// Rows returns the number of rows up to the last filled one.
func (s *Sheet) Rows() int { return len(s.rows) }

// Cols returns the width of the widest row.
func (s *Sheet) Cols() int { return s.cols }

// Width returns the number of cells of row r up to its last filled one; 0 outside the sheet.
func (s *Sheet) Width(r int) int {
	if r < 0 || r >= len(s.rows) {
		return 0
	}
	return int(s.rows[r].n)
}

// RowHidden reports whether row r is hidden or filtered away.
func (s *Sheet) RowHidden(r int) bool { return r >= 0 && r < len(s.rows) && s.rows[r].hidden }

// ColHidden reports whether column c is hidden.
func (s *Sheet) ColHidden(c int) bool {
	for _, h := range s.HiddenCols {
		if c >= h.Col && c <= h.LastCol {
			return true
		}
	}
	return false
}

// Text returns the text of a cell, "" for an empty one or outside the sheet.
func (s *Sheet) Text(r, c int) string {
	if c < 0 || c >= s.Width(r) {
		return ""
	}
	return s.book.texts[s.cells[int(s.rows[r].start)+c].text]
}

// Cell returns a cell, the zero Cell outside the sheet.
func (s *Sheet) Cell(r, c int) Cell {
	if c < 0 || c >= s.Width(r) {
		return Cell{}
	}
	p := s.cells[int(s.rows[r].start)+c]
	return Cell{
		Text: s.book.texts[p.text], Kind: p.kind, Look: s.book.looks[p.look],
		Formula: p.flags&flagFormula != 0, NoValue: p.flags&flagNoValue != 0,
	}
}

// Merged returns the block that cell (r, c) is part of, and whether there is one.
func (s *Sheet) Merged(r, c int) (Range, bool) {
	for _, m := range s.Merges {
		if r >= m.Row && r <= m.LastRow && c >= m.Col && c <= m.LastCol {
			return m, true
		}
	}
	return Range{}, false
}

// Address returns the cell's name as spreadsheets show it: Address(11, 5) is "F12".
func Address(row, col int) string {
	var b [16]byte
	i := len(b)
	for n := row + 1; n > 0; n /= 10 {
		i--
		b[i] = byte('0' + n%10)
	}
	return Column(col) + string(b[i:])
}

// Column returns the column's letters: Column(0) is "A", Column(26) is "AA".
func Column(col int) string {
	var b [8]byte
	i := len(b)
	for n := col + 1; n > 0; n = (n - 1) / 26 {
		i--
		b[i] = byte('A' + (n-1)%26)
	}
	return string(b[i:])
}

// ParseAddress reads "F12" (also "$F$12") back into row and column from 0.
func ParseAddress(a string) (row, col int, ok bool) {
	a = strings.ReplaceAll(a, "$", "")
	i := 0
	for ; i < len(a) && a[i]|0x20 >= 'a' && a[i]|0x20 <= 'z'; i++ {
		if col = col*26 + int(a[i]|0x20-'a') + 1; col > MaxColumns {
			return 0, 0, false
		}
	}
	if i == 0 || i == len(a) {
		return 0, 0, false
	}
	for ; i < len(a); i++ {
		if a[i] < '0' || a[i] > '9' {
			return 0, 0, false
		}
		if row = row*10 + int(a[i]-'0'); row > MaxRows {
			return 0, 0, false
		}
	}
	return row - 1, col - 1, row > 0
}
