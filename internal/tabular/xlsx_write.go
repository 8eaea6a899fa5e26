package tabular

import (
	"archive/zip"
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Cell styles of a written workbook, in the order of styleXML.
const (
	stylePlain = iota
	styleGuard // text that begins like a formula, with the format's "quoted text" mark
	styleHead
	styleMark      // a cell with a fault in it
	styleMarkGuard // the same, guarded
	firstLook      // looks taken over from a book that was read
)

// WriteXLSX writes tables as the sheets of one workbook: header row frozen, filtered and repeated
// on every printed page, columns as wide as their content, landscape, one page wide. Sheet names are
// made valid and different from one another. No part holds a date or a machine's name.
func WriteXLSX(w io.Writer, tables []Table) error {
	if len(tables) == 0 {
		return fmt.Errorf("write workbook: no tables")
	}
	x := newXLSXWriter(w)
	for _, t := range tables {
		x.addSheet(t.Name)
	}
	for i, t := range tables {
		n := len(t.Cols)
		for r, row := range t.Rows {
			if len(row) > n {
				return fmt.Errorf("write workbook: sheet %q, row %d has %d cells for %d columns", t.Name, r+1, len(row), n)
			}
		}
		if n > MaxColumns || len(t.Rows) >= MaxRows {
			return fmt.Errorf("write workbook: sheet %q is larger than a spreadsheet can hold", t.Name)
		}
		if n > 0 {
			x.names = append(x.names, definedName{"_xlnm.Print_Titles", i, "$1:$1"},
				definedName{"_xlnm._FilterDatabase", i, "$A$1:$" + Column(n-1) + "$" + strconv.Itoa(len(t.Rows)+1)})
		}
		x.part(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), func(p *partWriter) { writeTable(p, t, i == 0) })
	}
	return x.finish(nil)
}

func writeTable(p *partWriter, t Table, first bool) {
	p.raw(xmlHead + `<worksheet xmlns="` + nsMain + `"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><sheetViews><sheetView workbookViewId="0"`)
	if first {
		p.raw(` tabSelected="1"`)
	}
	p.raw(`><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>`)
	writeWidths(p, widths(t))
	p.raw(`<sheetData>`)
	p.raw(`<row r="1" ht="30" customHeight="1">`)
	for c, col := range t.Cols {
		p.cell(0, c, T(col.Head), styleHead, styleHead)
	}
	p.raw("</row>")
	for r, row := range t.Rows {
		p.raw(`<row r="` + strconv.Itoa(r+2) + `">`)
		for c, v := range row {
			p.cell(r+1, c, v, stylePlain, styleGuard)
		}
		p.raw("</row>")
	}
	p.raw(`</sheetData>`)
	if n := len(t.Cols); n > 0 {
		p.raw(`<autoFilter ref="A1:` + Address(len(t.Rows), n-1) + `"/>`)
	}
	p.raw(`<pageMargins left="0.4" right="0.4" top="0.5" bottom="0.6" header="0.3" footer="0.3"/>` +
		`<pageSetup paperSize="9" orientation="landscape" fitToWidth="1" fitToHeight="0"/>` +
		`<headerFooter><oddFooter>&amp;L&amp;A&amp;RPage &amp;P of &amp;N</oddFooter></headerFooter></worksheet>`)
}

// widths gives each column's width in characters, from its content where none is stated.
func widths(t Table) []float64 {
	out := make([]float64, len(t.Cols))
	for c, col := range t.Cols {
		if out[c] = col.Width; out[c] > 0 {
			continue
		}
		longest := min(utf8.RuneCountInString(col.Head), 18)
		for _, row := range t.Rows[:min(len(t.Rows), 2000)] {
			if c < len(row) {
				longest = max(longest, longestLine(row[c].String()))
			}
		}
		out[c] = math.Min(60, math.Max(7, float64(longest)+2.5))
	}
	return out
}

func longestLine(s string) int {
	n := 0
	for line := range strings.SplitSeq(s, "\n") {
		n = max(n, utf8.RuneCountInString(line))
	}
	return n
}

func writeWidths(p *partWriter, widths []float64) {
	if len(widths) == 0 {
		return
	}
	p.raw(`<cols>`)
	for i, w := range widths {
		p.raw(fmt.Sprintf(`<col min="%d" max="%d" width="%s" customWidth="1"/>`, i+1, i+1, fewest(w)))
	}
	p.raw(`</cols>`)
}

const (
	xmlHead = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	nsMain  = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	nsRel   = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	nsPack  = "http://schemas.openxmlformats.org/package/2006/relationships"
)

type definedName struct {
	name  string
	sheet int
	area  string
}

// xlsxWriter writes the parts of a workbook in a fixed order and without dates.
type xlsxWriter struct {
	zip    *zip.Writer
	err    error
	sheets []string
	taken  map[string]bool
	names  []definedName
	notes  []int // sheets (from 1) that have a part with notes
}

func newXLSXWriter(w io.Writer) *xlsxWriter {
	return &xlsxWriter{zip: zip.NewWriter(w), taken: map[string]bool{}}
}

// addSheet makes a name valid: at most 31 characters, none of []:*?/\, no apostrophe at the ends,
// not used before.
func (x *xlsxWriter) addSheet(name string) {
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\`, r) || r < ' ' {
			return '-'
		}
		return r
	}, strings.ToValidUTF8(name, "-"))
	name = strings.Trim(name, "' ")
	if name == "" {
		name = "Sheet" + strconv.Itoa(len(x.sheets)+1)
	}
	base := cutTo(name, 31)
	for n := 2; x.taken[strings.ToLower(base)]; n++ {
		tail := " " + strconv.Itoa(n)
		base = cutTo(name, 31-len(tail)) + tail
	}
	x.taken[strings.ToLower(base)] = true
	x.sheets = append(x.sheets, base)
}

// cutTo cuts to n UTF-16 units, which is how spreadsheets count.
func cutTo(s string, n int) string {
	units := 0
	for i, r := range s {
		if units++; r > 0xFFFF {
			units++
		}
		if units > n {
			return strings.TrimRight(s[:i], "' ")
		}
	}
	return s
}

func (x *xlsxWriter) part(name string, write func(p *partWriter)) {
	if x.err != nil {
		return
	}
	w, err := x.zip.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err != nil {
		x.err = err
		return
	}
	p := &partWriter{w: bufio.NewWriterSize(w, 32<<10)}
	write(p)
	x.err = p.w.Flush()
}

// finish writes the parts that describe the workbook. looks are further cell styles.
func (x *xlsxWriter) finish(looks []Look) error {
	x.part("xl/styles.xml", func(p *partWriter) { writeStyles(p, looks) })
	x.part("xl/workbook.xml", x.writeWorkbook)
	x.part("xl/_rels/workbook.xml.rels", func(p *partWriter) {
		p.raw(xmlHead + `<Relationships xmlns="` + nsPack + `">`)
		for i := range x.sheets {
			p.raw(fmt.Sprintf(`<Relationship Id="rId%d" Type="%s/worksheet" Target="worksheets/sheet%d.xml"/>`, i+1, nsRel, i+1))
		}
		p.raw(fmt.Sprintf(`<Relationship Id="rId%d" Type="%s/styles" Target="styles.xml"/></Relationships>`, len(x.sheets)+1, nsRel))
	})
	x.part("_rels/.rels", func(p *partWriter) {
		p.raw(xmlHead + `<Relationships xmlns="` + nsPack + `"><Relationship Id="rId1" Type="` + nsRel +
			`/officeDocument" Target="xl/workbook.xml"/></Relationships>`)
	})
	x.part("[Content_Types].xml", x.writeTypes)
	if x.err != nil {
		return fmt.Errorf("write workbook: %w", x.err)
	}
	if err := x.zip.Close(); err != nil {
		return fmt.Errorf("write workbook: %w", err)
	}
	return nil
}

func (x *xlsxWriter) writeWorkbook(p *partWriter) {
	p.raw(xmlHead + `<workbook xmlns="` + nsMain + `" xmlns:r="` + nsRel + `"><sheets>`)
	for i, name := range x.sheets {
		p.raw(`<sheet name="`)
		p.escaped(name)
		p.raw(fmt.Sprintf(`" sheetId="%d" r:id="rId%d"/>`, i+1, i+1))
	}
	p.raw(`</sheets>`)
	if len(x.names) > 0 {
		p.raw(`<definedNames>`)
		for _, d := range x.names {
			hidden := ""
			if strings.HasSuffix(d.name, "FilterDatabase") {
				hidden = ` hidden="1"`
			}
			p.raw(fmt.Sprintf(`<definedName name="%s" localSheetId="%d"%s>'`, d.name, d.sheet, hidden))
			p.escaped(strings.ReplaceAll(x.sheets[d.sheet], "'", "''"))
			p.raw(`'!` + d.area + `</definedName>`)
		}
		p.raw(`</definedNames>`)
	}
	p.raw(`</workbook>`)
}

func (x *xlsxWriter) writeTypes(p *partWriter) {
	const office = "application/vnd.openxmlformats-officedocument.spreadsheetml."
	p.raw(xmlHead + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="vml" ContentType="application/vnd.openxmlformats-officedocument.vmlDrawing"/>` +
		`<Default Extension="xml" ContentType="application/xml"/>` +
		`<Override PartName="/xl/workbook.xml" ContentType="` + office + `sheet.main+xml"/>` +
		`<Override PartName="/xl/styles.xml" ContentType="` + office + `styles+xml"/>`)
	for i := range x.sheets {
		p.raw(fmt.Sprintf(`<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="%sworksheet+xml"/>`, i+1, office))
	}
	for _, n := range x.notes {
		p.raw(fmt.Sprintf(`<Override PartName="/xl/comments%d.xml" ContentType="%scomments+xml"/>`, n, office))
	}
	p.raw(`</Types>`)
}

// writeStyles writes the cell styles: body with hairlines, header grey, bold and ruled so that it
// reads in black and white, marked cells framed thick.
func writeStyles(p *partWriter, looks []Look) {
	p.raw(xmlHead + `<styleSheet xmlns="` + nsMain + `"><fonts count="` + strconv.Itoa(2+len(looks)) + `">` +
		`<font><sz val="10"/><name val="Arial"/><family val="2"/></font>` +
		`<font><b/><sz val="10"/><name val="Arial"/><family val="2"/></font>`)
	for _, l := range looks {
		p.raw(`<font>` + onOff(l.Bold, "b") + onOff(l.Italic, "i") + onOff(l.Struck, "strike") + `<sz val="10"/>`)
		if len(l.Font) == 6 {
			p.raw(`<color rgb="FF` + l.Font + `"/>`)
		}
		p.raw(`<name val="Arial"/><family val="2"/></font>`)
	}
	p.raw(`</fonts><fills count="` + strconv.Itoa(4+len(looks)) + `"><fill><patternFill patternType="none"/></fill>` +
		`<fill><patternFill patternType="gray125"/></fill>` + solid("E6E6E6") + solid("FFD9D9"))
	for _, l := range looks {
		if len(l.Fill) == 6 {
			p.raw(solid(l.Fill))
		} else {
			p.raw(`<fill><patternFill patternType="none"/></fill>`)
		}
	}
	p.raw(`</fills><borders count="4">` + border("", "") + border("hair", "808080") + border("thin", "000000") + border("thick", "C00000") +
		`</borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
		`<cellXfs count="` + strconv.Itoa(firstLook+2*len(looks)) + `">`)
	xf := func(font, fill, border int, quote bool, align string) {
		q := ""
		if quote {
			q = ` quotePrefix="1"`
		}
		p.raw(fmt.Sprintf(`<xf numFmtId="0" fontId="%d" fillId="%d" borderId="%d" xfId="0"%s applyFont="1" applyFill="1" applyBorder="1" applyAlignment="1"><alignment %s/></xf>`,
			font, fill, border, q, align))
	}
	xf(0, 0, 1, false, `vertical="top"`)
	xf(0, 0, 1, true, `vertical="top"`)
	xf(1, 2, 2, false, `vertical="center" wrapText="1"`)
	xf(0, 3, 3, false, `vertical="top"`)
	xf(0, 3, 3, true, `vertical="top"`)
	for i := range looks {
		xf(2+i, 4+i, 0, false, `vertical="top"`)
		xf(2+i, 4+i, 0, true, `vertical="top"`)
	}
	p.raw(`</cellXfs><cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`)
}

func onOff(on bool, name string) string {
	if on {
		return "<" + name + "/>"
	}
	return ""
}

func solid(rgb string) string {
	return `<fill><patternFill patternType="solid"><fgColor rgb="FF` + rgb + `"/><bgColor indexed="64"/></patternFill></fill>`
}

func border(style, rgb string) string {
	var b strings.Builder
	b.WriteString("<border>")
	for _, side := range []string{"left", "right", "top", "bottom"} {
		if style == "" {
			b.WriteString("<" + side + "/>")
		} else {
			b.WriteString(`<` + side + ` style="` + style + `"><color rgb="FF` + rgb + `"/></` + side + `>`)
		}
	}
	return b.String() + "<diagonal/></border>"
}
