package cabling

import (
	"fmt"
	"strconv"

	"railwright/internal/design"
	"railwright/internal/fit"
	"railwright/internal/project"
)

// Seat is where a signal landed: its station, slot and the terminals of its channel by function.
type Seat struct {
	Station   string
	Slot      int
	Terminals map[string]string
}

// FieldWires returns the wires of one field cable: the signals in order of id, each with its
// conductors in the order in which they are wired, on cores counted from 1.
func FieldWires(cable design.Cable, device string, signals []*project.Signal, seats map[string]Seat) []design.Wire {
	var wires []design.Wire
	for _, s := range signals {
		seat := seats[s.ID]
		for _, function := range fit.Conductors(s) {
			core := strconv.Itoa(len(wires) + 1)
			wires = append(wires, design.Wire{
				ID: cable.ID + "/" + core, Cable: cable.ID, Core: core,
				From:   fmt.Sprintf("device:%s/%s/%s", device, s.ID, function),
				To:     fmt.Sprintf("station:%s/%d/%s", seat.Station, seat.Slot, seat.Terminals[function]),
				Signal: s.ID, AreaMM2: cable.AreaMM2,
			})
		}
	}
	return wires
}

// InfeedWires returns the supply pair of a group: from its protective device, and from the 0 V bar
// of the supply unit, to the infeed point.
func InfeedWires(station string, g design.SupplyGroup, protection string) []design.Wire {
	at := "coupler"
	if n, ok := g.InfeedAt.(int); ok {
		at = strconv.Itoa(n)
	}
	wire := func(pole, from string) design.Wire {
		return design.Wire{
			ID: g.ID + "/" + pole, From: from, To: fmt.Sprintf("station:%s/%s/infeed%s", station, at, pole), AreaMM2: g.InfeedMM2,
		}
	}
	return []design.Wire{
		wire("+", "protection:"+protection+"/out"),
		wire("-", "supply_bar:"+station+"/"+g.Class+"/-"),
	}
}
