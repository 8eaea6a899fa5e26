package schedule_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/design"
	"railwright/internal/design/designtest"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/schedule"
)

var update = flag.Bool("update", false, "write the golden files anew")

// sampleProject holds the signals of designtest.Sample as a list would.
func sampleProject() *project.Project {
	return &project.Project{Basis: project.DefaultBasis(), Signals: []project.Signal{
		{ID: "s4", Tag: "LT-1", Description: "level", Kind: project.AI, Form: "4-20ma", Active: "passive", Place: "TANK", Device: "LT-1", RangeLow: q.Some(0.0), RangeHigh: q.Some(6.5), Unit: "m", SupplyClass: "normal"},
		{ID: "s1", Tag: "LS-1", Description: "sump high", Kind: project.DI, Form: "contact", Contact: "NC", Place: "PUMP", Device: "LS-1", SupplyClass: "normal", Hold: "contact to be confirmed"},
		{ID: "s2", Tag: "=A1-LS-2", Kind: project.DI, Form: "contact", Place: "PUMP", Device: "LS-1", SupplyClass: "normal"},
		{ID: "s3", Tag: "P-1", Kind: project.DO, Form: "24v", Place: "PUMP", Device: "P-1", SupplyClass: "normal", Current: q.Some(q.Current(0.25)), SafeState: "0"},
		{ID: "s5", Tag: "QT-9", Kind: project.AI, Form: "4-20ma", Place: "LAKE", SupplyClass: "normal"},
	}}
}

func print(c schedule.Cell) string {
	switch c.Kind {
	case schedule.Text:
		return c.Text
	case schedule.Number:
		return q.Short(c.Number)
	case schedule.YesNo:
		return fmt.Sprint(c.Number == 1)
	default:
		return ""
	}
}

func printAll(tables []schedule.Table) string {
	var b strings.Builder
	for _, t := range tables {
		fmt.Fprintf(&b, "== %s: %s\n%s\n", t.Key, t.Title, strings.Join(t.Heads, " | "))
		for _, r := range t.Rows {
			var cells []string
			for _, c := range r {
				cells = append(cells, print(c))
			}
			b.WriteString(strings.Join(cells, " | ") + "\n")
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func TestGolden(t *testing.T) {
	got := printAll(schedule.All(designtest.Sample(), sampleProject()))
	path := filepath.Join("testdata", "sample.txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Error(diff)
	}
}

func get(t *testing.T, tables []schedule.Table, key string) schedule.Table {
	t.Helper()
	i := slices.IndexFunc(tables, func(x schedule.Table) bool { return x.Key == key })
	if i < 0 {
		t.Fatalf("no table %s", key)
	}
	return tables[i]
}

func column(t *testing.T, x schedule.Table, head string) []schedule.Cell {
	t.Helper()
	i := slices.Index(x.Heads, head)
	if i < 0 {
		t.Fatalf("table %s has no column %s", x.Key, head)
	}
	var cells []schedule.Cell
	for _, r := range x.Rows {
		cells = append(cells, r[i])
	}
	return cells
}

// CheckTotals holds the totals of the tables against the design's own sums.
func checkTotals(t *testing.T, d *design.Design, tables []schedule.Table) {
	t.Helper()
	last := func(key, head string) float64 {
		x := get(t, tables, key)
		if !x.Total {
			t.Fatalf("table %s has no total", key)
		}
		return column(t, x, head)[len(x.Rows)-1].Number
	}
	for _, key := range []string{"parts", "parts_for"} {
		if got, want := q.ToMoney(last(key, "sum")+d.Cost.Parts["labour"]), q.ToMoney(d.Cost.Total); near(got, want) {
			t.Errorf("%s: parts and labour are %s, the design's total is %s", key, got, want)
		}
	}
	if got, want := q.ToMoney(last("labour", "price")), q.ToMoney(d.Cost.Parts["labour"]); near(got, want) {
		t.Errorf("labour is %s, the design says %s", got, want)
	}
}

// near: parts and labour are each rounded to 0.01 once.
func near(a, b q.Money) bool { return max(a-b, b-a) > q.MoneyUnit/100 }

func TestTotals(t *testing.T) {
	d := designtest.Sample()
	checkTotals(t, d, schedule.All(d, sampleProject()))
}

// TestComplete: each thing of the design stands in its table once.
func TestComplete(t *testing.T) {
	d, p := designtest.Sample(), sampleProject()
	tables := schedule.All(d, p)
	channels, placed := 0, 0
	for _, s := range d.Stations {
		for _, sl := range s.Slots {
			channels += len(sl.Channels)
			for _, c := range sl.Channels {
				if c.Signal != nil {
					placed++
				}
			}
		}
	}
	for key, want := range map[string]int{
		"signals": len(p.Signals), "stations": len(d.Stations), "channels": channels, "addresses": channels,
		"cables": len(d.Cables) + 1, "wires": len(d.Wires), "findings": len(d.Findings), "unplaced": len(d.Unplaced),
		"supplies": len(d.Supplies), "feeders": len(d.Feeders), "protections": len(d.Protections),
		"network_cables": len(d.Network.Segments), "network_addresses": len(d.Network.Addresses), "parts_for": len(d.Parts) + 1, "labour": len(d.Labour) + 1,
	} {
		if got := len(get(t, tables, key).Rows); got != want {
			t.Errorf("%s has %d rows, want %d", key, got, want)
		}
	}
	n := 0
	for _, c := range column(t, get(t, tables, "signals"), "station") {
		if c.Kind == schedule.Text {
			n++
		}
	}
	if n != placed {
		t.Errorf("the signal list places %d signals, the design %d", n, placed)
	}
}

// TestFaultyRows: a row that could not be read stands in the issued list all the same.
func TestFaultyRows(t *testing.T) {
	d, p := designtest.Sample(), sampleProject()
	p.Signals = slices.DeleteFunc(p.Signals, func(s project.Signal) bool { return s.ID == "s5" })
	x := get(t, schedule.All(d, p), "signals")
	row := x.Rows[len(x.Rows)-1]
	if i := slices.Index(x.Heads, "state"); row[0].Text != "QT-9" || !strings.HasPrefix(row[i].Text, "unplaced: place") {
		t.Errorf("row %v", row)
	}
}

// TestOrder: neither the list's row order nor a second run changes a table.
func TestOrder(t *testing.T) {
	p := sampleProject()
	a := printAll(schedule.All(designtest.Sample(), p))
	slices.Reverse(p.Signals)
	if diff := cmp.Diff(a, printAll(schedule.All(designtest.Sample(), p))); diff != "" {
		t.Error(diff)
	}
}

// TestEmpty: a design without anything still gives every table, without total rows.
func TestEmpty(t *testing.T) {
	d := &design.Design{Format: design.Format}
	tables := schedule.All(d, &project.Project{})
	full := schedule.All(designtest.Sample(), sampleProject())
	if len(tables) != len(full) {
		t.Errorf("%d tables, want %d", len(tables), len(full))
	}
	for i, x := range tables {
		if x.Total || !slices.Equal(x.Heads, full[i].Heads) {
			t.Errorf("table %s of an empty design: total %v, heads %v", x.Key, x.Total, x.Heads)
		}
	}
}

// TestUntouched: making tables changes nothing in the design.
func TestUntouched(t *testing.T) {
	d := designtest.Sample()
	before, err := design.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	schedule.All(d, sampleProject())
	after, err := design.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(before, after) {
		t.Error("the design was changed")
	}
}
