package siting

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// flatSolver finds a design in the plain case: the bound's multipliers propose sets of places, annealing assigns the bundles
// to each set, and branching over the places proves.
type flatSolver struct {
	so   *solver
	f    *flat
	d    *flatDual
	sets map[string]*openSet
	list []*openSet // in the order met

	upper  int64    // cost of the best design; Forbidden while there is none
	best   *openSet // by soft cost
	answer []int32  // assignment of the best design
	proven int64
	base   int64   // sum of the best multipliers
	values []int64 // per place: v_p at the best multipliers
	states []*flatState
}

// openSet is a set of open places that was met.
type openSet struct {
	open  []bool
	bound int64 // at the best multipliers: no design with these places costs less
	cost  int64 // best found; Forbidden while none
	soft  int64 // the same with a price on what is left out
	to    []int32
	tries int
	grown bool // its neighbours were added
}

// defaultSteps is about a second's work up to a hundred bundles or a few thousand pairs of bundle and place, three seconds'
// beyond.
func (f *flat) defaultSteps() int64 {
	switch n := len(f.size); {
	case n <= 100:
		return 4_000_000
	case n*f.places <= 10_000:
		return 2_400_000
	default:
		return 4_500_000
	}
}

// solveFlat solves the plain case.
func (so *solver) solveFlat(f *flat) Result {
	fs := &flatSolver{so: so, f: f, sets: map[string]*openSet{}, upper: Forbidden}
	for i := range islands {
		fs.states = append(fs.states, newFlatState(f, so.opt.Seed*1000+uint64(i)+1))
	}
	fs.d = newFlatDual(so.m)
	fs.d.seen = fs.meet
	fs.d.start()
	fs.firstClimb()
	fs.improve(so.opt.Steps / 8)
	fs.d.climb(200, fs.upper, so.cancelled)
	fs.valueSets()
	fs.improve(so.opt.Steps / 4)
	br := fs.newBranching()
	for range 4 {
		br.run(so.opt.Steps * 2)
		if fs.upper <= fs.proven {
			break
		}
		fs.improve(so.opt.Steps / 4)
		br.conclude()
	}
	return fs.result()
}

// firstClimb climbs before any design is known: the target is a guess above the bound, corrected as designs are found.
func (fs *flatSolver) firstClimb() {
	for range 4 {
		bound := fs.d.evaluate()
		target := bound + bound/20 + 1
		if fs.upper < Forbidden {
			target = fs.upper
		}
		fs.d.climb(30, target, fs.so.cancelled)
		fs.valueSets()
		fs.tryBest(1, len(fs.f.size)*100)
	}
}

// meet notes the set of places the relaxation has just chosen.
func (fs *flatSolver) meet(times []int64, _ int64) {
	open := make([]bool, fs.f.places)
	for p := range open {
		open[p] = times[p] > 0
	}
	fs.add(open)
}

// take notes a design found for a set of places.
func (fs *flatSolver) take(g *openSet) {
	s := fs.add(g.open)
	if s.to == nil || g.soft < s.soft || g.cost < s.cost {
		s.to, s.soft, s.cost = g.to, g.soft, g.cost
		s.tries = max(s.tries, 1)
	}
	fs.judge(s)
}

// judge compares a set with the best.
func (fs *flatSolver) judge(s *openSet) {
	if fs.best == nil || s.soft < fs.best.soft {
		fs.best = s
	}
	if s.cost < fs.upper {
		fs.upper, fs.answer = s.cost, slices.Clone(s.to)
	}
}

func (fs *flatSolver) add(open []bool) *openSet {
	key := make([]byte, len(open))
	for p, o := range open {
		if o {
			key[p] = 1
		}
	}
	s := fs.sets[string(key)]
	if s == nil {
		s = &openSet{open: open, cost: Forbidden, bound: fs.boundOf(open)}
		fs.sets[string(key)] = s
		fs.list = append(fs.list, s)
	}
	return s
}

func (fs *flatSolver) boundOf(open []bool) int64 {
	if fs.values == nil {
		return 0
	}
	bound := fs.base
	for p, o := range open {
		if o {
			bound += fs.values[p]
		}
	}
	return bound
}

// valueSets takes the best multipliers as those by which sets are judged.
func (fs *flatSolver) valueSets() {
	d := fs.d
	copy(d.lambda, d.best)
	seen := d.seen
	d.seen = nil
	d.evaluate()
	d.seen = seen
	fs.values = fs.values[:0]
	fs.base = 0
	for t := range d.lambda {
		fs.base += d.lambda[t] * int64(len(d.m.types[t].members))
	}
	for p := range d.places {
		fs.values = append(fs.values, d.places[p].value)
	}
	for _, s := range fs.list {
		s.bound = fs.boundOf(s.open)
	}
	fs.proven = max(fs.proven, fs.roundUp(d.bound))
}

// roundUp raises a bound to the next multiple of the costs' grain.
func (fs *flatSolver) roundUp(v int64) int64 {
	return -divFloor(-v, fs.f.grain) * fs.f.grain
}

// improve anneals promising sets and their neighbours until the moves are spent or the best is proven.
func (fs *flatSolver) improve(moves int64) {
	const batch = 4
	fs.enumerate(400)
	for spent := int64(0); spent < moves && fs.upper > fs.proven && !fs.so.cancelled(); {
		if fs.best != nil && !fs.best.grown {
			fs.grow(fs.best)
		}
		n := fs.tryBest(batch, len(fs.f.size)*200)
		if n == 0 {
			return
		}
		spent += n
		fs.so.progress("search", spent, moves, fs.upper)
	}
}

// tryBest anneals the most promising sets, more moves for those tried before, and returns the moves made.
func (fs *flatSolver) tryBest(count, moves int) int64 {
	chosen := fs.promising(count)
	var wait sync.WaitGroup
	total := int64(0)
	for i := range fs.states {
		wait.Go(func() {
			for k := i; k < len(chosen); k += len(fs.states) {
				fs.try(fs.states[i], chosen[k], moves<<min(chosen[k].tries, 6))
			}
		})
	}
	wait.Wait()
	for _, s := range chosen {
		total += int64(moves << min(s.tries, 6))
		s.tries++
		fs.judge(s)
	}
	return total
}

// promising returns the sets with the least expected cost.
func (fs *flatSolver) promising(count int) []*openSet {
	excess := int64(math.MaxInt64)
	for _, s := range fs.list {
		if s.tries > 0 {
			excess = min(excess, s.soft-s.bound)
		}
	}
	if excess == math.MaxInt64 {
		excess = 0
	}
	unit := max(1, fs.proven/4000)
	score := func(s *openSet) int64 {
		if s.tries > 0 {
			return s.soft + int64(s.tries*s.tries-1)*unit
		}
		return s.bound + max(excess, 0)
	}
	var list []*openSet
	for _, s := range fs.list {
		if fs.roundUp(s.bound) < fs.upper {
			list = append(list, s)
		}
	}
	slices.SortStableFunc(list, func(a, b *openSet) int { return cmp.Compare(score(a), score(b)) })
	return list[:min(count, len(list))]
}

// try anneals one set, from its own best assignment or that of the best design.
func (fs *flatSolver) try(s *flatState, set *openSet, moves int) {
	from := set.to
	if from == nil && fs.best != nil {
		from = fs.best.to
	}
	if !s.begin(set.open, from) {
		return
	}
	s.anneal(moves, fs.heat(set.tries))
	s.back()
	s.polish()
	to, _ := s.found()
	found := &openSet{to: slices.Clone(to)}
	found.soft, found.cost = found.total(fs.f)
	if set.to == nil || found.soft < set.soft || found.cost < set.cost {
		set.to, set.soft, set.cost = found.to, found.soft, found.cost
	}
}

// heat is the loss accepted at the start of an annealing: a part of the mean difference between near places.
func (fs *flatSolver) heat(tries int) int64 {
	return fs.f.spread * [4]int64{16, 4, 8, 2}[tries%4] / 64
}

// total is the design's cost with unused places closed and a price on what is too much, and the cost that counts: Forbidden
// when a place is too full.
func (set *openSet) total(f *flat) (soft, cost int64) {
	load := make([]int32, f.places)
	for j, p := range set.to {
		load[p] += f.size[j]
		soft += f.at(int32(j), p)
	}
	over := int32(0)
	for p := range f.places {
		if load[p] > 0 || f.m.in.Places[p].Must > 0 {
			soft += f.open[p]
			over += tooMuch(f.room[p] - load[p])
		}
	}
	if over > 0 {
		return soft + int64(over)*f.overPrice, Forbidden
	}
	return soft, soft
}

// grow adds the sets that differ from this one by a place more, a place less, or one place for another, and may be better
// than the best.
func (fs *flatSolver) grow(set *openSet) {
	set.grown = true
	flip := func(list ...int) {
		open := slices.Clone(set.open)
		room := int64(0)
		for _, p := range list {
			open[p] = !open[p]
		}
		for p, o := range open {
			if o {
				room += int64(fs.f.room[p])
			} else if fs.f.m.in.Places[p].Must > 0 {
				return
			}
		}
		if room >= fs.f.need && fs.roundUp(fs.boundOf(open)) < fs.upper {
			fs.add(open)
		}
	}
	for p := range set.open {
		if fs.f.m.in.Places[p].Copies == 0 {
			continue
		}
		flip(p)
		for q := range p {
			if set.open[p] != set.open[q] && fs.f.m.in.Places[q].Copies > 0 {
				flip(p, q)
			}
		}
	}
}

func (fs *flatSolver) result() Result {
	so := fs.so
	var c candidate
	if fs.answer != nil {
		s := newState(so.m, nil)
		for j, p := range fs.answer {
			s.put(int(s.first[p]), so.m.typeOf[j], 1)
		}
		c = candidate{s.value(), 0, s.placements()}
	} else {
		c = so.begin()
	}
	so.dual = &dual{m: so.m, best: fs.d.best} // the general certificate of these multipliers is weaker: it has no cover
	res := so.result(c)
	res.Proven = max(res.Proven, min(fs.proven, res.Cost))
	return res
}
