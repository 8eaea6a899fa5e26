package schedule

import (
	"strings"

	"railwright/internal/design"
	"railwright/internal/words"
)

func cables(d *design.Design) Table {
	t := table("cables", "id", "name", "use", "type", "cores", "area_mm2", "from", "to", "length_m", "order_m", "route", "signals")
	laid, order := 0.0, 0.0
	for _, c := range d.Cables {
		t.add(text(c.ID), text(c.Name), text(c.Use), text(c.Type), whole(c.Cores), number(c.AreaMM2), text(c.From), text(c.To),
			number(c.LengthM), number(c.OrderM), text(strings.Join(c.Route, " ")), text(strings.Join(c.Signals, " ")))
		laid, order = laid+c.LengthM, order+c.OrderM
	}
	if len(d.Cables) > 0 {
		t.add(text(words.Text("schedule.total")), Cell{}, Cell{}, Cell{}, Cell{}, Cell{}, Cell{}, Cell{},
			number(round(laid, 10)), number(round(order, 10)), Cell{}, Cell{})
		t.Total = true
	}
	return t
}

func wires(d *design.Design, ix *index) Table {
	t := table("wires", "id", "cable", "core", "from", "to", "tag", "signal_id", "area_mm2")
	for _, w := range d.Wires {
		t.add(text(w.ID), text(cableName(w.Cable, ix)), text(w.Core), text(w.From), text(w.To), text(ix.tags[w.Signal]), text(w.Signal), number(w.AreaMM2))
	}
	return t
}

func segments(d *design.Design) Table {
	t := table("network_cables", "cable", "from", "to", "length_m", "limit_m")
	for _, s := range d.Network.Segments {
		limit := number(s.LimitM)
		if s.LimitM == 0 {
			limit = Cell{}
		}
		t.add(text(s.Cable), text(s.From), text(s.To), number(s.LengthM), limit)
	}
	return t
}

func nodes(d *design.Design) Table {
	t := table("network_addresses", "station", "name", "address", "node")
	for _, n := range d.Network.Addresses {
		t.add(text(n.Station), text(n.Name), text(n.Address), whole(n.Node))
	}
	return t
}
