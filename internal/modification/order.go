package modification

import (
	"maps"
	"math"
	"slices"
)

// event is the begin or the end of an outage of one unit.
type event struct {
	unit string
	ends bool
}

// outages says which units must be off, and which core moves join them.
type outages struct {
	units []string                   // sorted
	after map[string]map[string]bool // unit -> units from which cores come that it takes: they must have begun before it ends
	count func(units []string) int   // signals out of service while exactly these units are off
}

// mostExact is the number of joined units up to which every order is weighed: 3^n states.
const mostExact = 9

// order puts the outages into the order in which the fewest signals are out at any one time; each unit is
// off once. Units that no core joins are dealt with one set after the other.
func (o *outages) order() []event {
	var out []event
	for _, set := range o.joined() {
		if len(set) <= mostExact {
			out = append(out, o.exact(set)...)
		} else {
			out = append(out, o.greedy(set)...)
		}
	}
	return out
}

// joined parts the units into sets that cores join, each sorted, the smaller outages first.
func (o *outages) joined() [][]string {
	set := map[string]int{}
	for i, u := range o.units {
		set[u] = i
	}
	for grown := true; grown; {
		grown = false
		for u, from := range o.after {
			for v := range from {
				if a, b := set[u], set[v]; a != b {
					set[u], set[v], grown = min(a, b), min(a, b), true
				}
			}
		}
	}
	by := map[int][]string{}
	for _, u := range o.units {
		by[set[u]] = append(by[set[u]], u)
	}
	out := slices.Collect(maps.Values(by))
	slices.SortFunc(out, func(a, b []string) int {
		if d := o.count(a) - o.count(b); d != 0 {
			return d
		}
		return natural(a[0], b[0])
	})
	return out
}

// exact weighs every order of begins and ends by the most signals out at once, then by the sum over events.
func (o *outages) exact(set []string) []event {
	n := len(set)
	type cost struct{ peak, sum int }
	type choice struct {
		cost
		next int // unit to begin or to end
		seen bool
	}
	const never = math.MaxInt32
	states := 1
	for range n {
		states *= 3 // 0 not begun, 1 off, 2 over
	}
	memo := make([]choice, states)
	digits := func(state int) []int {
		d := make([]int, n)
		for i := range d {
			d[i], state = state%3, state/3
		}
		return d
	}
	power := make([]int, n+1)
	power[0] = 1
	for i := range n {
		power[i+1] = 3 * power[i]
	}
	var best func(state int) choice
	best = func(state int) choice {
		if state == states-1 {
			return choice{seen: true, next: -1}
		}
		if memo[state].seen {
			return memo[state]
		}
		now := digits(state)
		here := o.count(offNow(set, now))
		found := choice{cost: cost{never, never}, seen: true}
		for i := range n {
			if now[i] == 2 || now[i] == 1 && !o.mayEnd(set, now, i) {
				continue
			}
			c := best(state + power[i])
			peak, sum := max(here, c.peak), here+c.sum
			if peak < found.peak || peak == found.peak && sum < found.sum {
				found.cost, found.next = cost{peak, sum}, i
			}
		}
		memo[state] = found
		return found
	}
	var out []event
	for state := 0; state != states-1; {
		i := best(state).next
		out = append(out, event{set[i], digits(state)[i] == 1})
		state += power[i]
	}
	return out
}

func offNow(set []string, now []int) []string {
	var out []string
	for i, d := range now {
		if d == 1 {
			out = append(out, set[i])
		}
	}
	return out
}

// mayEnd: every unit whose cores it takes has begun.
func (o *outages) mayEnd(set []string, now []int, i int) bool {
	for j, u := range set {
		if now[j] == 0 && o.after[set[i]][u] {
			return false
		}
	}
	return true
}

// greedy begins the unit that lets most end, the smaller first, and ends each as soon as it may.
func (o *outages) greedy(set []string) []event {
	now := make([]int, len(set))
	var out []event
	for {
		for i := range set {
			if now[i] == 1 && o.mayEnd(set, now, i) {
				now[i] = 2
				out = append(out, event{set[i], true})
			}
		}
		next, waits := -1, 0
		for i := range set {
			if now[i] != 0 {
				continue
			}
			w := o.waiting(set, now, i)
			if next < 0 || w < waits || w == waits && o.count(set[i:i+1]) < o.count(set[next:next+1]) {
				next, waits = i, w
			}
		}
		if next < 0 {
			return out
		}
		now[next] = 1
		out = append(out, event{set[next], false})
	}
}

// waiting counts the units that must begin before unit i may end.
func (o *outages) waiting(set []string, now []int, i int) int {
	n := 0
	for j, u := range set {
		if now[j] == 0 && j != i && o.after[set[i]][u] {
			n++
		}
	}
	return n
}
