package schedule

import (
	"strings"

	"railwright/internal/design"
	q "railwright/internal/quantity"
	"railwright/internal/words"
)

// cables lists every cable with its ends, and where it is cut from and when it is pulled.
func (b *builder) cableList() Table {
	t := table("cables", "id", "name", "use", "type", "cores", "area_mm2", "from", "to", "length_m", "order_m", "route", "signals",
		"from_point", "to_point", "tags", "spare_cores", "screened", "diameter_mm", "gland", "drum", "cut", "pull_order")
	t.Paper = []string{"name", "use", "type", "cores", "area_mm2", "from_point", "to_point", "length_m", "route", "spare_cores", "gland", "drum", "cut", "pull_order"}
	laid, order := q.Millimetres(0), q.Millimetres(0)
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		row := []Cell{
			text(c.ID), text(c.Name), text(c.Use), text(c.Type), whole(c.Cores), number(c.AreaMM2), text(c.From), text(c.To),
			number(c.LengthM), number(c.OrderM), text(strings.Join(c.Route, " ")), text(strings.Join(c.Signals, " ")),
		}
		t.add(append(row, b.laying(c)...)...)
		laid, order = laid+q.ToMillimetres(q.Length(c.LengthM)), order+q.ToMillimetres(q.Length(c.OrderM))
	}
	if len(b.Design.Cables) > 0 {
		last := make([]Cell, len(t.Heads))
		last[0], last[8], last[9] = text(words.Text("schedule.total")), number(laid.Metres()), number(order.Metres())
		t.add(last...)
		t.Total = true
	}
	return t
}

// laying are the columns of a cable from from_point on.
func (b *builder) laying(c *design.Cable) []Cell {
	tags := make([]string, len(c.Signals))
	for i, s := range c.Signals {
		if tags[i] = b.tags[s]; tags[i] == "" {
			tags[i] = s
		}
	}
	spare, screened, diameter, gland := Cell{}, Cell{}, Cell{}, Cell{}
	if n := len(b.landed[c.ID]); n > 0 {
		used := map[string]bool{}
		for _, w := range b.landed[c.ID] {
			used[w.Core] = true
		}
		spare = whole(max(c.Cores-len(used), 0))
	}
	if k := b.typeOf(c); k != nil {
		screened, diameter = yes(k.Screened), positive(float64(k.DiameterUM)/1000)
		gland = text(b.glandFor(k).name)
	}
	at := b.spool[c.ID]
	return []Cell{
		text(b.thing(c.From)), text(b.thing(c.To)), text(strings.Join(tags, " ")), spare, screened, diameter, gland,
		text(b.drumOf(c)), whole(at.cut), whole(b.pulls[c.ID]),
	}
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
