package schedule_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/design/designtest"
	"railwright/internal/hardware"
	"railwright/internal/schedule"
)

// By gauge, each table of conductors has one more column and is otherwise as it was.
//
// Source: areas ASTM B258 (AWG 18: 0.823 mm2, AWG 14: 2.08, AWG 12: 3.31); that 0.75 mm2 goes by 18, 1.5
// by 14 and 2.5 by 12: the next even gauge that is not thinner.
func TestGauges(t *testing.T) {
	in := schedule.Input{Design: designtest.Sample(), Project: sampleProject()}
	metric := schedule.Make(in)
	in.Wire = schedule.AWG
	gauged := schedule.Make(in)
	want := map[string]string{"0.14": "24", "0.75": "18", "1.5": "14", "2.5": "12"}
	with := 0
	for i, g := range gauged {
		n := len(metric[i].Heads)
		if len(g.Heads) == n+1 {
			with++
			area := slices.IndexFunc(g.Heads, func(h string) bool { return h == "area_mm2" || h == "infeed_mm2" || h == "hole_mm2" })
			for r, row := range g.Rows {
				if total := g.Total && r == len(g.Rows)-1; !total && row[area].Kind == schedule.Number && print(row[n]) != want[print(row[area])] {
					t.Errorf("%s: %s mm2 is %q", g.Key, print(row[area]), print(row[n]))
				}
				g.Rows[r] = row[:n]
			}
			g.Heads = g.Heads[:n]
		}
		if g.Key == "labels_cables" { // prints the size as text
			continue
		}
		if diff := cmp.Diff(printAll(metric[i:i+1]), printAll([]schedule.Table{g})); diff != "" {
			t.Errorf("%s: %s", g.Key, diff)
		}
	}
	if with < 6 {
		t.Errorf("%d tables have gauges", with)
	}
}

// Glands come from the hardware list where it has one that seals, else by the usual ranges of metric threads.
func TestGlandsOutsideTheList(t *testing.T) {
	d := designtest.Sample()
	list := &hardware.List{
		Cables: []hardware.Cable{{Code: "pow-3x25", DiameterUM: 40_000}, {Code: "scr-2x075", DiameterUM: 6_500}, {Code: "sig-2x15", DiameterUM: 80_000}, {Code: "sig-4x075", DiameterUM: 7_000}},
		Parts: []hardware.Part{
			{Code: "g-16", Title: "gland M16, brass", Use: "gland", MinDiameterUM: 5_000, MaxDiameterUM: 10_000, Price: 30_000},
			{Code: "g-16-cheap", Title: "gland M16", Use: "gland", MinDiameterUM: 5_000, MaxDiameterUM: 10_000, Price: 20_000},
			{Code: "m16-wire", Title: "no gland", Use: "other", MinDiameterUM: 5_000, MaxDiameterUM: 10_000},
		},
	}
	list.Sort()
	x := get(t, schedule.Make(schedule.Input{Design: d, Project: sampleProject(), Hardware: list}), "glands")
	got := [][]string{}
	for _, r := range x.Rows {
		got = append(got, []string{print(r[0]), print(r[2]), print(r[9]), print(r[11])})
	}
	// Two cables of 40 mm: M63 by the usual ranges. 80 mm fits no metric gland and is left out.
	want := [][]string{{"g-16-cheap", "M16", "4", "8"}, {"M63", "M63", "4", ""}, {"total", "", "8", "8"}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Cores bear the colours that the hardware list says, else numbers; pairs of extension cables their pair
// and the colour of the thermocouple.
//
// Source: codes IEC 60757 table 1; extension cable of type K green and white, IEC 60584-3 (from memory).
func TestMarks(t *testing.T) {
	d := designtest.Sample()
	list := &hardware.List{Cables: []hardware.Cable{
		{Code: "scr-2x075", Family: "thermocouple-K", Cores: 2, Class: 5},
		{Code: "sig-2x15", Cores: 2, Class: 1, Colours: []string{"BN", "BU"}},
		{Code: "sig-4x075", Family: "thermocouple-K", Cores: 4, Class: 5},
	}}
	list.Sort()
	wires := get(t, schedule.Make(schedule.Input{Design: d, Project: sampleProject(), Hardware: list}), "wires")
	var got []string
	for i, mark := range column(t, wires, "mark") {
		got = append(got, print(column(t, wires, "id")[i])+" "+print(mark)+" "+print(column(t, wires, "ferrule_colour")[i]))
	}
	want := []string{
		"C-1/1 1 GN grey", "C-1/2 1 WH grey", "C-1/3 2 GN grey", "C-1/4 2 WH grey", // two pairs
		"C-2/1 BN ", "C-2/2 BU ", // solid: no ferrule
		"C-3/1 GN grey", "C-3/2 WH grey",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
