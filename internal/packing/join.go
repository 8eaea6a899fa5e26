package packing

import (
	"cmp"
	"slices"

	"railwright/internal/hardware"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// mostJoined bounds how many part combinations are kept when plans of keys are joined.
const mostJoined = 2000

// joiner joins the plans of the keys to a station: coupler, enclosure and supply units depend on
// their sum.
type joiner struct {
	place *tariff.Place
	keep  tariff.Keep              // what is fixed of the frame
	base  tariff.Total             // of what exists
	bytes func([]*keyPlan) bytesOf // the process image with its gaps; nil where there are none
}

// joined is a choice of one plan for each key with what stands round it.
type joined struct {
	picks []*keyPlan
	frame tariff.Frame
	total tariff.Total
	cost  q.Money // of the plans' new parts and the frame
	exact bool    // no other choice from the lists costs less
}

// join finds the cheapest choice; bar says what stands in the way where there is none.
func (j *joiner) join(lists [][]keyPlan, limit q.Money) (best joined, bar *tariff.Bar) {
	for _, l := range lists {
		if len(l) == 0 {
			return best, &tariff.Bar{Limit: "no plan"}
		}
	}
	pick := make([]*keyPlan, len(lists))
	for k := range lists {
		pick[k] = &lists[k][0]
	}
	var ok bool
	best, bar, ok = j.try(pick, limit)
	if ok {
		least := j.leastTotal(lists)
		if f, bar := j.place.Frame(&least, j.keep); bar == nil && f.Cost == best.frame.Cost {
			best.exact = true
			return best, nil
		}
	}
	all, complete := j.combine(lists)
	for _, c := range all {
		if b, _, found := j.try(c.picks, limit); found && (best.picks == nil || b.cost < best.cost) {
			best, ok = b, true
		}
	}
	best.exact = complete
	if ok {
		bar = nil
	}
	return best, bar
}

func (j *joiner) try(picks []*keyPlan, limit q.Money) (out joined, bar *tariff.Bar, ok bool) {
	total := j.base
	var cost q.Money
	for _, p := range picks {
		total = total.Plus(p.total)
		cost += p.cost
	}
	var gaps bytesOf
	if j.bytes != nil {
		gaps = j.bytes(picks)
	}
	f, bar := frameWith(j.place, &total, j.keep, gaps)
	if bar != nil {
		return out, bar, false
	}
	out = joined{picks: slices.Clone(picks), frame: f, total: total, cost: cost + f.Cost}
	return out, nil, out.cost < limit
}

// leastTotal is figure by figure the least of any choice.
func (j *joiner) leastTotal(lists [][]keyPlan) tariff.Total {
	total := j.base
	for _, l := range lists {
		least := l[0].total
		for i := range l[1:] {
			least = least.Least(&l[1+i].total)
		}
		total = total.Plus(least)
	}
	return total
}

type combination struct {
	picks []*keyPlan
	total tariff.Total
	cost  q.Money
}

// combine lists every choice that is not worse than another in every figure, cheapest first.
func (j *joiner) combine(lists [][]keyPlan) (all []combination, complete bool) {
	all, complete = []combination{{total: j.base}}, true
	for _, l := range lists {
		next := make([]combination, 0, len(all)*len(l))
		for _, c := range all {
			for i := range l {
				next = append(next, combination{append(slices.Clone(c.picks), &l[i]), c.total.Plus(l[i].total), c.cost + l[i].cost})
			}
		}
		slices.SortStableFunc(next, func(a, b combination) int { return cmp.Compare(a.cost, b.cost) })
		all = all[:0:0]
		for i := range next {
			if !slices.ContainsFunc(all, func(k combination) bool { return j.bytes == nil && k.total.NoWorse(&next[i].total) }) {
				all = append(all, next[i])
			}
		}
		if len(all) > mostJoined {
			all, complete = all[:mostJoined], false
		}
	}
	return all, complete
}

// bytesOf returns the bytes of process image with a coupler, header and gaps included.
type bytesOf func(*hardware.Coupler) (in, out int)

// frameWith is Place.Frame that counts the gaps of the process image, which depend on the coupler.
func frameWith(p *tariff.Place, t *tariff.Total, keep tariff.Keep, bytes bytesOf) (tariff.Frame, *tariff.Bar) {
	total := *t
	for {
		f, bar := p.Frame(&total, keep)
		if bar != nil || bytes == nil {
			return f, bar
		}
		in, out := bytes(f.Coupler)
		c := f.Coupler
		if !over(int64(in), int64(c.MaxIn)) && !over(int64(out), int64(c.MaxOut)) && !over(int64(in), int64(keep.MaxIn)) && !over(int64(out), int64(keep.MaxOut)) {
			return f, nil
		}
		total.Use.In = max(total.Use.In, int64(in-c.HeaderIn)) // the next try passes over this coupler
		total.Use.Out = max(total.Use.Out, int64(out-c.HeaderOut))
	}
}
