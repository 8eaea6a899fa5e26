package tariff

import (
	"cmp"
	"slices"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// Mod is a module that can stand in the environment, with the bases that carry it.
type Mod struct {
	M       *hardware.Module
	Rank    int
	Kept    bool           // installed, and not to be bought again
	Through *hardware.Base // cheapest through base; nil without bases, and where none suits
	Alone   bool           // the construction has bases, but no through base suits: it always opens a group
	Points  []Point        // ways to open a group with this module first; empty if it cannot come first
	Least   q.Money        // M_m of docs/certificate.md
	Price   q.Money        // module, through base, labour; for opening "each" also labour of the group and cheapest protection
	Slot    Use            // what the module on a through base takes
}

// Point is a way to open a supply group: an infeed base under the first module, an infeed module in
// a slot of its own, or the first module itself.
type Point struct {
	Base   *hardware.Base   // infeed base under the first module, or base of the infeed module
	Infeed *hardware.Module // infeed module in its own slot
	Bus    q.Microamps
	Extra  q.Money // beyond the modules' Price: price difference of the bases, or infeed module, its base and labour
	Use    Use     // beyond the modules' own
}

// Use is what parts take from a station's limits.
type Use struct {
	Slots  int64
	Rail   q.Millimetres
	Logic  q.Microamps
	In     int64 // bytes of process image
	Out    int64
	Supply q.Microamps // drawn from the group by the modules themselves
	Heat   int64       // milliwatts
}

// Plus returns the sum.
func (u Use) Plus(v Use) Use {
	return Use{u.Slots + v.Slots, u.Rail + v.Rail, u.Logic + v.Logic, u.In + v.In, u.Out + v.Out, u.Supply + v.Supply, u.Heat + v.Heat}
}

// Times returns n times the use.
func (u Use) Times(n int64) Use {
	return Use{u.Slots * n, u.Rail * q.Millimetres(n), u.Logic * q.Microamps(n), u.In * n, u.Out * n, u.Supply * q.Microamps(n), u.Heat * n}
}

// Within reports whether no figure of u is above that of v.
func (u Use) Within(v Use) bool {
	return u.Slots <= v.Slots && u.Rail <= v.Rail && u.Logic <= v.Logic && u.In <= v.In && u.Out <= v.Out && u.Supply <= v.Supply
}

func (e *Env) gatherMods() {
	list := e.Book.List
	for i := range list.Modules {
		m := &list.Modules[i]
		if m.Infeed || len(m.Channels) == 0 || !slices.Contains(m.Constructions, e.Construction.Code) || e.ambient > m.AmbientMax || e.Book.Off[m.Code] && !e.Book.Kept[m.Code] {
			continue
		}
		if mod, ok := e.newMod(m); ok {
			e.Mods = append(e.Mods, mod)
		}
	}
}

func (e *Env) newMod(m *hardware.Module) (Mod, bool) {
	d := Mod{M: m, Rank: e.rank(m.Rank), Kept: e.Book.Kept[m.Code]}
	base := m.Price + e.Book.Labour.Module
	d.Price, d.Least = base, base
	width := m.Width
	if e.Construction.HasBases {
		d.Through = e.cheapestBase(m, false)
		infeed := e.cheapestBase(m, true)
		switch {
		case d.Through == nil && (infeed == nil || e.Construction.Opening != hardware.ByBase):
			return d, false
		case d.Through == nil:
			d.Alone, d.Price, width = true, base+infeed.Price, slotWidth(m, infeed)
		default:
			d.Price, width = base+d.Through.Price, slotWidth(m, d.Through)
		}
		d.Least = d.Price
		if infeed != nil {
			d.Least = min(d.Least, base+infeed.Price)
		}
	}
	d.Slot = Use{1, width, m.Logic, int64(m.In), int64(m.Out), m.Supply, m.Heat}
	d.Points = e.pointsOf(&d)
	if e.Construction.Opening == hardware.ByEach {
		if len(d.Points) == 0 {
			return d, false
		}
		p, ok := fit.ProtectionFor(e.Book.List, m.SupplyKind, 0, m.BusLimit, e.Book.Off)
		if !ok {
			return d, false
		}
		d.Price += e.Book.Labour.Group + p.Price
		d.Least += e.Book.Labour.Group + p.Price
	}
	return d, true
}

func (e *Env) rank(name string) int {
	return max(0, slices.Index(e.Construction.Order, name))
}

func slotWidth(m *hardware.Module, b *hardware.Base) q.Millimetres { return max(m.Width, b.Width) }

// Suits reports whether a base carries a module in the environment's construction.
func (e *Env) suits(b *hardware.Base, m *hardware.Module) bool {
	return slices.Contains(b.Constructions, e.Construction.Code) && slices.Contains(b.Patterns, m.Pattern) &&
		(b.SupplyKind == "" || b.SupplyKind == m.SupplyKind) && !e.Book.Off[b.Code]
}

func (e *Env) cheapestBase(m *hardware.Module, infeed bool) *hardware.Base {
	var best *hardware.Base
	for i := range e.Book.List.Bases {
		b := &e.Book.List.Bases[i]
		if b.Infeed == infeed && e.suits(b, m) && (best == nil || b.Price < best.Price) {
			best = b // bases are sorted by code, so of equal ones the first stays
		}
	}
	return best
}

// pointsOf lists the ways to open a group with the module first, cheapest first; a dearer one is
// kept only if it carries more.
func (e *Env) pointsOf(d *Mod) []Point {
	var all []Point
	switch e.Construction.Opening {
	case hardware.ByEach:
		return []Point{{Bus: d.M.BusLimit}}
	case hardware.ByBase:
		for i := range e.Book.List.Bases {
			b := &e.Book.List.Bases[i]
			if b.Infeed && e.suits(b, d.M) {
				p := Point{Base: b, Bus: b.BusLimit, Use: Use{Rail: slotWidth(d.M, b) - d.Slot.Rail}}
				p.Extra = d.M.Price + e.Book.Labour.Module + b.Price - d.Price
				all = append(all, p)
			}
		}
	case hardware.ByModule:
		for _, code := range e.Construction.InfeedModules {
			m, ok := e.Book.List.Module(code)
			if !ok || !m.Infeed || m.SupplyKind != d.M.SupplyKind || e.Book.Off[code] || e.ambient > m.AmbientMax {
				continue
			}
			p := Point{Infeed: m, Bus: m.BusLimit, Extra: m.Price + e.Book.Labour.Module, Use: Use{1, m.Width, m.Logic, int64(m.In), int64(m.Out), m.Supply, m.Heat}}
			if e.Construction.HasBases {
				if p.Base = e.anyBase(m); p.Base == nil {
					continue
				}
				p.Extra += p.Base.Price
				p.Use.Rail = slotWidth(m, p.Base)
			}
			all = append(all, p)
		}
	}
	slices.SortStableFunc(all, func(a, b Point) int { return cmp.Or(cmp.Compare(a.Extra, b.Extra), cmp.Compare(a.code(), b.code())) })
	kept := all[:0]
	for _, p := range all {
		if !slices.ContainsFunc(kept, func(k Point) bool { return carries(k.Bus, p.Bus) && k.Use.Supply <= p.Use.Supply }) {
			kept = append(kept, p)
		}
	}
	return kept
}

// carries reports whether bus limit a is at least b; 0 is no limit.
func carries(a, b q.Microamps) bool { return a == 0 || b != 0 && a >= b }

func (p Point) code() string {
	if p.Infeed != nil {
		return p.Infeed.Code
	}
	if p.Base != nil {
		return p.Base.Code
	}
	return ""
}

func (e *Env) anyBase(m *hardware.Module) *hardware.Base {
	a, b := e.cheapestBase(m, false), e.cheapestBase(m, true)
	if a == nil || b != nil && b.Price < a.Price {
		return b
	}
	return a
}

// Open returns the cheapest way to feed a load: over the points, of the point's extra price and its
// protection (ties: the cheaper point, then its code). cost is both; ok is false if none carries it.
func (e *Env) Open(points []Point, kind string, load q.Microamps) (p Point, prot *hardware.Protection, cost q.Money, ok bool) {
	for _, c := range points {
		all := load + c.Use.Supply // an infeed module's own draw belongs to the group it begins
		ceiling := fit.Ceiling(c.Bus, &e.Book.Project.Basis)
		if ceiling > 0 && all > ceiling {
			continue
		}
		device, found := fit.ProtectionFor(e.Book.List, kind, all, c.Bus, e.Book.Off)
		if !found {
			continue
		}
		if total := c.Extra + device.Price; !ok || total < cost {
			p, prot, cost, ok = c, device, total, true
		}
	}
	return p, prot, cost, ok
}

// CouplerPoint returns the coupler's own infeed point for a first group, where the construction has
// one: only for 24vdc.
func (e *Env) CouplerPoint(kind string) (Point, bool) {
	c := e.Construction
	return Point{Bus: c.CouplerLimit}, c.CouplerFeeds && kind == fit.V24 && c.Opening != hardware.ByEach && c.FirstSlot != "infeed"
}

// BaseFor returns the cheapest base that suits a module, for the start of a supply group or not;
// nil if none does.
func (e *Env) BaseFor(m *hardware.Module, infeed bool) *hardware.Base {
	return e.cheapestBase(m, infeed)
}
