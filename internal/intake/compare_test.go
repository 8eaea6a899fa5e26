package intake_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"railwright/internal/intake"
	"railwright/internal/project"
	"railwright/internal/tabular"
)

// anyCell draws a cell that suits its column often enough.
func anyCell(t *rapid.T, c *project.Column, n int) string {
	if c.Name == "tag" {
		return rapid.SampledFrom([]string{"PT-", "=A1+B2-K", "007-", "LS ", "-X", "TOTAL-", "@"}).Draw(t, "tag") + fmt.Sprint(n)
	}
	if !c.Required && rapid.IntRange(0, 2).Draw(t, "filled") > 0 {
		return ""
	}
	switch {
	case c.Allowed != nil:
		return rapid.SampledFrom(c.Allowed).Draw(t, c.Name)
	case c.Name == "wires":
		return rapid.SampledFrom([]string{"2", "3", "4"}).Draw(t, c.Name)
	case c.Numeric:
		return fmt.Sprint(math.Round(rapid.Float64Range(c.Min, math.Min(c.Max, 1000)).Draw(t, c.Name)*100) / 100)
	case c.Name == "supply_class":
		return rapid.SampledFrom([]string{"normal", "ups", "safety:S1"}).Draw(t, c.Name)
	case c.Name == "redundant_with" || c.Name == "safe_state" || c.Name == "id":
		return ""
	}
	return rapid.SampledFrom([]string{"a", "Filter hall 1", "Total", "x", "N/A", "0", "Pumpe, groß; neu", "=1+1", "-5", "hold", "Spare", "\"", "Ã¼", "4-20 mA", "'q"}).Draw(t, c.Name)
}

// anySignals draws a list of valid signals.
func anySignals(t *rapid.T) []project.Signal {
	var out []project.Signal
	for n := range rapid.IntRange(1, 8).Draw(t, "rows") {
		cells := map[string]string{}
		for _, c := range project.Columns() {
			v := anyCell(t, c, n)
			var probe project.Signal
			if f := c.Parse(v, &probe); f == nil || f.Severity != "error" {
				cells[c.Name] = v
			}
		}
		row, _ := project.ReadRow(func(c string) string { return cells[c] }, project.At{})
		if !row.Faulty {
			out = append(out, row.Signal)
		}
	}
	return out
}

func export(t testing.TB, signals []project.Signal, xlsx bool) []byte {
	heads, rows := intake.Rows(signals)
	tab := tabular.Table{Name: "Signals", Cols: tabular.Heads(heads...)}
	for _, r := range rows {
		var row []tabular.Value
		for _, c := range r {
			row = append(row, tabular.T(c))
		}
		tab.Rows = append(tab.Rows, row)
	}
	var buf bytes.Buffer
	err := error(nil)
	if xlsx {
		err = tabular.WriteXLSX(&buf, []tabular.Table{tab})
	} else {
		err = tabular.WriteCSV(&buf, tab, tabular.CSVOptions{BOM: true})
	}
	if err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// Any list, exported and imported again, changes nothing.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		mine := anySignals(rt)
		if len(mine) == 0 {
			return
		}
		xlsx := rapid.Bool().Draw(rt, "xlsx")
		back := read(t, "x", export(t, mine, xlsx), intake.Options{})
		if len(back.Rejected) > 0 || back.Findings.HasErrors() {
			rt.Fatalf("rejected:\n%s", report(back))
		}
		for _, base := range [][]project.Signal{nil, mine} {
			if p := intake.Compare(base, mine, back.Signals); len(p.Changes) > 0 {
				rt.Fatalf("changes: %+v", p.Changes)
			}
		}
	})
}

// Any edit of one cell, imported again, is exactly that change.
func TestOneEdit(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		mine := anySignals(rt)
		if len(mine) == 0 {
			return
		}
		i := rapid.IntRange(0, len(mine)-1).Draw(rt, "signal")
		col := rapid.SampledFrom([]string{"tag", "description", "unit", "equipment", "remarks", "hold", "place"}).Draw(rt, "column")
		edited := append([]project.Signal(nil), mine...)
		was := project.ColumnNamed(col).Format(&edited[i])
		now := "edited " + rapid.StringMatching(`[a-z]{1,6}`).Draw(rt, "value")
		project.ColumnNamed(col).Parse(now, &edited[i])
		back := read(t, "x", export(t, edited, rapid.Bool().Draw(rt, "xlsx")), intake.Options{})
		p := intake.Compare(mine, mine, back.Signals)
		if len(p.Changes) != 1 || p.Changes[0].Kind != intake.Changed || p.Changes[0].ID != mine[i].ID || len(p.Changes[0].Cells) != 1 {
			rt.Fatalf("changes: %+v", p.Changes)
		}
		want := intake.CellChange{Column: col, Old: was, New: now, Base: was, Take: true}
		if d := cmp.Diff(want, p.Changes[0].Cells[0]); d != "" {
			rt.Fatal(d)
		}
		after := p.Apply(mine)
		if d := cmp.Diff(lines(edited), lines(after)); d != "" {
			rt.Fatal(d)
		}
	})
}

func sig(t testing.TB, cells ...string) project.Signal {
	t.Helper()
	m := map[string]string{"kind": "AI", "place": "p"}
	for i := 0; i+1 < len(cells); i += 2 {
		m[cells[i]] = cells[i+1]
	}
	row, f := project.ReadRow(func(c string) string { return m[c] }, project.At{})
	if row.Faulty {
		t.Fatal(f)
	}
	return row.Signal
}

func TestThreeWay(t *testing.T) {
	base := []project.Signal{sig(t, "tag", "PT-1", "description", "Pressure", "unit", "bar"), sig(t, "tag", "PT-2", "description", "Gone"), sig(t, "tag", "LT-3", "description", "Level of the raw water tank")}
	mine := append([]project.Signal(nil), base...)
	mine[0].Tag, mine[0].Unit = "PT-1001", "kPa" // renamed here (the id stays), unit changed here
	mine = append(mine, sig(t, "tag", "XX-9", "description", "of another department"))
	incoming := []project.Signal{
		sig(t, "tag", "PT-1", "description", "Pressure of pump 1", "unit", "mbar"),
		sig(t, "tag", "LIT-3", "description", "Level of raw water tank"),
		sig(t, "tag", "FT-4", "description", "Flow"),
	}
	p := intake.Compare(base, mine, incoming)
	var got []string
	for _, c := range p.Changes {
		line := fmt.Sprintf("%s %s>%s take=%v", c.Kind, c.Tag, c.NewTag, c.Take)
		for _, cell := range c.Cells {
			line += fmt.Sprintf(" %s:%s>%s conflict=%v take=%v", cell.Column, cell.Old, cell.New, cell.Conflict, cell.Take)
		}
		got = append(got, line)
	}
	want := []string{
		"changed PT-1001>PT-1 take=true description:Pressure>Pressure of pump 1 conflict=false take=true unit:kPa>mbar conflict=true take=false",
		"removed PT-2> take=true",
		"removed LT-3> take=false",
		"added LIT-3> take=true",
		"added FT-4> take=true",
		"renamed LT-3>LIT-3 take=false tag:LT-3>LIT-3 conflict=false take=true description:Level of the raw water tank>Level of raw water tank conflict=false take=true",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if len(p.Findings) != 2 {
		t.Errorf("findings %v", p.Findings)
	}
	p.Changes[5].Take = true // yes, it was renamed
	after := p.Apply(mine)
	if d := cmp.Diff([]string{"PT-1 PT-1001", "LT-3 LIT-3", "XX-9 XX-9", "FT-4 FT-4"}, ids(after)); d != "" {
		t.Error(d)
	}
}

func ids(list []project.Signal) []string {
	var out []string
	for _, s := range list {
		out = append(out, s.ID+" "+s.Tag)
	}
	return out
}

// A new signal never gets the id of another one, not even of one that was renamed.
func TestIDsAreNotReused(t *testing.T) {
	mine := []project.Signal{sig(t, "tag", "A-1", "id", "B-1"), sig(t, "tag", "C-1")}
	incoming := []project.Signal{sig(t, "tag", "A-1"), sig(t, "tag", "C-1"), sig(t, "tag", "B-1")}
	p := intake.Compare(nil, mine, incoming)
	if d := cmp.Diff([]string{"B-1 A-1", "C-1 C-1", "B-1~2 B-1"}, ids(p.Apply(mine))); d != "" {
		t.Error(d)
	}
}

// A later revision of a foreign list changes what it says and nothing that it does not speak of.
func TestForeignRevision(t *testing.T) {
	first := readText(t, "Tag,Service,Type,Range,Unit,Location", "PT-1,Pressure,AI,0-10,bar,Hall", "LS-2,Level switch,DI,,,Hall")
	mine := append([]project.Signal(nil), first.Signals...)
	mine[0].Segregate, mine[0].Active, mine[0].Station = "A", "active", "S1"
	second := readText(t, "Tag,Service,Type,Range,Unit,Location", "PT-1,Pressure,AI,0-16,bar,Hall", "LS-2,Level switch,DI,,,Hall")
	p := intake.Compare(first.Signals, mine, second.Signals)
	if len(p.Changes) != 1 || len(p.Changes[0].Cells) != 1 || p.Changes[0].Cells[0].Column != "range_high" {
		t.Errorf("changes %+v", p.Changes)
	}
	after := p.Apply(mine)
	if s := signalLine(&after[0]); !strings.Contains(s, "range_high=16") || !strings.Contains(s, "active=active") || !strings.Contains(s, "station=S1") {
		t.Error(s)
	}
}
