package tariff

import (
	"fmt"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// Total is what the modules and groups of a station add up to.
type Total struct {
	Use       Use // infeed modules included
	Groups    int
	ProtWidth q.Millimetres  // of the groups' protections
	load      [4]q.Microamps // of the groups, by feed
	present   [4]bool
}

// Feed is one kind of supply unit that a station may need.
type Feed struct {
	Class string // "normal", "ups"
	Kind  string // "24vdc", "48vdc"
}

var feeds = [4]Feed{{"normal", fit.V24}, {"normal", fit.V48}, {"ups", fit.V24}, {"ups", fit.V48}}

// Add counts one supply group with its load.
func (t *Total) Add(key fit.GroupKey, load q.Microamps) {
	t.Groups++
	n := 0
	if key.Supply == "ups" {
		n = 2
		t.present[2] = true // a ups unit also feeds coupler and logic
	}
	switch key.Voltage {
	case fit.V24:
	case fit.V48:
		n++
	default:
		return // fed by the mains
	}
	t.present[n] = true
	t.load[n] += load
}

// Plus returns the sum of two totals.
func (t Total) Plus(o Total) Total {
	t.Use = t.Use.Plus(o.Use)
	t.Groups += o.Groups
	t.ProtWidth += o.ProtWidth
	for i := range t.load {
		t.load[i] += o.load[i]
		t.present[i] = t.present[i] || o.present[i]
	}
	return t
}

// NoWorse reports whether no figure of t is above that of o.
func (t *Total) NoWorse(o *Total) bool {
	if !t.Use.Within(o.Use) || t.Groups > o.Groups || t.ProtWidth > o.ProtWidth {
		return false
	}
	for i := range t.load {
		if t.load[i] > o.load[i] || t.present[i] && !o.present[i] {
			return false
		}
	}
	return true
}

// SupplyPick is the supply units chosen for one feed.
type SupplyPick struct {
	Feed
	Unit   *hardware.SupplyUnit
	Count  int         // those that may fail included
	Spare  int         // that may fail without loss
	Load   q.Microamps // of the feed
	Need   q.Microamps // load with coincidence and margin
	Output q.Microamps // at the place's ambient, of all units but those that may fail
}

// Frame is what a station needs round its modules.
type Frame struct {
	Coupler   *hardware.Coupler
	Enclosure *hardware.Enclosure
	Supplies  [4]SupplyPick // the first Count of them
	Count     int
	Rail      q.Millimetres // coupler, slots, end piece
	Slots     int           // most usable slots
	Cost      q.Money       // coupler, end piece, enclosure, supply units, feeders, labour station, fixed cost
}

// Bar is the limit that stands in the way of a station.
type Bar struct {
	Limit          string // "slots", "rail", "logic supply", ...
	Value, Allowed int64
	Unit           string
	Part           string // whose limit it is
}

// String says it in one line.
func (b *Bar) String() string {
	if b.Value == 0 && b.Allowed == 0 {
		return fmt.Sprintf("%s: %s", b.Limit, b.Part)
	}
	return fmt.Sprintf("%s %d %s, %d %s allowed by %s", b.Limit, b.Value, b.Unit, b.Allowed, b.Unit, b.Part)
}

// Keep is what is fixed of a station's frame. The zero Keep fixes nothing.
type Keep struct {
	Coupler, Enclosure string // codes; "" = free
	Installed          bool   // it may be filled up: no slots and no rail need stay free
	MaxIn, MaxOut      int    // most bytes, because other bytes behind it are taken; 0 = no limit
}

// Frame chooses coupler, enclosure and supply units for the total: each the cheapest that keeps
// every limit (docs/plan-rules.md sections 6 and 9), or the one that keep names.
// The cost never falls when a figure of the total grows.
func (p *Place) Frame(t *Total, keep Keep) (Frame, *Bar) {
	var f Frame
	var bar *Bar
	coupler := keep.Coupler
	for _, c := range p.Couplers {
		if coupler != "" && c.Code != coupler {
			continue
		}
		f.Coupler, bar = c, p.couplerBar(c, t, keep, &f)
		if bar == nil {
			break
		}
	}
	switch {
	case f.Coupler == nil && coupler != "":
		return f, &Bar{Limit: "coupler", Part: "the fixed coupler " + coupler + " is not usable at this place"}
	case f.Coupler == nil:
		return f, &Bar{Limit: "coupler", Part: "no coupler of construction " + p.Site.Construction + " joins network " + p.Site.Network + " at this ambient"}
	case bar != nil:
		return f, bar
	}
	if bar := p.supplies(t, &f); bar != nil {
		return f, bar
	}
	if bar := p.enclosure(t, keep, &f); bar != nil {
		return f, bar
	}
	f.Cost += f.Coupler.Price + f.Enclosure.Price + p.Env.Book.Labour.Station + p.Site.FixedCost + p.Site.Feeder
	if p.EndPiece != nil {
		f.Cost += p.EndPiece.Price
	}
	if t.present[2] || t.present[3] {
		f.Cost += p.Site.UPSFeeder
	}
	return f, nil
}

func (p *Place) couplerBar(c *hardware.Coupler, t *Total, keep Keep, f *Frame) *Bar {
	k := p.Env.Construction
	free := int64(p.Env.Book.Project.Basis.FreeSlots)
	if keep.Installed {
		free = 0
	}
	f.Rail = c.Width + t.Use.Rail
	if p.EndPiece != nil {
		f.Rail += p.EndPiece.Width
	}
	f.Slots = c.MaxSlots
	for _, l := range []struct {
		name       string
		value, max int64
		unit       string
		of, part   string // joined only where the limit bars: this is asked very often
	}{
		{"slots with the free ones", t.Use.Slots + free, int64(c.MaxSlots), "slots", "coupler ", c.Code},
		{"slots with the free ones", t.Use.Slots + free, int64(k.MaxSlots), "slots", "construction ", k.Code},
		{"slots with the free ones", t.Use.Slots + free, int64(p.Site.MaxSlots), "slots", "place ", p.Site.Place},
		{"supply groups", int64(t.Groups), int64(k.MaxGroups), "groups", "construction ", k.Code},
		{"rail", int64(f.Rail), int64(k.MaxRail), "mm", "construction ", k.Code},
		{"rail", int64(f.Rail), int64(p.Site.MaxRail), "mm", "place ", p.Site.Place},
		{"logic supply", int64(t.Use.Logic), int64(c.LogicLimit), "uA", "coupler ", c.Code},
		{"input bytes", t.Use.In + int64(c.HeaderIn), int64(c.MaxIn), "bytes", "coupler ", c.Code},
		{"output bytes", t.Use.Out + int64(c.HeaderOut), int64(c.MaxOut), "bytes", "coupler ", c.Code},
		{"input bytes", t.Use.In + int64(c.HeaderIn), int64(keep.MaxIn), "bytes", "", "the fixed bytes of the next station"},
		{"output bytes", t.Use.Out + int64(c.HeaderOut), int64(keep.MaxOut), "bytes", "", "the fixed bytes of the next station"},
	} {
		if l.max > 0 && l.value > l.max {
			return &Bar{l.name, l.value, l.max, l.unit, l.of + l.part}
		}
	}
	return nil
}

// supplies chooses the supply units. Class normal is always there; it and class ups are both sized
// for coupler and logic, so that either carries them alone.
func (p *Place) supplies(t *Total, f *Frame) *Bar {
	basis := &p.Env.Book.Project.Basis.Supply
	own := f.Coupler.Supply + q.Microamps(q.CeilDiv(int64(t.Use.Logic)*f.Coupler.LogicFactor, 1000))
	for i, feed := range feeds {
		if i > 0 && !t.present[i] {
			continue
		}
		load := t.load[i]
		if feed.Kind == fit.V24 {
			load += own
		}
		need := q.Microamps(q.CeilDiv(q.CeilDiv(int64(load)*basis.Coincidence, 1000)*(1000+basis.Margin), 1000))
		pick, ok := p.pickUnit(feed.Kind, need)
		if !ok {
			return &Bar{
				Limit: "supply current with margin", Value: int64(need), Allowed: int64(p.mostOutput(feed.Kind)), Unit: "uA",
				Part: "the supply units for " + feed.Kind + " at this ambient",
			}
		}
		pick.Feed, pick.Load, pick.Need = feed, load, need
		f.Supplies[f.Count] = pick
		f.Count++
		f.Cost += q.Money(pick.Count) * pick.Unit.Price
	}
	return nil
}

// mostUnits is how many like supply units may carry one feed in parallel; those that may fail come on top.
const mostUnits = 4

func (p *Place) pickUnit(kind string, need q.Microamps) (SupplyPick, bool) {
	var best SupplyPick
	var cost q.Money
	spare := int(p.Env.Book.Project.Basis.Supply.Spare)
	for _, u := range p.Supplies {
		if u.Kind != kind || u.Output <= 0 {
			continue
		}
		if spare > 0 && !u.U.Decoupled {
			continue
		}
		k := int(max(1, q.CeilDiv(int64(need), int64(u.Output))))
		price := q.Money(k+spare) * u.U.Price
		if k > mostUnits || best.Unit != nil && (price > cost || price == cost && k+spare >= best.Count) {
			continue
		}
		best, cost = SupplyPick{Unit: u.U, Count: k + spare, Spare: spare, Output: u.Output * q.Microamps(k)}, price
	}
	return best, best.Unit != nil
}

func (p *Place) mostOutput(kind string) q.Microamps {
	var most q.Microamps
	for _, u := range p.Supplies {
		if u.Kind == kind {
			most = max(most, u.Output*mostUnits)
		}
	}
	return most
}

func (p *Place) enclosure(t *Total, keep Keep, f *Frame) *Bar {
	width := f.Rail + t.ProtWidth
	for _, s := range f.Supplies[:f.Count] {
		width += s.Unit.Width * q.Millimetres(s.Count)
	}
	if !keep.Installed {
		width = q.Millimetres(q.CeilDiv(int64(width)*(1000+p.Reserve), 1000))
	}
	var row, rail q.Millimetres
	for _, c := range p.Enclosures {
		if keep.Enclosure != "" && c.Code != keep.Enclosure {
			continue
		}
		if c.Row >= f.Rail && c.Rail >= width {
			f.Enclosure = c
			return nil
		}
		row, rail = max(row, c.Row), max(rail, c.Rail)
	}
	boxes := "the enclosures for this place"
	if keep.Enclosure != "" {
		boxes = "the fixed enclosure " + keep.Enclosure
	}
	if row < f.Rail {
		return &Bar{"rail in one row", int64(f.Rail), int64(row), "mm", boxes}
	}
	return &Bar{"rail with supplies and reserve", int64(width), int64(rail), "mm", boxes}
}

// AddLoad counts more load on a group that is counted already.
func (t *Total) AddLoad(key fit.GroupKey, load q.Microamps) {
	n := 0
	if key.Supply == "ups" {
		n = 2
		t.present[2] = true
	}
	switch key.Voltage {
	case fit.V24:
	case fit.V48:
		n++
	default:
		return
	}
	t.present[n] = true
	t.load[n] += load
}

// Least returns figure by figure the smaller of two totals.
func (t Total) Least(o *Total) Total {
	t.Use = Use{
		min(t.Use.Slots, o.Use.Slots), min(t.Use.Rail, o.Use.Rail), min(t.Use.Logic, o.Use.Logic), min(t.Use.In, o.Use.In),
		min(t.Use.Out, o.Use.Out), min(t.Use.Supply, o.Use.Supply), min(t.Use.Heat, o.Use.Heat),
	}
	t.Groups, t.ProtWidth = min(t.Groups, o.Groups), min(t.ProtWidth, o.ProtWidth)
	for i := range t.load {
		t.load[i] = min(t.load[i], o.load[i])
		t.present[i] = t.present[i] && o.present[i]
	}
	return t
}
