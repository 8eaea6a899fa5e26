package plan

import (
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/hardware"
	"railwright/internal/synth"
	"railwright/internal/tariff"
)

type chance struct{ t *rapid.T }

func (c chance) Intn(n int) int { return rapid.IntRange(0, n-1).Draw(c.t, "n") }

// Second way: on projects small enough, every assignment of bundles to stations is tried; siting and
// packing find the same cost, and no assignment exists exactly when something is left unplaced.
func TestPlanAgreesWithExhaustiveSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.IntRange(1, 3).Draw(t, "places")
		p := synth.Site(synth.Size{Signals: rapid.IntRange(1, 7).Draw(t, "signals"), Places: places, Candidates: places, Stations: rapid.IntRange(1, 2).Draw(t, "stations")}, synth.StationsCheap, chance{t})
		p.Basis.Construction = rapid.SampledFrom([]string{"rail", "slice", "block"}).Draw(t, "construction")
		p.Network.Topology = rapid.SampledFrom([]string{"star", "line", "ring", "tree"}).Draw(t, "topology")
		p.Basis.Prices.StationMount = rapid.SampledFrom([]int64{600, 3600, 8 * 3600}).Draw(t, "station labour")
		for i := range p.Routes {
			p.Routes[i].Length *= 8 // ways long enough for several stations to pay
		}
		p = p.Normalised()
		list := hardware.Builtin()
		g, err := newGround(p, list, sortOut(p))
		if err != nil {
			t.Fatal(err)
		}
		pr, err := newProblem(g, tariff.NewBook(p, list))
		if err != nil {
			t.Fatal(err)
		}
		d, err := Run(p, list, Options{})
		if err != nil {
			t.Fatal(err)
		}
		best, ok := pr.exhaust()
		left := len(d.Unplaced) - len(pr.unplaced)
		if ok != (left == 0) {
			t.Fatalf("exhaustive search places all: %v; the plan leaves %d signals", ok, left)
		}
		if got := int64(d.Siting.Objective*1e4 + 0.5); ok && got != best {
			t.Fatalf("objective %d, exhaustive search %d", got, best)
		}
	})
}

// exhaust tries every assignment of the bundles to stations and returns the least cost.
func (pr *problem) exhaust() (int64, bool) {
	type stand struct{ site, copy int }
	var stands []stand
	for i := range pr.sites {
		for c := range pr.sites[i].copies {
			stands = append(stands, stand{i, c})
		}
	}
	known := map[string]int64{}
	cost := func(site int, bundles []int) int64 {
		key := string(rune(site)) + ":"
		for _, b := range bundles {
			key += string(rune(b)) + ","
		}
		if c, ok := known[key]; ok {
			return c
		}
		c, ok := pr.confirm(site, bundles)
		if !ok {
			c = -1
		}
		known[key] = c
		return c
	}
	held := make([][]int, len(stands))
	best := int64(-1)
	var walk func(b int, cables int64)
	walk = func(b int, cables int64) {
		if b < len(pr.bundles) {
			for i, s := range stands {
				c := pr.in.Bundles[b].Cost[s.site]
				if c >= 1<<50 || clash(pr.in.Conflicts, held[i], b) {
					continue
				}
				held[i] = append(held[i], b)
				walk(b+1, cables+c)
				held[i] = held[i][:len(held[i])-1]
			}
			return
		}
		total := cables
		count := make([]int, len(pr.sites))
		for i, s := range stands {
			if len(held[i]) == 0 {
				continue
			}
			c := cost(s.site, held[i])
			if c < 0 {
				return
			}
			total += c
			count[s.site]++
		}
		net := pr.in.Network.Cost(count)
		if net >= 1<<50 {
			return
		}
		if total += net; best < 0 || total < best {
			best = total
		}
	}
	walk(0, 0)
	return best, best >= 0
}

func clash(pairs [][2]int, held []int, b int) bool {
	for _, h := range held {
		for _, p := range pairs {
			if p[0] == h && p[1] == b || p[1] == h && p[0] == b {
				return true
			}
		}
	}
	return false
}
