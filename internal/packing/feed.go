package packing

import (
	"encoding/binary"
	"slices"

	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

func (s *keySolver) couplerPoints() []tariff.Point {
	p, ok := s.env().CouplerPoint(s.t.kind())
	if !ok {
		return nil
	}
	return []tariff.Point{p}
}

// levelOf returns the steps of feeding a group whose first module is mod.
func (s *keySolver) levelOf(mod int) []level {
	if l, ok := s.levels[mod]; ok {
		return l
	}
	name := binary.AppendUvarint([]byte{'l'}, uint64(mod))
	known, ok := s.env().Recall(name)
	if !ok {
		l := levelsOf(s.env(), s.t.kind(), s.env().Mods[mod].Points)
		if s.each() { // the price holds the cheapest protection already
			for i := len(l) - 1; i >= 0; i-- {
				l[i].cost -= l[0].cost
			}
		}
		s.env().Remember(name, l)
		known = l
	}
	s.levels[mod] = known.([]level)
	return s.levels[mod]
}

// leastOpen finds the cheapest opening and the largest ceiling.
func (s *keySolver) leastOpen() {
	s.open = tariff.Forbidden
	for _, m := range s.mods {
		l := s.levelOf(m.mod)
		if len(l) == 0 {
			continue
		}
		s.open = min(s.open, l[0].cost)
		s.cap = max(s.cap, l[len(l)-1].cap)
	}
	if n := len(s.coup); n > 0 && s.first {
		s.cap = max(s.cap, s.coup[n-1].cap)
	}
	if s.open == tariff.Forbidden {
		s.open = 0
	}
	if s.each() {
		s.open = 0
	} else {
		s.open += s.env().Book.Labour.Group
	}
}

// feed chooses infeed point and protection of a group for its load. The load grows by what an
// infeed module draws itself. ok is false where nothing feeds it.
func (s *keySolver) feed(g *planGroup) bool {
	e := s.env()
	points := s.couplerPoints()
	if !g.coupler {
		g.first = firstOf(e, g.mods)
		if g.first < 0 {
			return false
		}
		points = e.Mods[g.mods[g.first].mod].Points
	} else if slices.ContainsFunc(g.mods, func(m planMod) bool { return e.Mods[m.mod].Alone }) {
		return false
	}
	point, prot, _, ok := e.Open(points, s.t.kind(), g.load)
	if !ok {
		return false
	}
	g.point, g.prot = point, prot
	g.load += point.Use.Supply
	return true
}

// firstOf returns the module that opens the group: the one that no through base carries, else the
// first by code that can stand on an infeed base; -1 where there is none.
func firstOf(e *tariff.Env, mods []planMod) int {
	first := -1
	for i := range mods {
		d := &e.Mods[mods[i].mod]
		switch {
		case d.Alone && first >= 0 && e.Mods[mods[first].mod].Alone:
			return -1
		case d.Alone && len(d.Points) > 0:
			first = i
		case first < 0 && len(d.Points) > 0:
			first = i
		}
	}
	return first
}

// feedCost is what feeding a group costs beyond its modules' price.
func (s *keySolver) feedCost(g *planGroup) q.Money {
	e := s.env()
	if s.each() {
		return g.prot.Price + s.env().Book.Labour.Group + e.Mods[g.mods[0].mod].M.Price + e.Book.Labour.Module - e.Mods[g.mods[0].mod].Price
	}
	return g.point.Extra + g.prot.Price + e.Book.Labour.Group
}
