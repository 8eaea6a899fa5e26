package checker

import (
	"fmt"
	"slices"

	"railwright/internal/project"
)

// demand is what a set of modules must have room for: the signals of a class, or the free channels
// of a kind that spare asks for.
type demand struct {
	class *tariffClass // nil: spare
	kind  project.Kind
	fit   []fit
}

// hall is a set of demands that can use the same channels: what they ask for together must fit
// into the room that each module offers to any of them. Where partners must be apart, another hall
// counts one for each module that suits a class.
type hall struct {
	members []int   // demands, by bit set; nil: modules that suit class
	class   int     // index of the class
	room    []int64 // channels by module of the pool
}

// least answers what modules cost at least that have room for given numbers of signals, exactly.
type least struct {
	demands []demand
	halls   []hall
	cost    []int64
	spare   map[project.Kind]int64
	most    int // modules
	// cheapest is the lowest cost of a module; scratch is room for what is left at each depth.
	cheapest int64
	scratch  [][]int64
	known    map[string][]int64
}

// newLeast prepares the pool's modules and demands. Modules that another one of no higher price
// replaces in every way are left out.
func (r *run) newLeast(p *pool, construction string, most int) *least {
	l := &least{spare: map[project.Kind]int64{}, most: most, known: map[string][]int64{}}
	kinds := map[project.Kind]*demand{}
	for _, c := range p.classes {
		l.demands = append(l.demands, demand{class: c, kind: c.kind, fit: c.fit})
		l.spare[c.kind] = r.floorSpare(c.kind)
		if kinds[c.kind] == nil {
			kinds[c.kind] = &demand{kind: c.kind}
		}
		for _, f := range c.fit {
			if !slices.Contains(kinds[c.kind].fit, f) {
				kinds[c.kind].fit = append(kinds[c.kind].fit, f)
			}
		}
	}
	for _, k := range project.Kinds {
		if d := kinds[k]; d != nil && l.spare[k] > 0 {
			l.demands = append(l.demands, *d)
		}
	}
	var rooms [][]int64
	for _, i := range p.modules {
		money, _ := r.moduleMoney(&r.hw.Modules[i], construction)
		l.cost = append(l.cost, money)
		var room []int64
		for s := 1; s < 1<<len(l.demands); s++ {
			room = append(room, r.room(l.demands, s, i))
		}
		rooms = append(rooms, room)
	}
	l.keep(rooms)
	return l
}

// room counts the channels of a module that any demand of the set may use.
func (r *run) room(demands []demand, set, module int) int64 {
	n, counted := int64(0), map[int]bool{}
	for d := range demands {
		if set&(1<<d) == 0 {
			continue
		}
		for _, f := range demands[d].fit {
			if f.module == module && !counted[f.set] {
				counted[f.set] = true
				n += int64(r.hw.Modules[module].Channels[f.set].Count)
			}
		}
	}
	return n
}

func (l *least) keep(rooms [][]int64) {
	var kept []int
	for i := range rooms {
		beaten := slices.ContainsFunc(kept, func(j int) bool { return l.cost[j] <= l.cost[i] && dominates(rooms[j], rooms[i]) })
		for j := i + 1; j < len(rooms) && !beaten; j++ {
			beaten = l.cost[j] <= l.cost[i] && dominates(rooms[j], rooms[i]) && (l.cost[j] < l.cost[i] || !slices.Equal(rooms[i], rooms[j]))
		}
		if !beaten {
			kept = append(kept, i)
		}
	}
	cost := make([]int64, len(kept))
	index := map[string]int{}
	for k, i := range kept {
		cost[k] = l.cost[i]
	}
	for s := range rooms[0] {
		room := make([]int64, len(kept))
		for k, i := range kept {
			room[k] = rooms[i][s]
		}
		key := fmt.Sprint(room)
		h, ok := index[key]
		if !ok {
			h = len(l.halls)
			index[key] = h
			l.halls = append(l.halls, hall{room: room})
		}
		l.halls[h].members = append(l.halls[h].members, s+1)
	}
	l.cost = cost
	for d, x := range l.demands {
		if x.class == nil {
			continue
		}
		suits := make([]int64, len(kept))
		for k, i := range kept {
			suits[k] = min(1, rooms[i][1<<d-1])
		}
		l.halls = append(l.halls, hall{class: d, room: suits})
	}
	l.cheapest = slices.Min(cost)
	for range cost {
		l.scratch = append(l.scratch, make([]int64, len(l.halls)))
	}
}

func dominates(a, b []int64) bool {
	for s := range a {
		if a[s] < b[s] {
			return false
		}
	}
	return true
}

// asks turns numbers of signals by class, and of modules that must suit each class in use, into what
// each hall must hold.
func (l *least) asks(n []int64, apart []int) []int64 {
	want, byKind := make([]int64, len(l.demands)), map[project.Kind]int64{}
	for d, x := range l.demands {
		if x.class != nil {
			want[d] = n[d]
			byKind[x.kind] += n[d]
		}
	}
	for d, x := range l.demands {
		if x.class == nil {
			want[d] = (byKind[x.kind]*l.spare[x.kind] + 999) / 1000
		}
	}
	asks := make([]int64, len(l.halls))
	for h, x := range l.halls {
		if x.members == nil && n[x.class] > 0 {
			asks[h] = int64(apart[x.class])
		}
		for _, set := range x.members {
			sum := int64(0)
			for d := range want {
				if set&(1<<d) != 0 {
					sum += want[d]
				}
			}
			asks[h] = max(asks[h], sum)
		}
	}
	return asks
}

// bounds gives a number of modules and a money that no choice can go below.
func (l *least) bounds(asks []int64, from int) (modules, money int64) {
	for h, ask := range asks {
		if ask <= 0 {
			continue
		}
		widest, m := int64(0), int64(never)
		for i := from; i < len(l.cost); i++ {
			if room := l.halls[h].room[i]; room > 0 {
				widest = max(widest, room)
				m = min(m, ask*l.cost[i]/room)
			}
		}
		if widest == 0 {
			return never, never
		}
		modules, money = max(modules, (ask+widest-1)/widest), max(money, m)
	}
	return modules, money
}

// of returns, by the number of modules from 0, the least cost of exactly so many with room for n
// and enough of them for each class in use; never where there is none.
func (l *least) of(n []int64, apart []int) []int64 {
	key := fmt.Sprint(n, apart)
	if best, ok := l.known[key]; ok {
		return best
	}
	best := make([]int64, l.most+1)
	for k := range best {
		best[k] = never
	}
	l.search(l.asks(n, apart), 0, 0, 0, best)
	l.known[key] = best
	return best
}

func (l *least) search(asks []int64, from, count int, cost int64, best []int64) {
	modules, money := l.bounds(asks, from)
	if modules == 0 {
		l.found(count, cost, best)
		return
	}
	if modules >= never || int64(count)+modules >= int64(len(best)) || l.beaten(int(int64(count)+modules), cost+money, best) {
		return
	}
	most := 0
	for h, ask := range asks {
		if room := l.halls[h].room[from]; ask > 0 && room > 0 {
			most = max(most, int((ask+room-1)/room))
		}
	}
	left := l.scratch[from]
	for y := min(most, len(best)-1-count); y >= 0; y-- {
		for h := range left {
			left[h] = asks[h] - int64(y)*l.halls[h].room[from]
		}
		if from+1 < len(l.cost) {
			l.search(left, from+1, count+y, cost+int64(y)*l.cost[from], best)
		} else if m, _ := l.bounds(left, from+1); m == 0 {
			l.found(count+y, cost+int64(y)*l.cost[from], best)
		}
	}
}

// found keeps a choice: modules beyond it do no harm to the room.
func (l *least) found(count int, cost int64, best []int64) {
	for k := count; k < len(best); k++ {
		best[k] = min(best[k], cost)
		cost += l.cheapest
	}
}

// beaten reports whether nothing of the cost or more, with so many modules or more, can improve
// on what is known.
func (l *least) beaten(modules int, cost int64, best []int64) bool {
	for k := modules; k < len(best); k++ {
		if cost < best[k] {
			return false
		}
	}
	return true
}
