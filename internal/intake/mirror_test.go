package intake_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/intake"
	"railwright/internal/intake/fromtable"
	"railwright/internal/project"
	"railwright/internal/tabular"
)

// A list with its columns in the opposite order says the same: what each row is electrically and what it
// measures does not hang on where a column stands. (Groups of headings reach to the right, so lists that
// have them are left out; names and descriptions follow the order of the columns.)
func TestMirroredList(t *testing.T) {
	groups := []string{"en_marks_under_groups.csv", "motor_marks.csv", "skid.csv"}
	paths, err := filepath.Glob(filepath.Join("testdata", "lists", "*.csv"))
	if err != nil || len(paths) == 0 {
		t.Fatal(err)
	}
	for _, p := range paths {
		name := filepath.Base(p)
		if slices.Contains(groups, name) {
			continue
		}
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		b, err := tabular.Read(name, data, tabular.Options{})
		if err != nil {
			t.Fatal(err)
		}
		straight := intake.Read(fromtable.Book(b), intake.Options{})
		mirrored := intake.Read(&intake.Book{File: name, Sheets: []intake.Sheet{intake.FromRows("", mirror(b.Sheets[0]))}}, intake.Options{})
		if d := cmp.Diff(electrically(straight.Signals), electrically(mirrored.Signals)); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

// mirror turns the columns round; a row with one text, which may be a section, stays.
func mirror(s *tabular.Sheet) [][]string {
	rows := make([][]string, s.Rows())
	for r := range rows {
		rows[r] = make([]string, s.Cols())
		filled := 0
		for c := range s.Cols() {
			if s.Text(r, c) != "" {
				filled++
			}
		}
		for c := range s.Cols() {
			to := s.Cols() - 1 - c
			if filled == 1 {
				to = c
			}
			rows[r][to] = s.Text(r, c)
		}
	}
	return rows
}

func electrically(list []project.Signal) []string {
	var out []string
	for i := range list {
		s := &list[i]
		line := fmt.Sprintf("row %d:", s.At.Row)
		for _, column := range []string{"kind", "form", "range_low", "range_high", "unit", "contact", "sensor", "wires", "active", "voltage_v", "current_ma", "alarm_low", "alarm_high", "ex_level", "ex_zone", "place"} {
			line += " " + project.ColumnNamed(column).Format(s)
		}
		out = append(out, line)
	}
	slices.Sort(out)
	return out
}

// Headings say the same in capitals, over several lines and with a colon behind them.
func TestHeadingsWrittenOtherwise(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("testdata", "lists", "*.csv"))
	if err != nil || len(paths) == 0 {
		t.Fatal(err)
	}
	ways := map[string]func(string) string{
		"capitals":   strings.ToUpper,
		"over lines": func(s string) string { return strings.ReplaceAll(s, " ", "\n") },
		"colon":      func(s string) string { return s + ":" },
	}
	for _, p := range paths {
		name := filepath.Base(p)
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		b, err := tabular.Read(name, data, tabular.Options{})
		if err != nil {
			t.Fatal(err)
		}
		plain := intake.Read(fromtable.Book(b), intake.Options{})
		heads := map[int]bool{}
		for _, f := range plain.Findings {
			var from, to int
			if n, _ := fmt.Sscanf(f.Message, "the headings stand in rows %d to %d", &from, &to); n == 2 {
				heads[from-1], heads[to-1] = true, true
			} else if n, _ := fmt.Sscanf(f.Message, "the headings stand in row %d", &from); n == 1 {
				heads[from-1] = true
			}
		}
		for way, change := range ways {
			rows := make([][]string, b.Sheets[0].Rows())
			for r := range rows {
				for c := range b.Sheets[0].Width(r) {
					text := b.Sheets[0].Text(r, c)
					if heads[r] && text != "" {
						text = change(text)
					}
					rows[r] = append(rows[r], text)
				}
			}
			other := intake.Read(&intake.Book{File: name, Sheets: []intake.Sheet{intake.FromRows("", rows)}}, intake.Options{})
			if d := cmp.Diff(electrically(plain.Signals), electrically(other.Signals), cmp.Comparer(strings.EqualFold)); d != "" {
				t.Errorf("%s, %s: %s", name, way, d)
			}
		}
	}
}

// Empty rows and columns say nothing.
func TestEmptyRowsAndColumns(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("testdata", "lists", "*.csv"))
	if err != nil || len(paths) == 0 {
		t.Fatal(err)
	}
	for _, p := range paths {
		name := filepath.Base(p)
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		b, err := tabular.Read(name, data, tabular.Options{})
		if err != nil {
			t.Fatal(err)
		}
		s := b.Sheets[0]
		plain := intake.Read(fromtable.Book(b), intake.Options{})
		rows := [][]string{nil, nil}
		for r := range s.Rows() {
			row := []string{"", ""}
			for c := range s.Width(r) {
				if row = append(row, s.Text(r, c)); c == 1 {
					row = append(row, "")
				}
			}
			if rows = append(rows, row); r%7 == 6 {
				rows = append(rows, nil)
			}
		}
		spread := intake.Read(&intake.Book{File: name, Sheets: []intake.Sheet{intake.FromRows("", rows)}}, intake.Options{})
		strip := func(list []string) []string {
			for i := range list {
				_, list[i], _ = strings.Cut(list[i], ":")
			}
			slices.Sort(list)
			return list
		}
		if d := cmp.Diff(strip(electrically(plain.Signals)), strip(electrically(spread.Signals))); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}
