package plan

import (
	"railwright/internal/siting"
	"railwright/internal/tariff"
)

// floors is siting's view of what a station costs at least.
type floors struct {
	pr     *problem
	frames [][]int64 // per site and number of modules
}

// newFloors prices the frame of every site for any number of modules.
func newFloors(pr *problem) *floors {
	f := &floors{pr: pr}
	for i := range pr.sites {
		var frame []int64
		for m := 0; ; m++ {
			v := pr.sites[i].prices.LeastFrame(m)
			if v >= tariff.Forbidden {
				frame = append(frame, siting.Forbidden)
				break
			}
			frame = append(frame, int64(v))
		}
		f.frames = append(f.frames, frame)
	}
	return f
}

// Offers implements siting.Relaxed.
func (f *floors) Offers(kind, pool int, counts, apart []int) ([]siting.Offer, bool) {
	list, exact := f.pr.envs[kind].Offers(pool, counts, apart, 1, mostModules)
	out := make([]siting.Offer, len(list))
	for i, o := range list {
		out[i] = siting.Offer{Modules: o.Modules, Cost: int64(o.Cost)}
	}
	return out, exact
}

// mostModules is the most modules of one pool that the bound looks at.
const mostModules = 64

// Frame implements siting.Relaxed.
func (f *floors) Frame(place, modules int) int64 {
	frame := f.frames[place]
	return frame[min(modules, len(frame)-1)]
}
