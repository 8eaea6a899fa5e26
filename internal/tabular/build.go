package tabular

import (
	"fmt"
	"strings"
)

// builder fills a book row by row, holding each different text and look once.
type builder struct {
	book      *Book
	sheet     *Sheet
	index     map[string]uint32
	lookIndex map[Look]uint16
	textBytes int
	cells     int
	row       []packed
}

func newBuilder(file string, f Format) *builder {
	return &builder{
		book:      &Book{File: file, Format: f, texts: []string{""}, looks: []Look{{}}},
		index:     map[string]uint32{"": 0},
		lookIndex: map[Look]uint16{{}: 0},
	}
}

func (b *builder) fail(kind error, cell, what, remedy string) error {
	name := ""
	if b.sheet != nil {
		name = b.sheet.Name
	}
	return &Error{Kind: kind, File: b.book.File, Sheet: name, Cell: cell, What: what, Remedy: remedy}
}

func (b *builder) tooLarge(what string) error {
	return b.fail(ErrTooLarge, "", what, "keep only the sheet with the signal list, delete unused rows and columns, and save it again")
}

func (b *builder) begin(name string) (*Sheet, error) {
	if len(b.book.Sheets) >= MaxSheets {
		return nil, b.tooLarge(fmt.Sprintf("more than %d sheets", MaxSheets))
	}
	b.sheet = &Sheet{Name: name, book: b.book}
	b.book.Sheets = append(b.book.Sheets, b.sheet)
	return b.sheet, nil
}

// end drops the empty rows at the bottom of the sheet and sets its width.
func (b *builder) end() {
	s := b.sheet
	for len(s.rows) > 0 && s.rows[len(s.rows)-1].n == 0 {
		s.rows = s.rows[:len(s.rows)-1]
	}
	for _, r := range s.rows {
		s.cols = max(s.cols, int(r.n))
	}
	b.sheet = nil
}

// intern returns the number of a text.
func (b *builder) intern(t []byte) (uint32, error) {
	if n, ok := b.index[string(t)]; ok {
		return n, nil
	}
	if len(t) > MaxCellBytes {
		return 0, b.tooLarge(fmt.Sprintf("a cell holds %d bytes of text, at most %d are read", len(t), MaxCellBytes))
	}
	if b.textBytes += len(t); b.textBytes > MaxTextBytes {
		return 0, b.tooLarge(fmt.Sprintf("more than %d MB of text", MaxTextBytes>>20))
	}
	s := strings.ToValidUTF8(string(t), "\uFFFD")
	n := uint32(len(b.book.texts))
	b.book.texts = append(b.book.texts, s)
	b.index[s] = n
	return n, nil
}

func (b *builder) look(l Look) uint16 {
	if n, ok := b.lookIndex[l]; ok {
		return n
	}
	if len(b.book.looks) >= 1<<16 {
		return 0
	}
	n := uint16(len(b.book.looks))
	b.book.looks = append(b.book.looks, l)
	b.lookIndex[l] = n
	return n
}

// put sets the cell in column col of the row being built.
func (b *builder) put(col int, p packed) error {
	if col >= MaxColumns {
		return b.tooLarge(fmt.Sprintf("a row has more than %d columns", MaxColumns))
	}
	for len(b.row) <= col {
		b.row = append(b.row, packed{})
	}
	b.row[col] = p
	return nil
}

// putText interns and sets a cell.
func (b *builder) putText(col int, t []byte, k Kind, look uint16) error {
	if len(t) == 0 {
		k = Empty
	}
	n, err := b.intern(t)
	if err != nil {
		return err
	}
	return b.put(col, packed{text: n, kind: k, look: look})
}

// flush ends the row being built and stores it as row number r (from 0), with empty rows before it.
func (b *builder) flush(r int, hidden bool) error {
	s := b.sheet
	n := len(b.row)
	for n > 0 && b.row[n-1].kind == Empty && b.row[n-1].flags == 0 {
		n--
	}
	defer func() { b.row = b.row[:0] }()
	if r >= MaxRows {
		if n == 0 {
			return nil
		}
		return b.tooLarge(fmt.Sprintf("more than %d rows", MaxRows))
	}
	if b.cells += n; b.cells > MaxCells {
		return b.tooLarge(fmt.Sprintf("more than %d cells", MaxCells))
	}
	for len(s.rows) < r {
		s.rows = append(s.rows, rowSpan{start: uint32(len(s.cells))})
	}
	span := rowSpan{start: uint32(len(s.cells)), n: uint32(n), hidden: hidden}
	s.cells = append(s.cells, b.row[:n]...)
	if len(s.rows) > r { // a second row of the same number: a later one wins
		s.rows[r] = span
		return nil
	}
	s.rows = append(s.rows, span)
	return nil
}

func (b *builder) note(code, cell, message, remedy string) {
	if len(b.book.Notes) >= maxNotes {
		b.book.MoreNotes++
		return
	}
	name := ""
	if b.sheet != nil {
		name = b.sheet.Name
	}
	b.book.Notes = append(b.book.Notes, Note{Code: code, Sheet: name, Cell: cell, Message: message, Remedy: remedy})
}
