package checker

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// tariffClass is the signals with one module key, one kind and one set of channel sets they may use.
type tariffClass struct {
	key       string // module key, kind and fit in one text
	module    string // module key
	kind      project.Kind
	fit       []fit
	signals   []*signal
	unit      int64 // u_c
	surcharge int64 // s_c
}

// fit is one channel set of one module.
type fit struct{ module, set int }

// pool is a connected component of classes.
type pool struct {
	module, group, station string // module key, group key, station class
	ups                    bool
	classes                []*tariffClass
	modules                []int
	channels               map[int]int64 // K
	residual               map[int]int64 // R
	spare                  int64
	cover                  []int64
	exact                  *least
}

// market is what an environment offers: pools and the class and pool of each signal.
type market struct {
	env     environment
	pools   []*pool
	class   map[string]*tariffClass
	pool    map[string]*pool
	opening map[string]int64 // by group key
	bare    map[string]int64 // the same without labour group and protection
}

// market builds the relaxed tariff of an environment over the placed signals.
func (r *run) market(env environment, signals []*signal) *market {
	m := &market{env: env, class: map[string]*tariffClass{}, pool: map[string]*pool{}, opening: map[string]int64{}, bare: map[string]int64{}}
	classes := map[string]*tariffClass{}
	for _, x := range signals {
		fits := r.fits(x, env)
		if len(fits) == 0 {
			continue
		}
		var b strings.Builder
		b.WriteString(r.moduleKey(x) + "\x00" + string(x.Kind))
		for _, f := range fits {
			b.WriteString("\x00" + strconv.Itoa(f.module) + "." + strconv.Itoa(f.set))
		}
		c := classes[b.String()]
		if c == nil {
			c = &tariffClass{key: b.String(), module: r.moduleKey(x), kind: x.Kind, fit: fits}
			classes[c.key] = c
		}
		c.signals = append(c.signals, x)
		m.class[x.ID] = c
	}
	r.connect(m, classes)
	for _, p := range m.pools {
		r.price(m, p)
	}
	for _, p := range m.pools {
		m.opening[p.group], m.bare[p.group] = 0, 0
	}
	for key := range m.opening {
		m.opening[key], m.bare[key] = r.openGroup(m, key)
	}
	return m
}

// fits lists the channel sets that suit a signal, and of these the ones with the fewest flaws.
func (r *run) fits(x *signal, env environment) []fit {
	key := fitsKey{x.ID, env}
	fits, known := r.fitsOf[key]
	if !known {
		fits = r.findFits(x, env)
		if r.fitsOf == nil {
			r.fitsOf = map[fitsKey][]fit{}
		}
		r.fitsOf[key] = fits
	}
	return fits
}

// fitsKey is a signal in an environment.
type fitsKey struct {
	signal string
	env    environment
}

func (r *run) findFits(x *signal, env environment) []fit {
	var fits []fit
	errs, warns := 0, 0
	told := r.channelTold(x)
	var kept []fit
	for i := range r.hw.Modules {
		mod := &r.hw.Modules[i]
		if _, ok := r.moduleMoney(mod, env.construction); !ok {
			continue
		}
		for s := range mod.Channels {
			if r.unsuited(x, mod, &mod.Channels[s], env) != "" {
				continue
			}
			if !told && r.kept[mod.Code] {
				kept = append(kept, fit{i, s})
				continue
			}
			e, w := 0, 0
			if !told {
				e, w = r.flaws(x, mod, &mod.Channels[s])
			}
			switch {
			case len(fits) == 0 || e < errs || e == errs && w < warns:
				fits, errs, warns = []fit{{i, s}}, e, w
			case e == errs && w == warns:
				fits = append(fits, fit{i, s})
			}
		}
	}
	none := len(fits) == 0
	for _, k := range kept {
		mod := &r.hw.Modules[k.module]
		if e, w := r.flaws(x, mod, &mod.Channels[k.set]); none || e < errs || e == errs && w <= warns {
			fits = append(fits, k)
		}
	}
	slices.SortFunc(fits, func(a, b fit) int { return cmp.Or(cmp.Compare(a.module, b.module), cmp.Compare(a.set, b.set)) })
	return fits
}

// connect joins classes of one module key that share a module into pools.
func (r *run) connect(m *market, classes map[string]*tariffClass) {
	left := slices.SortedFunc(maps.Values(classes), func(a, b *tariffClass) int { return cmp.Compare(a.key, b.key) })
	for len(left) > 0 {
		p := &pool{module: left[0].module, classes: left[:1:1]}
		left = left[1:]
		for grown := true; grown; {
			grown = false
			for i, c := range left {
				if c.module == p.module && slices.ContainsFunc(p.classes, func(d *tariffClass) bool { return shareModule(c, d) }) {
					p.classes, left, grown = append(p.classes, c), slices.Delete(slices.Clone(left), i, i+1), true
					break
				}
			}
		}
		x := p.classes[0].signals[0]
		p.group, p.station, p.ups = r.groupKey(x), stationClass(x), x.supply == "ups"
		for _, c := range p.classes {
			for _, x := range c.signals {
				m.pool[x.ID] = p
			}
		}
		m.pools = append(m.pools, p)
	}
}

func shareModule(a, b *tariffClass) bool {
	return slices.ContainsFunc(a.fit, func(f fit) bool {
		return slices.ContainsFunc(b.fit, func(g fit) bool { return f.module == g.module })
	})
}

// moduleMoney is the least that a module costs: itself, its labour, its cheapest base, and where
// each module is a group, the group's labour and protection. false: it cannot be built in.
func (r *run) moduleMoney(m *hardware.Module, construction string) (int64, bool) {
	con := r.parts.construction[construction]
	if con == nil {
		return 0, false
	}
	sum := int64(m.Price) + r.labour("module")
	if con.HasBases {
		b := r.baseFor(m, construction, nil)
		if b == nil {
			return 0, false
		}
		sum += int64(b.Price)
	}
	if con.Opening == hardware.ByEach {
		p := r.protectionFor(isDC(m.SupplyKind), 0, int64(m.BusLimit))
		if p == nil {
			return 0, false
		}
		sum += r.labour("group") + int64(p.Price)
	}
	return sum, true
}

// price fills in K, u, s, R and the spare of a pool.
func (r *run) price(m *market, p *pool) {
	p.channels, p.residual = map[int]int64{}, map[int]int64{}
	sets := map[fit]bool{}
	p.spare = -1
	for _, c := range p.classes {
		for _, f := range c.fit {
			if !sets[f] {
				sets[f] = true
				p.channels[f.module] += int64(r.hw.Modules[f.module].Channels[f.set].Count)
			}
		}
		if s := r.floorSpare(c.kind); p.spare < 0 || s < p.spare {
			p.spare = s
		}
	}
	p.modules = slices.Sorted(maps.Keys(p.channels))
	least := int64(never)
	for _, c := range p.classes {
		c.unit = never
		for _, f := range c.fit {
			money, _ := r.moduleMoney(&r.hw.Modules[f.module], m.env.construction)
			c.unit = min(c.unit, money/p.channels[f.module])
		}
		least = min(least, c.unit)
	}
	for _, c := range p.classes {
		c.surcharge = c.unit - least
	}
	for _, i := range p.modules {
		highest := int64(0)
		for _, c := range p.classes {
			if slices.ContainsFunc(c.fit, func(f fit) bool { return f.module == i }) {
				highest = max(highest, c.surcharge)
			}
		}
		money, _ := r.moduleMoney(&r.hw.Modules[i], m.env.construction)
		p.residual[i] = money - p.channels[i]*highest
	}
}

// step is F_j(n): the least residual price of modules that cover n signals and the spare.
func (p *pool) step(n int64) int64 {
	if n == 0 {
		return 0
	}
	need := n + (n*p.spare+999)/1000
	for int64(len(p.cover)) <= need {
		x := int64(len(p.cover))
		if x == 0 {
			p.cover = append(p.cover, 0)
			continue
		}
		best := int64(never)
		for _, i := range p.modules {
			best = min(best, p.residual[i]+p.cover[max(0, x-p.channels[i])])
		}
		p.cover = append(p.cover, best)
	}
	return p.cover[need]
}

// openGroup is what a group of the key costs to open at least, and that without labour and protection.
func (r *run) openGroup(m *market, key string) (all, bare int64) {
	con := r.parts.construction[m.env.construction]
	if con == nil || con.Opening == hardware.ByEach {
		return 0, 0
	}
	volt, _, _ := strings.Cut(key, " ")
	bare = never
	switch con.Opening {
	case hardware.ByBase:
		yes := true
		for _, p := range m.pools {
			for _, i := range p.modules {
				mod := &r.hw.Modules[i]
				open, cheap := r.baseFor(mod, m.env.construction, &yes), r.baseFor(mod, m.env.construction, nil)
				if p.group == key && open != nil && cheap != nil {
					bare = min(bare, max(0, int64(open.Price-cheap.Price)))
				}
			}
		}
	case hardware.ByModule:
		for i := range r.hw.Modules {
			mod := &r.hw.Modules[i]
			if mod.Infeed && r.kept[mod.Code] {
				bare = 0 // one stands that is not to be bought again
			}
			if r.unused[mod.Code] || !r.isInfeedFor(con, mod, volt, m.env.ambient) {
				continue
			}
			cost := int64(mod.Price) + r.labour("module")
			if con.HasBases {
				b := r.baseFor(mod, m.env.construction, nil)
				if b == nil {
					continue
				}
				cost += int64(b.Price)
			}
			bare = min(bare, cost)
		}
	}
	if bare == never {
		bare = 0
	}
	all = bare + r.labour("group")
	if p := r.protectionFor(isDC(volt), 0, 0); p != nil {
		all += int64(p.Price)
	}
	return all, bare
}
