package schedule

import (
	"cmp"
	"slices"
	"strconv"

	"railwright/internal/words"
)

// wires lists every core that is landed, from end to end, with how its ends are made.
func (b *builder) wires() Table {
	t := table("wires", "id", "cable", "core", "from", "to", "tag", "signal_id", "area_mm2",
		"mark", "from_point", "to_point", "ferrule_mm2", "ferrule_colour", "sleeve_mm", "strip_mm", "cable_id", "use")
	t.Paper = []string{"cable", "mark", "from_point", "to_point", "tag", "area_mm2", "ferrule_colour", "strip_mm"}
	for i := range b.Design.Wires {
		w := &b.Design.Wires[i]
		c := b.cables[w.Cable]
		k := b.typeOf(c)
		use := "infeed"
		if c != nil {
			use = c.Use
		}
		row := []Cell{
			text(w.ID), text(b.cableName(w.Cable)), text(w.Core), text(w.From), text(w.To), text(b.tags[w.Signal]), text(w.Signal), number(w.AreaMM2),
			text(mark(w.Core, k)), text(b.point(w.From, w.Signal)), text(b.point(w.To, w.Signal)),
		}
		row = append(row, tipOf(w.AreaMM2, stranded(c, k), b.shared(w.From) || b.shared(w.To)).cells()...)
		t.add(append(row, text(w.Cable), text(use))...)
	}
	return t
}

// spareCores lists the cores that land nowhere, of the cables whose cores are landed.
func (b *builder) spareCores() Table {
	t := table("spare_cores", "cable_id", "cable", "core", "mark", "area_mm2", "from", "to")
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		used := map[string]bool{}
		for _, w := range b.landed[c.ID] {
			used[w.Core] = true
		}
		if len(used) == 0 {
			continue
		}
		k := b.typeOf(c)
		for n := 1; n <= c.Cores; n++ {
			if core := strconv.Itoa(n); !used[core] {
				t.add(text(c.ID), text(c.Name), text(core), text(mark(core, k)), number(c.AreaMM2), text(b.thing(c.From)), text(b.thing(c.To)))
			}
		}
	}
	return t
}

// ends counts the wire ends of one ferrule.
type ends struct {
	tip
	twin                   bool
	area                   float64
	field, infeed, feeders int
}

func (e *ends) all() int { return e.field + e.infeed + e.feeders }

// ferrules counts the ferrules to buy: one for each end of every landed stranded wire, and of every core
// of the supply cables, whose ends the design does not land one by one. What is ordered is a tenth more,
// in whole hundreds (common practice). Their price is in no total of the design.
func (b *builder) ferrules() Table {
	t := table("ferrules", "area_mm2", "size_mm2", "twin", "colour", "sleeve_mm", "strip_mm", "field", "infeed", "feeder", "count", "order")
	rows := b.endsByArea()
	var sum ends
	for _, e := range rows {
		count := e.all()
		if e.twin {
			count /= 2
		}
		t.add(number(e.area), number(e.size), yes(e.twin), text(e.colour), number(e.sleeve), number(e.strip),
			whole(e.field), whole(e.infeed), whole(e.feeders), whole(count), whole((count*11+999)/1000*100))
		sum.field, sum.infeed, sum.feeders = sum.field+e.field, sum.infeed+e.infeed, sum.feeders+e.feeders
	}
	if len(rows) > 0 {
		t.add(text(words.Text("schedule.total")), Cell{}, Cell{}, Cell{}, Cell{}, Cell{}, whole(sum.field), whole(sum.infeed), whole(sum.feeders), Cell{}, Cell{})
		t.Total = true
	}
	return t
}

func (b *builder) endsByArea() []*ends {
	var out []*ends
	at := func(area float64, twin bool) *ends {
		for _, e := range out {
			if e.area == area && e.twin == twin {
				return e
			}
		}
		out = append(out, &ends{tip: tipOf(area, true, twin), twin: twin, area: area})
		return out[len(out)-1]
	}
	for i := range b.Design.Wires {
		w := &b.Design.Wires[i]
		c := b.cables[w.Cable]
		if !stranded(c, b.typeOf(c)) {
			continue
		}
		for _, endpoint := range []string{w.From, w.To} {
			e := at(w.AreaMM2, b.shared(endpoint))
			if c == nil {
				e.infeed++
			} else {
				e.field++
			}
		}
	}
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		if c.Use == "supply" && len(b.landed[c.ID]) == 0 && stranded(c, b.typeOf(c)) {
			at(c.AreaMM2, false).feeders += 2 * c.Cores
		}
	}
	out = slices.DeleteFunc(out, func(e *ends) bool { return !e.ferrule })
	slices.SortFunc(out, func(x, y *ends) int {
		return cmp.Or(cmp.Compare(x.area, y.area), cmp.Compare(yes(x.twin).Number, yes(y.twin).Number))
	})
	return out
}
