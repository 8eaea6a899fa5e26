package packing_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/packing"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// faults lists the laws that a station breaks. built says that spare may have been used up.
func faults(place *tariff.Place, st *packing.Station, signals []int, built bool) (out []string) {
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	env, b := place.Env, place.Env.Book
	c := env.Construction
	at := map[int]int{}
	var logic q.Microamps
	rail := st.Coupler.Width
	rank := 0
	for n, s := range st.Slots {
		logic += s.Module.Logic
		width := s.Module.Width
		if s.Base != nil {
			width = max(width, s.Base.Width)
			if !slices.Contains(s.Base.Patterns, s.Module.Pattern) {
				say("slot %d: base %s does not suit %s", n+1, s.Base.Code, s.Module.Code)
			}
		} else if c.HasBases {
			say("slot %d has no base", n+1)
		}
		rail += width
		r := max(0, slices.Index(c.Order, s.Module.Rank))
		if !s.Module.Infeed {
			if r < rank {
				say("slot %d goes back in rank", n+1)
			}
			rank = r
		}
		var sum q.Microamps
		seen := map[[2]int]bool{}
		for _, u := range s.Used {
			set := &s.Module.Channels[u.Set]
			if u.Index >= set.Count || seen[[2]int{u.Set, u.Index}] || u.Printed != packing.Printed(set, u.Index) {
				say("slot %d: channel %v is not there or used twice", n+1, u)
			}
			seen[[2]int{u.Set, u.Index}] = true
			if _, twice := at[u.Signal]; twice {
				say("signal %d sits twice", u.Signal)
			}
			at[u.Signal] = n
			sig := &b.Signals[u.Signal]
			if bar, ok := fit.MayUse(sig, &b.Project.Basis, s.Module, u.Set, env.Where(), b.Chosen[u.Signal]); !ok {
				say("slot %d: signal %s may not sit there: bar %d", n+1, sig.ID, bar)
			}
			if b.GroupKey(u.Signal) != st.Groups[s.Group].Key || b.ModuleKey(u.Signal) != b.ModuleKey(s.Used[0].Signal) {
				say("slot %d: keys differ", n+1)
			}
			sum += fit.ChannelCurrent(sig, &b.Project.Basis, set)
		}
		if s.Module.MaxTotal > 0 && sum > s.Module.MaxTotal {
			say("slot %d: %s through a module for %s", n+1, sum, s.Module.MaxTotal)
		}
	}
	for _, i := range signals {
		n, ok := at[i]
		if !ok {
			say("signal %d is nowhere", i)
		}
		for _, o := range b.Partners[i] {
			if m, here := at[o]; here && (m == n || fit.RedundancyLevel(&b.Project.Basis) == project.LevelGroup && st.Slots[m].Group == st.Slots[n].Group) {
				say("partners %d and %d share a module or group", i, o)
			}
		}
	}
	if place.EndPiece != nil {
		rail += place.EndPiece.Width
	}
	if rail != st.Rail || logic != st.Logic {
		say("rail %s or logic %s is not what it says", rail, logic)
	}
	limits := [][2]int64{
		{int64(logic), int64(st.Coupler.LogicLimit)},
		{int64(rail), int64(c.MaxRail)},
		{int64(len(st.Groups)), int64(c.MaxGroups)},
		{int64(len(st.Slots) + b.Project.Basis.FreeSlots), int64(min(c.MaxSlots, st.Coupler.MaxSlots))},
		{int64(st.InBytes), int64(st.Coupler.MaxIn)},
		{int64(st.OutBytes), int64(st.Coupler.MaxOut)},
		{int64(rail), int64(st.Enclosure.Row)},
	}
	for i, l := range limits {
		if l[0] > l[1] {
			say("limit %d: %d of %d", i, l[0], l[1])
		}
	}
	out = append(out, groupFaults(place, st)...)
	if !built {
		out = append(out, spareFaults(env, st)...)
	}
	return out
}

func groupFaults(place *tariff.Place, st *packing.Station) (out []string) {
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	env, b := place.Env, place.Env.Book
	next := 1
	for g, group := range st.Groups {
		if group.First != next || group.Last < group.First {
			say("group %d is slots %d to %d, not from %d", g, group.First, group.Last, next)
			return out
		}
		next = group.Last + 1
		var load q.Microamps
		infeeds := b2i(group.AtCoupler)
		for n := group.First; n <= group.Last; n++ {
			s := st.Slots[n-1]
			if s.Group != g {
				say("slot %d is not in group %d", n, g)
			}
			infeeds += b2i(s.Infeed)
			load += s.Module.Supply
			for _, u := range s.Used {
				load += fit.Load(&b.Signals[u.Signal], &b.Project.Basis, &s.Module.Channels[u.Set])
			}
		}
		if infeeds != 1 {
			say("group %d has %d infeed points", g, infeeds)
		}
		if load != group.Load || load > group.Ceiling || load > group.Protection.Rating || group.Limit != min(group.Ceiling, group.Protection.Rating) {
			say("group %d: load %s is not %s, or above %s", g, load, group.Load, group.Limit)
		}
		if group.AtCoupler && (g != 0 || !env.Construction.CouplerFeeds) || env.Construction.CouplerFeeds && g == 0 && group.Key.Voltage == fit.V24 && !group.AtCoupler {
			say("group %d at the coupler: %v", g, group.AtCoupler)
		}
		if group.Reason == "" {
			say("group %d has no reason", g)
		}
	}
	if next != len(st.Slots)+1 {
		say("groups end at slot %d of %d", next-1, len(st.Slots))
	}
	return out
}

func spareFaults(env *tariff.Env, st *packing.Station) (out []string) {
	type heap struct {
		key  fit.GroupKey
		kind project.Kind
	}
	used, free := map[heap]int64{}, map[heap]int64{}
	for _, s := range st.Slots {
		for set := range s.Module.Channels {
			h := heap{st.Groups[s.Group].Key, s.Module.Channels[set].Kind}
			free[h] += int64(s.Module.Channels[set].Count)
			for _, u := range s.Used {
				if u.Set == set {
					free[h]--
					used[h]++
				}
			}
		}
	}
	for h, n := range used {
		if want := q.CeilDiv(n*env.Book.Project.Basis.Spare[h.kind], 1000); free[h] < want {
			out = append(out, fmt.Sprintf("%v: %d free of %d wanted", h, free[h], want))
		}
	}
	return out
}

// sums reports whether the bill adds up and agrees with the parts that stand there.
func sums(st *packing.Station) bool {
	total := st.Cost.Feeder + st.Cost.Fixed
	parts := 0
	for _, p := range st.Cost.Parts {
		total += q.Money(p.Count) * p.Price
		parts += p.Count
	}
	for _, l := range st.Cost.Labour {
		total += q.Money(l.Count) * l.Price
	}
	want := 2 + len(st.Slots) + len(st.Groups) + b2i(st.EndPiece != "")
	for _, s := range st.Slots {
		want += b2i(s.Base != nil)
	}
	for _, s := range st.Supplies {
		want += s.Count
	}
	return total == st.Cost.Total && parts == want
}

func smallWorld(t *rapid.T, most int) (*tariff.Place, []int) {
	d := draw{t}
	opening := []hardware.Opening{hardware.ByBase, hardware.ByModule, hardware.ByEach}[d.n(0, 2)]
	place, err := d.place(opening, d.n(1, most))
	if err != nil {
		t.Fatal(err)
	}
	var signals []int
	for i, typ := range place.Env.TypeOf {
		if typ >= 0 {
			signals = append(signals, i)
		}
	}
	return place, signals
}

func TestLawsHoldOnSmallStations(t *testing.T) {
	quickly(t, 150)
	placed := 0
	rapid.Check(t, func(t *rapid.T) {
		place, signals := smallWorld(t, 14)
		st, refusal := packing.Complete(packing.Order{Place: place, Signals: signals})
		if refusal != nil {
			if refusal.Text == "" {
				t.Fatal("refused without a word")
			}
			return
		}
		placed++
		if f := faults(place, st, signals, false); len(f) > 0 {
			t.Fatalf("%v\n%s", f, written(st))
		}
		if !sums(st) {
			t.Fatalf("the bill does not add up: %+v", st.Cost)
		}
		if cost, ok := packing.Cost(packing.Order{Place: place, Signals: signals}); !ok || cost != st.Cost.Total {
			t.Fatalf("Cost says %s, Complete %s", cost, st.Cost.Total)
		}
		if st.Bound > st.Cost.Total || st.Proven != (st.Bound == st.Cost.Total) {
			t.Fatalf("bound %s, cost %s, proven %v", st.Bound, st.Cost.Total, st.Proven)
		}
		demands, _ := place.Env.Demands(signals)
		if floor, roof := place.Floor(demands), place.Roof(signals); len(signals) > 0 && (floor > st.Cost.Total || roof < st.Cost.Total) {
			t.Fatalf("floor %s, cost %s, roof %s", floor, st.Cost.Total, roof)
		}
	})
	t.Logf("%d placed", placed)
}

func TestLawsHoldOnBuiltinStations(t *testing.T) {
	for _, c := range hardware.Builtin().Constructions {
		for seed := range uint64(4) {
			n := 20 + int(seed)*25
			place := builtinPlace(t, c.Code, mixed(seed, n), func(b *project.Basis) {
				if seed == 2 {
					b.Redundancy = project.LevelGroup
				}
				if seed == 3 {
					b.Address.Convention = "word"
				}
			})
			st, refusal := packing.Complete(packing.Order{Place: place, Signals: all(n)})
			if refusal != nil {
				t.Errorf("%s seed %d: %s", c.Code, seed, refusal.Text)
				continue
			}
			for _, f := range faults(place, st, all(n), false) {
				t.Errorf("%s seed %d: %s", c.Code, seed, f)
			}
			if !sums(st) {
				t.Errorf("%s seed %d: the bill does not add up", c.Code, seed)
			}
			demands, _ := place.Env.Demands(all(n))
			if floor, roof := place.Floor(demands), place.Roof(all(n)); floor > st.Cost.Total || roof < st.Cost.Total {
				t.Errorf("%s seed %d: floor %s, cost %s, roof %s", c.Code, seed, floor, st.Cost.Total, roof)
			} else {
				t.Logf("%s seed %d: floor %s, cost %s, bound %s, slots %d", c.Code, seed, floor, st.Cost.Total, st.Bound, len(st.Slots))
			}
		}
	}
}

// TestOrderDoesNotMatter packs the same signals from shuffled rows, in a warm book and a fresh one.
func TestOrderDoesNotMatter(t *testing.T) {
	for _, c := range []string{"rail", "slice", "block"} {
		rows := mixed(5, 60)
		place := builtinPlace(t, c, rows, nil)
		want, refusal := packing.Complete(packing.Order{Place: place, Signals: all(60)})
		if refusal != nil {
			t.Fatal(refusal.Text)
		}
		rnd := rand.New(rand.NewPCG(1, 1))
		for range 3 {
			shuffled := slices.Clone(rows)
			rnd.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
			signals := all(60)
			rnd.Shuffle(len(signals), func(i, j int) { signals[i], signals[j] = signals[j], signals[i] })
			fresh := builtinPlace(t, c, shuffled, nil)
			for range 5 { // warm it with other questions
				_, _ = packing.Cost(packing.Order{Place: fresh, Signals: signals[:10+rnd.IntN(40)]})
			}
			got, _ := packing.Complete(packing.Order{Place: fresh, Signals: signals})
			want.Steps, got.Steps = 0, 0
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s: %s", c, diff)
			}
		}
	}
}
