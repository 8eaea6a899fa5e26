package siting

import (
	"cmp"
	"slices"
)

// enumerate adds the sets of places whose bound lies lowest, at most about limit of them: by the multipliers each place adds
// its value, so the sets below a threshold are found by walking over which places to flip from the cheapest choice.
func (fs *flatSolver) enumerate(limit int) {
	if fs.upper >= Forbidden {
		return
	}
	w := setWalk{fs: fs}
	w.open = make([]bool, fs.f.places)
	least := fs.base
	for p := range w.open {
		place := &fs.so.m.in.Places[p]
		w.open[p] = place.Must > 0 || place.Copies > 0 && fs.values[p] < 0
		if w.open[p] {
			least += fs.values[p]
			w.room += int64(fs.f.room[p])
		}
		if place.Copies > place.Must {
			w.places = append(w.places, p)
		}
	}
	slices.SortFunc(w.places, func(a, b int) int {
		return cmp.Or(cmp.Compare(max(fs.values[a], -fs.values[a]), max(fs.values[b], -fs.values[b])), cmp.Compare(a, b))
	})
	w.rest = make([]int64, len(w.places)+1)
	for i := len(w.places) - 1; i >= 0; i-- {
		w.rest[i] = w.rest[i+1]
		if p := w.places[i]; !w.open[p] {
			w.rest[i] += int64(fs.f.room[p])
		}
	}
	slack := fs.upper - fs.f.grain - least // a set that flips more than this is no better than the best
	for part := int64(1); part <= 16; part++ {
		w.found, w.limit, w.nodes = w.found[:0], limit, 0
		w.walk(0, slack*part/16)
		if len(w.found) >= limit/2 || w.limit <= 0 || w.nodes > 100_000 {
			break
		}
	}
	for _, open := range w.found {
		fs.add(open)
	}
}

type setWalk struct {
	fs     *flatSolver
	places []int // free to flip, the cheapest flips first
	rest   []int64
	open   []bool
	room   int64
	found  [][]bool
	limit  int
	nodes  int // looked at; a bound on the walk where capacity rules nearly all sets out
}

func (w *setWalk) walk(i int, slack int64) {
	w.nodes++
	if w.limit <= 0 || w.nodes > 100_000 || w.room+w.rest[i] < w.fs.f.need {
		return
	}
	if i == len(w.places) || w.price(i) > slack { // flips get dearer: nothing more fits
		if w.room >= w.fs.f.need {
			w.limit--
			w.found = append(w.found, slices.Clone(w.open))
		}
		return
	}
	w.walk(i+1, slack)
	p := w.places[i]
	w.flip(p)
	w.walk(i+1, slack-w.price(i))
	w.flip(p)
}

func (w *setWalk) price(i int) int64 {
	v := w.fs.values[w.places[i]]
	return max(v, -v)
}

func (w *setWalk) flip(p int) {
	w.open[p] = !w.open[p]
	if w.open[p] {
		w.room += int64(w.fs.f.room[p])
	} else {
		w.room -= int64(w.fs.f.room[p])
	}
}
