package packing

import (
	"encoding/binary"
	"fmt"
	"slices"

	"railwright/internal/fit"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// Complete decides everything about one station, or says what stands in the way.
func Complete(o Order) (*Station, *Refusal) {
	st, refusal := complete(o, o.Fixed)
	if len(o.Prefer.Slots) == 0 && len(o.Prefer.Channels) == 0 && o.Prefer.Coupler == "" {
		if st != nil {
			st.Cost.Changes = outages(&o, st)
		}
		return st, refusal
	}
	return preferring(o, st, refusal)
}

// Cost is Complete for siting, which needs no more than what the station costs, changes included. ok
// is false where it is refused.
func Cost(o Order) (cost q.Money, ok bool) {
	st, refusal := Complete(o)
	if refusal != nil {
		return 0, false
	}
	return st.Cost.Total + st.Cost.Changes, true
}

// attempt is one way to look at a station: what exists, and the tasks of its group keys.
type attempt struct {
	place  *tariff.Place
	order  *Order
	tasks  []keyTask
	exists existing
	steps  int64
	wide   bool
}

func complete(o Order, fixed Fixed) (*Station, *Refusal) {
	env := o.Place.Env
	signals := slices.Clone(o.Signals)
	slices.Sort(signals)
	signals = slices.Compact(signals)
	if r := servable(env, signals); r != nil {
		return nil, r
	}
	a := &attempt{place: o.Place, order: &o}
	if r := a.read(fixed, signals); r != nil {
		return nil, r
	}
	if r := a.apart(signals); r != nil {
		return nil, r
	}
	return a.solve()
}

// servable refuses signals that no module here may carry, and signals that may not share a station.
func servable(env *tariff.Env, signals []int) *Refusal {
	class := -1
	var first int
	for _, i := range signals {
		if env.TypeOf[i] < 0 {
			return &Refusal{Limit: "module", Text: env.Why(i), Signals: []int{i}, Proof: true}
		}
		c := env.Pools[env.Classes[env.ClassOf(i)].Pool].StationClass
		if class >= 0 && c != class {
			return &Refusal{
				Limit: "segregation", Signals: []int{first, i}, Proof: true,
				Text:   fmt.Sprintf("signals %s and %s belong to station classes %q and %q, which may not share a station", env.Book.Signals[first].ID, env.Book.Signals[i].ID, env.Stations[class], env.Stations[c]),
				Remedy: "serve them from different stations, or lower the level of the segregation class",
			}
		}
		if class < 0 {
			class, first = c, i
		}
	}
	return nil
}

// apart refuses partners at one station where the basis keeps them on different ones.
func (a *attempt) apart(signals []int) *Refusal {
	b := a.place.Env.Book
	if fit.RedundancyLevel(&b.Project.Basis) != project.LevelStation {
		return nil
	}
	for _, i := range signals {
		for _, k := range b.Partners[i] {
			if _, here := slices.BinarySearch(signals, k); here {
				return &Refusal{
					Limit: "redundancy", Signals: []int{i, k}, Proof: true,
					Text:   fmt.Sprintf("redundant partners %s and %s may not share a station", b.Signals[i].ID, b.Signals[k].ID),
					Remedy: "serve them from different stations, or lower the redundancy level of the basis",
				}
			}
		}
	}
	return nil
}

// solve joins the cheapest plans of the keys. Where that is refused, or something cheaper cannot be
// ruled out, it looks at every plan of every key.
func (a *attempt) solve() (*Station, *Refusal) {
	st, refusal, sure := a.solveWith(false)
	if sure {
		return st, refusal
	}
	wide, refused, _ := a.solveWith(true)
	switch {
	case st == nil:
		return wide, refused
	case wide == nil || wide.Cost.Total > st.Cost.Total:
		return st, refusal
	}
	wide.Bound = max(wide.Bound, min(st.Bound, wide.Cost.Total))
	wide.Proven = wide.Proven || wide.Bound == wide.Cost.Total
	return wide, nil
}

// solveWith is one round; sure says that another cannot do better.
func (a *attempt) solveWith(wide bool) (st *Station, refusal *Refusal, sure bool) {
	a.wide = wide
	for k := range a.tasks {
		a.tasks[k].factor = a.factor()
	}
	normal := make([]solution, len(a.tasks))
	complete := true
	for k := range a.tasks {
		normal[k] = a.key(k, false)
		complete = complete && normal[k].complete
		if len(normal[k].plans) == 0 && !a.coupled(k) {
			return nil, a.noPlan(k, normal[k]), normal[k].complete
		}
	}
	candidates, bound, r := a.candidates(normal, &complete)
	if r != nil {
		return nil, r, r.Proof
	}
	best, bar, exact := a.joinAll(candidates)
	if best.cost == 0 {
		proof := complete && exact && wide
		return nil, a.refuse(bar, proof), proof
	}
	st, r = a.write(best)
	if r != nil {
		return nil, r, false
	}
	st.Steps = a.steps
	complete = complete && (wide || a.slotsDecide(&best, candidates))
	st.Proven = complete && exact || bound >= best.cost
	st.Bound = st.Cost.Total
	if !st.Proven {
		st.Bound = max(0, st.Cost.Total-(best.cost-min(bound, best.cost)))
	}
	return st, nil, st.Proven
}

// factor is what the search for plans weighs: everything in the second round; before that only what
// enclosure and supply units depend on, with the logic factor of the cheapest coupler.
func (a *attempt) factor() int64 {
	if a.wide || len(a.place.Couplers) == 0 {
		return tariff.Every
	}
	return a.place.Couplers[0].LogicFactor
}

// slotsDecide reports whether no plan of the candidates can be kept off the chosen coupler, or a cheaper one,
// by its bytes or its logic current: the first round weighs slots, but not those.
func (a *attempt) slotsDecide(best *joined, candidates [][][]keyPlan) bool {
	if a.exists.keep.Coupler != "" {
		return true
	}
	var most tariff.Use
	for _, lists := range candidates {
		sum := a.exists.total.Use
		for _, l := range lists {
			var top tariff.Use
			for i := range l {
				u := &l[i].total.Use
				top.In, top.Out, top.Logic = max(top.In, u.In), max(top.Out, u.Out), max(top.Logic, u.Logic)
			}
			sum = sum.Plus(top)
		}
		most.In, most.Out, most.Logic = max(most.In, sum.In), max(most.Out, sum.Out), max(most.Logic, sum.Logic)
	}
	for _, c := range a.place.Couplers {
		if c.Price > best.frame.Coupler.Price {
			break
		}
		if over(most.In+int64(c.HeaderIn), int64(c.MaxIn)) || over(most.Out+int64(c.HeaderOut), int64(c.MaxOut)) || over(int64(most.Logic), int64(c.LogicLimit)) {
			return false
		}
	}
	return true
}

// over reports whether a figure is above a limit; 0 is no limit.
func over(v, limit int64) bool { return limit > 0 && v > limit }

// joinAll joins the plans of each candidate and keeps the cheapest station.
func (a *attempt) joinAll(candidates [][][]keyPlan) (best joined, bar *tariff.Bar, exact bool) {
	j := &joiner{place: a.place, keep: a.exists.keep, base: a.exists.total}
	if a.place.Env.Book.Project.Basis.Address.Convention == "word" {
		j.bytes = a.bytesOf
	}
	exact = true
	for _, lists := range candidates {
		limit := tariff.Forbidden
		if best.cost > 0 {
			limit = best.cost
		}
		got, b := j.join(lists, limit)
		exact = exact && got.exact
		if b != nil {
			bar = b
		} else if got.cost > 0 && got.cost < limit {
			best = got
		}
	}
	return best, bar, exact
}

// coupled reports whether a group of the key may be fed at the coupler.
func (a *attempt) coupled(k int) bool {
	if len(a.exists.slots) > 0 {
		return false
	}
	_, ok := a.place.Env.CouplerPoint(a.tasks[k].kind())
	return ok
}

// candidates lists, for every key that may hold the station's first group, the plans of all keys
// that leave it the first: the group of least rank, then of the first key.
func (a *attempt) candidates(normal []solution, complete *bool) (out [][][]keyPlan, bound q.Money, r *Refusal) {
	lists := make([][]keyPlan, len(a.tasks))
	any := false
	for k := range a.tasks {
		lists[k] = normal[k].plans
		any = any || a.coupled(k)
	}
	if !any {
		return [][][]keyPlan{lists}, a.boundOf(normal), nil
	}
	bound = tariff.Forbidden
	for k := range a.tasks {
		for _, rank := range a.ranks(k) {
			c := make([][]keyPlan, len(a.tasks))
			sols := make([]solution, len(a.tasks))
			empty := false
			for o := range c {
				from := rank // its groups stand right of the first
				if o < k {
					from++
				}
				sol := a.keyFrom(o, o == k && a.coupled(k), from)
				*complete = *complete && sol.complete
				c[o] = sol.plans
				if o == k {
					c[o] = filter(sol.plans, func(p *keyPlan) bool { return p.rank == rank })
				}
				sols[o] = sol
				empty = empty || len(c[o]) == 0
			}
			if !empty {
				out = append(out, c)
			}
			bound = min(bound, a.boundOf(sols))
		}
	}
	if len(out) == 0 {
		for k := range a.tasks {
			if len(normal[k].plans) == 0 {
				return nil, 0, a.noPlan(k, normal[k])
			}
		}
		return nil, 0, &Refusal{Limit: "order", Text: "no order of the supply groups keeps the ranks of the construction", Proof: false} // a coupler too weak for a key's own modules is not always split over two groups
	}
	return out, bound, nil
}

// boundOf is the least that a station costs whose keys are solved so.
func (a *attempt) boundOf(sols []solution) (bound q.Money) {
	total := a.exists.total
	for k := range sols {
		bound += sols[k].bound
		total = total.Plus(sols[k].least)
	}
	f, bar := a.place.Frame(&total, a.exists.keep)
	if bar != nil {
		return tariff.Forbidden
	}
	return min(bound+f.Cost, tariff.Forbidden)
}

// ranks lists the ranks of the modules that a key may use, least first.
func (a *attempt) ranks(k int) (out []int) {
	e := a.place.Env
	for _, p := range a.tasks[k].pools {
		for _, m := range e.Pools[p.pool].Mods {
			if r := e.Mods[m.Mod].Rank; r >= a.tasks[k].least && !slices.Contains(out, r) {
				out = append(out, r)
			}
		}
	}
	slices.Sort(out)
	return out
}

func filter(plans []keyPlan, keep func(*keyPlan) bool) []keyPlan {
	all := true
	for i := range plans {
		all = all && keep(&plans[i])
	}
	if all {
		return plans
	}
	var out []keyPlan
	for i := range plans {
		if keep(&plans[i]) {
			out = append(out, plans[i])
		}
	}
	return out
}

// key solves one task, or remembers it.
func (a *attempt) key(k int, first bool) solution { return a.keyFrom(k, first, 0) }

// keyFrom is key with modules of a rank from rank on only.
func (a *attempt) keyFrom(k int, first bool, rank int) solution {
	t := &a.tasks[k]
	if ranks := a.ranks(k); len(ranks) > 0 && rank > ranks[0] {
		own := *t
		own.least = rank
		t = &own
	}
	if len(t.insts) > 0 || len(t.groups) > 0 {
		s := newKeySolver(t, first, a.wide, a.order.Steps)
		out := s.solve()
		a.steps += s.steps
		return out
	}
	name := t.name(first, a.wide, a.order.Steps)
	if out, ok := t.env.Recall(name); ok {
		return out.(solution)
	}
	s := newKeySolver(t, first, a.wide, a.order.Steps)
	out := s.solve()
	a.steps += s.steps
	t.env.Remember(name, out)
	return out
}

// name is everything that the solution of a task without existing parts depends on. Signals are
// named where a solution names them.
func (t *keyTask) name(first, wide bool, steps int64) []byte {
	key := binary.AppendUvarint([]byte{'t'}, uint64(t.group)<<2|uint64(b2i(wide))<<1|uint64(b2i(first)))
	key = binary.AppendVarint(key, steps)
	key = binary.AppendUvarint(key, uint64(t.least))
	key = binary.AppendVarint(key, t.factor)
	for i := range t.pools {
		p := &t.pools[i]
		key = binary.AppendUvarint(key, uint64(p.pool))
		for _, list := range [][]item{p.loose, p.bound} {
			key = binary.AppendUvarint(key, uint64(len(list)))
			for _, it := range list {
				key = binary.AppendUvarint(key, uint64(it.typ))
				key = binary.AppendUvarint(key, uint64(len(it.signals)))
				for _, s := range it.signals {
					key = binary.AppendUvarint(key, uint64(s))
				}
			}
		}
	}
	return key
}

// noPlan says why a key's signals cannot be held.
func (a *attempt) noPlan(k int, s solution) *Refusal {
	t := &a.tasks[k]
	var signals []int
	for _, p := range t.pools {
		for _, list := range [][]item{p.loose, p.bound} {
			for _, it := range list {
				signals = append(signals, it.signals...)
			}
		}
	}
	slices.Sort(signals)
	text := fmt.Sprintf("no set of modules and supply groups holds the %d signals of group key %q", len(signals), t.key())
	if len(a.exists.slots) > 0 {
		text += fmt.Sprintf(" at the right of slot %d", len(a.exists.slots))
	}
	return &Refusal{
		Limit: "modules of " + t.key().String(), Signals: signals, Proof: s.complete, Text: text,
		Remedy: "check currents against the channel, module and group limits, or add a module, infeed part or protection to the hardware list",
	}
}

// refuse says which limit of the station stands in the way.
func (a *attempt) refuse(bar *tariff.Bar, proof bool) *Refusal {
	r := &Refusal{Limit: "station", Text: "no station holds these signals"}
	if bar != nil {
		r = &Refusal{Limit: bar.Limit, Value: bar.Value, Allowed: bar.Allowed, Unit: bar.Unit, Text: bar.String()}
	}
	r.Proof = proof
	r.Remedy = "serve some of the signals from another station, or choose parts with higher limits"
	return r
}
