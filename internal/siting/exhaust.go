package siting

import (
	"cmp"
	"slices"
)

// mostNodes bounds the search for any way to place everything.
const mostNodes = 300_000

// exhaust looks for any design that places every bundle that can stand alone, cost aside.
type exhaust struct {
	so    *solver
	s     *state
	order []int32 // types, the hardest first
	nodes int
}

// placeAll tries every way to place all bundles except the given number that have no place at all. found is a design that
// Confirm accepts; if it is nil and done is true, there is none. It relies on limits that do not loosen when a station
// serves more.
func (so *solver) placeAll(except map[int32]bool) (found *candidate, done bool) {
	e := exhaust{so: so, s: newState(so.m, nil)}
	for t := range so.m.types {
		if !except[int32(t)] {
			e.order = append(e.order, int32(t))
		}
	}
	slices.SortStableFunc(e.order, func(a, b int32) int {
		x, y := &so.m.types[a], &so.m.types[b]
		return cmp.Or(cmp.Compare(len(x.order), len(y.order)), -cmp.Compare(x.size, y.size))
	})
	if e.place(0, 0) {
		return &candidate{e.s.value(), e.s.nLoose, e.s.placements()}, true
	}
	return nil, e.nodes <= mostNodes
}

// place puts the loose bundles of order[at] and all after it; those of one type go to slots in order, from the given one.
func (e *exhaust) place(at, from int) bool {
	if at == len(e.order) {
		return e.accepted()
	}
	t := e.order[at]
	if e.s.loose[t] == 0 {
		return e.place(at+1, 0)
	}
	slots := e.slotsOf(t)
	for k := from; k < len(slots); k++ {
		i := slots[k]
		if e.nodes++; e.nodes > mostNodes || e.nodes%1024 == 0 && e.so.cancelled() {
			e.nodes = mostNodes + 1
			return false
		}
		if _, ok := e.s.probe(i, t, 1); !ok {
			continue
		}
		e.s.put(i, t, 1)
		if e.place(at, k) {
			return true
		}
		e.s.put(i, t, -1)
		e.s.closeIfIdle(i)
	}
	return false
}

// slotsOf lists the slots at the type's places, cheapest place first.
func (e *exhaust) slotsOf(t int32) []int {
	var list []int
	for _, p := range e.so.m.types[t].order {
		for i := e.s.first[p]; i < e.s.first[p+1]; i++ {
			list = append(list, int(i))
		}
	}
	return list
}

func (e *exhaust) accepted() bool {
	if e.so.m.in.Confirm == nil {
		return true
	}
	for _, st := range e.so.exportSlots(e.s) {
		if !e.so.confirm(st.Place, st.Bundles).ok {
			return false
		}
	}
	return true
}

// rescue is called when bundles were left out that could stand alone: it looks for any way to place all. If there is one it
// is improved; if there is none that is noted as proof.
func (so *solver) rescue(best candidate) candidate {
	if best.loose == 0 {
		return best
	}
	hopeless, left := map[int32]bool{}, best.loose
	empty := newState(so.m, nil)
	for t := range so.m.types {
		if !so.alone(int(so.m.types[t].members[0]), empty) {
			hopeless[int32(t)] = true
			left -= len(so.m.types[t].members)
		}
	}
	if left <= 0 {
		return best
	}
	found, done := so.placeAll(hopeless)
	so.noWay = found == nil && done
	if found == nil {
		return best
	}
	again := so.search([]candidate{*found}, 2, so.opt.Steps/8)
	if settled := so.settle(again); settled.loose <= found.loose {
		return settled
	}
	return *found
}
