package siting

// cover is the condition that the open stations together can hold all signals of one pool. It is implied by any design, but
// not by the bound's subproblems one by one, so choosing the stations under it raises the bound.
type cover struct {
	need  int     // signals of the pool
	caps  []int   // per place: most signals of one station
	least []int64 // scratch: least value with capacity n still to be found
	pick  []bool  // scratch: place by capacity
}

// choose sets times[p] to how many stations of each place make the sum of values least, with must[p] <= times[p] <=
// copies[p] and enough capacity, and returns that sum; ok is false when all stations together are too few.
func (c *cover) choose(places []flatPlace, times []int64) (sum int64, ok bool) {
	left := c.need
	for p := range places {
		n := places[p].must
		if places[p].value < 0 {
			n = places[p].copies
		}
		times[p] = int64(n)
		sum += int64(n) * places[p].value
		left -= n * c.caps[p]
	}
	if left <= 0 {
		return sum, true
	}
	var items [][2]int // place, how many of them
	for p := range places {
		for range places[p].copies - int(times[p]) {
			items = append(items, [2]int{p, 1})
		}
	}
	const far = Forbidden
	c.least = append(c.least[:0], make([]int64, left+1)...)
	for n := 1; n <= left; n++ {
		c.least[n] = far
	}
	c.pick = append(c.pick[:0], make([]bool, len(items)*(left+1))...)
	for i, it := range items {
		v, size := places[it[0]].value, c.caps[it[0]]
		row := c.pick[i*(left+1) : (i+1)*(left+1)]
		for n := left; n > 0; n-- {
			if w := c.least[max(0, n-size)] + v; w < c.least[n] {
				c.least[n] = w
				row[n] = true
			}
		}
	}
	if c.least[left] >= far {
		return 0, false
	}
	sum += c.least[left]
	for i, n := len(items)-1, left; i >= 0; i-- {
		if c.pick[i*(left+1)+n] {
			times[items[i][0]]++
			n = max(0, n-c.caps[items[i][0]])
		}
	}
	return sum, true
}

// newCover returns the condition for the instance's only pool, or nil when there are several pools or no limits.
func newCover(m *model) *cover {
	if len(m.in.Kinds) != 1 || len(m.in.Kinds[0].Pools) != 1 {
		return nil
	}
	c := &cover{}
	for t := range m.types {
		c.need += len(m.types[t].members) * int(m.types[t].size)
	}
	for p := range m.in.Places {
		c.caps = append(c.caps, min(m.cap(p, 0), c.need))
	}
	if c.need > 1<<16 {
		return nil
	}
	return c
}
