package siting

// alone reports whether some station that serves nothing else may serve the bundle, by the tariff and by Confirm. When it
// may not, it cannot be placed in any design: limits do not loosen when a station serves more.
func (so *solver) alone(b int, s *state) bool {
	t := so.m.typeOf[b]
	if t < 0 {
		return false
	}
	for _, p := range so.m.types[t].order {
		if _, ok := s.probe(int(s.first[p]), t, 1); !ok {
			continue
		}
		if so.m.in.Confirm == nil || so.confirm(int(p), []int{b}).ok {
			return true
		}
	}
	return false
}

// prove says for each bundle left out how sure that is.
func (so *solver) prove(of []int) []Unplaced {
	var list []Unplaced
	var empty *state
	for b, at := range of {
		if at >= 0 {
			continue
		}
		if empty == nil {
			empty = newState(so.m, nil)
		}
		proof := ProofNotProven
		if !so.alone(b, empty) {
			proof = ProofNone
		} else if so.noWay {
			proof = ProofSet
		}
		list = append(list, Unplaced{b, proof})
	}
	return list
}
