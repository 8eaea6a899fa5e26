package tabular

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

var danger = []string{"=1+1", "+A1", "-B2", "@SUM(A1)", "\tx", "\rx", "-5", "+3.5", "-1e3", "'=x", "''-y", "-", "--5", "=A1+B2-K3", "'x", "x=1", "-5 bar"}

// Source of the list of first characters: OWASP "CSV Injection" (from memory: = + - @ tab CR).
func TestCSVGuard(t *testing.T) {
	tab := Table{Cols: Heads("v", "n")}
	for _, d := range danger {
		tab.Rows = append(tab.Rows, []Value{T(d), N(-5)})
	}
	var buf bytes.Buffer
	if err := WriteCSV(&buf, tab, CSVOptions{BOM: true, CRLF: true}); err != nil {
		t.Fatal(err)
	}
	// The standard library's reader judges what a spreadsheet would see.
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(buf.String(), "\uFEFF"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range rows[1:] {
		if c := r[0][0]; startsFormula(c) && !plainNumber(r[0]) {
			t.Errorf("%q is written as %q, which a spreadsheet would run", danger[i], r[0])
		}
		if r[1] != "-5" {
			t.Errorf("the number -5 is written as %q", r[1])
		}
	}
	b := mustRead(t, "x.csv", buf.Bytes())
	for i, d := range danger {
		if got := b.Sheets[0].Text(i+1, 0); got != d {
			t.Errorf("%q reads back as %q", d, got)
		}
	}
}

func anyValue() *rapid.Generator[Value] {
	return rapid.Custom(func(t *rapid.T) Value {
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			return Value{}
		case 1:
			return N(rapid.Float64().Draw(t, "n"))
		case 2:
			return B(rapid.Bool().Draw(t, "b"))
		case 3:
			return T(rapid.SampledFrom(danger).Draw(t, "danger"))
		}
		return T(rapid.StringN(0, 12, 60).Draw(t, "s"))
	})
}

func anyTable(t *rapid.T) Table {
	n := rapid.IntRange(1, 5).Draw(t, "cols")
	tab := Table{Name: rapid.StringN(0, 40, -1).Draw(t, "name"), Cols: make([]Col, n)}
	for i := range tab.Cols {
		tab.Cols[i].Head = rapid.StringMatching(`[a-z_]{1,8}`).Draw(t, "head")
	}
	for range rapid.IntRange(0, 6).Draw(t, "rows") {
		tab.Rows = append(tab.Rows, rapid.SliceOfN(anyValue(), n, n).Draw(t, "row"))
	}
	return tab
}

func checkSame(t *rapid.T, tab Table, s *Sheet) {
	for r, row := range tab.Rows {
		for c, v := range row {
			if got := s.Text(r+1, c); got != v.String() {
				t.Fatalf("cell %s: wrote %q, read %q", Address(r+1, c), v.String(), got)
			}
		}
	}
}

func TestCSVRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tab := anyTable(t)
		for r := range tab.Rows {
			for c := range tab.Rows[r] {
				if strings.ContainsRune(tab.Rows[r][c].Text, 0) {
					return // a zero byte is refused on reading
				}
			}
		}
		d := rapid.SampledFrom([]byte{',', ';', '\t', '|'}).Draw(t, "delimiter")
		var buf bytes.Buffer
		if err := WriteCSV(&buf, tab, CSVOptions{Delimiter: d, BOM: rapid.Bool().Draw(t, "bom"), CRLF: rapid.Bool().Draw(t, "crlf")}); err != nil {
			t.Fatal(err)
		}
		b, err := Read("x.csv", buf.Bytes(), Options{Delimiter: rune(d)})
		if errors.Is(err, ErrFormat) && strings.Contains(err.Error(), "not text") || b != nil && b.Format == Markdown {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		checkSame(t, tab, b.Sheets[0])
	})
}

func TestXLSXRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tabs := []Table{anyTable(t), anyTable(t)}
		var one, two bytes.Buffer
		if err := WriteXLSX(&one, tabs); err != nil {
			t.Fatal(err)
		}
		if err := WriteXLSX(&two, tabs); err != nil || !bytes.Equal(one.Bytes(), two.Bytes()) {
			t.Fatal("not the same bytes twice")
		}
		b, err := Read("x.xlsx", one.Bytes(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i := range tabs {
			checkSame(t, tabs[i], b.Sheets[i])
		}
	})
}

// The library excelize reads what we write, and every part is well-formed by encoding/xml.
func TestXLSXByLibrary(t *testing.T) {
	tab := Table{Name: "Signals: [all]", Cols: Heads("tag", "range_low", "used")}
	for _, d := range danger {
		tab.Rows = append(tab.Rows, []Value{T(d), N(-2.5), B(true)})
	}
	var buf bytes.Buffer
	if err := WriteXLSX(&buf, []Table{tab, {Name: "signals- -all-", Cols: Heads("x")}}); err != nil {
		t.Fatal(err)
	}
	wellFormed(t, buf.Bytes())
	f, err := excelize.OpenReader(&buf)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if d := cmp.Diff([]string{"Signals- -all-", "signals- -all- 2"}, f.GetSheetList()); d != "" {
		t.Error(d)
	}
	rows, err := f.GetRows("Signals- -all-")
	if err != nil {
		t.Fatal(err)
	}
	for i, d := range danger {
		if got := rows[i+1][0]; got != strings.ReplaceAll(d, "\r", "\r") {
			t.Errorf("%q reads as %q", d, got)
		}
		if rows[i+1][1] != "-2.5" || rows[i+1][2] != "TRUE" {
			t.Errorf("row %v", rows[i+1])
		}
		if formula, err := f.GetCellFormula("Signals- -all-", Address(i+1, 0)); err != nil || formula != "" {
			t.Errorf("%q became a formula %q (%v)", d, formula, err)
		}
	}
	panes, err := f.GetPanes("Signals- -all-")
	if err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("panes %+v, %v", panes, err)
	}
}

func wellFormed(t *testing.T, data []byte) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		for d := xml.NewDecoder(r); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
		}
		r.Close()
	}
}

func TestMarkedCopy(t *testing.T) {
	src := mustRead(t, "x.csv", []byte("tag;v\n=A1+B2-K3;12O mA\nX;5\n"))
	var buf bytes.Buffer
	marks := []Mark{{Sheet: 0, Row: 1, Col: 1, Text: "not a number"}, {Sheet: 0, Row: 1, Col: 1, Text: "second"}, {Sheet: 0, Row: 9, Col: 0, Text: "below"}}
	front := []Table{{Name: "Findings", Cols: Heads("cell", "message"), Rows: [][]Value{{T("B2"), T("not a number")}}}}
	if err := WriteMarked(&buf, src, front, marks); err != nil {
		t.Fatal(err)
	}
	wellFormed(t, buf.Bytes())
	f, err := excelize.OpenReader(bytes.NewReader(buf.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	notes, err := f.GetComments("List")
	if err != nil || len(notes) != 2 || notes[0].Cell != "B2" || !strings.Contains(notes[0].Text, "second") {
		t.Errorf("notes %+v, %v", notes, err)
	}
	b := mustRead(t, "marked.xlsx", buf.Bytes())
	if d := cmp.Diff(grid(src.Sheets[0]), grid(b.Sheets[1])); d != "" {
		t.Error(d)
	}
	if b.Sheets[1].Cell(1, 1).Look.Fill == "" {
		t.Error("the marked cell has no fill")
	}
}
