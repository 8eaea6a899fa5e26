package schedule_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"pgregory.net/rapid"

	"railwright/internal/schedule"
)

// near compares sums of metres and money.
func nearly(a, b float64) bool { return math.Abs(a-b) < 0.005 }

// counts: each thing of the design stands in its schedule as often as it must, and each total is the design's.
func counts(t rapid.TB, in schedule.Input, tables []schedule.Table) {
	d := in.Design
	channels, clamps, routed, slots := 0, 0, 0, 0
	for _, s := range d.Stations {
		slots += len(s.Slots)
		for _, sl := range s.Slots {
			m, _ := in.Hardware.Module(sl.Module)
			for _, set := range m.Channels {
				labels := map[string]bool{}
				for _, x := range set.Terminals {
					labels[x.Label] = true
				}
				clamps += set.Count * len(labels)
			}
			channels += len(sl.Channels)
		}
	}
	for _, c := range d.Cables {
		routed += len(c.Route)
	}
	hold := 0
	for _, s := range in.Project.Signals {
		if s.Hold != "" {
			hold++
		}
	}
	for key, want := range map[string]int{
		"signals": len(in.Project.Signals), "holds": hold, "channels": channels, "addresses": channels, "settings": channels,
		"stations": len(d.Stations), "station_settings": len(d.Stations), "labels_stations": len(d.Stations),
		"slots": slots, "labels_modules": slots, "labels_terminals": clamps,
		"cables": len(d.Cables), "pulls": len(d.Cables), "drum_cuts": len(d.Cables), "labels_cables": 2 * len(d.Cables),
		"wires": len(d.Wires), "labels_wires": 2 * len(d.Wires), "findings": len(d.Findings), "parts_for": len(d.Parts), "labour": len(d.Labour),
		"supply_groups": groupsOf(in), "protections": len(d.Protections), "feeders": len(d.Feeders), "supplies": len(d.Supplies),
	} {
		if got := len(gridOf(t, tables, key).Rows); got != want {
			t.Errorf("%s has %d rows, want %d", key, got, want)
		}
	}
	on := 0.0
	ways := gridOf(t, tables, "route_sections")
	for i := range ways.Rows {
		on += ways.number(i, "cables")
	}
	if on != float64(routed) {
		t.Errorf("%g cables lie in the ways, the design has %d", on, routed)
	}
	if clampsIn := distinct(gridOf(t, tables, "terminals"), "station", "slot", "terminal"); clampsIn != distinct(gridOf(t, tables, "labels_terminals"), "station", "slot", "terminal") {
		t.Errorf("%d clamping points in the plan, %d have labels", clampsIn, clamps)
	}
	money(t, in, tables)
}

func groupsOf(in schedule.Input) int {
	n := 0
	for _, s := range in.Design.Stations {
		n += len(s.SupplyGroups)
	}
	return n
}

func distinct(g grid, heads ...string) int {
	seen := map[string]bool{}
	for i := range g.Rows {
		key := ""
		for _, h := range heads {
			key += g.at(i, h) + "\x00"
		}
		seen[key] = true
	}
	return len(seen)
}

// money: parts and labour add up to the design's total, metres to its parts.
func money(t rapid.TB, in schedule.Input, tables []schedule.Table) {
	d := in.Design
	metres, ordered, laid := 0.0, 0.0, 0.0
	for _, p := range d.Parts {
		if p.Unit == "m" {
			metres += p.Count
		}
	}
	for _, c := range d.Cables {
		ordered, laid = ordered+c.OrderM, laid+c.LengthM
	}
	for what, pair := range map[string][2]float64{
		"parts by class":        {total(t, tables, "parts", "sum") + total(t, tables, "labour", "price"), d.Cost.Total},
		"parts by use":          {total(t, tables, "parts_for", "sum") + total(t, tables, "labour", "price"), d.Cost.Total},
		"metres laid":           {total(t, tables, "cables", "length_m"), laid},
		"metres ordered":        {total(t, tables, "cables", "order_m"), ordered},
		"metres of parts":       {metres, ordered},
		"metres used of drums":  {total(t, tables, "drums", "used_m"), ordered},
		"metres of cuts":        {total(t, tables, "drum_cuts", "cut_m"), ordered},
		"metres used and left":  {total(t, tables, "drums", "used_m") + total(t, tables, "drums", "left_m"), total(t, tables, "drums", "drum_m")},
		"cuts of the drum list": {total(t, tables, "drums", "cuts"), float64(len(d.Cables))},
	} {
		if math.Abs(pair[0]-pair[1]) > 0.021 { // two sums, each rounded to 0.01
			t.Errorf("%s: %g, the design says %g", what, pair[0], pair[1])
		}
	}
}

// drums: cuts of one drum follow each other without gap or overlap and end within it; each cable is cut once.
func drums(t rapid.TB, in schedule.Input, tables []schedule.Table) {
	list, cuts := gridOf(t, tables, "drums"), gridOf(t, tables, "drum_cuts")
	length, at, seen := map[string]float64{}, map[string]float64{}, map[string]bool{}
	usual := []float64{100, 250, 500, 1000}
	for i := range list.Rows {
		length[list.at(i, "drum")] = list.number(i, "drum_m")
		if made := list.at(i, "made_to_length") == "true"; made == slices.Contains(usual, list.number(i, "drum_m")) {
			t.Errorf("drum %s of %g m: made to length %v", list.at(i, "drum"), list.number(i, "drum_m"), made)
		}
	}
	order := map[string]float64{}
	for _, c := range in.Design.Cables {
		order[c.ID] = c.OrderM
	}
	for i := range cuts.Rows {
		drum, id := cuts.at(i, "drum"), cuts.at(i, "cable_id")
		if !nearly(cuts.number(i, "from_m"), at[drum]) || !nearly(cuts.number(i, "to_m"), at[drum]+order[id]) || seen[id] {
			t.Errorf("cut %s of %s: from %g to %g, the drum is cut up to %g", id, drum, cuts.number(i, "from_m"), cuts.number(i, "to_m"), at[drum])
		}
		seen[id] = true
		at[drum] = cuts.number(i, "to_m")
		if left := cuts.number(i, "left_m"); left < 0 || !nearly(left, length[drum]-at[drum]) {
			t.Errorf("%g m left on %s after %s", left, drum, id)
		}
	}
}

// pulls: cables from one hub with the same first sections follow each other; the longest of a hub leads
// where it shares the first section of all.
func pulls(t rapid.TB, in schedule.Input, tables []schedule.Table) {
	list := gridOf(t, tables, "pulls")
	done := map[string]int{} // hub and beginning of a way -> last row
	for i := range list.Rows {
		way := strings.Fields(list.at(i, "way"))
		key := list.at(i, "use") + "|" + list.at(i, "hub") + "|"
		for n := 0; n <= len(way); n++ {
			if n > 0 {
				key += way[n-1] + " "
			}
			if last, ok := done[key]; ok && last != i-1 {
				t.Errorf("%s: what begins with %q is torn apart at row %d", list.at(i, "cable"), key, i)
			}
			done[key] = i
		}
		if list.at(i, "order") != strconv.Itoa(i+1) {
			t.Errorf("row %d has order %s", i, list.at(i, "order"))
		}
	}
	cables := gridOf(t, tables, "cables")
	for i := range cables.Rows {
		row := int(cables.number(i, "pull_order")) - 1
		if list.at(row, "cable_id") != cables.at(i, "id") || list.at(row, "drum") != cables.at(i, "drum") {
			t.Errorf("cable %s is not row %d of the pull list", cables.at(i, "id"), row)
		}
	}
}

// cores: of a cable with landed cores, each core is a wire or a spare, and never both.
func cores(t rapid.TB, in schedule.Input, tables []schedule.Table) {
	state := map[string]int{}
	wires, spare := gridOf(t, tables, "wires"), gridOf(t, tables, "spare_cores")
	for i := range wires.Rows {
		if c := wires.at(i, "cable_id"); c != "" {
			state[c+"/"+wires.at(i, "core")]++
		}
	}
	for i := range spare.Rows {
		state[spare.at(i, "cable_id")+"/"+spare.at(i, "core")]++
	}
	want := 0
	for _, c := range in.Design.Cables {
		if c.Use != "field" {
			continue
		}
		want += c.Cores
		for n := 1; n <= c.Cores; n++ {
			if got := state[fmt.Sprintf("%s/%d", c.ID, n)]; got != 1 {
				t.Errorf("core %d of %s stands %d times", n, c.ID, got)
			}
		}
	}
	if len(state) != want {
		t.Errorf("%d cores, the field cables have %d", len(state), want)
	}
}

// ends: each end that the design pays for has a ferrule unless its wire is solid, and each cable end a gland.
func ends(t rapid.TB, in schedule.Input, tables []schedule.Table) {
	tips, cableEnds := 0.0, 0.0
	for _, l := range in.Design.Labour {
		switch {
		case l.Task == "termination" && l.For == "field cables":
			tips += l.Count
		case l.Task == "cable_end" || l.Task == "network_end":
			cableEnds += l.Count
		}
	}
	types, solid := map[string]string{}, 0.0
	for _, c := range in.Design.Cables {
		types[c.ID] = c.Type
	}
	for _, w := range in.Design.Wires {
		if k, ok := in.Hardware.Cable(types[w.Cable]); ok && k.Class == 1 {
			solid += 2
		}
	}
	if got := total(t, tables, "ferrules", "field"); got+solid != tips {
		t.Errorf("%g ferrules in the field and %g solid ends, %g wire ends are paid for", got, solid, tips)
	}
	if got := total(t, tables, "glands", "count"); got != cableEnds {
		t.Errorf("%g glands, %g cable ends are paid for", got, cableEnds)
	}
	plates := gridOf(t, tables, "gland_plates")
	holes := 0.0
	for i := range plates.Rows {
		holes += plates.number(i, "count")
	}
	if got := total(t, tables, "glands", "stations"); got != holes {
		t.Errorf("%g glands at stations, %g holes in their plates", got, holes)
	}
}

// marks: the + core of a thermocouple bears the colour of its type and the - core is white.
//
// Source: IEC 60584-3:2007 (from memory), codes IEC 60757.
func marks(t rapid.TB, in schedule.Input, tables []schedule.Table) {
	colour := map[string]string{"K": "GN", "J": "BK", "T": "BN", "E": "VT", "N": "PK", "R": "OG", "S": "OG", "B": "GY"}
	wires := gridOf(t, tables, "wires")
	for i := range wires.Rows {
		s := signalOf(in.Project, wires.at(i, "signal_id"))
		mark := wires.at(i, "mark")
		if s == nil || s.Kind != "TC" {
			if mark != wires.at(i, "core") {
				t.Errorf("core %s is marked %q", wires.at(i, "core"), mark)
			}
			continue
		}
		want := "WH"
		if strings.HasSuffix(wires.at(i, "from"), "+") {
			want = colour[s.Sensor]
		}
		if !strings.HasSuffix(mark, want) {
			t.Errorf("%s: core %s of type %s is marked %q, want %s", wires.at(i, "from"), wires.at(i, "core"), s.Sensor, mark, want)
		}
	}
}
