package siting

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// islands is the number of searches that run beside each other. It is fixed, so that the number of cores cannot change the
// answer.
const islands = 2

// solver holds what one call of Solve works with.
type solver struct {
	m       *model
	opt     Options
	near    [][]int32
	learned *learned
	dual    *dual
	memo    map[string]confirmed

	steps    int64
	complete bool
	noWay    bool // every way to place all bundles was ruled out
}

// Solve returns the best design it finds for the instance, with a lower bound on the cost of any design. The error tells
// of a malformed instance, a mistake of the caller; that bundles cannot be placed is part of the result.
func Solve(in Instance, opt Options) (Result, error) {
	m, err := newModel(in)
	if err != nil {
		return Result{}, err
	}
	so := &solver{m: m, opt: opt, learned: &learned{of: map[learnedKey]lesson{}}, memo: map[string]confirmed{}, complete: true}
	f := newFlat(m)
	if so.opt.Steps <= 0 {
		so.opt.Steps = defaultSteps(m)
		if f != nil {
			so.opt.Steps = f.defaultSteps()
		}
	}
	if f != nil {
		return so.solveFlat(f), nil
	}
	so.near = nearPlaces(m)
	first := so.begin()
	starts := so.counts(first, so.opt.Steps/4)
	best := so.search(starts, 8, so.opt.Steps*3/4)
	so.climb(best)
	best = so.rescue(so.settle(best))
	res := so.result(best)
	if opt.Curve {
		res.Curve = so.curve(best)
	}
	return res, nil
}

func defaultSteps(m *model) int64 {
	return 2_000_000 + 2000*int64(len(m.types))
}

func (so *solver) cancelled() bool {
	if so.opt.Cancelled != nil && so.opt.Cancelled() {
		so.complete = false
		return true
	}
	return false
}

func (so *solver) progress(phase string, done, total, cost int64) {
	if so.opt.Progress != nil {
		bound := int64(0)
		if so.dual != nil {
			bound = so.dual.bound
		}
		so.opt.Progress(Progress{phase, done, total, cost, bound})
	}
}

// candidate is a design met by a search.
type candidate struct {
	value int64
	loose int
	at    placements
}

func (a candidate) better(b candidate) bool {
	return a.loose < b.loose || a.loose == b.loose && a.value < b.value
}

// begin builds first designs: from the start given, and from nothing by closing stations one after the other, with the
// waste of a module begun counted differently.
func (so *solver) begin() candidate {
	best := candidate{loose: math.MaxInt}
	wastes := []int64{0, 2, 4, 8}
	if len(so.opt.Start) > 0 {
		wastes = wastes[2:3] // enough to notice that the start is far off
	}
	for _, waste := range wastes {
		s := newState(so.m, so.learned)
		se := newSearch(s, so.near, so.opt.Seed)
		se.drop(waste, 0)
		se.construct(16)
		so.steps += s.steps
		if c := se.found(); c.better(best) {
			best = c
		}
	}
	if len(so.opt.Start) > 0 {
		s := newState(so.m, so.learned)
		s.start(so.opt.Start)
		se := newSearch(s, so.near, so.opt.Seed)
		se.construct(16)
		so.steps += s.steps
		if c := se.found(); c.better(best) {
			best = c
		}
	}
	return best
}

// found returns the best design met; the search starts a new record of it.
func (se *search) found() candidate {
	se.save()
	c := candidate{se.bestValue, se.bestLoose, se.best}
	se.best = placements{}
	return c
}

// start puts the bundles of a given design where they were, as far as that is allowed.
func (s *state) start(stations []Station) {
	used := make([]int32, len(s.m.in.Places))
	for _, st := range stations {
		if st.Place < 0 || st.Place >= len(used) || used[st.Place] >= s.first[st.Place+1]-s.first[st.Place] {
			continue
		}
		i := int(s.first[st.Place] + used[st.Place])
		used[st.Place]++
		for _, b := range st.Bundles {
			if t := s.m.typeOf[b]; t >= 0 && s.loose[t] > 0 {
				if _, ok := s.enter(i, t, 1); ok {
					s.put(i, t, 1)
				}
			}
		}
	}
}

func (so *solver) climb(first candidate) {
	so.dual = newDual(so.m)
	target := first.value
	if first.loose > 0 {
		target = first.value * 2
	}
	switch {
	case len(so.opt.Multipliers) == len(so.m.typeOf):
		so.dual.resume(so.opt.Multipliers)
		so.dual.climbFrom(64, resumeRounds, target, so.cancelled)
	case so.m.in.Relaxed != nil:
		so.dual.start()
		so.dual.approach(target, so.cancelled)
		so.dual.climb(so.rounds(), target, so.cancelled)
	default:
		so.dual.start()
		so.dual.climb(so.rounds(), target, so.cancelled)
	}
	so.progress("bound", 1, 1, first.value)
}

// resumeRounds is how often the bound is evaluated when multipliers are given.
const resumeRounds = 25

// rounds is how often the bound is evaluated: fewer times on very large sites, where each takes long and the first tell most.
func (so *solver) rounds() int {
	pairs := len(so.m.types) * len(so.m.in.Places)
	return min(600, max(200, 600*1_500_000/max(pairs, 1)))
}

// search runs the islands in rounds. In the first half each goes on from its own best design, begun from one of the starts;
// then all go on from the best.
func (so *solver) search(starts []candidate, rounds int, steps int64) candidate {
	best := candidate{loose: math.MaxInt}
	own := make([]candidate, islands)
	for i, c := range starts {
		c = so.reprice(c)
		if c.better(best) {
			best = c
		}
		if i < islands {
			own[i] = c
		}
	}
	for i := len(starts); i < islands; i++ {
		own[i] = best
	}
	searches := make([]*search, islands)
	for round := range rounds {
		var wait sync.WaitGroup
		for i := range islands {
			wait.Go(func() {
				if searches[i] == nil {
					searches[i] = newSearch(newState(so.m, so.learned), so.near, so.opt.Seed*1000+uint64(i)+1)
				}
				own[i] = searches[i].round(own[i], so.heat(own[i], round, rounds), steps/islands/int64(rounds), so.opt.Cancelled)
			})
		}
		wait.Wait()
		for _, c := range own {
			if c.better(best) {
				best = c
			}
		}
		if round >= rounds/2-1 {
			for i := range own {
				own[i] = best
			}
		}
		so.progress("search", int64(round+1), int64(rounds), best.value)
		if so.cancelled() {
			break
		}
	}
	for _, se := range searches {
		so.steps += se.s.steps
	}
	return best
}

// reprice values a design by what has been learned since; what is refused by now is taken apart.
func (so *solver) reprice(c candidate) candidate {
	if len(so.learned.of) == 0 {
		return c
	}
	s := newState(so.m, so.learned)
	s.load(c.at)
	s.closeIdle()
	return candidate{s.value(), s.nLoose, s.placements()}
}

// heat is the loss accepted at the beginning of a round, falling to a quarter over it.
func (so *solver) heat(best candidate, round, rounds int) int64 {
	per := best.value / int64(max(1, len(so.m.types))) / 4
	return per * int64(rounds-round-1) / int64(rounds)
}

// round goes on from the given design.
func (se *search) round(from candidate, heat, steps int64, cancelled func() bool) candidate {
	se.s.reset(from.at)
	se.bestValue, se.bestLoose = math.MaxInt64, math.MaxInt
	se.keep()
	se.run(steps, heat, heat/4, cancelled)
	return se.found()
}

// reset empties the state and loads the placements.
func (s *state) reset(p placements) {
	s.logging = false
	for t := range s.held {
		for len(s.held[t]) > 0 {
			e := s.held[t][len(s.held[t])-1]
			s.put(int(e.slot), int32(t), -e.qty)
		}
	}
	s.closeIdle()
	s.load(p)
	s.closeIdle()
}

func (so *solver) result(best candidate) Result {
	s := newState(so.m, so.learned)
	s.load(best.at)
	s.closeIdle()
	res := Result{Of: make([]int, len(so.m.in.Bundles)), Complete: so.complete, Steps: so.steps}
	for _, st := range so.exportSlots(s) {
		if so.m.in.Confirm != nil {
			st.Cost = so.confirm(st.Place, st.Bundles).cost
		}
		res.Stations = append(res.Stations, st.Station)
	}
	for i := range res.Of {
		res.Of[i] = -1
	}
	for i, st := range res.Stations {
		for _, b := range st.Bundles {
			res.Of[b] = i
			res.CableCost += so.m.in.Bundles[b].Cost[st.Place]
		}
		res.StationCost += st.Cost
	}
	res.NetworkCost = s.network
	res.Cost = res.CableCost + res.StationCost + res.NetworkCost
	res.Unplaced = so.prove(res.Of)
	res.Multipliers = so.multipliers(res)
	res.Bound, _ = Certificate(so.m.in, res.Multipliers)
	res.Proven = res.Bound
	return res
}

// multipliers spreads the types' multipliers over bundles; unplaced ones get 0, so that the bound speaks of the rest.
func (so *solver) multipliers(res Result) []int64 {
	out := make([]int64, len(so.m.in.Bundles))
	for b, t := range so.m.typeOf {
		if t >= 0 && res.Of[b] >= 0 {
			out[b] = so.dual.best[t]
		}
	}
	return out
}

// exported is a station with the slot it came from.
type exported struct {
	Station
	slot int
}

// exportSlots lists the open stations with their bundles: alike bundles go out in ascending order to slots in order.
func (so *solver) exportSlots(s *state) []exported {
	next := make([]int, len(so.m.types))
	var list []exported
	for i := range s.slots {
		sl := &s.slots[i]
		if !sl.open {
			continue
		}
		st := exported{Station{Place: int(sl.place), Cost: sl.cost}, i}
		types := slices.Clone(sl.types)
		slices.Sort(types)
		for _, t := range types {
			for range s.in(i, t) {
				st.Bundles = append(st.Bundles, int(so.m.types[t].members[next[t]]))
				next[t]++
			}
		}
		slices.Sort(st.Bundles)
		list = append(list, st)
	}
	slices.SortFunc(list, func(a, b exported) int {
		return cmp.Or(cmp.Compare(a.Place, b.Place), slices.Compare(a.Bundles, b.Bundles))
	})
	return list
}
