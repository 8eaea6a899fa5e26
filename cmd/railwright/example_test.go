package main

import (
	"bytes"
	"context"
	"slices"
	"sync"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"railwright/internal/app"
	"railwright/internal/design"
	"railwright/internal/finding"
	q "railwright/internal/quantity"
	"railwright/internal/schedule"
)

// example plans the built-in example once for all tests.
var example = sync.OnceValues(func() (*app.PlanResult, error) {
	return app.Plan(context.Background(), app.PlanRequest{Example: true})
})

func planned(t *testing.T) *app.PlanResult {
	t.Helper()
	r, err := example()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestExampleClean: the example plans without an error finding and places every signal.
func TestExampleClean(t *testing.T) {
	d := planned(t).Design
	for _, f := range d.Findings {
		if f.Severity == finding.Error {
			t.Error(f)
		}
	}
	for _, u := range d.Unplaced {
		t.Errorf("unplaced: %s: %s", u.Tag, u.Why)
	}
	if !d.Input.Complete {
		t.Error("not complete")
	}
}

// TestExampleSchema: the example's design.json is valid by a general JSON Schema library, without any
// unknown key.
func TestExampleSchema(t *testing.T) {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(design.Schema(true)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("design.schema.json", v); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("design.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	data, err := jsonschema.UnmarshalJSON(bytes.NewReader(planned(t).JSON))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(data); err != nil {
		t.Error(err)
	}
}

// TestExampleReadsBack: Decode and Encode give the same bytes.
func TestExampleReadsBack(t *testing.T) {
	want := planned(t).JSON
	d, err := design.Decode(want)
	if err != nil {
		t.Fatal(err)
	}
	got, err := design.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("bytes differ after reading back")
	}
}

// TestExampleTotals: the totals that the schedules print are the design's own sums.
func TestExampleTotals(t *testing.T) {
	r := planned(t)
	d := r.Design
	last := func(key, head string) q.Money {
		for _, x := range schedule.All(d, r.Project) {
			if x.Key == key {
				return q.ToMoney(x.Rows[len(x.Rows)-1][slices.Index(x.Heads, head)].Number)
			}
		}
		t.Fatal("no table", key)
		return 0
	}
	const cent = q.MoneyUnit / 100
	near := func(what string, got, want q.Money) {
		if diff := max(got-want, want-got); diff > 2*cent { // each figure is rounded to 0.01 once
			t.Errorf("%s: %s, the design says %s", what, got, want)
		}
	}
	labour := last("labour", "price")
	near("parts and labour", last("parts", "sum")+labour, q.ToMoney(d.Cost.Total))
	near("parts by use and labour", last("parts_for", "sum")+labour, q.ToMoney(d.Cost.Total))
	near("labour", labour, q.ToMoney(d.Cost.Parts["labour"]))
	classes := q.Money(0)
	for _, v := range d.Cost.Parts {
		classes += q.ToMoney(v)
	}
	if diff := max(classes-q.ToMoney(d.Cost.Total), q.ToMoney(d.Cost.Total)-classes); diff > q.Money(len(d.Cost.Parts))*cent {
		t.Errorf("the classes sum to %s, the total is %s", classes, q.ToMoney(d.Cost.Total))
	}
}

// TestExampleSchedules: every signal of the list stands in the issued list with an address and a
// terminal, and every landed wire on its terminal in the terminal plan.
func TestExampleSchedules(t *testing.T) {
	r := planned(t)
	tables := map[string]schedule.Table{}
	for _, x := range schedule.All(r.Design, r.Project) {
		tables[x.Key] = x
	}
	cell := func(x schedule.Table, row int, head string) schedule.Cell {
		return x.Rows[row][slices.Index(x.Heads, head)]
	}
	signals := tables["signals"]
	if len(signals.Rows) != len(r.Project.Signals) {
		t.Errorf("%d rows for %d signals", len(signals.Rows), len(r.Project.Signals))
	}
	for i := range signals.Rows {
		for _, head := range []string{"station", "slot", "channel", "address", "terminals", "supply_group", "cable"} {
			if cell(signals, i, head).Kind == schedule.Empty {
				t.Errorf("signal %s has no %s", cell(signals, i, "tag").Text, head)
			}
		}
	}
	landed := 0
	terminals := tables["terminals"]
	for i := range terminals.Rows {
		if cell(terminals, i, "core").Kind != schedule.Empty {
			landed++
		}
	}
	field := 0
	fields := map[string]bool{}
	for _, c := range r.Design.Cables {
		fields[c.ID] = c.Use == "field"
	}
	for _, w := range r.Design.Wires {
		if fields[w.Cable] && w.Signal != "" {
			field++
		}
	}
	if landed != field {
		t.Errorf("%d wires on terminals, the design has %d field wires", landed, field)
	}
}
