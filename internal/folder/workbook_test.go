package folder

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/tabular"
)

// A workbook is read from the sheet named Signals, with sheet and cell in every message.
func TestWorkbook(t *testing.T) {
	text := func(cells ...string) []tabular.Value {
		var v []tabular.Value
		for _, c := range cells {
			v = append(v, tabular.T(c))
		}
		return v
	}
	notes := tabular.Table{Name: "Notes", Cols: tabular.Heads("tag", "kind", "place"), Rows: [][]tabular.Value{text("no", "signal", "here")}}
	signals := tabular.Table{Name: "Signals", Cols: tabular.Heads("Tag", "Kind", "Form", "Place", "Current (mA)"), Rows: [][]tabular.Value{
		append(text("A", "DO", "24v", "P1"), tabular.N(4.1)),
		text("B", "DO", "24v", "P1", "12O mA"),
		append(text("C", "DO", "24v", "P1"), tabular.N(99_999)),
	}}
	var b bytes.Buffer
	if err := tabular.WriteXLSX(&b, []tabular.Table{notes, signals}); err != nil {
		t.Fatal(err)
	}
	f := Parse(Files{ProjectFile: networked(base), "signals.xlsx": b.Bytes()})
	if diff := cmp.Diff(`LST-002 signals.xlsx, sheet Signals, cell E3: current_ma "12O mA" is not a number; did you mean 120 mA?
LST-003 signals.xlsx, sheet Signals, cell E4: current_ma is 99999 mA; allowed is 0 to 20000 mA
LST-058 signals.xlsx, sheet Signals: the file has 2 sheets; this one is read
`, told(f, true)); diff != "" {
		t.Error(diff)
	}
	if len(f.Project.Signals) != 1 || f.Project.Signals[0].Current.Value.Milliamps() != 4.1 || f.ListFile != "signals.xlsx" {
		t.Errorf("%+v", f.Project.Signals)
	}
	two := Parse(Files{ProjectFile: networked(base), ListFile: []byte(baseList), "signals.xlsx": b.Bytes()})
	if got := told(two, true); got != "PRJ-051 signals.csv: the folder holds signals.csv and signals.xlsx; signals.csv is read\n" {
		t.Error(got)
	}
}

// A list in which everything is wrong is told in full.
func TestLongFaultyList(t *testing.T) {
	var b strings.Builder
	b.WriteString("tag,kind,form,place,redundant_with\n")
	for i := range 5000 {
		fmt.Fprintf(&b, "T-%d,DI,pnp,P-%d,U-%d\n", i, i, i)
	}
	f := Parse(Files{ProjectFile: networked(base), ListFile: []byte(b.String())})
	if len(f.LeftOut) != 5000 || len(f.Findings) != 10_000 {
		t.Errorf("%d left out, %d findings", len(f.LeftOut), len(f.Findings))
	}
}
