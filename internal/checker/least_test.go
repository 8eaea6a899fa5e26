package checker

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// smallPool draws a pool of up to three classes on up to three modules of up to two channel sets.
func smallPool(t *rapid.T) (*run, *pool) {
	b := project.Basis{Spare: map[project.Kind]int64{
		project.DI: rapid.SampledFrom([]int64{0, 100, 500}).Draw(t, "spare DI"), project.DO: rapid.SampledFrom([]int64{0, 300}).Draw(t, "spare DO"),
	}}
	hw := &hardware.List{Constructions: []hardware.Construction{{Code: "c", Opening: hardware.ByModule}}}
	p := &pool{}
	for i := range rapid.IntRange(1, 3).Draw(t, "modules") {
		m := hardware.Module{Code: string(rune('a' + i)), Price: q.Money(rapid.IntRange(1, 30).Draw(t, "price"))}
		for range rapid.IntRange(1, 2).Draw(t, "sets") {
			kind := rapid.SampledFrom([]project.Kind{project.DI, project.DO}).Draw(t, "kind")
			m.Channels = append(m.Channels, hardware.ChannelSet{Kind: kind, Count: rapid.IntRange(1, 3).Draw(t, "count")})
		}
		hw.Modules = append(hw.Modules, m)
		p.modules = append(p.modules, i)
	}
	for i := range rapid.IntRange(1, 3).Draw(t, "classes") {
		c := &tariffClass{key: string(rune('A' + i)), kind: rapid.SampledFrom([]project.Kind{project.DI, project.DO}).Draw(t, "class kind")}
		for m := range hw.Modules {
			for s := range hw.Modules[m].Channels {
				if hw.Modules[m].Channels[s].Kind == c.kind && rapid.Bool().Draw(t, "fits") {
					c.fit = append(c.fit, fit{m, s})
				}
			}
		}
		p.classes = append(p.classes, c)
	}
	r := &run{p: &project.Project{Basis: b}, hw: hw}
	r.catalogue()
	return r, p
}

// roomFor puts signals and spare on the channels of chosen modules one by one, moving others where
// need be (augmenting paths).
func roomFor(r *run, p *pool, n []int64, y []int) bool {
	type want struct{ fits []fit }
	var wants []want
	byKind, kindFits := map[project.Kind]int64{}, map[project.Kind][]fit{}
	for i, c := range p.classes {
		for range n[i] {
			wants = append(wants, want{c.fit})
		}
		byKind[c.kind] += n[i]
		kindFits[c.kind] = append(kindFits[c.kind], c.fit...)
	}
	for k, total := range byKind {
		for range (total*r.p.Basis.Spare[k] + 999) / 1000 {
			wants = append(wants, want{kindFits[k]})
		}
	}
	var channels []fit
	for m, copies := range y {
		for range copies {
			for s := range r.hw.Modules[m].Channels {
				for range r.hw.Modules[m].Channels[s].Count {
					channels = append(channels, fit{m, s})
				}
			}
		}
	}
	owner := make([]int, len(channels))
	for i := range owner {
		owner[i] = -1
	}
	var place func(w int, tried map[int]bool) bool
	place = func(w int, tried map[int]bool) bool {
		for ch, f := range channels {
			suits := false
			for _, g := range wants[w].fits {
				suits = suits || g == f
			}
			if !suits || tried[ch] {
				continue
			}
			tried[ch] = true
			if owner[ch] < 0 || place(owner[ch], tried) {
				owner[ch] = w
				return true
			}
		}
		return false
	}
	for w := range wants {
		if !place(w, map[int]bool{}) {
			return false
		}
	}
	return true
}

// The least cost of modules against every choice of up to four modules.
func TestLeastAgainstEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, p := smallPool(t)
		const most = 4
		l := r.newLeast(p, "c", most)
		n := make([]int64, len(p.classes))
		for i := range n {
			n[i] = rapid.Int64Range(0, 3).Draw(t, "n")
		}
		apart := make([]int, len(n))
		for i := range apart {
			apart[i] = rapid.IntRange(1, 3).Draw(t, "apart")
		}
		enough := func(y []int) bool {
			for i, c := range p.classes {
				suit := 0
				for m := range y {
					if slices.ContainsFunc(c.fit, func(f fit) bool { return f.module == m }) {
						suit += y[m]
					}
				}
				if n[i] > 0 && suit < apart[i] {
					return false
				}
			}
			return true
		}
		want := none(most)
		for k := range want {
			want[k] = never
		}
		y := make([]int, len(p.modules))
		var choose func(m, count int, cost int64)
		choose = func(m, count int, cost int64) {
			if m == len(y) {
				if roomFor(r, p, n, y) && enough(y) {
					want[count] = min(want[count], cost)
				}
				return
			}
			for y[m] = 0; count+y[m] <= most; y[m]++ {
				choose(m+1, count+y[m], cost+int64(y[m])*int64(r.hw.Modules[m].Price))
			}
			y[m] = 0
		}
		choose(0, 0, 0)
		for k, got := range l.of(n, apart) {
			if got != want[k] {
				t.Fatalf("%d modules for %v: %d, want %d", k, n, got, want[k])
			}
		}
	})
}

// What a pool is worth on k modules against every subset of bids.
func TestPoolByModulesAgainstEverySubset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, p := smallPool(t)
		c := &bound{run: r}
		const most = 3
		bids := map[*tariffClass][]bid{}
		type placed struct {
			bid
			class int
		}
		var all []placed
		for i, k := range p.classes {
			for j := range rapid.IntRange(0, 3).Draw(t, "bids") {
				b := bid{order: i*10 + j, count: rapid.Int64Range(1, 2).Draw(t, "count"), share: -rapid.Int64Range(1, 40).Draw(t, "share"), set: -1}
				bids[k] = append(bids[k], b)
				all = append(all, placed{b, i})
			}
		}
		got := c.poolByModules(&market{env: environment{construction: "c"}}, p, bids, most)
		want, ones := none(most), make([]int, len(p.classes))
		for i := range ones {
			ones[i] = 1
		}
		for s := 1; s < 1<<len(all); s++ {
			n, sum := make([]int64, len(p.classes)), int64(0)
			for i, b := range all {
				if s&(1<<i) != 0 {
					n[b.class] += b.count
					sum += b.share
				}
			}
			for k, cost := range p.exact.of(n, ones) {
				if k > 0 && cost < never {
					want[k] = min(want[k], sum+cost)
				}
			}
		}
		for k := range want {
			if got[k] != want[k] {
				t.Fatalf("%d modules: %d, want %d", k, got[k], want[k])
			}
		}
	})
}

func TestKeptLeavesLowestPartners(t *testing.T) {
	bids := []bid{{0, 1, -5, 0}, {1, 1, -9, 0}, {2, 1, -7, 1}, {3, 1, -1, -1}, {4, 1, -9, 0}}
	got := kept(bids, 2)
	if len(got) != 4 || got[0].order != 1 || got[1].order != 4 || got[2].order != 2 || got[3].order != 3 {
		t.Errorf("kept %v", got)
	}
}
