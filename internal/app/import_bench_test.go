package app

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"railwright/internal/tabular"
)

// longList writes a foreign list of n rows and 18 columns as CSV or XLSX.
func longList(b *testing.B, path string, n int) {
	b.Helper()
	t := tabular.Table{Name: "IO List", Cols: tabular.Heads("Item", "Tag No", "Service", "I/O Type", "Signal", "Range Min", "Range Max", "Units", "L", "H", "Location", "Equipment No", "P&ID", "JB", "Rack", "Slot", "Channel", "Rev")}
	kinds := [][]string{{"AI", "4-20mA 2-wire HART", "0", "16", "bar", "2", "14"}, {"DI", "24VDC", "", "", "", "", ""}, {"DO", "24VDC 12W", "", "", "", "", ""}, {"AI", "Pt100 3-wire", "-20", "150", "degC", "", ""}}
	for i := range n {
		k := kinds[i%len(kinds)]
		row := []string{
			fmt.Sprint(i + 1), fmt.Sprintf("%s-%05d", []string{"PT", "LS", "XV", "TE"}[i%4], i), fmt.Sprintf("Pump %d, header %d of the sea water system", i%700, i), k[0], k[1], k[2], k[3], k[4], k[5], k[6],
			fmt.Sprintf("Hall %d", i%40), fmt.Sprintf("P-%d", i%700), fmt.Sprintf("PID-%d", i%90), fmt.Sprintf("JB-%d", i%300), fmt.Sprint(i / 512), fmt.Sprint(i/16%32 + 1), fmt.Sprint(i%16 + 1), "B",
		}
		vals := make([]tabular.Value, len(row))
		for c, s := range row {
			vals[c] = tabular.T(s)
		}
		t.Rows = append(t.Rows, vals)
	}
	var buf bytes.Buffer
	var err error
	if filepath.Ext(path) == ".xlsx" {
		err = tabular.WriteXLSX(&buf, []tabular.Table{t})
	} else {
		err = tabular.WriteCSV(&buf, t, tabular.CSVOptions{})
	}
	if err == nil {
		err = os.WriteFile(path, buf.Bytes(), 0o644)
	}
	if err != nil {
		b.Fatal(err)
	}
}

// peakHeap reports the highest heap in use while f runs, looked at every two milliseconds.
func peakHeap(b *testing.B, f func()) {
	stop, done := make(chan struct{}), make(chan uint64)
	go func() {
		var m runtime.MemStats
		peak := uint64(0)
		for {
			runtime.ReadMemStats(&m)
			peak = max(peak, m.HeapInuse)
			select {
			case <-stop:
				done <- peak
				return
			case <-time.After(2 * time.Millisecond):
			}
		}
	}()
	f()
	close(stop)
	b.ReportMetric(float64(<-done)/(1<<20), "MB-heap")
}

func importOnce(b *testing.B, file, into string) {
	m, err := PrepareImport(ImportRequest{File: file, Into: into})
	if err != nil {
		b.Fatal(err)
	}
	if m.Signals != 50_000 {
		b.Fatal(m.Signals)
	}
	if err := m.Write(); err != nil {
		b.Fatal(err)
	}
}

func benchFirst(b *testing.B, name string) {
	dir := b.TempDir()
	file := filepath.Join(dir, name)
	longList(b, file, 50_000)
	for n := 0; b.Loop(); n++ {
		peakHeap(b, func() { importOnce(b, file, filepath.Join(dir, fmt.Sprint("site", n))) })
	}
}

func BenchmarkImport50kCSV(b *testing.B)  { benchFirst(b, "list.csv") }
func BenchmarkImport50kXLSX(b *testing.B) { benchFirst(b, "list.xlsx") }

// A list that was imported before: the comparison is three-way.
func BenchmarkImport50kAgain(b *testing.B) {
	dir := b.TempDir()
	file, into := filepath.Join(dir, "list.csv"), filepath.Join(dir, "site")
	longList(b, file, 50_000)
	importOnce(b, file, into)
	for b.Loop() {
		peakHeap(b, func() { importOnce(b, file, into) })
	}
}
