package schedule_test

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/design"
	"railwright/internal/design/designtest"
	"railwright/internal/schedule"
)

// path is one conductor from a device to a channel, as a person would follow it.
type path struct {
	device, function, cores, station, slot, terminal, channel, tag string
}

// rebuild follows every conductor from its device to a channel, from the cable schedule, the wire
// schedule and the terminal plans alone: a core leaves a device by the wire schedule, lands on a terminal
// by a plan, and where the terminal is in a box goes on with the other core that the plan has there.
func rebuild(t rapid.TB, tables []schedule.Table) []path {
	cables, wires := gridOf(t, tables, "cables"), gridOf(t, tables, "wires")
	modules, boxes, stations := gridOf(t, tables, "terminals"), gridOf(t, tables, "box_terminals"), gridOf(t, tables, "stations")
	names := map[string]string{}
	for i := range stations.Rows {
		names[stations.at(i, "id")] = stations.at(i, "name")
	}
	ends := map[string][2]string{} // cable name -> its ends
	for i := range cables.Rows {
		ends[cables.at(i, "name")] = [2]string{cables.at(i, "from"), cables.at(i, "to")}
	}
	type core struct{ cable, core string }
	land := map[core][]int{} // rows of the module plan
	for i := range modules.Rows {
		if modules.at(i, "cable") != "" {
			k := core{modules.at(i, "cable"), modules.at(i, "core")}
			land[k] = append(land[k], i)
		}
	}
	onBox, meets := map[core][]string{}, map[string][]core{}
	for i := range boxes.Rows {
		if boxes.at(i, "cable") != "" {
			k, here := core{boxes.at(i, "cable"), boxes.at(i, "core")}, boxes.at(i, "box")+"/"+boxes.at(i, "terminal")
			onBox[k] = append(onBox[k], here)
			meets[here] = append(meets[here], k)
		}
	}
	ids := map[string]string{}
	for id, name := range names {
		ids[name] = id
	}
	planned := map[string]bool{} // cable, core and terminal by the plans
	for i := range modules.Rows {
		planned[fmt.Sprintf("%s/%s at station:%s/%s/%s", modules.at(i, "cable"), modules.at(i, "core"), ids[modules.at(i, "station")], modules.at(i, "slot"), modules.at(i, "terminal"))] = true
	}
	for i := range boxes.Rows {
		planned[fmt.Sprintf("%s/%s at junction_box:%s/%s", boxes.at(i, "cable"), boxes.at(i, "core"), boxes.at(i, "box"), boxes.at(i, "terminal"))] = true
	}
	var out []path
	for i := range wires.Rows {
		for _, end := range []string{wires.at(i, "from"), wires.at(i, "to")} {
			if here := wires.at(i, "cable") + "/" + wires.at(i, "core") + " at " + end; wires.at(i, "cable") != "" && !strings.HasPrefix(end, "device:") && !planned[here] {
				t.Fatalf("no plan has core %s", here)
			}
		}
		from, rest, ok := strings.Cut(wires.at(i, "from"), ":")
		if !ok || from != "device" {
			continue
		}
		k := core{wires.at(i, "cable"), wires.at(i, "core")}
		if !strings.HasPrefix(wires.at(i, "from"), ends[k.cable][0]+"/") {
			t.Fatalf("core %v leaves %s, its cable %s", k, wires.at(i, "from"), ends[k.cable][0])
		}
		p := path{device: strings.TrimPrefix(ends[k.cable][0], "device:"), function: rest[strings.LastIndexByte(rest, '/')+1:]}
		for came := ""; ; {
			p.cores += k.cable + "/" + k.core + " "
			ahead := slices.DeleteFunc(slices.Clone(onBox[k]), func(x string) bool { return x == came })
			if len(ahead) == 0 {
				break
			}
			came = ahead[0]
			next := slices.DeleteFunc(slices.Clone(meets[came]), func(x core) bool { return x == k })
			if len(next) != 1 {
				t.Fatalf("%d cores meet core %v on %s", len(next), k, came)
			}
			k = next[0]
		}
		rows := land[k]
		if len(rows) != 1 {
			t.Fatalf("core %v stands %d times in the terminal plan", k, len(rows))
		}
		r := rows[0]
		p.station, p.slot, p.terminal = modules.at(r, "station"), modules.at(r, "slot"), modules.at(r, "terminal")
		p.channel, p.tag = modules.at(r, "channel"), modules.at(r, "tag")
		if id := strings.TrimPrefix(ends[k.cable][1], "station:"); names[id] != p.station {
			t.Fatalf("core %v lands in %s, its cable ends at %s", k, p.station, ends[k.cable][1])
		}
		if tag := wires.at(i, "tag"); tag != p.tag {
			t.Fatalf("core %v leaves its device for %s and lands for %s", k, tag, p.tag)
		}
		if f := modules.at(r, "function"); f != p.function {
			t.Fatalf("core %v is %s at the device and %s at the channel", k, p.function, f)
		}
		out = append(out, p)
	}
	return out
}

// designed is the same from the design itself: the channels of the placed signals and the wires.
func designed(t rapid.TB, in schedule.Input) []path {
	d := in.Design
	next, cables := map[string][]*design.Wire{}, map[string]*design.Cable{}
	for i := range d.Cables {
		cables[d.Cables[i].ID] = &d.Cables[i]
	}
	for i := range d.Wires {
		next[d.Wires[i].To] = append(next[d.Wires[i].To], &d.Wires[i])
	}
	var out []path
	for _, st := range d.Stations {
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				if c.Signal == nil {
					continue
				}
				device := ""
				if s := signalOf(in.Project, c.SignalID); s != nil {
					device = cmp.Or(s.Device, s.Tag)
				}
				labels := slices.Compact(slices.Sorted(maps.Values(c.Terminals)))
				for _, label := range labels {
					for _, w := range next[fmt.Sprintf("station:%s/%d/%s", st.ID, sl.Slot, label)] {
						p := path{device: device, station: st.Name, slot: fmt.Sprint(sl.Slot), terminal: label, channel: fmt.Sprint(c.Channel), tag: *c.Signal}
						cores := ""
						for {
							cores = cables[w.Cable].Name + "/" + w.Core + " " + cores
							before := next[w.From]
							if len(before) == 0 {
								break
							}
							w = before[0]
						}
						p.cores, p.function = cores, w.From[strings.LastIndexByte(w.From, '/')+1:]
						out = append(out, p)
					}
				}
			}
		}
	}
	return out
}

func samePaths(t rapid.TB, got, want []path) {
	order := func(a, b path) int { return cmp.Compare(fmt.Sprint(a), fmt.Sprint(b)) }
	slices.SortFunc(got, order)
	slices.SortFunc(want, order)
	if slices.Equal(got, want) {
		return
	}
	for _, p := range got {
		if !slices.Contains(want, p) {
			t.Errorf("the schedules have %v, the design has not", p)
		}
	}
	for _, p := range want {
		if !slices.Contains(got, p) {
			t.Errorf("the design has %v, the schedules have not", p)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d conductors by the schedules, %d by the design", len(got), len(want))
	}
}

// Law: from terminal plans, wire and cable schedules alone the connections from device to channel come
// out, exactly the design's, in every construction.
func connections(t rapid.TB, in schedule.Input, tables []schedule.Table) {
	got, want := rebuild(t, tables), designed(t, in)
	samePaths(t, got, want)
	bySignal := map[string]bool{}
	for _, p := range got {
		bySignal[p.tag] = true
	}
	placed := 0
	for _, s := range in.Design.Stations {
		placed += schedule.UseOf(s).Signals
	}
	if len(bySignal) != placed {
		t.Errorf("conductors of %d signals, %d are placed", len(bySignal), placed)
	}
}

// Law: each infeed wire stands at both of its ends in the plan of the infeed points, and at no other.
func infeeds(t rapid.TB, in schedule.Input, tables []schedule.Table) {
	plan := gridOf(t, tables, "infeed_terminals")
	seen := map[string][]string{}
	for i := range plan.Rows {
		id := plan.at(i, "wire")
		seen[id] = append(seen[id], plan.at(i, "far_end"))
	}
	for _, w := range in.Design.Wires {
		if w.Signal == "" {
			if got, want := seen[w.ID], []string{w.To, w.From}; !slices.Equal(got, want) {
				t.Errorf("wire %s: far ends %q, want %q", w.ID, got, want)
			}
			delete(seen, w.ID)
		}
	}
	if len(seen) > 0 {
		t.Errorf("%d wires that are no infeed wires", len(seen))
	}
}

// boxed is designtest.Sample with a junction box between two devices and the station, so that cores go
// on from terminal to terminal.
func boxed() *design.Design {
	d := designtest.Sample()
	d.JunctionBoxes = []design.JunctionBox{{ID: "JB-1", Name: "JB-1", Place: "PUMP", Type: "box-8", Terminals: []string{"1", "2", "3", "4", "5"}}}
	d.Cables[0].To, d.Cables[1].To = "junction_box:JB-1", "junction_box:JB-1"
	d.Cables = append(d.Cables, design.Cable{
		ID: "C-M", Name: "W-JB-1", From: "junction_box:JB-1", To: "station:PUMP-1", Use: "multicore", Type: "mc-7x15", Cores: 7, AreaMM2: 1.5, LengthM: 20, OrderM: 21.4,
		Signals: []string{"s1", "s2", "s3"},
	})
	n := 0
	for i := range d.Wires[:6] {
		w := &d.Wires[i]
		if w.ID == "C-1/2" { // goes past the box
			continue
		}
		n++
		at := fmt.Sprintf("junction_box:JB-1/%d", n)
		on := design.Wire{ID: fmt.Sprintf("C-M/%d", n), Cable: "C-M", Core: fmt.Sprint(n), From: at, To: w.To, Signal: w.Signal, AreaMM2: 1.5}
		w.To = at
		d.Wires = append(d.Wires, on)
	}
	return d
}

// Through a junction box, the plan of the box joins the cores; its free terminals stand in it too.
func TestConnectionsThroughABox(t *testing.T) {
	d := boxed()
	d.JunctionBoxes[0].Terminals = append(d.JunctionBoxes[0].Terminals, "6", "7")
	d.Cables[0].To = "station:PUMP-1" // its core 2 lands there; the plan must not mix them
	in := schedule.Input{Design: d, Project: sampleProject()}
	tables := schedule.Make(in)
	samePaths(t, rebuild(t, tables), designed(t, in))
	box := gridOf(t, tables, "box_terminals")
	free := 0
	for i := range box.Rows {
		if box.at(i, "cable") == "" {
			free++
		}
	}
	if free != 2 {
		t.Errorf("%d free terminals in the plan, want 2", free)
	}
}

// noted catches what a check says, so that a test can ask whether it says anything.
type noted struct {
	rapid.TB
	said bool
}

func (n *noted) Helper()               {}
func (n *noted) Errorf(string, ...any) { n.said = true }
func (n *noted) Fatalf(string, ...any) { n.said = true; panic(n) }

// Were two cells of a schedule exchanged, the connections would not come out: the law has teeth.
func TestConnectionsNoticeAnExchange(t *testing.T) {
	in := schedule.Input{Design: boxed(), Project: sampleProject()}
	in.Design.Cables[0].To = "station:PUMP-1"
	for _, c := range []struct{ table, column string }{
		{"terminals", "terminal"},
		{"terminals", "core"},
		{"terminals", "channel"},
		{"terminals", "slot"},
		{"terminals", "tag"},
		{"terminals", "function"},
		{"wires", "core"},
		{"wires", "from"},
		{"cables", "from"},
		{"box_terminals", "terminal"},
		{"box_terminals", "core"},
	} {
		x := gridOf(t, schedule.Make(in), c.table)
		at := slices.Index(x.Heads, c.column)
		for i := range x.Rows {
			for j := range i {
				tables := schedule.Make(in)
				rows := gridOf(t, tables, c.table).Rows
				if rows[i][at] == rows[j][at] || c.table != "cables" && (print(rows[i][slices.Index(x.Heads, "cable")]) == "" || print(rows[j][slices.Index(x.Heads, "cable")]) == "") {
					continue
				}
				rows[i][at], rows[j][at] = rows[j][at], rows[i][at]
				if c.table == "cables" && (!strings.HasPrefix(print(rows[i][at]), "device:") || !strings.HasPrefix(print(rows[j][at]), "device:")) {
					continue // only field cables take part
				}
				n := &noted{TB: t}
				func() {
					defer func() {
						if r := recover(); r != nil && r != any(n) {
							panic(r)
						}
					}()
					samePaths(n, rebuild(n, tables), designed(n, in))
				}()
				if !n.said {
					t.Errorf("%s: nobody noticed that rows %d and %d exchanged %s", c.table, i, j, c.column)
				}
			}
		}
	}
}
