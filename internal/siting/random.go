package siting

// random is a small seeded generator (splitmix64: Steele, Lea, Flood, "Fast splittable pseudorandom number generators",
// OOPSLA 2014). It is our own so that a seed means the same in every version of Go.
type random struct{ s uint64 }

func newRandom(seed uint64) *random { return &random{seed * 0x9E3779B97F4A7C15} }

func (r *random) next() uint64 {
	r.s += 0x9E3779B97F4A7C15
	z := r.s
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return z ^ z>>31
}

// below returns a number from 0 to n-1; n is at least 1.
func (r *random) below(n int) int { return int(r.next() >> 33 % uint64(n)) }
