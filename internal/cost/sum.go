package cost

import (
	"cmp"
	"fmt"
	"slices"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Sums are the totals of a design in whole money.
type Sums struct {
	Total, Constant, Installed, Changes q.Money
	ByClass                             map[string]q.Money
}

// Objective is what a plan minimises: everything that depends on its decisions.
func (s Sums) Objective() q.Money { return s.Total - s.Constant - s.Installed + s.Changes }

// Sum returns the parts and labour of the design (its stations, cables, supplies, feeders,
// protections, boxes and network must be complete) and their totals. Rows are sorted by class,
// code and what they are for. A code that the list does not hold is a programmer's mistake.
func Sum(d *design.Design, p *project.Project, list *hardware.List) ([]design.Part, []design.Labour, Sums) {
	b := &bill{p: p, list: list, parts: map[partKey]*design.Part{}, labour: map[labourKey]*design.Labour{}, sums: Sums{ByClass: map[string]q.Money{}}}
	for i := range d.Stations {
		b.station(&d.Stations[i])
	}
	for _, s := range d.Supplies {
		b.piece(s.Type, 1, "station:"+s.Station)
	}
	for _, pr := range d.Protections {
		b.piece(pr.Type, 1, pr.Protects)
	}
	for _, c := range d.Cables {
		b.cable(c)
	}
	for _, j := range d.JunctionBoxes {
		b.piece(j.Type, 1, "junction_box:"+j.ID)
	}
	b.network(d)
	b.field(d)
	return b.rows()
}

type partKey struct{ code, need string }

type labourKey struct {
	task, need string
	constant   bool
}

type bill struct {
	p      *project.Project
	list   *hardware.List
	parts  map[partKey]*design.Part
	labour map[labourKey]*design.Labour
	sums   Sums
}

func (b *bill) add(class string, m q.Money) {
	b.sums.Total += m
	b.sums.ByClass[class] += m
}

// piece adds n pieces of a part, listed under the station, group or cable that needs it.
func (b *bill) piece(code string, n int, need string) {
	if code == "" || n == 0 {
		return
	}
	e, ok := b.list.Any(code)
	if !ok {
		panic(fmt.Sprintf("cost: part %q of %s is not in the hardware list", code, need))
	}
	b.row(code, e, "pc", need).Count += float64(n)
	b.add(e.Class, e.Price*q.Money(n))
}

func (b *bill) row(code string, e hardware.Named, unit, need string) *design.Part {
	k := partKey{code, need}
	r := b.parts[k]
	if r == nil {
		r = &design.Part{Code: code, Title: e.Title, Class: e.Class, Unit: unit, Price: e.Price.Units(), For: need}
		b.parts[k] = r
	}
	return r
}

// task adds n times a task of the given seconds; constant tasks are the same in every design.
func (b *bill) task(name string, seconds int64, n float64, total q.Money, need string, constant bool) {
	if n == 0 {
		return
	}
	k := labourKey{name, need, constant}
	r := b.labour[k]
	if r == nil {
		r = &design.Labour{Task: name, Seconds: float64(seconds), For: need, Constant: constant}
		b.labour[k] = r
	}
	r.Count += n
	r.Price = (q.ToMoney(r.Price) + total).Units()
	b.add("labour", total)
	if constant {
		b.sums.Constant += total
	}
}

func (b *bill) count(name string, seconds int64, n int, need string, constant bool) {
	each := b.p.Basis.Prices.Labour(seconds)
	b.task(name, seconds, float64(n), each*q.Money(n), need, constant)
}

func (b *bill) station(s *design.Station) {
	need := "station:" + s.ID
	prices := b.p.Basis.Prices
	b.piece(s.Coupler, 1, need)
	b.piece(s.EndPiece, 1, need)
	b.piece(s.Enclosure, 1, need)
	modules := 0
	for _, slot := range s.Slots {
		b.piece(slot.Base, 1, need)
		if slot.Module != "" {
			b.piece(slot.Module, 1, need)
			modules++
		}
	}
	b.count("station", prices.StationMount, 1, need, false)
	b.count("module", prices.ModuleMount, modules, need, false)
	b.count("group", prices.GroupWire, len(s.SupplyGroups), need, false)
	for _, place := range b.p.Places {
		if place.ID == s.Place && place.FixedCost > 0 {
			e := hardware.Named{Title: "cost of a station at " + place.Name, Class: "place", Price: place.FixedCost}
			b.row("place:"+place.ID, e, "pc", need).Count++
			b.add("place", place.FixedCost)
		}
	}
}

func (b *bill) cable(c design.Cable) {
	need := c.Use + " cables"
	e, ok := b.list.Any(c.Type)
	if !ok {
		panic(fmt.Sprintf("cost: cable type %q of %s is not in the hardware list", c.Type, c.ID))
	}
	ordered, laid := q.ToMillimetres(q.Length(c.OrderM)), q.ToMillimetres(q.Length(c.LengthM))
	r := b.row(c.Type, e, "m", need)
	r.Count = (q.ToMillimetres(q.Length(r.Count)) + ordered).Metres()
	b.add("cable", e.Price.Of(ordered))

	prices := b.p.Basis.Prices
	pull := prices.Labour(prices.PullPerMetre)
	b.task("pull", prices.PullPerMetre, laid.Metres(), pull.Of(laid), need, false)
	switch c.Use {
	case "network":
		b.count("network_end", prices.NetworkEnd, 2, need, false)
	case "supply":
		b.count("cable_end", prices.CableEnd, 2, need, false)
		b.count("termination", prices.Termination, 6, need, false)
	default:
		b.count("cable_end", prices.CableEnd, 2, need, true)
	}
}

func (b *bill) network(d *design.Design) {
	profile, ok := b.list.Network(d.Network.Profile)
	if !ok || len(d.Stations) == 0 {
		return
	}
	b.piece(profile.EndPart, 2*len(d.Network.Segments), "network")
	if d.Network.Topology == "star" && profile.SwitchPart != "" && profile.SwitchPorts > 0 {
		b.piece(profile.SwitchPart, int(q.CeilDiv(int64(len(d.Stations)), int64(profile.SwitchPorts))), "network")
	}
}

// field adds the constant labour: two terminations a field wire and one check a signal.
func (b *bill) field(d *design.Design) {
	prices := b.p.Basis.Prices
	use := map[string]string{}
	for _, c := range d.Cables {
		use[c.ID] = c.Use
	}
	for _, w := range d.Wires {
		if use[w.Cable] == "field" {
			b.count("termination", prices.Termination, 2, "field cables", true)
		}
	}
	for _, s := range d.Stations {
		n := 0
		for _, slot := range s.Slots {
			for _, c := range slot.Channels {
				if c.Signal != nil {
					n++
				}
			}
		}
		b.count("check", prices.SignalCheck, n, "station:"+s.ID, true)
	}
}

func (b *bill) rows() ([]design.Part, []design.Labour, Sums) {
	b.spares()
	parts := make([]design.Part, 0, len(b.parts))
	for _, r := range b.parts {
		parts = append(parts, *r)
	}
	slices.SortFunc(parts, func(x, y design.Part) int {
		return cmp.Or(cmp.Compare(x.Class, y.Class), cmp.Compare(x.Code, y.Code), cmp.Compare(x.For, y.For))
	})
	labour := make([]design.Labour, 0, len(b.labour))
	for _, r := range b.labour {
		labour = append(labour, *r)
	}
	slices.SortFunc(labour, func(x, y design.Labour) int {
		return cmp.Or(cmp.Compare(x.Task, y.Task), cmp.Compare(x.For, y.For))
	})
	return parts, labour, b.sums
}

// spares adds a row for the store room to each kind of part of which pieces are held: the basis's
// share of all that are built in, rounded up. They are a recommendation and not in the total.
func (b *bill) spares() {
	built := map[string]*design.Part{}
	for k, r := range b.parts {
		if held[r.Class] {
			if built[k.code] == nil {
				built[k.code] = &design.Part{Code: r.Code, Title: r.Title, Class: r.Class, Unit: r.Unit, Price: r.Price, For: "store room"}
			}
			built[k.code].Spare += int(r.Count)
		}
	}
	for code, r := range built {
		r.Spare = int(q.CeilDiv(int64(r.Spare)*b.p.Basis.Reserve["spare_parts"], 1000))
		if r.Spare > 0 {
			b.parts[partKey{code, r.For}] = r
		}
	}
}

// held are the classes of which spare pieces are kept in the store room.
var held = map[string]bool{"coupler": true, "module": true, "supply unit": true, "protection": true}
