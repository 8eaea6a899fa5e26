package siting

import (
	"encoding/binary"
)

// confirmed is what Confirm said of one station.
type confirmed struct {
	cost int64
	ok   bool
}

// confirm returns the true cost of a station, remembered by place and bundles.
func (so *solver) confirm(place int, bundles []int) confirmed {
	key := binary.AppendVarint(nil, int64(place))
	for _, b := range bundles {
		key = binary.AppendVarint(key, int64(b))
	}
	if c, ok := so.memo[string(key)]; ok {
		return c
	}
	cost, ok := so.m.in.Confirm(place, bundles)
	c := confirmed{cost, ok && cost < Forbidden}
	so.memo[string(key)] = c
	return c
}

// audit asks Confirm about every station of a design. It returns the true value, whether all can be built, and whether
// something was learned that the searches did not know. With repair, bundles are taken out of refused stations until the
// rest can be built; the design is then to be audited again.
func (so *solver) audit(c candidate, repair bool) (out candidate, ok, news bool) {
	s := newState(so.m, so.learned)
	s.load(c.at)
	value := s.value()
	ok = true
	for _, st := range so.exportSlots(s) {
		answer := so.confirm(st.Place, st.Bundles)
		sl := &s.slots[st.slot]
		if answer.ok {
			if answer.cost != sl.cost {
				news = true
				so.learned.add(sl, answer.cost-sl.cost, false)
				value += answer.cost - sl.cost
			}
			continue
		}
		news, ok = true, false
		so.learned.add(sl, 0, true)
		if repair {
			so.shrink(s, st)
		}
	}
	return candidate{value, s.nLoose, s.placements()}, ok, news
}

// shrink takes bundles out of a refused station, the last first, until Confirm accepts it.
func (so *solver) shrink(s *state, st exported) {
	bundles := st.Bundles
	for len(bundles) > 0 {
		b := bundles[len(bundles)-1]
		bundles = bundles[:len(bundles)-1]
		s.put(st.slot, so.m.typeOf[b], -1)
		if so.confirm(st.Place, bundles).ok {
			return
		}
	}
	s.closeIfIdle(st.slot)
}

// add records a lesson on top of what is known of this filling.
func (l *learned) add(sl *slot, extra int64, refused bool) {
	key := learnedKey{int(sl.place), sl.hash}
	e := l.of[key]
	e.extra += extra
	e.refused = e.refused || refused
	l.of[key] = e
}

// settle searches on with what Confirm teaches until a design is wholly confirmed and nothing cheaper is promised, or the
// rounds are used up, and returns the best confirmed design.
func (so *solver) settle(best candidate) candidate {
	if so.m.in.Confirm == nil {
		return best
	}
	const rounds = 12
	var kept candidate
	have := false
	for round := range rounds {
		so.progress("confirm", int64(round), rounds, best.value)
		real, ok, news := so.audit(best, false)
		if ok && (!have || real.better(kept)) {
			kept, have = real, true
		}
		if !news || so.cancelled() {
			break
		}
		again := so.search([]candidate{best}, 1, so.opt.Steps/16)
		if have && !again.better(kept) {
			break
		}
		best = again
	}
	if have {
		return kept
	}
	for {
		repaired, ok, _ := so.audit(best, true)
		best = repaired
		if ok {
			return best
		}
	}
}
