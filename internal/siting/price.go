package siting

// prices remembers what the tariff says of pools. One value serves one goroutine.
type prices struct {
	m      *model
	counts []int
	pools  [][]poolPrices
}

type poolPrices struct {
	single []priced // one class, no partners: by number of signals
	known  map[uint64]priced
	packed bool // counts of all classes fit into one key
}

type priced struct {
	known bool
	cost  int64
	use   Use
}

const bitsPerCount = 16

func newPrices(m *model) *prices {
	pr := &prices{m: m}
	for k := range m.in.Kinds {
		pools := make([]poolPrices, len(m.in.Kinds[k].Pools))
		for j := range pools {
			pools[j].known = map[uint64]priced{}
			pools[j].packed = len(m.pools[k][j])*bitsPerCount <= 64-4
		}
		pr.pools = append(pr.pools, pools)
	}
	return pr
}

// pool returns the price of the pool at these counts (one a class of the pool).
func (pr *prices) pool(k, j int, counts []int32, apart int) priced {
	pp := &pr.pools[k][j]
	if len(counts) == 1 && apart <= 1 {
		n := int(counts[0])
		for len(pp.single) <= n {
			pp.single = append(pp.single, priced{})
		}
		if e := &pp.single[n]; !e.known {
			*e = pr.ask(k, j, counts, 0)
		}
		return pp.single[n]
	}
	if !pp.packed || apart > 15 {
		return pr.ask(k, j, counts, apart)
	}
	key := uint64(apart)
	for _, c := range counts {
		if c >= 1<<bitsPerCount {
			return pr.ask(k, j, counts, apart)
		}
		key = key<<bitsPerCount | uint64(c)
	}
	e, ok := pp.known[key]
	if !ok {
		e = pr.ask(k, j, counts, apart)
		pp.known[key] = e
	}
	return e
}

func (pr *prices) ask(k, j int, counts []int32, apart int) priced {
	pr.counts = pr.counts[:0]
	total := int32(0)
	for _, c := range counts {
		pr.counts = append(pr.counts, int(c))
		total += c
	}
	if total == 0 {
		return priced{known: true}
	}
	cost, use := pr.m.in.Tariff.Pool(k, j, pr.counts, apart)
	return priced{true, min(cost, Forbidden), use}
}
