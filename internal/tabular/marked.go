package tabular

import (
	"fmt"
	"io"
	"sort"
	"strconv"
)

// Mark is a remark on one cell of a book. Sheet is its number in the book.
type Mark struct {
	Sheet, Row, Col int
	Text            string
}

// WriteMarked writes a copy of a book as a workbook with the marked cells framed and each mark's
// text as a note on its cell, behind the tables in front (reports, for example), which become the
// first sheets. The copy holds values, not formulas; merges, hidden rows and colours are kept.
func WriteMarked(w io.Writer, b *Book, front []Table, marks []Mark) error {
	bySheet := make([]map[[2]int]string, len(b.Sheets))
	for _, m := range marks {
		if m.Sheet < 0 || m.Sheet >= len(b.Sheets) {
			return fmt.Errorf("write marked copy: there is no sheet number %d", m.Sheet)
		}
		if bySheet[m.Sheet] == nil {
			bySheet[m.Sheet] = map[[2]int]string{}
		}
		at := [2]int{m.Row, m.Col}
		if old := bySheet[m.Sheet][at]; old != "" {
			m.Text = old + "\n" + m.Text
		}
		bySheet[m.Sheet][at] = m.Text
	}
	x := newXLSXWriter(w)
	for _, t := range front {
		x.addSheet(t.Name)
	}
	for i, s := range b.Sheets {
		if s.Name == "" {
			x.addSheet("List")
		} else {
			x.addSheet(b.Sheets[i].Name)
		}
	}
	for i, t := range front {
		x.part(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), func(p *partWriter) { writeTable(p, t, i == 0) })
	}
	for i, s := range b.Sheets {
		n := len(front) + i + 1
		x.part(fmt.Sprintf("xl/worksheets/sheet%d.xml", n), func(p *partWriter) { writeCopy(p, s, bySheet[i], n == 1) })
		if len(bySheet[i]) > 0 {
			x.writeNotes(n, bySheet[i])
		}
	}
	return x.finish(b.looks)
}

// maxMarks is how many notes one sheet of a copy carries; spreadsheets become slow beyond it.
const maxMarks = 5000

func writeCopy(p *partWriter, s *Sheet, marks map[[2]int]string, first bool) {
	p.raw(xmlHead + `<worksheet xmlns="` + nsMain + `" xmlns:r="` + nsRel + `"><sheetViews><sheetView workbookViewId="0"`)
	if first {
		p.raw(` tabSelected="1"`)
	}
	p.raw(`/></sheetViews>`)
	writeWidths(p, s.widths())
	p.raw(`<sheetData>`)
	lastMarked := map[int]int{}
	for at := range marks {
		lastMarked[at[0]] = max(lastMarked[at[0]], at[1]+1)
	}
	for r := range s.Rows() {
		hidden := ""
		if s.RowHidden(r) {
			hidden = ` hidden="1"`
		}
		p.raw(`<row r="` + strconv.Itoa(r+1) + `"` + hidden + `>`)
		for c := range max(s.Width(r), lastMarked[r]) {
			s.copyCell(p, r, c, marks)
		}
		p.raw(`</row>`)
	}
	p.raw(`</sheetData>`)
	if len(s.Merges) > 0 {
		p.raw(`<mergeCells>`)
		for _, m := range s.Merges {
			p.raw(`<mergeCell ref="` + Address(m.Row, m.Col) + ":" + Address(m.LastRow, m.LastCol) + `"/>`)
		}
		p.raw(`</mergeCells>`)
	}
	if len(marks) > 0 {
		p.raw(`<legacyDrawing r:id="rId1"/>`)
	}
	p.raw(`</worksheet>`)
}

func (s *Sheet) copyCell(p *partWriter, r, c int, marks map[[2]int]string) {
	var k packed
	if c < s.Width(r) {
		k = s.cells[int(s.rows[r].start)+c]
	}
	style, guarded := firstLook+2*int(k.look), firstLook+2*int(k.look)+1
	if marks[[2]int{r, c}] != "" {
		style, guarded = styleMark, styleMarkGuard
	}
	text := s.book.texts[k.text]
	v := T(text)
	switch k.kind {
	case Number:
		if n, err := strconv.ParseFloat(text, 64); err == nil && fewest(n) == text {
			v = N(n)
		}
	case Bool:
		v = B(text == "TRUE")
	}
	p.cell(r, c, v, style, guarded)
}

func (s *Sheet) widths() []float64 {
	out := make([]float64, min(s.Cols(), 256))
	for c := range out {
		longest := 8
		for r := range min(s.Rows(), 500) {
			if m, ok := s.Merged(r, c); ok && m.LastCol > m.Col {
				continue
			}
			longest = max(longest, longestLine(s.Text(r, c)))
		}
		out[c] = min(40, float64(longest)+2)
	}
	return out
}

// writeNotes writes the two parts that a sheet with notes needs: the texts and their boxes.
func (x *xlsxWriter) writeNotes(n int, marks map[[2]int]string) {
	at := make([][2]int, 0, len(marks))
	for k := range marks {
		at = append(at, k)
	}
	sort.Slice(at, func(i, j int) bool { return at[i][0] < at[j][0] || at[i][0] == at[j][0] && at[i][1] < at[j][1] })
	at = at[:min(len(at), maxMarks)]
	x.notes = append(x.notes, n)
	x.part(fmt.Sprintf("xl/comments%d.xml", n), func(p *partWriter) {
		p.raw(xmlHead + `<comments xmlns="` + nsMain + `"><authors><author>import</author></authors><commentList>`)
		for _, k := range at {
			p.raw(`<comment ref="` + Address(k[0], k[1]) + `" authorId="0"><text><t xml:space="preserve">`)
			p.escaped(marks[k])
			p.raw(`</t></text></comment>`)
		}
		p.raw(`</commentList></comments>`)
	})
	x.part(fmt.Sprintf("xl/drawings/notes%d.vml", n), func(p *partWriter) {
		p.raw(`<xml xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" xmlns:x="urn:schemas-microsoft-com:office:excel">` +
			`<v:shapetype id="_x0000_t202" coordsize="21600,21600" o:spt="202" path="m,l,21600r21600,l21600,xe"><v:stroke joinstyle="miter"/><v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>`)
		for i, k := range at {
			p.raw(fmt.Sprintf(`<v:shape id="_x0000_s%d" type="#_x0000_t202" style="position:absolute;visibility:hidden" fillcolor="#ffffe1" o:insetmode="auto"><v:fill color2="#ffffe1"/><v:textbox/>`+
				`<x:ClientData ObjectType="Note"><x:Anchor>%d,12,%d,4,%d,24,%d,12</x:Anchor><x:AutoFill>False</x:AutoFill><x:Row>%d</x:Row><x:Column>%d</x:Column></x:ClientData></v:shape>`,
				1025+i, k[1]+1, k[0], k[1]+5, k[0]+6, k[0], k[1]))
		}
		p.raw(`</xml>`)
	})
	x.part(fmt.Sprintf("xl/worksheets/_rels/sheet%d.xml.rels", n), func(p *partWriter) {
		p.raw(xmlHead + `<Relationships xmlns="` + nsPack + `">` +
			fmt.Sprintf(`<Relationship Id="rId1" Type="%s/vmlDrawing" Target="../drawings/notes%d.vml"/>`, nsRel, n) +
			fmt.Sprintf(`<Relationship Id="rId2" Type="%s/comments" Target="../comments%d.xml"/></Relationships>`, nsRel, n))
	})
}
