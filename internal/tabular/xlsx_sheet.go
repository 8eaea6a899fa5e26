package tabular

import (
	"bytes"
	"fmt"
	"strconv"
)

// xlsxCell is the cell that the reader stands in.
type xlsxCell struct {
	col     int
	kind    byte // 'n' number, 's' shared, 't' inline text, 'r' formula text, 'b', 'e', 'd'
	style   int
	formula bool
	value   []byte
	has     bool
}

// sheetReader walks through one worksheet part.
type sheetReader struct {
	x       *xlsxReader
	s       *xmlScanner
	row     int // from 0
	col     int // of the next cell without an address
	hidden  bool
	rowOpen bool
	cell    xlsxCell
	into    byte // 'v' or 't' while inside such an element of a cell
	noValue int
	firstNo string
}

func (x *xlsxReader) readSheet(sh xlsxSheet, part string) error {
	s, done, err := x.parts.open(part)
	if err != nil {
		return err
	}
	if s == nil {
		x.note("TAB-004", "", fmt.Sprintf("sheet %q is named in the workbook but missing in the file", sh.name), "save the file again")
		return nil
	}
	defer done()
	sheet, err := x.begin(sh.name)
	if err != nil {
		return err
	}
	sheet.Hidden = sh.hidden
	r := &sheetReader{x: x, s: s, row: -1}
	for {
		ev, err := s.next()
		if err != nil {
			return x.parts.damaged(part, err)
		}
		switch ev {
		case xmlStart:
			err = r.start(sheet)
		case xmlText:
			if r.into != 0 {
				if r.cell.value = append(r.cell.value, s.text...); len(r.cell.value) > MaxCellBytes {
					err = x.tooLarge(fmt.Sprintf("a cell holds more than %d bytes of text", MaxCellBytes))
				}
			}
		case xmlEnd:
			err = r.finish()
		}
		if err != nil {
			return x.parts.damaged(part, err)
		}
		if ev == xmlEOF {
			break
		}
	}
	if r.noValue > 0 {
		x.note("TAB-001", r.firstNo, fmt.Sprintf("%d formulas have no stored value and read as empty, the first in %s", r.noValue, r.firstNo),
			"open the file in a spreadsheet program, let it compute, and save it")
	}
	x.end()
	return nil
}

func (r *sheetReader) start(sheet *Sheet) error {
	s := r.s
	switch string(s.name) {
	case "row":
		n := s.attrInt("r", r.row+2) - 1
		if n < 0 || n >= MaxRows {
			return r.x.tooLarge(fmt.Sprintf("row number %d is outside 1 to %d", n+1, MaxRows))
		}
		r.row, r.col, r.hidden, r.rowOpen = n, 0, s.attrTrue("hidden"), true
	case "c":
		return r.startCell()
	case "v":
		r.into, r.cell.has = 'v', true
	case "t":
		if r.rowOpen {
			r.into, r.cell.has = 't', true
		}
	case "f":
		r.cell.formula = true
	case "rPh", "extLst", "conditionalFormatting", "dataValidations":
		return s.skipElement()
	case "mergeCell":
		if m, ok := parseRange(s.attrString("ref")); ok && len(sheet.Merges) < 100_000 {
			sheet.Merges = append(sheet.Merges, m)
		}
	case "col":
		if lo, hi := s.attrInt("min", 0), s.attrInt("max", 0); s.attrTrue("hidden") && lo > 0 && len(sheet.HiddenCols) < MaxColumns {
			sheet.HiddenCols = append(sheet.HiddenCols, Range{Col: lo - 1, LastCol: hi - 1})
		}
	}
	return nil
}

func (r *sheetReader) startCell() error {
	s := r.s
	c := &r.cell
	*c = xlsxCell{col: r.col, kind: 'n', value: c.value[:0]}
	if a, ok := s.attr("r"); ok {
		if row, col, ok := ParseAddress(string(a)); ok {
			if row != r.row && r.rowOpen {
				return fmt.Errorf("cell %s stands in row %d", a, r.row+1)
			}
			c.col = col
		}
	}
	r.col = c.col + 1
	c.style = s.attrInt("s", 0)
	if t, ok := s.attr("t"); ok {
		switch string(t) {
		case "s":
			c.kind = 's'
		case "inlineStr":
			c.kind = 't'
		case "str":
			c.kind = 'r'
		case "b":
			c.kind = 'b'
		case "e":
			c.kind = 'e'
		case "d":
			c.kind = 'd'
		}
	}
	return nil
}

func (r *sheetReader) finish() error {
	switch string(r.s.name) {
	case "v", "t":
		r.into = 0
	case "c":
		if r.rowOpen {
			return r.endCell()
		}
	case "row":
		r.rowOpen = false
		return r.x.flush(r.row, r.hidden)
	}
	return nil
}

func (r *sheetReader) endCell() error {
	x, c := r.x, &r.cell
	var look uint16
	var f numFormat
	if c.style >= 0 && c.style < len(x.looks) {
		look, f = x.looks[c.style], x.formats[c.style]
	}
	p := packed{look: look}
	if c.formula {
		p.flags |= flagFormula
	}
	switch {
	case !c.has || len(c.value) == 0 && c.kind != 't' && c.kind != 'r':
		if c.formula && !c.has {
			p.flags |= flagNoValue
			if r.noValue++; r.firstNo == "" {
				r.firstNo = Address(r.row, c.col)
			}
		}
		if p.look == 0 && p.flags == 0 {
			return nil
		}
		return x.put(c.col, p)
	case c.kind == 's':
		n, err := strconv.Atoi(string(bytes.TrimSpace(c.value)))
		if err != nil || n < 0 || n >= len(x.shared) {
			return fmt.Errorf("cell %s points to shared text %q, which is not there", Address(r.row, c.col), c.value)
		}
		if p.text = x.shared[n]; p.text != 0 {
			p.kind = Text
		}
		return x.put(c.col, p)
	}
	text, kind := c.value, Text
	switch c.kind {
	case 'n':
		t, k := f.number(c.value, x.date1904)
		text, kind = []byte(t), k
	case 'b':
		text, kind = []byte("FALSE"), Bool
		if string(bytes.TrimSpace(c.value)) == "1" {
			text = []byte("TRUE")
		}
	case 'e':
		kind = Fault
	case 'd':
		kind = Date
	default:
		text = unescapeX(c.value)
	}
	n, err := x.intern(text)
	if err != nil {
		return err
	}
	if p.text, p.kind = n, kind; n == 0 {
		p.kind = Empty
	}
	return x.put(c.col, p)
}

// parseRange reads "B2:D4" or "B2".
func parseRange(ref string) (Range, bool) {
	for i := range len(ref) {
		if ref[i] == ':' {
			r1, c1, ok1 := ParseAddress(ref[:i])
			r2, c2, ok2 := ParseAddress(ref[i+1:])
			return Range{min(r1, r2), min(c1, c2), max(r1, r2), max(c1, c2)}, ok1 && ok2
		}
	}
	r, c, ok := ParseAddress(ref)
	return Range{r, c, r, c}, ok
}
