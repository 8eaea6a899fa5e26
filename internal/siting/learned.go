package siting

// learned is what Confirm has taught: for a place and a filling (counts of every class), how much dearer than the tariff
// the station really is, or that it cannot be built. It is read during search and written between searches.
type learned struct {
	of map[learnedKey]lesson
}

type learnedKey struct {
	place int
	hash  uint64
}

type lesson struct {
	extra   int64
	refused bool
}

func (l *learned) extra(place int, hash uint64) (int64, bool) {
	if l == nil || len(l.of) == 0 {
		return 0, true
	}
	e := l.of[learnedKey{place, hash}]
	return e.extra, !e.refused
}
