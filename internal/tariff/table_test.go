package tariff

import (
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/hardware"
	q "railwright/internal/quantity"
	"railwright/internal/synth"
)

// Second way: the cheapest modules for any counts, spare and partners, found by trying every selection.
func TestOffersAgreeWithTryingEverySelection(t *testing.T) {
	p := synth.Site(synth.Size{Signals: 300, Places: 4, Candidates: 4}, synth.Balanced, synth.Seed(3))
	book := NewBook(p.Normalised(), hardware.Builtin())
	for _, construction := range []string{"rail", "slice", "block"} {
		place, err := book.At(Site{Place: "P000", Construction: construction, Network: "ethernet-fibre", Ambient: 40})
		if err != nil {
			t.Fatal(err)
		}
		e := place.Env
		rapid.Check(t, func(t *rapid.T) {
			pool := rapid.IntRange(0, len(e.Pools)-1).Draw(t, "pool")
			counts, apart := make([]int, len(e.Pools[pool].Classes)), make([]int, len(e.Pools[pool].Classes))
			total := 0
			for i := range counts {
				counts[i] = rapid.IntRange(0, 5).Draw(t, "count")
				apart[i] = e.partnersOf(&e.Pools[pool], i, rapid.IntRange(1, 2).Draw(t, "apart"))
				total += counts[i]
			}
			if total == 0 {
				return
			}
			const most = 4
			offers, exact := e.Offers(pool, counts, apart, 1, most)
			if !exact {
				t.Fatal("not exact")
			}
			got := map[int]q.Money{}
			for _, o := range offers {
				got[o.Modules] = o.Cost
			}
			least := Forbidden
			for k := 1; k <= most; k++ {
				want := e.tryAll(pool, counts, apart, k)
				if want < least {
					least = want
					if got[k] != want {
						t.Fatalf("%s pool %s, counts %v apart %v, %d modules: %v, trying all finds %v", construction, e.Pools[pool].Key, counts, apart, k, got[k], want)
					}
				} else if got[k] != 0 {
					t.Fatalf("%s: %d modules offered at %v though fewer cost %v", construction, k, got[k], least)
				}
			}
		})
	}
}

// tryAll returns the least cost of exactly k modules that hold the counts, by trying every selection;
// room is judged by seating signals one by one on channel sets.
func (e *Env) tryAll(pool int, counts, apart []int, k int) q.Money {
	p := &e.Pools[pool]
	best := Forbidden
	chosen := make([]int, len(p.Mods))
	var walk func(m, left int, cost q.Money)
	walk = func(m, left int, cost q.Money) {
		if left == 0 {
			if cost < best && e.seats(p, chosen, counts, apart) {
				best = cost
			}
			return
		}
		if m == len(p.Mods) {
			return
		}
		for n := 0; n <= left; n++ {
			chosen[m] = n
			walk(m+1, left-n, cost+q.Money(n)*e.Mods[p.Mods[m].Mod].Least)
		}
		chosen[m] = 0
	}
	walk(0, k, 0)
	return best
}

// seats finds room for the counts and the spare by augmenting paths over channel sets.
func (e *Env) seats(p *Pool, chosen, counts, apart []int) bool {
	type slot struct{ m, set int }
	var slots []slot
	for m, n := range chosen {
		for range n {
			for _, set := range p.Mods[m].Sets {
				for range e.Mods[p.Mods[m].Mod].M.Channels[set].Count {
					slots = append(slots, slot{m, set})
				}
			}
		}
	}
	var wants []func(s slot) bool
	for i, n := range counts {
		c := &e.Classes[p.Classes[i]]
		takes := func(s slot) bool {
			for _, o := range c.Options {
				if o.Mod == p.Mods[s.m].Mod && o.Set == s.set {
					return true
				}
			}
			return false
		}
		for range n {
			wants = append(wants, takes)
		}
		suits := 0
		for m, k := range chosen {
			if k > 0 && e.fits(c, &p.Mods[m]) {
				suits += k
			}
		}
		if n > 0 && suits < apart[i] {
			return false
		}
	}
	for _, kind := range p.Kinds {
		n := 0
		for i, c := range p.Classes {
			if e.Classes[c].Kind == kind {
				n += counts[i]
			}
		}
		for range q.CeilDiv(int64(n)*p.Spare[kind], 1000) {
			wants = append(wants, func(s slot) bool { return e.Mods[p.Mods[s.m].Mod].M.Channels[s.set].Kind == kind })
		}
	}
	taken := make([]int, len(slots))
	for i := range taken {
		taken[i] = -1
	}
	var seat func(w int, seen []bool) bool
	seat = func(w int, seen []bool) bool {
		for i, s := range slots {
			if seen[i] || !wants[w](s) {
				continue
			}
			seen[i] = true
			if taken[i] < 0 || seat(taken[i], seen) {
				taken[i] = w
				return true
			}
		}
		return false
	}
	for w := range wants {
		if !seat(w, make([]bool, len(slots))) {
			return false
		}
	}
	return true
}

// partnersOf is what apart asks of a class: of a pool of several classes only where the class has
// partners at all, since Offers is asked no other question.
func (e *Env) partnersOf(p *Pool, i, apart int) int {
	if len(p.Classes) == 1 {
		return apart
	}
	for _, d := range e.partnerDimensions(p) {
		if d.classes[0] == i {
			return apart
		}
	}
	return 1
}
