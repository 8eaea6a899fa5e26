package tabular

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// grid gives a sheet's texts row by row.
func grid(s *Sheet) [][]string {
	var out [][]string
	for r := range s.Rows() {
		row := []string{}
		for c := range s.Width(r) {
			row = append(row, s.Text(r, c))
		}
		out = append(out, row)
	}
	return out
}

func mustRead(t *testing.T, name string, data []byte) *Book {
	t.Helper()
	b, err := Read(name, data, Options{})
	if err != nil {
		t.Fatalf("Read(%s): %v", name, err)
	}
	return b
}

func TestCSVShapes(t *testing.T) {
	const umlaut = "Tag;Größe;Wert\nA-1;Füllstand;0,5\nA-2;\"a;b\";1,25\n"
	enc16 := func(e unicode.Endianness, bom unicode.BOMPolicy) []byte {
		b, err := unicode.UTF16(e, bom).NewEncoder().Bytes([]byte(umlaut))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	win, err := charmap.Windows1252.NewEncoder().Bytes([]byte(umlaut))
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"Tag", "Größe", "Wert"}, {"A-1", "Füllstand", "0,5"}, {"A-2", "a;b", "1,25"}}
	for _, tc := range []struct {
		name, enc string
		delim     rune
		data      []byte
		want      [][]string
	}{
		{"utf8", "UTF-8", ';', []byte(umlaut), want},
		{"bom", "UTF-8", ';', []byte("\uFEFF" + umlaut), want},
		{"utf16le", "UTF-16LE", ';', enc16(unicode.LittleEndian, unicode.UseBOM), want},
		{"utf16be", "UTF-16BE", ';', enc16(unicode.BigEndian, unicode.UseBOM), want},
		{"utf16le no mark", "UTF-16LE", ';', enc16(unicode.LittleEndian, unicode.IgnoreBOM), want},
		{"windows", "Windows-1252", ';', win, want},
		{"tab", "UTF-8", '\t', []byte("a\tb\r\n1\t2,5\r\n"), [][]string{{"a", "b"}, {"1", "2,5"}}},
		{"pipe", "UTF-8", '|', []byte("a|b|c\n1|2|x, y\n"), [][]string{{"a", "b", "c"}, {"1", "2", "x, y"}}},
		{"comma", "UTF-8", ',', []byte("tag,text\nX1,\"say \"\"hi\"\"\nline two\"\n\nX2,\n"), [][]string{{"tag", "text"}, {"X1", "say \"hi\"\nline two"}, {}, {"X2"}}},
		{"stated", "UTF-8", ';', []byte("sep=;\na,b;c\n"), [][]string{nil, {"a,b", "c"}}},
		{"inch mark", "UTF-8", ',', []byte("a,b\nvalve 3\",\"3\" valve\"\n"), [][]string{{"a", "b"}, {"valve 3\"", "3\" valve"}}},
		{"kept zeros", "UTF-8", ',', []byte("a,b\n=\"007\",007\n'-x,'=1\n"), [][]string{{"a", "b"}, {"007", "007"}, {"-x", "=1"}}},
		{"old line ends", "UTF-8", ',', []byte("a,b\r1,2\r"), [][]string{{"a", "b"}, {"1", "2"}}},
		{"empty", "UTF-8", ',', nil, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			b := mustRead(t, "x.csv", tc.data)
			got := grid(b.Sheets[0])
			for i := range got {
				if len(got[i]) == 0 && i < len(tc.want) && len(tc.want[i]) == 0 {
					got[i] = tc.want[i]
				}
			}
			if d := cmp.Diff(tc.want, got); d != "" {
				t.Error(d)
			}
			if b.Encoding != tc.enc || b.Delimiter != tc.delim {
				t.Errorf("got %s %q, want %s %q", b.Encoding, b.Delimiter, tc.enc, tc.delim)
			}
		})
	}
}

func TestMarkdown(t *testing.T) {
	b := mustRead(t, "list.txt", []byte("# Station +A1\n\nSome words\n\n| Tag | Range |\n|:---|---:|\n| **X-1** | 0 \\| 10 |\n| `X-2` | a<br>b |\n"))
	want := [][]string{{"Station +A1"}, {}, {"Some words"}, {}, {"Tag", "Range"}, {}, {"X-1", "0 | 10"}, {"X-2", "a\nb"}}
	if d := cmp.Diff(want, grid(b.Sheets[0])); d != "" {
		t.Error(d)
	}
	if b.Format != Markdown {
		t.Errorf("format %s", b.Format)
	}
}

// The library excelize writes the workbook: a second way to the format.
func TestXLSXFromLibrary(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	style := func(s *excelize.Style) int {
		n, err := f.NewStyle(s)
		check(err)
		return n
	}
	pad, bar := "000", `0.0" bar"`
	set := func(cell string, v any, st int) {
		check(f.SetCellValue("Sheet1", cell, v))
		if st > 0 {
			check(f.SetCellStyle("Sheet1", cell, cell, st))
		}
	}
	check(f.SetCellStr("Sheet1", "A1", "007"))
	set("B1", 0.1+0.2, 0)
	set("C1", 7, style(&excelize.Style{CustomNumFmt: &pad}))
	set("D1", 0.5, style(&excelize.Style{NumFmt: 9}))
	set("E1", 10, style(&excelize.Style{CustomNumFmt: &bar}))
	set("F1", time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), style(&excelize.Style{NumFmt: 14}))
	set("G1", time.Date(2026, 3, 1, 12, 30, 0, 0, time.UTC), style(&excelize.Style{NumFmt: 22}))
	set("H1", true, 0)
	set("I1", 123456789.25, 0)
	check(f.SetCellFormula("Sheet1", "A2", "B1*2"))
	set("A4", "red", style(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FF0000"}}, Font: &excelize.Font{Bold: true, Strike: true, Color: "00B050"}}))
	check(f.MergeCell("Sheet1", "A5", "C6"))
	check(f.SetRowVisible("Sheet1", 4, false))
	check(f.SetColVisible("Sheet1", "C", false))
	set("A8", "<&> \"é\"", 0)
	_, err := f.NewSheet("Höhen & Längen")
	check(err)
	check(f.SetSheetVisible("Höhen & Längen", false))
	var buf bytes.Buffer
	check(f.Write(&buf))

	b := mustRead(t, "lib.xlsx", buf.Bytes())
	s := b.Sheets[0]
	want := []string{"007", "0.3", "007", "50%", "10 bar", "2026-03-01", "2026-03-01T12:30:00", "TRUE", "123456789.25"}
	if d := cmp.Diff(want, grid(s)[0]); d != "" {
		t.Error(d)
	}
	if c := s.Cell(1, 0); !c.Formula || !c.NoValue || len(b.Notes) != 1 || b.Notes[0].Cell != "A2" {
		t.Errorf("formula without a value: %+v, notes %+v", c, b.Notes)
	}
	if c := s.Cell(3, 0); c.Look != (Look{Fill: "FF0000", Font: "00B050", Bold: true, Struck: true}) || !s.RowHidden(3) || s.RowHidden(0) {
		t.Errorf("look %+v", c.Look)
	}
	if m, ok := s.Merged(5, 2); !ok || m != (Range{4, 0, 5, 2}) || !s.ColHidden(2) || s.ColHidden(1) {
		t.Errorf("merge %+v %v", m, ok)
	}
	if got := s.Text(7, 0); got != "<&> \"é\"" {
		t.Errorf("got %q", got)
	}
	if len(b.Sheets) != 2 || b.Sheets[1].Name != "Höhen & Längen" || !b.Sheets[1].Hidden {
		t.Errorf("sheets %+v", b.Sheets[1])
	}
}

func pack(t testing.TB, parts ...string) []byte {
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for i := 0; i+1 < len(parts); i += 2 {
		w, err := z.Create(parts[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(w, parts[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

const odsHead = `<?xml version="1.0"?><office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x" xmlns:style="s" xmlns:fo="f">
<office:automatic-styles><style:style style:name="ce1" style:family="table-cell"><style:table-cell-properties fo:background-color="#ffff00"/><style:text-properties fo:color="#ff0000" fo:font-weight="bold"/></style:style></office:automatic-styles>
<office:body><office:spreadsheet>`

const odsTail = `</office:spreadsheet></office:body></office:document-content>`

func TestODS(t *testing.T) {
	b := mustRead(t, "x.ods", pack(t, "mimetype", "application/vnd.oasis.opendocument.spreadsheet", "content.xml", odsHead+
		`<table:table table:name="S1"><table:table-column table:number-columns-repeated="2"/><table:table-column table:visibility="collapse"/>
<table:table-row><table:table-cell table:style-name="ce1" office:value-type="string" table:number-columns-spanned="2"><text:p>Tag<text:s text:c="2"/>no</text:p><text:p>two</text:p></table:table-cell><table:covered-table-cell/><table:table-cell office:value-type="float" office:value="7"><text:p>007</text:p></table:table-cell></table:table-row>
<table:table-row table:number-rows-repeated="2" table:visibility="filter"><table:table-cell office:value-type="float" office:value="10"><text:p>10 bar</text:p></table:table-cell><table:table-cell office:value-type="percentage" office:value="0.5"><text:p>50%</text:p></table:table-cell><table:table-cell office:value-type="date" office:date-value="2026-03-01"><text:p>01.03.26</text:p></table:table-cell><table:table-cell table:number-columns-repeated="2" office:value-type="float" office:value="1.5"><text:p>1,50</text:p></table:table-cell><table:table-cell table:number-columns-repeated="16379"/></table:table-row>
<table:table-row><table:table-cell table:formula="of:=[.A1]"/></table:table-row>
<table:table-row table:number-rows-repeated="1048572"><table:table-cell table:number-columns-repeated="16384"/></table:table-row></table:table>`+odsTail))
	s := b.Sheets[0]
	row := []string{"10 bar", "50%", "2026-03-01", "1.5", "1.5"}
	want := [][]string{{"Tag  no\ntwo", "", "007"}, row, row, {""}}
	if d := cmp.Diff(want, grid(s)); d != "" {
		t.Error(d)
	}
	if c := s.Cell(0, 0); c.Look != (Look{Fill: "FFFF00", Font: "FF0000", Bold: true}) || !s.RowHidden(2) || !s.ColHidden(2) {
		t.Errorf("look %+v", c.Look)
	}
	if m, ok := s.Merged(0, 1); !ok || m != (Range{0, 0, 0, 1}) {
		t.Errorf("merge %+v", m)
	}
	if len(b.Notes) != 1 || b.Notes[0].Cell != "A4" {
		t.Errorf("notes %+v", b.Notes)
	}
}

func xlsxWith(t testing.TB, sheet string, more ...string) []byte {
	return pack(t, append([]string{
		"[Content_Types].xml", `<Types/>`,
		"xl/workbook.xml", `<workbook xmlns:r="r"><sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels", `<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml", sheet,
	}, more...)...)
}

func TestHostile(t *testing.T) {
	good := xlsxWith(t, `<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>x</t></is></c></row></sheetData></worksheet>`)
	mustRead(t, "good.xlsx", good)
	var wide strings.Builder
	wide.WriteString(odsHead + `<table:table table:name="S">`)
	for range 2000 {
		wide.WriteString(`<table:table-row><table:table-cell table:number-columns-repeated="16384" office:value-type="float" office:value="1"/></table:table-row>`)
	}
	wide.WriteString(`</table:table>` + odsTail)
	for _, tc := range []struct {
		name string
		data []byte
		kind error
		say  string
	}{
		{"cut off", good[:len(good)-30], ErrDamaged, "cut off"},
		{"cut in the middle", good[:len(good)/2], ErrDamaged, "cut off"},
		{"encrypted", append([]byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"), utf16le("EncryptedPackage")...), ErrEncrypted, "password"},
		{"old binary", []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1 and more"), ErrFormat, ".xls"},
		{"pdf", []byte("%PDF-1.7"), ErrFormat, "PDF"},
		{"zero bytes", []byte("a,b\n1,\x002\n"), ErrFormat, "zero byte"},
		{"binary", bytes.Repeat([]byte{1, 2, 3, 'x'}, 100), ErrFormat, "not text"},
		{"open quote", []byte("a,b\n\"1,2\n3,4\n"), ErrDamaged, "not closed"},
		{"odd UTF-16", []byte("\xFF\xFEa\x00b"), ErrDamaged, "odd number"},
		{"web page", []byte("<html><table><tr><td>x</table>"), ErrFormat, "web page"},
		{"text document", pack(t, "[Content_Types].xml", "<T/>", "word/document.xml", "<d/>"), ErrFormat, "text document"},
		{"other archive", pack(t, "readme.txt", "x"), ErrFormat, "archive"},
		{"entities", xlsxWith(t, `<!DOCTYPE x [<!ENTITY a "aaaa">]><worksheet>&a;</worksheet>`), ErrDamaged, "document type"},
		{"cut XML", xlsxWith(t, `<worksheet><sheetData><row r="1"><c r="A1"><v>1`), ErrDamaged, "ends in the middle"},
		{"no such text", xlsxWith(t, `<worksheet><sheetData><row r="1"><c r="A1" t="s"><v>99</v></c></row></sheetData></worksheet>`), ErrDamaged, "not there"},
		{"row number", xlsxWith(t, `<worksheet><sheetData><row r="99999999"/></sheetData></worksheet>`), ErrTooLarge, "outside"},
		{"deep", xlsxWith(t, strings.Repeat("<a>", 1000)), ErrDamaged, "nested"},
		{"bomb of columns", pack(t, "content.xml", wide.String()), ErrTooLarge, "cells"},
		{"bomb of bytes", xlsxWith(t, "<worksheet>"+strings.Repeat(" ", 1<<20), "xl/x", ""), ErrDamaged, ""},
		{"encrypted ods", pack(t, "content.xml", "\x00\x01", "META-INF/manifest.xml", `<m><e><encryption-data/></e></m>`), ErrEncrypted, "password"},
		{"binary workbook", pack(t, "[Content_Types].xml", "", "xl/workbook.bin", ""), ErrFormat, ".xlsb"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := Read("bad.xlsx", tc.data, Options{})
			if !errors.Is(err, tc.kind) {
				t.Fatalf("got %v, want %v", err, tc.kind)
			}
			var e *Error
			if !errors.As(err, &e) || e.Remedy == "" || e.File != "bad.xlsx" || !strings.Contains(err.Error(), tc.say) {
				t.Errorf("message %q must name the file, say %q and a remedy", err, tc.say)
			}
		})
	}
}

// A file that unpacks to more than the limit is refused while it is being read; the limit is lowered
// here so that the test is quick.
func TestZipBomb(t *testing.T) {
	p, err := openParts("bomb.xlsx", xlsxWith(t, "<worksheet><sheetData>"+strings.Repeat("<row/>", 500_000)+"</sheetData></worksheet>"))
	if err != nil {
		t.Fatal(err)
	}
	p.left = 1 << 20
	if _, err := readXLSX("bomb.xlsx", p); !errors.Is(err, ErrTooLarge) || !strings.Contains(err.Error(), "unpacks to more") {
		t.Fatalf("got %v", err)
	}
}

func TestEmptyColumnsAreHarmless(t *testing.T) {
	b := mustRead(t, "w.csv", []byte("a,b\n1"+strings.Repeat(",", MaxColumns-1)+"\n"))
	if n := b.Sheets[0].Width(1); n != 1 {
		t.Errorf("width %d", n)
	}
	if _, err := Read("w.csv", []byte("a,b\n1"+strings.Repeat(",", 1_000_000)+"\n"), Options{}); !errors.Is(err, ErrTooLarge) {
		t.Errorf("a million columns: %v", err)
	}
}

func TestMacrosAreNoted(t *testing.T) {
	b := mustRead(t, "m.xlsm", xlsxWith(t, `<worksheet><sheetData/></worksheet>`, "xl/vbaProject.bin", "x", "xl/externalLinks/externalLink1.xml", "<x/>"))
	if len(b.Notes) != 2 || b.Notes[0].Code != "TAB-002" || b.Notes[1].Code != "TAB-003" {
		t.Errorf("notes %+v", b.Notes)
	}
}

// Source of the serial numbers: ECMA-376 part 1, 18.17.4.1: 1 is 1900-01-01, 61 is 1900-03-01 in
// the 1900 system, 0 is 1904-01-01 in the 1904 system; 36526 is 2000-01-01 (own count: 100 years
// of 365 days, 25 leap days counting the false one of 1900, and 1).
func TestSerialDates(t *testing.T) {
	for _, tc := range []struct {
		v    string
		f    numFormat
		d04  bool
		want string
	}{
		{"1", numFormat{date: true}, false, "1900-01-01"},
		{"61", numFormat{date: true}, false, "1900-03-01"},
		{"36526", numFormat{date: true}, false, "2000-01-01"},
		{"0", numFormat{date: true}, true, "1904-01-01"},
		{"0.5", numFormat{clock: true}, false, "12:00:00"},
		{"36526.75", numFormat{date: true, clock: true}, false, "2000-01-01T18:00:00"},
		{"-1", numFormat{date: true}, false, "-1"},
	} {
		if got, _ := tc.f.number([]byte(tc.v), tc.d04); got != tc.want {
			t.Errorf("%s: got %s, want %s", tc.v, got, tc.want)
		}
	}
}

func TestFormats(t *testing.T) {
	for code, want := range map[string]numFormat{
		"General": {}, "@": {}, "0.00": {}, "#,##0": {}, "000": {pad: 3}, "0%": {percent: true},
		"yyyy-mm-dd": {date: true}, "dd/mm/yyyy hh:mm": {date: true, clock: true}, "mmm-yy": {date: true},
		"[h]:mm:ss": {clock: true}, `0.0" mA"`: {suffix: " mA"}, `"PT-"0000`: {prefix: "PT-", pad: 4},
		`0" bar";-0" bar"`: {suffix: " bar"}, `[Red]0.0`: {}, `0.00E+00`: {}, `General" m"`: {suffix: " m"},
	} {
		if got := parseFormat(code); got != want {
			t.Errorf("%s: got %+v, want %+v", code, got, want)
		}
	}
}

func TestAddress(t *testing.T) {
	for _, tc := range []struct {
		r, c int
		want string
	}{{0, 0, "A1"}, {11, 5, "F12"}, {0, 25, "Z1"}, {0, 26, "AA1"}, {0, 701, "ZZ1"}, {0, 702, "AAA1"}, {1048575, 16383, "XFD1048576"}} {
		if got := Address(tc.r, tc.c); got != tc.want {
			t.Errorf("got %s, want %s", got, tc.want)
		}
		if r, c, ok := ParseAddress(tc.want); !ok || r != tc.r || c != tc.c {
			t.Errorf("%s reads as %d, %d, %v", tc.want, r, c, ok)
		}
	}
}

func TestFewest(t *testing.T) {
	for v, want := range map[float64]string{0.1 + 0.2: "0.3", 1e6: "1000000", -5: "-5", 1.0 / 3: "0.3333333333333333", 2147483647: "2147483647", math.Copysign(0, -1): "0", 1e-12: "1e-12"} {
		if got := fewest(v); got != want {
			t.Errorf("%v: got %s, want %s", v, got, want)
		}
	}
}

func bigCSV(rows, cols int) []byte {
	var b bytes.Buffer
	for r := range rows {
		for c := range cols {
			if c > 0 {
				b.WriteByte(',')
			}
			switch c % 4 {
			case 0:
				fmt.Fprintf(&b, "PT-%d-%d", r, c)
			case 1:
				b.WriteString("Pressure downstream of pump")
			case 2:
				fmt.Fprintf(&b, "%d", r%500)
			case 3:
				b.WriteString("4-20 mA")
			}
		}
		b.WriteByte('\n')
	}
	return b.Bytes()
}

func bigXLSX(rows, cols int) []byte {
	t := Table{Name: "big", Cols: make([]Col, cols)}
	for r := range rows {
		row := make([]Value, cols)
		for c := range row {
			switch c % 4 {
			case 0:
				row[c] = T(fmt.Sprintf("PT-%d-%d", r, c))
			case 1:
				row[c] = T("Pressure downstream of pump")
			case 2:
				row[c] = I(int64(r % 500))
			case 3:
				row[c] = T("4-20 mA")
			}
		}
		t.Rows = append(t.Rows, row)
	}
	var b bytes.Buffer
	if err := WriteXLSX(&b, []Table{t}); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func BenchmarkReadCSV50k(b *testing.B)  { benchRead(b, "x.csv", bigCSV(50_000, 25)) }
func BenchmarkReadXLSX50k(b *testing.B) { benchRead(b, "x.xlsx", bigXLSX(50_000, 25)) }

func benchRead(b *testing.B, name string, data []byte) {
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(name, data, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
