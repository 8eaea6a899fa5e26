package intake

// Look is how a cell looks, as far as it may carry meaning; colours are "RRGGBB" or "".
type Look struct {
	Fill, Font   string
	Bold, Struck bool
}

// CellKind says what a cell of a spreadsheet holds.
type CellKind uint8

// The kinds of cells.
const (
	CellText CellKind = iota // text, or nothing
	CellNumber
	CellDate
	CellFault // an error value such as #N/A
)

// Block is a merged block of cells, from 0, both ends included.
type Block struct{ Row, Col, LastRow, LastCol int }

// Sheet is one table of cells, rows and columns counted from 0. Functions that are nil say nothing.
type Sheet struct {
	Name      string
	Hidden    bool
	Rows      int
	Width     func(row int) int // cells up to the last filled one
	Text      func(row, col int) string
	Kind      func(row, col int) CellKind
	Look      func(row, col int) Look
	Merges    []Block
	RowHidden func(row int) bool
}

// Book is a file as sheets.
type Book struct {
	File   string
	Sheets []Sheet
}

// FromRows makes a sheet of plain texts.
func FromRows(name string, rows [][]string) Sheet {
	return Sheet{
		Name: name, Rows: len(rows),
		Width: func(r int) int {
			n := len(rows[r])
			for n > 0 && rows[r][n-1] == "" {
				n--
			}
			return n
		},
		Text: func(r, c int) string {
			if r < 0 || r >= len(rows) || c < 0 || c >= len(rows[r]) {
				return ""
			}
			return rows[r][c]
		},
	}
}

func (s *Sheet) kind(r, c int) CellKind {
	if s.Kind == nil {
		return CellText
	}
	return s.Kind(r, c)
}

func (s *Sheet) look(r, c int) Look {
	if s.Look == nil {
		return Look{}
	}
	return s.Look(r, c)
}

func (s *Sheet) rowHidden(r int) bool { return s.RowHidden != nil && s.RowHidden(r) }

// cell returns a cell's text without what only typing leaves behind.
func (s *Sheet) cell(r, c int) string { return tidy(s.Text(r, c)) }

// address returns a cell's name: address(11, 5) is "F12".
func address(row, col int) string {
	b := make([]byte, 0, 12)
	for n := col + 1; n > 0; n = (n - 1) / 26 {
		b = append(b, byte('A'+(n-1)%26))
	}
	for i, j := 0, len(b)-1; i < j; i, j = i+1, j-1 {
		b[i], b[j] = b[j], b[i]
	}
	n, digits := row+1, 1
	for p := 10; n >= p; p *= 10 {
		digits++
	}
	at := len(b)
	b = append(b, make([]byte, digits)...)
	for i := at + digits - 1; i >= at; i-- {
		b[i] = byte('0' + n%10)
		n /= 10
	}
	return string(b)
}
