package app

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"railwright/internal/folder"
	"railwright/internal/intake"
)

func prepare(t *testing.T, r ImportRequest) *Import {
	t.Helper()
	m, err := PrepareImport(r)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func write(t *testing.T, m *Import) {
	t.Helper()
	if err := m.Write(); err != nil {
		t.Fatal(err)
	}
}

// changes prints what an import would do: "changed LS-101 description: a > b".
func changes(m *Import) []string {
	var out []string
	for i, c := range m.Preview.Changes {
		line := string(c.Kind) + " " + c.Tag
		if c.Kind == intake.Renamed {
			line += " > " + c.NewTag
		}
		for _, x := range c.Cells {
			line += " " + x.Column + ": " + x.Old + " > " + x.New
			if x.Conflict {
				line += " (conflict)"
			}
		}
		if m.Asks(i) {
			line += " ?"
		}
		out = append(out, line)
	}
	return out
}

func same(t *testing.T, what string, want, got []string) {
	t.Helper()
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("%s: %s", what, d)
	}
}

func textOf(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// issued plans the yard and returns the folder and the issued workbook.
func issued(t *testing.T) (dir, out string) {
	dir, out = yard(t), t.TempDir()
	plan1(t, PlanRequest{Folder: dir, Out: out})
	return dir, out
}

// inSpreadsheet opens a workbook as a spreadsheet does, lets edit change the sheet of the signal list,
// and saves it under another name. at finds a cell by signal tag and column.
func inSpreadsheet(t *testing.T, path string, edit func(f *excelize.File, sheet string, at func(tag, column string) string)) string {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sheet := "Signal list"
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	at := func(tag, column string) string {
		c := slices.Index(rows[0], column)
		for r := range rows {
			if rows[r][0] == tag && c >= 0 {
				name, _ := excelize.CoordinatesToCellName(c+1, r+1)
				return name
			}
		}
		t.Fatalf("no cell %s of %s", column, tag)
		return ""
	}
	edit(f, sheet, at)
	saved := filepath.Join(t.TempDir(), "back from site.xlsx")
	if err := f.SaveAs(saved); err != nil {
		t.Fatal(err)
	}
	return saved
}

// The issued list, exported and imported again, changes nothing: as CSV, as workbook, and saved anew
// by a spreadsheet.
func TestIssuedListBackUnchanged(t *testing.T) {
	dir, out := issued(t)
	before := textOf(t, filepath.Join(dir, "signals.csv"))
	resaved := inSpreadsheet(t, filepath.Join(out, "schedules.xlsx"), func(*excelize.File, string, func(string, string) string) {})
	for _, file := range []string{filepath.Join(out, "csv", "signals.csv"), filepath.Join(out, "schedules.xlsx"), resaved, filepath.Join(dir, "signals.csv")} {
		m := prepare(t, ImportRequest{File: file, Into: dir})
		if len(m.Preview.Changes) > 0 || m.Changes() || m.Preview.Same != 4 {
			t.Errorf("%s: %v, %d the same", filepath.Base(file), changes(m), m.Preview.Same)
		}
		write(t, m)
	}
	if textOf(t, filepath.Join(dir, "signals.csv")) != before {
		t.Error("signals.csv was written")
	}
}

// What somebody edits in the issued workbook, and nothing else, changes in the project.
func TestIssuedListEdited(t *testing.T) {
	dir, out := issued(t)
	file := inSpreadsheet(t, filepath.Join(out, "schedules.xlsx"), func(f *excelize.File, sheet string, at func(tag, column string) string) {
		f.SetCellValue(sheet, at("FT-101", "range_low"), 0)
		f.SetCellValue(sheet, at("FT-101", "range_high"), 12.5)
		f.SetCellValue(sheet, at("FT-101", "unit"), "m3/h")
		f.SetCellValue(sheet, at("LS-101", "hold"), "contact to be confirmed")
		f.SetCellValue(sheet, at("LS-102", "tag"), "LSH-102") // the id stands beside it
		f.SetCellValue(sheet, at("XY-101", "device"), "")
		f.SetCellValue(sheet, at("XY-101", "station"), "somewhere else") // a result, not read back
	})
	m := prepare(t, ImportRequest{File: file, Into: dir})
	same(t, "changes", []string{
		"changed LS-101 hold:  > contact to be confirmed",
		"changed LS-102 tag: LS-102 > LSH-102",
		"changed FT-101 range_low:  > 0 range_high:  > 12.5 unit:  > m3/h",
		"changed XY-101 device: XY-101 > ",
	}, changes(m))
	write(t, m)
	want := `id,tag,description,kind,form,place,device,range_low,range_high,unit,hold
LS-101,LS-101,,DI,contact,PUMPS,LS-101,,,,contact to be confirmed
LS-102,LSH-102,,DI,contact,PUMPS,LS-102,,,,
FT-101,FT-101,,AI,4-20ma,PUMPS,FT-101,0,12.5,m3/h,
XY-101,XY-101,,DO,24v,PUMPS,,,,,
`
	if d := cmp.Diff(want, textOf(t, filepath.Join(dir, "signals.csv"))); d != "" {
		t.Error(d)
	}
	if got := textOf(t, filepath.Join(dir, "project.toml")); got != yardProject {
		t.Error("project.toml was written")
	}
}

// A row added, a row deleted, and a signal whose id and tag were typed over: the last two are asked.
func TestIssuedListRows(t *testing.T) {
	dir, out := issued(t)
	file := inSpreadsheet(t, filepath.Join(out, "schedules.xlsx"), func(f *excelize.File, sheet string, at func(tag, column string) string) {
		f.SetCellValue(sheet, at("XY-101", "id"), "XY-101A")
		f.SetCellValue(sheet, at("XY-101", "tag"), "XY-101A")
		rows, _ := f.GetRows(sheet)
		for r, row := range rows {
			if row[0] == "LS-102" {
				f.RemoveRow(sheet, r+1)
			}
		}
		n, _ := excelize.CoordinatesToCellName(1, len(rows))
		f.SetSheetRow(sheet, n, &[]any{"PT-9", "", "pressure", "AI", "4-20ma", "", "", "PUMPS"})
	})
	m := prepare(t, ImportRequest{File: file, Into: dir})
	same(t, "changes", []string{
		"removed LS-102 ?", "removed XY-101", "added XY-101A", "added PT-9", "renamed XY-101 > XY-101A tag: XY-101 > XY-101A ?",
	}, changes(m))
	m.Answer(true)
	write(t, m)
	if d := cmp.Diff([]string{"LS-101 LS-101", "FT-101 FT-101", "XY-101 XY-101A", "PT-9 PT-9"}, idsIn(t, dir)); d != "" {
		t.Error(d)
	}
	if !strings.Contains(textOf(t, filepath.Join(dir, "signals.csv")), "\nPT-9,PT-9,pressure,AI,4-20ma,PUMPS,\n") {
		t.Error("assumed values were written: " + textOf(t, filepath.Join(dir, "signals.csv")))
	}
}

func idsIn(t *testing.T, dir string) []string {
	t.Helper()
	f, err := folder.Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, s := range f.Project.Signals {
		out = append(out, s.ID+" "+s.Tag)
	}
	return out
}

const foreign = `I/O list, rev A
Tag No;Service;I/O Type;Range;Location;Rack;Slot;Channel;Rev
PT-1;Inlet pressure;AI;0..2,5 bar;North hall;R1;3;1;A
LS-2;Tank high;DI;;North hall;R1;4;7;A
TE-3;Bearing temperature;RTD;0..120 °C;South hall;R1;5;2;A
XX-4;What is this;???;;South hall;;;;A
`

// A new folder is begun from a list: a skeleton to fill in, the list, positions as preferred choices,
// the rejected row, the marked copy, the column map.
func TestNewFolder(t *testing.T) {
	dir, lists := filepath.Join(t.TempDir(), "site"), t.TempDir()
	put(t, filepath.Join(lists, "io list rev A.csv"), foreign)
	m := prepare(t, ImportRequest{File: filepath.Join(lists, "io list rev A.csv"), Into: dir})
	write(t, m)
	same(t, "written", []string{"project.toml", "signals.csv", "choices.toml", "imports/io-list.csv", "imports/io-list.columns.toml", "imports/io-list.rejected.csv", "imports/io-list.marked.xlsx"}, m.Written)
	f, err := folder.Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	var places []string
	for _, p := range f.Project.Places {
		places = append(places, p.ID)
	}
	same(t, "places", []string{"CONTROL", "North hall", "South hall"}, places)
	if len(f.Project.Signals) != 3 || len(f.Project.Choices) != 3 || f.Project.Choices[0].Strength != "preferred" {
		t.Errorf("%d signals, choices %v", len(f.Project.Signals), f.Project.Choices)
	}
	for _, x := range f.Findings {
		if x.Severity == "error" && x.Rule != "PRJ-017" && x.Rule != "PRJ-025" { // what the skeleton asks to fill in
			t.Error(x)
		}
	}
	rejected := textOf(t, filepath.Join(dir, "imports", "io-list.rejected.csv"))
	if !strings.Contains(rejected, "XX-4") || !strings.Contains(rejected, "no kind") {
		t.Error(rejected)
	}
	again := prepare(t, ImportRequest{File: filepath.Join(lists, "io list rev A.csv"), Into: dir})
	if again.Changes() || !again.Before {
		t.Errorf("the same list again: %v", changes(again))
	}
}

// The next issue of a list is merged three-way: what the project changed stays, what the list
// changed comes, what both changed is asked; revisions of rows follow.
func TestNextIssue(t *testing.T) {
	dir, lists := filepath.Join(t.TempDir(), "site"), t.TempDir()
	put(t, filepath.Join(lists, "io list rev A.csv"), foreign)
	write(t, prepare(t, ImportRequest{File: filepath.Join(lists, "io list rev A.csv"), Into: dir}))

	list := filepath.Join(dir, "signals.csv")
	put(t, list, strings.NewReplacer("Inlet pressure", "Inlet pressure of line 1", "Tank high", "Raw water tank high").Replace(textOf(t, list)))
	next := strings.NewReplacer("0..2,5 bar", "0..4 bar", "Tank high", "Tank 7 high", "XX-4;What is this;???", "XX-4;Running;DI", ";R1;5;2;A", ";R1;5;3;B", "\nLS-2;", "\nLS-2;").Replace(foreign)
	put(t, filepath.Join(lists, "io_list_rev_B.csv"), next)
	m := prepare(t, ImportRequest{File: filepath.Join(lists, "io_list_rev_B.csv"), Into: dir})
	same(t, "changes", []string{
		"changed PT-1 range_high: 2.5 > 4",
		"changed LS-2 description: Raw water tank high > Tank 7 high (conflict) ?",
		"changed TE-3 remarks: rev A > rev B",
		"added XX-4",
	}, changes(m))
	if m.Positions != 1 || m.Report().Changes[2].Revision != "B" {
		t.Errorf("%d positions, report %+v", m.Positions, m.Report().Changes[2])
	}
	write(t, m)
	text := textOf(t, list)
	for _, want := range []string{"Inlet pressure of line 1", "Raw water tank high", ",4,bar", "rev B", "XX-4,XX-4,Running,DI"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if c := textOf(t, filepath.Join(dir, "choices.toml")); !strings.Contains(c, `"R1/5/3"`) || strings.Contains(c, `"R1/5/2"`) {
		t.Error(c)
	}
	// What was decided once is not asked again.
	if again := prepare(t, ImportRequest{File: filepath.Join(lists, "io_list_rev_B.csv"), Into: dir}); again.Changes() || len(again.Questions()) > 0 {
		t.Errorf("again: %v", changes(again))
	}
}

// A list given out earlier is no reason to undo what the project has changed since, if it is named.
func TestBase(t *testing.T) {
	dir, out := issued(t)
	list := filepath.Join(dir, "signals.csv")
	put(t, list, strings.Replace(textOf(t, list), "FT-101,AI,4-20ma", "FT-101,AI,0-10v", 1))
	file := inSpreadsheet(t, filepath.Join(out, "schedules.xlsx"), func(f *excelize.File, sheet string, at func(tag, column string) string) {
		f.SetCellValue(sheet, at("LS-101", "description"), "level high")
	})
	m := prepare(t, ImportRequest{File: file, Into: dir, Base: filepath.Join(out, "schedules.xlsx")})
	same(t, "changes", []string{"changed LS-101 description:  > level high"}, changes(m))
}

// A faulty row of the project that the list states soundly is replaced, not doubled; other faulty rows
// and the order stay.
func TestMendsFaultyRows(t *testing.T) {
	dir := yard(t)
	put(t, filepath.Join(dir, "signals.csv"), "tag,kind,form,place,remarks\nLS-1,DI,,PUMPS,\nPT-2,XX,,PUMPS,\nPT-3,YY,,PUMPS,\n")
	put(t, filepath.Join(dir, "l.csv"), "Tag,Type,Location,Service\nPT-2,AI,PUMPS,pressure\n")
	m := prepare(t, ImportRequest{File: filepath.Join(dir, "l.csv"), Into: dir})
	if m.Mended != 1 || m.Stay != 2 {
		t.Errorf("%d mended, %d stay: %v", m.Mended, m.Stay, changes(m))
	}
	write(t, m)
	same(t, "list", strings.Split("id,tag,description,kind,form,place\nLS-1,LS-1,,DI,,PUMPS\nPT-2,PT-2,pressure,AI,,PUMPS\nPT-3,PT-3,,YY,,PUMPS\n", "\n"), strings.Split(textOf(t, filepath.Join(dir, "signals.csv")), "\n"))
}

// A folder that was changed after the preview is not written over.
func TestChangedMeanwhile(t *testing.T) {
	dir := yard(t)
	put(t, filepath.Join(dir, "l.csv"), "Tag,Type,Location\nPT-2,AI,PUMPS\n")
	m := prepare(t, ImportRequest{File: filepath.Join(dir, "l.csv"), Into: dir})
	put(t, filepath.Join(dir, "signals.csv"), yardSignals+"NEW-1,DI,contact,PUMPS,\n")
	if err := m.Write(); KindOf(err) != Usage {
		t.Error(err)
	}
}

func TestSourceNames(t *testing.T) {
	for file, want := range map[string]string{
		"IO List Rev B": "io-list", "io_list_rev_C2": "io-list", "Instrument index 2024-05-17": "instrument-index", "Skid 3 E&I (2)": "skid-3-e-i",
		"Messstellenliste_Index_c": "messstellenliste", "list v2.1 final": "list", "pumps_20240611": "pumps", "rev B": "rev-b", "Süd": "s-d",
	} {
		if got := sourceName(withoutIssue(file)); got != want {
			t.Errorf("%s: %s, want %s", file, got, want)
		}
	}
}
