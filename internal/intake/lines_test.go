package intake_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/intake"
	"railwright/internal/intake/fromtable"
	"railwright/internal/tabular"
)

// A CSV file that was opened with another list separator and saved as a workbook holds a whole line in
// each cell of its first column; decimal commas may have parted some of them once more.
func TestLinesInCells(t *testing.T) {
	for _, name := range []string{"tank_farm.csv", "kks.csv", "es_mina.csv", "de_msr.csv", "wide_units.csv", "fr_eau.csv"} {
		data, err := os.ReadFile(filepath.Join("testdata", "lists", name))
		if err != nil {
			t.Fatal(err)
		}
		b, err := tabular.Read(name, data, tabular.Options{})
		if err != nil {
			t.Fatal(err)
		}
		plain := intake.Read(fromtable.Book(b), intake.Options{})
		var whole, parted [][]string
		for line := range strings.SplitSeq(strings.TrimRight(string(data), "\n"), "\n") {
			whole = append(whole, []string{line})
			at := strings.Index(line, ",")
			if at < 0 || b.Delimiter == ',' {
				parted = append(parted, []string{line})
			} else {
				parted = append(parted, []string{line[:at], line[at+1:]})
			}
		}
		for how, rows := range map[string][][]string{"whole": whole, "parted": parted} {
			other := intake.Read(&intake.Book{File: name, Sheets: []intake.Sheet{intake.FromRows("Sheet1", rows)}}, intake.Options{})
			if d := cmp.Diff(electrically(plain.Signals), electrically(other.Signals)); d != "" {
				t.Errorf("%s, %s: %s", name, how, d)
			}
		}
	}
}
