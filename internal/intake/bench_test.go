package intake_test

import (
	"bytes"
	"fmt"
	"testing"

	"railwright/internal/intake"
	"railwright/internal/intake/fromtable"
	"railwright/internal/tabular"
)

// longList is a foreign list of n rows and 25 columns.
func longList(n int) tabular.Table {
	t := tabular.Table{Name: "IO List", Cols: tabular.Heads("Item", "Tag No", "Service", "I/O Type", "Signal", "Range Min", "Range Max", "Units", "L", "H", "Location", "Equipment No", "P&ID", "JB", "Power Supply",
		"NO/NC", "Fail State", "HART", "Ex", "Rack", "Slot", "Channel", "Rev", "Cable type", "Remarks")}
	kinds := [][]string{{"AI", "4-20mA 2-wire HART", "0", "16", "bar", "2", "14"}, {"DI", "24VDC", "", "", "", "", ""}, {"DO", "24VDC 12W", "", "", "", "", ""}, {"AI", "Pt100 3-wire", "-20", "150", "degC", "", ""}}
	for i := range n {
		k := kinds[i%len(kinds)]
		row := []string{
			fmt.Sprint(i + 1), fmt.Sprintf("PT-%05d", i), fmt.Sprintf("Pump %d discharge pressure at header %d", i%700, i), k[0], k[1], k[2], k[3], k[4], k[5], k[6], fmt.Sprintf("Hall %d", i%40), fmt.Sprintf("P-%d", i%700), fmt.Sprintf("PID-%d", i%90),
			fmt.Sprintf("JB-%d", i%300), "", "", "", "", "", fmt.Sprint(i / 512), fmt.Sprint(i/16%32 + 1), fmt.Sprint(i%16 + 1), "B", "", "",
		}
		vals := make([]tabular.Value, len(row))
		for c, s := range row {
			vals[c] = tabular.T(s)
		}
		t.Rows = append(t.Rows, vals)
	}
	return t
}

func benchImport(b *testing.B, name string, data []byte) {
	b.ReportAllocs()
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		book, err := tabular.Read(name, data, tabular.Options{})
		if err != nil {
			b.Fatal(err)
		}
		if res := intake.Read(fromtable.Book(book), intake.Options{}); len(res.Signals) != 50_000 {
			b.Fatal(len(res.Signals), res.Findings[:5])
		}
	}
}

func BenchmarkImportCSV50k(b *testing.B) {
	var buf bytes.Buffer
	if err := tabular.WriteCSV(&buf, longList(50_000), tabular.CSVOptions{}); err != nil {
		b.Fatal(err)
	}
	benchImport(b, "x.csv", buf.Bytes())
}

func BenchmarkImportXLSX50k(b *testing.B) {
	var buf bytes.Buffer
	if err := tabular.WriteXLSX(&buf, []tabular.Table{longList(50_000)}); err != nil {
		b.Fatal(err)
	}
	benchImport(b, "x.xlsx", buf.Bytes())
}
