package siting

import (
	"cmp"
	"slices"
	"sync"
)

// branching splits the plain case into cases (this place open or closed, this bundle at that place or not) until the bound
// of each case reaches the best design's cost. The least bound of the cases still open is a bound for the whole.
type branching struct {
	fs    *flatSolver
	open  []*branch // cases to look at
	done  []*branch // cases that cannot be split further; they keep their bound
	duals []*flatDual
	work  int64
}

// branch is one case.
type branch struct {
	fixed   []int8 // per place: 0 free, 1 open, -1 closed
	off     []pair // bundles kept from places
	lambda  []int64
	bound   int64
	deep    int
	decided bool
	guess   []int32  // per bundle: where its relaxation mostly has it
	split   decision // how to split it, from its own climb
}

type pair struct{ typ, place int32 }

type decision struct {
	place int32 // or -1
	typ   int32 // with at: the bundle at the place or not
	at    int32
}

func (fs *flatSolver) newBranching() *branching {
	br := &branching{fs: fs}
	for range islands {
		d := newFlatDual(fs.so.m)
		d.fill = d.fill[:1]
		br.duals = append(br.duals, d)
	}
	root := &branch{fixed: make([]int8, fs.f.places), lambda: slices.Clone(fs.d.best), bound: fs.d.bound}
	br.open = append(br.open, root)
	return br
}

// run looks at cases, least bound first, until the work (multipliers moved times places) is spent or nothing is open.
func (br *branching) run(work int64) {
	fs := br.fs
	for until := br.work + work; br.work < until && len(br.open) > 0 && !fs.so.cancelled(); {
		batch := br.pick()
		n := len(batch)
		children := make([][]*branch, n)
		guesses := make([][]*openSet, n)
		sets := make([][][]bool, n)
		var wait sync.WaitGroup
		for i := range batch {
			wait.Go(func() {
				children[i], sets[i] = br.look(br.duals[i], batch[i])
				guesses[i] = br.round(fs.states[i], children[i])
			})
		}
		wait.Wait()
		for i := range batch {
			br.work += br.duals[i].spent
			br.duals[i].spent = 0
			for _, open := range sets[i] {
				fs.add(open)
			}
			for _, g := range guesses[i] {
				fs.take(g)
			}
			for _, c := range children[i] {
				br.place(c)
			}
		}
		br.conclude()
	}
}

// pick takes out the case with the least bound, and for every other worker one that may lead to better designs: the least
// bound among those whose places are not all settled, or else the deepest.
func (br *branching) pick() []*branch {
	var batch []*branch
	for len(batch) < islands && len(br.open) > 0 {
		at := 0
		if len(batch) > 0 {
			at = slices.IndexFunc(br.open, func(b *branch) bool { return b.split.place >= 0 })
			if at < 0 {
				at = br.deepest()
			}
		}
		batch = append(batch, br.open[at])
		br.open = slices.Delete(br.open, at, at+1)
	}
	return batch
}

func (br *branching) deepest() int {
	at := 0
	for i, b := range br.open {
		if b.deep > br.open[at].deep {
			at = i
		}
	}
	return at
}

// place puts a case where it belongs.
func (br *branching) place(b *branch) {
	fs := br.fs
	if fs.roundUp(b.bound) >= fs.upper {
		return
	}
	if b.split.place < 0 && b.split.typ < 0 {
		br.done = append(br.done, b)
		return
	}
	at, _ := slices.BinarySearchFunc(br.open, b, func(a, b *branch) int {
		return cmp.Or(cmp.Compare(a.bound, b.bound), -cmp.Compare(a.deep, b.deep))
	})
	br.open = slices.Insert(br.open, at, b)
}

// conclude raises what is proven to the least bound of the cases left.
func (br *branching) conclude() {
	fs := br.fs
	least := fs.upper
	for _, list := range [][]*branch{br.open, br.done} {
		for _, b := range list {
			least = min(least, fs.roundUp(b.bound))
		}
	}
	fs.proven = max(fs.proven, least)
}

// round makes designs of what the cases' relaxations mostly take.
func (br *branching) round(s *flatState, cases []*branch) []*openSet {
	var out []*openSet
	for _, b := range cases {
		if b.guess == nil {
			continue
		}
		open := make([]bool, br.fs.f.places)
		for _, p := range b.guess {
			if p >= 0 {
				open[p] = true
			}
		}
		set := &openSet{open: open}
		if !s.begin(open, b.guess) {
			continue
		}
		s.polish()
		s.anneal(len(s.to)*50, br.fs.heat(3))
		s.back()
		s.polish()
		to, _ := s.found()
		set.to = slices.Clone(to)
		set.soft, set.cost = set.total(br.fs.f)
		out = append(out, set)
		b.guess = nil
	}
	return out
}

// look splits a case and climbs in both halves. The root has no decision yet and is climbed itself.
func (br *branching) look(d *flatDual, b *branch) (children []*branch, sets [][]bool) {
	d.seen = func(times []int64, _ int64) {
		if len(sets) < 64 {
			open := make([]bool, len(times))
			for p := range open {
				open[p] = times[p] > 0
			}
			if len(sets) == 0 || !slices.Equal(sets[len(sets)-1], open) {
				sets = append(sets, open)
			}
		}
	}
	halves := []*branch{b}
	if b.decided {
		halves = b.halves(br.fs.f.m)
	}
	for _, h := range halves {
		if br.climb(d, h) {
			children = append(children, h)
		}
	}
	return children, sets
}

// halves returns the two cases of the branch's decision.
func (b *branch) halves(m *model) []*branch {
	var out []*branch
	child := func() *branch {
		c := &branch{fixed: slices.Clone(b.fixed), off: slices.Clone(b.off), lambda: b.lambda, bound: b.bound, deep: b.deep + 1}
		out = append(out, c)
		return c
	}
	if p := b.split.place; p >= 0 {
		child().fixed[p] = 1
		child().fixed[p] = -1
		return out
	}
	there := child()
	for _, p := range m.types[b.split.typ].order {
		if p != b.split.at {
			there.off = append(there.off, pair{b.split.typ, p})
		}
	}
	not := child()
	not.off = append(not.off, pair{b.split.typ, b.split.at})
	return out
}

// climb raises the bound of a case from its parent's multipliers and decides how it would be split. It reports whether the
// case may hold a better design.
func (br *branching) climb(d *flatDual, b *branch) bool {
	fs := br.fs
	d.restrict(b.fixed, b.off)
	copy(d.lambda, b.lambda)
	d.best = nil
	rounds := 40
	if b.deep == 0 {
		rounds = 60
	}
	d.tally()
	d.climb(rounds, fs.upper, nil)
	if d.best == nil {
		return false
	}
	b.bound = max(b.bound, d.bound)
	b.lambda = slices.Clone(d.best)
	b.split, b.decided = d.settle(b.fixed, fs.upper-fs.f.grain+1), true
	b.guess = d.mostly()
	return fs.roundUp(b.bound) < fs.upper
}
