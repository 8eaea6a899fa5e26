package packing

import (
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// easy makes the plan of a choice where one group (one for each rank) takes it all whatever sits
// where. trivial is false where that is not sure.
func (s *keySolver) easy(c choice) (plan keyPlan, ok, trivial bool) {
	e := s.env()
	insts := s.instances(c)
	ranks, tight := 0, s.partnered()
	if tight && s.t.level == project.LevelGroup && !s.each() {
		return plan, false, false
	}
	for i := range insts {
		d := &e.Mods[insts[i].mod]
		if d.Alone {
			return plan, false, false
		}
		if k := s.kmodOf(&insts[i].inst); d.M.MaxTotal > 0 && s.topK[k].channel > d.M.MaxTotal {
			tight = true
		}
		if i == 0 || e.Mods[insts[i-1].mod].Rank != d.Rank {
			ranks++
		}
	}
	if ranks > 1 && !s.each() && s.mixed() {
		s.loose = true // dearer modules of one rank might need fewer groups
	}
	load, varying := s.leastLoad(insts)
	if tight && (varying || ranks > 1 && !s.each() || !s.seatFreely(insts)) || ranks > 1 && varying {
		return plan, false, false
	}
	if s.each() {
		return s.easyEach(insts, c)
	}
	plan.rank = e.Mods[insts[0].mod].Rank
	for i := 0; i < len(insts); {
		k := i
		for k < len(insts) && e.Mods[insts[k].mod].Rank == e.Mods[insts[i].mod].Rank {
			k++
		}
		g := planGroup{rank: e.Mods[insts[i].mod].Rank, old: -1, mods: insts[i:k:k], coupler: s.first && i == 0}
		peak := q.Microamps(0)
		for _, in := range g.mods {
			g.load += e.Mods[in.mod].M.Supply
			peak += s.topK[s.kmodOf(&in.inst)].load
		}
		if ranks == 1 {
			g.load += load
		} else {
			g.load += min(load, peak) // which rank draws what is open: only trivial if it does not matter
		}
		if !s.feed(&g) {
			return plan, false, false
		}
		cost := s.feedCost(&g)
		s.loose = s.loose || !g.coupler && !s.bestOpened(&g)
		if ranks > 1 {
			least := g
			least.load = 0
			if !s.feed(&least) || s.feedCost(&least) != cost {
				return plan, false, false
			}
		}
		if cost > 2*s.open && !g.coupler || g.coupler && cost > s.open+s.coup[0].cost+e.Book.Labour.Group {
			return plan, false, false // two groups might be cheaper
		}
		plan.add(e, g, s.t, cost)
		i = k
	}
	if ranks > 1 {
		plan.fixLoads(s.t, load)
	}
	plan.cost += c.cost
	plan.firsts = s.first
	return plan, true, true
}

// partnered reports whether signals of the key have partners in it.
func (s *keySolver) partnered() bool {
	for n := range s.t.pools {
		if len(s.t.pools[n].bound) > 0 {
			return true
		}
	}
	return false
}

// mixed reports whether some pool of the key has modules of several ranks.
func (s *keySolver) mixed() bool {
	for k := range s.mods {
		for _, m := range s.mods[:k] {
			if m.pool == s.mods[k].pool && m.rank != s.mods[k].rank {
				return true
			}
		}
	}
	return false
}

// bestOpened reports whether no other module of the key would open the group for less money or rail:
// otherwise dearer modules might make the cheaper group.
func (s *keySolver) bestOpened(g *planGroup) bool {
	load := g.load - g.point.Use.Supply
	for _, m := range s.mods {
		for _, p := range s.env().Mods[m.mod].Points {
			if p.Use.Rail < g.point.Use.Rail {
				return false
			}
		}
		for _, l := range s.levelOf(m.mod) {
			if l.cap >= load {
				if l.cost < g.point.Extra+g.prot.Price {
					return false
				}
				break
			}
		}
	}
	return true
}

// seatFreely seats the signals for which partners or module currents matter, in groups without limit.
func (s *keySolver) seatFreely(insts []planMod) bool {
	groupOf := make([]int, len(insts))
	room := []q.Microamps{noCap}
	if s.each() {
		room = make([]q.Microamps, len(insts))
		for i := range insts {
			groupOf[i], room[i] = i, noCap
		}
	}
	_, ok, _ := s.seat(insts, groupOf, room, 0, false)
	return ok
}

// easyEach is easy for modules that are groups by themselves: trivial where the cheapest protection
// carries whatever may sit on the module.
func (s *keySolver) easyEach(insts []planMod, c choice) (plan keyPlan, ok, trivial bool) {
	e := s.env()
	load, _ := s.leastLoad(insts)
	plan.rank = e.Mods[insts[0].mod].Rank
	for i := range insts {
		d := &e.Mods[insts[i].mod]
		l := s.levelOf(insts[i].mod)
		if len(l) == 0 || l[0].cap < d.M.Supply+s.topK[s.kmodOf(&insts[i].inst)].load {
			return plan, false, false
		}
		g := planGroup{rank: d.Rank, old: -1, mods: insts[i : i+1 : i+1], load: d.M.Supply}
		if !s.feed(&g) {
			return plan, false, false
		}
		plan.add(e, g, s.t, 0)
	}
	plan.fixLoads(s.t, load)
	plan.cost += c.cost
	return plan, true, true
}

// fixLoads counts the signals' load once in the plan's total, where it is not yet known on which
// group each signal sits.
func (p *keyPlan) fixLoads(t *keyTask, load q.Microamps) {
	var total tariff.Total
	for i := range p.groups {
		own := p.groups[i].point.Use.Supply
		for _, m := range p.groups[i].mods {
			if m.slot == 0 {
				own += t.env.Mods[m.mod].M.Supply
			}
		}
		p.groups[i].load = own
		if p.groups[i].old >= 0 {
			total.AddLoad(t.key(), own)
		} else {
			total.Add(t.key(), own)
		}
	}
	total.AddLoad(t.key(), load)
	total.Use, total.ProtWidth = p.total.Use, p.total.ProtWidth
	p.total = total
}
