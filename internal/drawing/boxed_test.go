package drawing

import (
	"fmt"
	"strings"

	"railwright/internal/design"
)

// boxed is a design in which the first station's signals of the first half go through a junction box: their
// cables end there, and one multicore goes on. The plan makes none yet, the drawings must know them.
func boxed(in Input) Input {
	d := *in.Design
	d.Wires = append([]design.Wire(nil), d.Wires...)
	d.Cables = append([]design.Cable(nil), d.Cables...)
	box := design.JunctionBox{ID: "JB-1", Name: "JB-1", Place: d.Stations[0].Place, Type: "box"}
	trunk := design.Cable{ID: "W-MC-1", Name: "W-MC-1", From: "junction_box:JB-1", To: "station:" + d.Stations[0].ID, Use: "multicore", Type: "multicore", Cores: 40, AreaMM2: 1, LengthM: 50}
	through := map[string]bool{}
	n := 0
	for i := range d.Wires {
		w := &d.Wires[i]
		if !strings.HasPrefix(w.From, "device:") || n >= 30 && !through[w.Cable] {
			continue
		}
		through[w.Cable] = true
		n++
		terminal := fmt.Sprint(n)
		box.Terminals = append(box.Terminals, terminal)
		d.Wires = append(d.Wires, design.Wire{ID: "W-MC-1/" + terminal, Cable: trunk.ID, Core: terminal, From: "junction_box:JB-1/" + terminal, To: w.To, Signal: w.Signal, AreaMM2: 1})
		d.Wires[i].To = "junction_box:JB-1/" + terminal
	}
	for i := range d.Cables {
		if through[d.Cables[i].ID] {
			d.Cables[i].To = "junction_box:JB-1"
			trunk.Signals = append(trunk.Signals, d.Cables[i].Signals...)
		}
	}
	d.Cables = append(d.Cables, trunk)
	d.JunctionBoxes = []design.JunctionBox{box}
	in.Design = &d
	return in
}
