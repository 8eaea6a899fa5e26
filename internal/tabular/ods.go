package tabular

import (
	"bytes"
	"fmt"
	"strings"
)

// odsReader reads the content part of an OpenDocument spreadsheet (ISO/IEC 26300).
type odsReader struct {
	*builder
	parts  *parts
	s      *xmlScanner
	styles map[string]uint16

	style string // name of the style being read
	looks map[string]Look

	row        int
	col        int
	colNo      int
	rowRepeat  int
	rowHidden  bool
	cell       odsCell
	inCell     bool
	inText     bool
	paragraphs int
	noValue    int
	firstNo    string
}

type odsCell struct {
	repeat  int
	kind    string
	value   []byte
	text    []byte
	style   string
	formula bool
}

func readODS(name string, p *parts) (*Book, error) {
	r := &odsReader{builder: newBuilder(name, ODS), parts: p, looks: map[string]Look{}, styles: map[string]uint16{}}
	if locked, err := r.encrypted(); err != nil {
		return nil, err
	} else if locked {
		return nil, r.fail(ErrEncrypted, "", "the file is protected with a password",
			"open it in a spreadsheet program, remove the password, and save it again")
	}
	for _, part := range []string{"styles.xml", "content.xml"} {
		if err := r.readPart(part); err != nil {
			return nil, err
		}
	}
	if len(r.book.Sheets) == 0 {
		return nil, r.fail(ErrFormat, "", "the file holds no table of a spreadsheet", "give a spreadsheet (.ods, .xlsx) or .csv")
	}
	for part := range p.byName {
		if strings.HasPrefix(part, "basic/") || strings.HasPrefix(part, "scripts/") {
			r.note("TAB-002", "", "the file contains macros; they are ignored and never run", "")
			break
		}
	}
	return r.book, nil
}

func (r *odsReader) encrypted() (bool, error) {
	s, done, err := r.parts.open("META-INF/manifest.xml")
	if err != nil || s == nil {
		return false, err
	}
	defer done()
	for {
		ev, err := s.next()
		switch {
		case err != nil && strings.Contains(err.Error(), "document type"):
			return false, nil // old writers put one into the manifest; nothing in it is expanded
		case err != nil:
			return false, r.parts.damaged("META-INF/manifest.xml", err)
		case ev == xmlEOF:
			return false, nil
		case ev == xmlStart && string(s.name) == "encryption-data":
			return true, nil
		}
	}
}

func (r *odsReader) readPart(part string) error {
	s, done, err := r.parts.open(part)
	if err != nil || s == nil {
		return err
	}
	defer done()
	r.s = s
	for {
		ev, err := s.next()
		if err != nil {
			return r.parts.damaged(part, err)
		}
		switch ev {
		case xmlEOF:
			return nil
		case xmlStart:
			err = r.start()
		case xmlText:
			if r.inCell && r.inText {
				if r.cell.text = append(r.cell.text, s.text...); len(r.cell.text) > MaxCellBytes {
					err = r.tooLarge(fmt.Sprintf("a cell holds more than %d bytes of text", MaxCellBytes))
				}
			}
		case xmlEnd:
			err = r.finish()
		}
		if err != nil {
			return r.parts.damaged(part, err)
		}
	}
}

func (r *odsReader) start() error {
	s := r.s
	switch string(s.name) {
	case "style":
		r.style = ""
		if s.attrString("family") == "table-cell" {
			r.style = s.attrString("name")
			r.looks[r.style] = r.looks[s.attrString("parent-style-name")]
		}
	case "table-cell-properties", "text-properties":
		r.property()
	case "table":
		sheet, err := r.begin(s.attrString("name"))
		if err != nil {
			return err
		}
		sheet.Hidden = false
		r.row, r.colNo = 0, 0
	case "table-column":
		n := max(1, s.attrInt("number-columns-repeated", 1))
		if v := s.attrString("visibility"); (v == "collapse" || v == "filter") && r.sheet != nil {
			r.sheet.HiddenCols = append(r.sheet.HiddenCols, Range{Col: r.colNo, LastCol: r.colNo + n - 1})
		}
		r.colNo += n
	case "table-row":
		r.col, r.rowRepeat = 0, max(1, s.attrInt("number-rows-repeated", 1))
		v := s.attrString("visibility")
		r.rowHidden = v == "collapse" || v == "filter"
	case "table-cell", "covered-table-cell":
		if r.sheet != nil {
			r.startCell()
		}
	case "annotation", "tracked-changes", "shapes", "custom-shape", "frame":
		return s.skipElement()
	case "p", "h":
		if r.inCell {
			if r.inText = true; r.paragraphs > 0 {
				r.cell.text = append(r.cell.text, '\n')
			}
			r.paragraphs++
		}
	case "s":
		if r.inText {
			n := min(max(1, s.attrInt("c", 1)), 10_000)
			r.cell.text = append(r.cell.text, bytes.Repeat([]byte(" "), n)...)
		}
	case "tab":
		if r.inText {
			r.cell.text = append(r.cell.text, '\t')
		}
	case "line-break":
		if r.inText {
			r.cell.text = append(r.cell.text, '\n')
		}
	}
	return nil
}

// property reads colours and weight of the style being defined.
func (r *odsReader) property() {
	if r.style == "" {
		return
	}
	l := r.looks[r.style]
	if c := r.s.attrString("background-color"); c != "" {
		if l.Fill = hexColour(c); l.Fill == "FFFFFF" {
			l.Fill = ""
		}
	}
	if string(r.s.name) == "text-properties" {
		if c := r.s.attrString("color"); c != "" {
			if l.Font = hexColour(c); l.Font == "000000" {
				l.Font = ""
			}
		}
		if w := r.s.attrString("font-weight"); w != "" {
			l.Bold = w == "bold" || w >= "600" && w <= "900"
		}
		if v := r.s.attrString("font-style"); v != "" {
			l.Italic = v == "italic"
		}
		if v := r.s.attrString("text-line-through-style"); v != "" {
			l.Struck = v != "none"
		}
	}
	r.looks[r.style] = l
}

func hexColour(c string) string {
	if len(c) == 7 && c[0] == '#' {
		return strings.ToUpper(c[1:])
	}
	return ""
}

func (r *odsReader) startCell() {
	s := r.s
	r.inCell, r.inText, r.paragraphs = true, false, 0
	c := &r.cell
	*c = odsCell{repeat: max(1, s.attrInt("number-columns-repeated", 1)), value: c.value[:0], text: c.text[:0]}
	c.kind = s.attrString("value-type")
	c.style = s.attrString("style-name")
	_, c.formula = s.attr("formula")
	for _, a := range []string{"value", "date-value", "time-value", "boolean-value", "string-value"} {
		if v, ok := s.attr(a); ok {
			c.value = append(c.value[:0], v...)
			break
		}
	}
	w, h := s.attrInt("number-columns-spanned", 1), s.attrInt("number-rows-spanned", 1)
	if (w > 1 || h > 1) && w > 0 && h > 0 && w <= MaxColumns && h <= MaxRows && len(r.sheet.Merges) < 100_000 {
		r.sheet.Merges = append(r.sheet.Merges, Range{r.row, r.col, r.row + h - 1, r.col + w - 1})
	}
}

func (r *odsReader) finish() error {
	switch string(r.s.name) {
	case "p", "h":
		r.inText = false
	case "style":
		r.style = ""
	case "table-cell", "covered-table-cell":
		if r.sheet == nil || !r.inCell {
			return nil
		}
		r.inCell = false
		return r.endCell()
	case "table-row":
		if r.sheet != nil {
			return r.endRow()
		}
	case "table":
		if r.sheet == nil {
			return nil
		}
		if r.noValue > 0 {
			r.note("TAB-001", r.firstNo, fmt.Sprintf("%d formulas have no stored value and read as empty, the first in %s", r.noValue, r.firstNo),
				"open the file in a spreadsheet program, let it compute, and save it")
			r.noValue, r.firstNo = 0, ""
		}
		r.end()
	}
	return nil
}

func (r *odsReader) endCell() error {
	c := &r.cell
	text, kind := c.odsText()
	var p packed
	var err error
	if p.text, err = r.intern([]byte(text)); err != nil {
		return err
	}
	if p.kind = kind; p.text == 0 {
		p.kind = Empty
	}
	if c.style != "" {
		p.look = r.lookOf(c.style)
	}
	if c.formula {
		p.flags |= flagFormula
		if text == "" && c.kind == "" {
			p.flags |= flagNoValue
			if r.noValue++; r.firstNo == "" {
				r.firstNo = Address(r.row, r.col)
			}
		}
	}
	if p.kind == Empty && p.flags == 0 {
		// Empty cells repeat to the sheet's right end; only those with something behind them count.
		if p.look != 0 && r.col+c.repeat <= 256 {
			for i := range c.repeat {
				if err := r.put(r.col+i, p); err != nil {
					return err
				}
			}
		}
		r.col += c.repeat
		return nil
	}
	for range c.repeat {
		if err := r.put(r.col, p); err != nil {
			return err
		}
		r.col++
	}
	return nil
}

func (r *odsReader) lookOf(style string) uint16 {
	if n, ok := r.styles[style]; ok {
		return n
	}
	n := r.look(r.looks[style])
	r.styles[style] = n
	return n
}

// odsText gives the cell's text by the rules of the package comment.
func (c *odsCell) odsText() (string, Kind) {
	shown := string(c.text)
	switch c.kind {
	case "float", "currency":
		t, k := numFormat{}.number(c.value, false)
		if s := strings.TrimSpace(shown); len(s) > len(t) && strings.HasPrefix(s, t) && hasLetter(s[len(t):]) {
			return s, Text // "10 bar": the unit is part of the number's format
		} else if allDigits(s) && len(s) > len(t) && strings.TrimLeft(s, "0") == t {
			return s, k // "007"
		}
		return t, k
	case "percentage":
		return numFormat{percent: true}.number(c.value, false)
	case "date":
		return strings.TrimSuffix(string(c.value), "T00:00:00"), Date
	case "time":
		return odsTime(string(c.value)), Date
	case "boolean":
		return strings.ToUpper(string(c.value)), Bool
	case "string":
		if len(c.value) > 0 {
			return string(c.value), Text
		}
	}
	if strings.HasPrefix(shown, "#") && (shown == "#N/A" || shown == "#REF!" || shown == "#NAME?" || shown == "#VALUE!" || shown == "#DIV/0!") {
		return shown, Fault
	}
	return shown, Text
}

func hasLetter(s string) bool {
	return strings.ContainsFunc(s, func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '°' || r == 'Ω' || r == 'µ'
	})
}

func allDigits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// odsTime turns the duration PT12H30M00S into 12:30:00.
func odsTime(v string) string {
	var h, m, s int
	if _, err := fmt.Sscanf(v, "PT%dH%dM%dS", &h, &m, &s); err != nil {
		return v
	}
	return fmt.Sprintf("%02d:%02d:%02d", h, m, s)
}

func (r *odsReader) endRow() error {
	kept := append([]packed(nil), r.builder.row...)
	filled := false
	for _, p := range kept {
		filled = filled || p.kind != Empty || p.flags != 0
	}
	if !filled {
		r.builder.row = r.builder.row[:0]
		if r.rowHidden || r.row+r.rowRepeat > MaxRows {
			r.row += min(r.rowRepeat, MaxRows)
			return nil
		}
		r.row += r.rowRepeat
		return nil
	}
	for range r.rowRepeat {
		r.builder.row = append(r.builder.row[:0], kept...)
		if err := r.flush(r.row, r.rowHidden); err != nil {
			return err
		}
		r.row++
	}
	return nil
}
