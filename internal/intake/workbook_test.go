package intake_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"railwright/internal/intake"
	"railwright/internal/intake/fromtable"
	"railwright/internal/tabular"
)

// workbook builds an XLSX with a general library: sheets of rows, and then what f adds.
func workbook(t testing.TB, sheets []string, rows map[string][][]any, f func(x *excelize.File)) []byte {
	t.Helper()
	x := excelize.NewFile()
	defer x.Close()
	for i, name := range sheets {
		if i == 0 {
			must(t, x.SetSheetName("Sheet1", name))
		} else if _, err := x.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		for r, row := range rows[name] {
			for c, v := range row {
				if v != nil && v != "" {
					must(t, x.SetCellValue(name, tabular.Address(r, c), v))
				}
			}
		}
	}
	if f != nil {
		f(x)
	}
	var b bytes.Buffer
	must(t, x.Write(&b))
	return b.Bytes()
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func paint(t testing.TB, x *excelize.File, sheet, from, to, fill string, font *excelize.Font) {
	s := &excelize.Style{Font: font}
	if fill != "" {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{fill}}
	}
	n, err := x.NewStyle(s)
	must(t, err)
	must(t, x.SetCellStyle(sheet, from, to, n))
}

// Merged two-row headings under title rows, a merged section, a place merged over rows, a legend
// sheet, a struck row, a hidden row, a date where a range was typed, an error value.
func TestWorkbookOfAnAuthor(t *testing.T) {
	data := workbook(t, []string{"Cover", "Legend", "IO List"}, map[string][][]any{
		"Cover":  {{"Signal list"}, {"Project", "River works"}, {"Rev", "C"}},
		"Legend": {{"", "yellow"}, {"", "to be confirmed by supplier"}},
		"IO List": {
			{"SIGNAL LIST – PACKAGE UNIT 3"},
			{},
			{"", "Instrument", "", "Signal", "", "Range", "", "", "Location"},
			{"", "Tag", "Service", "Type", "Level", "Min", "Max", "Unit", ""},
			{"", "Filter skid 1"},
			{"", "PT-1", "Inlet pressure", "AI", "4-20 mA", 0, 10, "bar", "Hall A"},
			{"", "PT-2", "Outlet pressure", "AI", "4-20 mA", 0, 0.3, "bar", ""},
			{"", "LS-3", "High level switch", "DI", "NC 24VDC", "", "", "", ""},
			{"", "XV-4", "Old valve", "DO", "24VDC", "", "", "", "Hall B"},
			{"", "TT-5", "Temperature", "AI", "4-20 mA", "#N/A", 150, "°C", "Hall B"},
			{"", "Tag", "Service", "Type", "Level", "Min", "Max", "Unit", ""},
			{"", "FT-6", "Flow", "AI", "4-20 mA", 0, 2500, "m³/h", "Hall B"},
		},
	}, func(x *excelize.File) {
		const s = "IO List"
		for _, m := range [][2]string{{"A1", "I1"}, {"B3", "C3"}, {"D3", "E3"}, {"F3", "H3"}, {"I3", "I4"}, {"B5", "I5"}, {"I6", "I8"}} {
			must(t, x.MergeCell(s, m[0], m[1]))
		}
		paint(t, x, "Legend", "A2", "A2", "FFFF00", nil)
		paint(t, x, s, "B8", "I8", "FFFF00", nil)
		paint(t, x, s, "B9", "I9", "", &excelize.Font{Strike: true})
		must(t, x.SetRowVisible(s, 12, false))
	})
	r := read(t, "package.xlsx", data, intake.Options{})
	checkGolden(t, "testdata/workbook.expected.txt", report(r))
	for tag, want := range map[string]string{
		"PT-1": "range_high=10", "PT-2": "place=Hall A", "LS-3": "hold=list's colour says to be confirmed", "FT-6": "unit=m3/h",
	} {
		if line := signalLine(signalOf(t, r, tag)); !strings.Contains(line, want) {
			t.Errorf("%s: %s lacks %s", tag, line, want)
		}
	}
}

func TestOldAndRevisedSheet(t *testing.T) {
	head := []any{"Tag", "Description", "Type", "Range", "Unit"}
	data := workbook(t, []string{"Rev A", "Rev B"}, map[string][][]any{
		"Rev A": {head, {"PT-1", "Pressure", "AI", "0-10", "bar"}, {"PT-2", "Pressure", "AI", "0-10", "bar"}, {"PT-3", "gone later", "AI", "0-10", "bar"}},
		"Rev B": {head, {"PT-1", "Pressure", "AI", "0-16", "bar"}, {"PT-2", "Pressure", "AI", "0-10", "bar"}, {"PT-4", "new", "AI", "0-10", "bar"}},
	}, nil)
	r := read(t, "x.xlsx", data, intake.Options{})
	if len(r.Rejected) != 0 || len(r.Signals) != 4 || signalOf(t, r, "PT-1").RangeHigh.Value != 16 {
		t.Error(report(r))
	}
	found := false
	for _, f := range r.Findings {
		found = found || f.Rule == "IMP-062"
	}
	if !found {
		t.Error("the choice between the sheets must be told")
	}
}

// The same headings stand one column further on a sister sheet; a third sheet has none.
func TestSisterSheets(t *testing.T) {
	data := workbook(t, []string{"Area 1", "Area 2", "Area 3"}, map[string][][]any{
		"Area 1": {{"Tag", "Service", "Kind of signal", "Form"}, {"PT-1", "Pump pressure", "AI", "4-20mA"}, {"LS-1", "Sump level switch", "DI", "dry contact"}, {"XV-1", "Inlet valve", "DO", "24VDC"}},
		"Area 2": {{"No", "Tag", "Service", "Kind of signal", "Form"}, {1, "PT-2", "Pump pressure", "AI", "4-20mA"}, {2, "LS-2", "Sump level switch", "DI", "dry contact"}},
		"Area 3": {{"PT-3", "Pump pressure", "AI", "4-20mA"}, {"LS-3", "Sump level switch", "DI", "dry contact"}, {"XV-3", "Inlet valve", "DO", "24VDC"}},
	}, nil)
	r := read(t, "x.xlsx", data, intake.Options{})
	if len(r.Signals) != 8 {
		t.Fatal(report(r))
	}
	for _, want := range []string{"IMP-013", "IMP-006"} {
		found := false
		for _, f := range r.Findings {
			found = found || f.Rule == want
		}
		if !found {
			t.Errorf("no %s in\n%s", want, report(r))
		}
	}
}

// Each fault is found in its own cell, with the value seen and the remedy, in one run; the marked
// copy carries it there.
func TestFaultsAtTheirCells(t *testing.T) {
	lines := []string{
		"Tag,Service,Type,Signal,Range,Unit,Alarm H,Current (mA)",
		"PT-1,Pressure,AI,4-20mA,0-10,bar,12,",
		"PT-2,Pressure,AI,4-20mA,0-10,bar,P_MAX,",
		"PT-3,Pressure,AI,4-20mA,0-1O,bar,,",
		"XV-4,Valve,DO,24VDC,,,,12O",
		"XX-5,What is this,,,,,,",
		"PT-6,Pressure,AI,4-20mA,0-10,bar,,",
		"PT-6,Temperature,AI,4-20mA,0-50,°C,,",
		"LT-7,Level transmitter 4-20 mA,DI,4-20mA,0-5,m,,",
		"TE-8,Furnace,TC,,0-900,°C,,",
	}
	book, err := tabular.Read("f.csv", []byte(strings.Join(lines, "\n")), tabular.Options{})
	must(t, err)
	r := intake.Read(fromtable.Book(book), intake.Options{})
	want := map[string]string{
		"LST-015 G2": "outside the range", "IMP-028 G3": "P_MAX", "LST-002 E4": "did you mean 0-10", "LST-002 H5": "did you mean 120", "IMP-021 A6": "what kind",
		"LST-030 A7": "2 rows", "LST-030 A8": "2 rows", "IMP-022 C9": "speaks against", "LST-012 A10": "sensor is missing",
	}
	for _, f := range r.Findings {
		if f.Severity == "info" || f.Rule == "IMP-064" {
			continue
		}
		k := fmt.Sprintf("%s %s", f.Rule, f.Where.Cell)
		say, ok := want[k]
		if !ok || !strings.Contains(f.Message, say) || f.Remedy.Text == "" {
			t.Errorf("%s: %s / %s", k, f.Message, f.Remedy.Text)
		}
		delete(want, k)
	}
	for k := range want {
		t.Errorf("not reported: %s\n%s", k, report(r))
	}
	var buf bytes.Buffer
	must(t, fromtable.Marked(&buf, book, r))
	x, err := excelize.OpenReader(&buf)
	must(t, err)
	defer x.Close()
	notes, err := x.GetComments("List")
	must(t, err)
	if len(notes) != 9 {
		t.Errorf("%d notes: %v", len(notes), notes)
	}
}
