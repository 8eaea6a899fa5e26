package siting

import (
	"cmp"
	"fmt"
	"slices"
)

// Link moves reward between the classes of one bundle at one place. A bundle's reduced cost is shared over its classes in
// proportion to their prices; where another split fits a place better, a link's shifts are added to the shares. Any shifts
// that add up to 0 give a valid bound.
type Link struct {
	Bundle, Place int
	Shifts        []Shift // ascending classes of the place's kind
}

// Shift is what is added to the share of one class.
type Shift struct {
	Class int
	Add   int64
}

type linkKey struct{ bundle, place int }

// linkShifts checks links and returns their shifts in the order of the bundles' parts.
func (m *model) linkShifts(links []Link) (map[linkKey][]int64, error) {
	out := map[linkKey][]int64{}
	for _, l := range links {
		if l.Bundle < 0 || l.Bundle >= len(m.typeOf) || l.Place < 0 || l.Place >= len(m.in.Places) {
			return nil, fmt.Errorf("siting: link of bundle %d at place %d: no such bundle or place", l.Bundle, l.Place)
		}
		t := m.typeOf[l.Bundle]
		if t < 0 {
			continue
		}
		parts := m.types[t].kinds[m.in.Places[l.Place].Kind].parts
		add, sum := make([]int64, len(parts)), int64(0)
		for _, s := range l.Shifts {
			i := slices.IndexFunc(parts, func(p part) bool { return int(p.class) == s.Class })
			if i < 0 {
				return nil, fmt.Errorf("siting: link of bundle %d at place %d: it asks for no class %d", l.Bundle, l.Place, s.Class)
			}
			add[i] += s.Add
			sum += s.Add
		}
		if sum != 0 {
			return nil, fmt.Errorf("siting: link of bundle %d at place %d: its shifts add up to %d", l.Bundle, l.Place, sum)
		}
		out[linkKey{l.Bundle, l.Place}] = add
	}
	return out, nil
}

// placeLinks holds the links of one place while the bound climbs: for each type with several classes, one number a class.
type placeLinks struct {
	links     []int64
	bestLinks []int64
	linkTaken []int32         // bundles taken with that class at the last evaluation
	linkOf    map[int32]int32 // type: where its numbers begin
	linkTypes []int32         // the types that have links, ascending
}

// mostLinks bounds the memory that links take.
const mostLinks = 4_000_000

// link puts links between the classes of bundles to use.
func (d *dual) link() {
	total := 0
	for p := range d.places {
		for _, dt := range d.places[p].types {
			if n := len(d.parts(p, dt.typ)); n > 1 {
				total += n
			}
		}
	}
	if total == 0 || total > mostLinks || d.m.in.Relaxed == nil {
		return
	}
	d.linked = true
	for p := range d.places {
		dp := &d.places[p]
		dp.linkOf = map[int32]int32{}
		for i := range dp.types {
			dt := &dp.types[i]
			if n := len(d.parts(p, dt.typ)); n > 1 {
				dt.link = int32(len(dp.links))
				dp.linkOf[dt.typ] = dt.link
				dp.linkTypes = append(dp.linkTypes, dt.typ)
				dp.links = append(dp.links, make([]int64, n)...)
			}
		}
		dp.linkTaken = make([]int32, len(dp.links))
	}
	d.keepLinks()
}

func (d *dual) parts(p int, t int32) []part { return d.m.types[t].kinds[d.places[p].kind].parts }

func (d *dual) keepLinks() {
	for p := range d.places {
		dp := &d.places[p]
		dp.bestLinks = append(dp.bestLinks[:0], dp.links...)
	}
}

func (d *dual) recallLinks() {
	for p := range d.places {
		copy(d.places[p].links, d.places[p].bestLinks)
	}
}

// slopes calls visit with each link number of the open places and its slope, in units of one: how much more often than the
// mean of its bundle's classes the class was taken.
func (d *dual) slopes(visit func(links []int64, slope []int64, many int64)) {
	if !d.linked || d.merged {
		return
	}
	var slope []int64
	for p := range d.places {
		dp := &d.places[p]
		if d.times[p] == 0 {
			continue
		}
		for _, t := range dp.linkTypes {
			from := int(dp.linkOf[t])
			taken := dp.linkTaken[from : from+len(d.parts(p, t))]
			if slices.Max(taken) == slices.Min(taken) {
				continue
			}
			sum, many := int64(0), int64(len(d.m.types[t].members))
			for _, n := range taken {
				sum += int64(n)
			}
			slope = slope[:0]
			for _, n := range taken {
				slope = append(slope, (int64(n)*one-sum*one/int64(len(taken)))*d.times[p]/many)
			}
			visit(dp.links[from:from+len(taken)], slope, many)
		}
	}
}

// linkNorm is the links' part of the direction's norm.
func (d *dual) linkNorm() int64 {
	norm := int64(0)
	d.slopes(func(_, slope []int64, many int64) {
		for _, g := range slope {
			norm += g * g / one * many
		}
	})
	return norm
}

// moveLinks takes the links' part of a step of the given length.
func (d *dual) moveLinks(length, norm int64) {
	d.slopes(func(links, slope []int64, _ int64) {
		rest := int64(0)
		for i := range links[1:] {
			add := mulDiv(length, slope[i], norm)
			links[i] += add
			rest += add
		}
		links[len(links)-1] -= rest
	})
}

// resultLinks lists the best links of the placed bundles where they matter.
func (so *solver) resultLinks(of []int) []Link {
	d := so.dual
	if d == nil || !d.linked {
		return nil
	}
	var out []Link
	var split []int64
	for p := range d.places {
		dp := &d.places[p]
		for _, t := range dp.linkTypes {
			a := &so.m.types[t]
			parts := d.parts(p, t)
			add := dp.bestLinks[dp.linkOf[t]:][:len(parts)]
			split = append(split[:0], make([]int64, len(parts))...)
			r := a.cost[p] - d.best[t]
			shares(r, a.kinds[dp.kind].split, split)
			matters := false
			for i := range parts {
				matters = matters || add[i] != 0 && min(split[i], split[i]+add[i]) < 0
			}
			if !matters {
				continue
			}
			for _, b := range a.members {
				if of[b] >= 0 {
					out = append(out, Link{int(b), p, shiftsOf(parts, add)})
				}
			}
		}
	}
	slices.SortFunc(out, func(a, b Link) int { return cmp.Or(cmp.Compare(a.Bundle, b.Bundle), cmp.Compare(a.Place, b.Place)) })
	return out
}

func shiftsOf(parts []part, add []int64) []Shift {
	var out []Shift
	for i, p := range parts {
		out = append(out, Shift{int(p.class), add[i]})
	}
	slices.SortFunc(out, func(a, b Shift) int { return cmp.Compare(a.Class, b.Class) })
	return out
}
