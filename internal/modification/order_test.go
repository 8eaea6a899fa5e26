package modification

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// Every order of begins and ends is tried: none has fewer signals out at its worst time.
func TestNoOrderKeepsMoreRunning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "units")
		o := &outages{after: map[string]map[string]bool{}}
		size := map[string]int{}
		for i := range n {
			u := fmt.Sprintf("group:G%d", i)
			o.units = append(o.units, u)
			size[u] = rapid.IntRange(0, 9).Draw(t, "signals")
			o.after[u] = map[string]bool{}
		}
		for _, u := range o.units {
			for _, v := range o.units {
				if u != v && rapid.IntRange(0, 2).Draw(t, "core") == 0 {
					o.after[u][v] = true
				}
			}
		}
		o.count = func(units []string) int {
			sum := 0
			for _, u := range units {
				sum += size[u]
			}
			return sum
		}
		order := o.order()
		if got, want := peakOf(t, o, order), leastPeak(o, map[string]int{}, 0); got != want {
			t.Fatalf("%v has %d signals out, the best order %d", order, got, want)
		}
		set := o.joined()
		for _, s := range set {
			peakOf(t, &outages{units: s, after: o.after, count: o.count}, o.greedy(s))
		}
	})
}

// peakOf also proves the order lawful: each unit begins once, ends once, and not before those it waits for.
func peakOf(t *rapid.T, o *outages, order []event) int {
	state, peak := map[string]int{}, 0
	for _, e := range order {
		if !e.ends {
			if state[e.unit] != 0 {
				t.Fatalf("%s begins twice in %v", e.unit, order)
			}
			state[e.unit] = 1
		} else {
			for v := range o.after[e.unit] {
				if state[v] == 0 {
					t.Fatalf("%s ends before %s begins in %v", e.unit, v, order)
				}
			}
			if state[e.unit] != 1 {
				t.Fatalf("%s ends without a begin in %v", e.unit, order)
			}
			state[e.unit] = 2
		}
		peak = max(peak, out(o, state))
	}
	for _, u := range o.units {
		if state[u] != 2 {
			t.Fatalf("%s is not over in %v", u, order)
		}
	}
	return peak
}

func out(o *outages, state map[string]int) int {
	var off []string
	for _, u := range o.units {
		if state[u] == 1 {
			off = append(off, u)
		}
	}
	return o.count(off)
}

// leastPeak tries everything.
func leastPeak(o *outages, state map[string]int, peak int) int {
	peak = max(peak, out(o, state))
	best, over := 1<<30, true
	for _, u := range o.units {
		if state[u] == 2 {
			continue
		}
		over = false
		if state[u] == 1 {
			waits := false
			for v := range o.after[u] {
				waits = waits || state[v] == 0
			}
			if waits {
				continue
			}
		}
		state[u]++
		best = min(best, leastPeak(o, state, peak))
		state[u]--
	}
	if over {
		return peak
	}
	return best
}
