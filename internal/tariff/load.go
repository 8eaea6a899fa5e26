package tariff

import q "railwright/internal/quantity"

// LeastLoad assigns rows of typed signals to free channels per option of the pool so that their
// summed load is least. assigned[r][o] counts row r's signals on option o. It is a transportation
// problem, solved exactly by shortest augmenting ways. The rows must fit.
func (e *Env) LeastLoad(p *Pool, rows []Row, free []int) (q.Microamps, [][]int) {
	n, m := len(rows), len(free)
	assigned := make([][]int, n)
	loads := make([][]int64, n)
	left := make([]int, n)
	room := append([]int(nil), free...)
	for r := range rows {
		assigned[r] = make([]int, m)
		loads[r] = e.loadsByOption(p, &rows[r], m)
		left[r] = rows[r].Count
	}
	var total int64
	for {
		r, o, via, cost := cheapestWay(loads, assigned, left, room)
		if r < 0 {
			return q.Microamps(total), assigned
		}
		total += cost * int64(push(assigned, left, room, r, o, via))
	}
}

const noLoad = int64(1) << 50

func (e *Env) loadsByOption(p *Pool, row *Row, m int) []int64 {
	out := make([]int64, m)
	for o := range out {
		out[o] = noLoad
	}
	c := &e.Classes[row.Class]
	n := 0
	for i, option := range c.Options {
		for n < m && compareOptions(p.Options[n], option) < 0 {
			n++
		}
		if n == m {
			break
		}
		out[n] = 0
		if row.Type >= 0 {
			out[n] = int64(e.Types[row.Type].Load[i])
		}
	}
	return out
}

// step is how a node was reached: an option from a row, or a row from an option.
type step struct{ row []int } // row that reached each option

// cheapestWay finds the cheapest way from a row with signals left to an option with room, over
// moves of signals already assigned (Bellman-Ford; the graph is tiny). It returns the first row,
// the last option, for each option the row before it, and the cost of one signal; row -1 if there
// is no way or nothing is left.
func cheapestWay(loads [][]int64, assigned [][]int, left, room []int) (int, int, step, int64) {
	n, m := len(loads), len(room)
	rowDist, optDist := make([]int64, n), make([]int64, m)
	via := step{make([]int, m)}
	from := make([]int, n) // option before a row, -1 at the start
	for r := range rowDist {
		rowDist[r], from[r] = noLoad, -1
		if left[r] > 0 {
			rowDist[r] = 0
		}
	}
	for o := range optDist {
		optDist[o] = noLoad
	}
	for changed := true; changed; {
		changed = false
		for r := range n {
			for o := range m {
				if loads[r][o] < noLoad && rowDist[r] < noLoad && rowDist[r]+loads[r][o] < optDist[o] {
					optDist[o], via.row[o], changed = rowDist[r]+loads[r][o], r, true
				}
			}
		}
		for o := range m {
			for r := range n {
				if assigned[r][o] > 0 && optDist[o] < noLoad && optDist[o]-loads[r][o] < rowDist[r] {
					rowDist[r], from[r], changed = optDist[o]-loads[r][o], o, true
				}
			}
		}
	}
	best := -1
	for o := range m {
		if room[o] > 0 && optDist[o] < noLoad && (best < 0 || optDist[o] < optDist[best]) {
			best = o
		}
	}
	if best < 0 {
		return -1, 0, via, 0
	}
	way := step{nil} // rows from the last option back to the start, with options between
	r := via.row[best]
	way.row = append(way.row, best, r)
	for from[r] >= 0 {
		way.row = append(way.row, from[r], via.row[from[r]])
		r = via.row[from[r]]
	}
	return r, best, way, optDist[best]
}

// push moves as many signals as possible along the way and returns how many.
func push(assigned [][]int, left, room []int, r, o int, way step) int {
	n := min(left[r], room[o])
	for i := 1; i+1 < len(way.row); i += 2 {
		n = min(n, assigned[way.row[i]][way.row[i+1]])
	}
	left[r] -= n
	room[o] -= n
	for i := 0; i+1 < len(way.row); i += 2 {
		assigned[way.row[i+1]][way.row[i]] += n // row i+1 onto option i
		if i+2 < len(way.row) {
			assigned[way.row[i+1]][way.row[i+2]] -= n // off the option before
		}
	}
	return n
}
