package app

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"railwright/internal/peer"
	"railwright/internal/schedule"
)

// inOtherProgram opens a workbook in an independent spreadsheet program without a screen, lets it write
// each sheet as CSV with its raw values, and returns the cells.
func inOtherProgram(t *testing.T, workbook []byte, sheets int) [][][]string {
	t.Helper()
	convert := peer.Need(t, "ssconvert")
	dir := t.TempDir()
	put(t, filepath.Join(dir, "book.xlsx"), string(workbook))
	run := exec.Command(convert, "-S", "-T", "Gnumeric_stf:stf_assistant", "-O", "format=raw separator=,", filepath.Join(dir, "book.xlsx"), filepath.Join(dir, "%n.csv"))
	run.Env = append(os.Environ(), "HOME="+dir, "LC_ALL=C.UTF-8")
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var all [][][]string
	for i := range sheets {
		r := csv.NewReader(strings.NewReader(read(t, filepath.Join(dir, fmt.Sprintf("%d.csv", i)))))
		r.FieldsPerRecord = -1
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, rows)
	}
	return all
}

// sameCell compares a cell with what the other program shows: texts sign by sign, numbers by their value.
func sameCell(c schedule.Cell, seen string) bool {
	switch c.Kind {
	case schedule.Number:
		v, err := strconv.ParseFloat(seen, 64)
		return err == nil && max(v-c.Number, c.Number-v) <= 1e-9*max(1, c.Number, -c.Number)
	case schedule.YesNo:
		return strings.EqualFold(seen, strconv.FormatBool(c.Number == 1))
	default:
		return seen == c.Text
	}
}

func compareBook(t *testing.T, tables []schedule.Table) {
	t.Helper()
	files, err := tableFiles(tables)
	if err != nil {
		t.Fatal(err)
	}
	sheets := inOtherProgram(t, files[len(files)-1].Data, len(tables))
	cells, wrong := 0, 0
	for i, x := range tables {
		if len(sheets[i]) != len(x.Rows)+1 {
			t.Errorf("%s: %d rows in the other program, want %d", x.Key, len(sheets[i]), len(x.Rows)+1)
			continue
		}
		if !slices.Equal(sheets[i][0], x.Heads) {
			t.Errorf("%s: heads %q", x.Key, sheets[i][0])
		}
		for r, row := range x.Rows {
			for c, cell := range row {
				seen := ""
				if c < len(sheets[i][r+1]) {
					seen = sheets[i][r+1][c]
				}
				if cells++; !sameCell(cell, seen) {
					if wrong++; wrong < 10 {
						t.Errorf("%s row %d, %s: %q, want %+v", x.Key, r+2, x.Heads[c], seen, cell)
					}
				}
			}
		}
	}
	t.Logf("%d cells compared", cells)
}

// The workbook of the example shows in an independent spreadsheet program, cell for cell, what the
// schedules hold.
func TestOtherProgramReadsTheWorkbook(t *testing.T) {
	peer.Need(t, "ssconvert")
	src, err := open("", true)
	if err != nil {
		t.Fatal(err)
	}
	d, err := src.plan(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	compareBook(t, src.tables(d, src.hardware, schedule.AWG))
}

// No text is run as a formula by an independent spreadsheet program, however it begins, neither from the
// workbook nor from the CSV file.
func TestOtherProgramRunsNoText(t *testing.T) {
	nasty := []string{
		"=1+1", "+1+1", "-1+1", "@SUM(1)", "=HYPERLINK(\"x\")", "\t=1+1", "'=1+1", "''", "007", "1e5", "1/2", "TRUE", "=A1+B2-K3", "-5", "3,14",
		" spaced ", "two\nlines", "\"quoted\"", "a;b,c", "Ω ±°²", "=cmd|' /C calc'!A0", "10 %",
	}
	x := schedule.Table{Key: "nasty", Title: "Nasty", Heads: []string{"text", "number"}}
	for i, s := range nasty {
		x.Rows = append(x.Rows, []schedule.Cell{{Kind: schedule.Text, Text: s}, {Kind: schedule.Number, Number: float64(i) / 8}})
	}
	compareBook(t, []schedule.Table{x})
	convert := peer.Need(t, "ssconvert")
	files, err := tableFiles([]schedule.Table{x})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	put(t, filepath.Join(dir, "in.csv"), string(files[0].Data))
	run := exec.Command(convert, filepath.Join(dir, "in.csv"), filepath.Join(dir, "out.csv"))
	run.Env = append(os.Environ(), "HOME="+dir, "LC_ALL=C.UTF-8")
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	r := csv.NewReader(strings.NewReader(read(t, filepath.Join(dir, "out.csv"))))
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range nasty {
		if strings.IndexAny(s, "=+-@\t") == 0 && s != "-5" && strings.TrimLeft(rows[i+1][0], "'") != s && rows[i+1][0] != s {
			t.Errorf("CSV cell %q became %q", s, rows[i+1][0])
		}
	}
}

// BenchmarkTableFiles writes the schedules of the example's 489 signals as CSV files and a workbook.
func BenchmarkTableFiles(b *testing.B) {
	src, err := open("", true)
	if err != nil {
		b.Fatal(err)
	}
	d, err := src.plan(context.Background(), nil)
	if err != nil {
		b.Fatal(err)
	}
	tables := src.tables(d, src.hardware, schedule.MM2)
	b.ResetTimer()
	for range b.N {
		if _, err := tableFiles(tables); err != nil {
			b.Fatal(err)
		}
	}
}

// The schedules of a folder are held against its accepted design: none, the same, or another one.
func TestTablesAreHeldAgainstTheAcceptedDesign(t *testing.T) {
	dir := yard(t)
	out := filepath.Join(dir, "out")
	write := func(accept bool) (overview, changes string) {
		t.Helper()
		if _, err := Plan(context.Background(), PlanRequest{Folder: dir, Out: out, Accept: accept}); err != nil {
			t.Fatal(err)
		}
		return read(t, filepath.Join(out, "csv", "overview.csv")), read(t, filepath.Join(out, "csv", "changes.csv"))
	}
	const heads = "of,id,change,column,before,now\n"
	if o, c := write(true); !strings.Contains(o, "compared with,no design is accepted yet\n") || c != heads {
		t.Errorf("nothing accepted: %s%s", o, c)
	}
	if o, c := write(false); !strings.Contains(o, "compared with,the accepted design") || c != heads {
		t.Errorf("the same: %s%s", o, c)
	}
	put(t, filepath.Join(dir, "signals.csv"), strings.Replace(yardSignals, "contact,PUMPS,LS-102", "pnp,PUMPS,LS-102", 1))
	if _, c := write(false); !strings.Contains(c, "signal,LS-102,changed,row,,\n") || strings.Contains(c, "signal,LS-101") {
		t.Errorf("another: %s", c)
	}
}
