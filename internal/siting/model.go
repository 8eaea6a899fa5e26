package siting

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"slices"
)

// model is an instance made ready: faults checked, alike bundles joined, costs of places that cannot serve set to Forbidden.
type model struct {
	in     Instance
	types  []alike
	typeOf []int32    // per bundle; -1 when no place can serve it
	pools  [][][]int  // kind, pool: its classes in order
	pos    [][]int32  // kind, class: position in its pool
	sets   int        // partner sets
	start  [][]int32  // kind, pool: where the pool's classes begin when counts are kept pool by pool
	fans   [][]int32  // per place: types that have it among their cheaper places
	salt   [][]uint64 // kind, class: for hashing counts
}

// alike is a set of bundles that cost and ask the same and stand in no conflict, so only how many of them a station holds
// matters.
type alike struct {
	members  []int32
	cost     []int64    // per place; Forbidden where no station may serve them
	order    []int32    // allowed places, cheapest first; shared by types of one cost row
	kinds    []typeKind // per kind
	conflict []int32    // types that may not share its station
	partners []partnerRef
	sets     [][]int32 // per kind and part: the first partner set that its signals of the class belong to, or -1; nil: none
	size     int32     // signals of one bundle (in the first kind that can serve it)
}

// typeKind is what one bundle of a type asks of a station of one kind.
type typeKind struct {
	ok        bool
	class     int32 // station class
	parts     []part
	split     []poolPart // per part: its weight when a reduced cost is shared over classes
	fraction  []int64    // per part: the same as a share of one
	pools     []poolPart
	surcharge int64
}

type part struct {
	class, pool, pos int32
	count            int32
	load             int64
}

type poolPart struct {
	pool   int32
	count  int32
	weight int64 // count * Pool.Weight
}

type partnerRef struct {
	set  int32
	pool []int32 // per kind, -1: none
}

// newModel checks the instance and joins alike bundles. The error names every fault of form; they are mistakes of the
// caller, not of the project.
func newModel(in Instance) (*model, error) {
	if err := checkInstance(in); err != nil {
		return nil, err
	}
	m := &model{in: in, typeOf: make([]int32, len(in.Bundles)), sets: len(in.Partners)}
	m.indexPools()
	kinds := m.demandKinds()
	single := m.loners()
	keys := map[string]int32{}
	rows := rowBook{shared: map[*int64]int{}, equal: map[string]int{}}
	for b := range in.Bundles {
		tk := kinds[b]
		cost := m.allowedCost(b, tk)
		row := rows.number(cost, len(cost) > 0 && &cost[0] == &in.Bundles[b].Cost[0])
		if row < 0 || len(rows.orders[row]) == 0 {
			m.typeOf[b] = -1
			continue
		}
		order := rows.orders[row]
		key := fmt.Sprint(row, " ") + demandKey(tk)
		if single[b] {
			key = fmt.Sprint("#", b)
		}
		t, seen := keys[key]
		if !seen {
			t = int32(len(m.types))
			keys[key] = t
			m.types = append(m.types, alike{cost: cost, order: order, kinds: tk, size: signals(tk)})
		}
		m.typeOf[b] = t
		m.types[t].members = append(m.types[t].members, int32(b))
	}
	m.linkConflicts()
	m.linkPartners()
	m.findFans()
	return m, nil
}

func checkInstance(in Instance) error {
	if in.Tariff == nil {
		return fmt.Errorf("siting: no tariff")
	}
	for p, place := range in.Places {
		if place.Kind < 0 || place.Kind >= len(in.Kinds) || place.Must < 0 || place.Copies < place.Must {
			return fmt.Errorf("siting: place %d: kind %d, must %d, copies %d do not fit", p, place.Kind, place.Must, place.Copies)
		}
		if place.Cap != nil && len(place.Cap) != len(in.Kinds[place.Kind].Pools) {
			return fmt.Errorf("siting: place %d: %d caps for %d pools", p, len(place.Cap), len(in.Kinds[place.Kind].Pools))
		}
	}
	for k, kind := range in.Kinds {
		for c, class := range kind.Classes {
			if class.Pool < 0 || class.Pool >= len(kind.Pools) || class.Surcharge < 0 {
				return fmt.Errorf("siting: kind %d class %d: pool %d, surcharge %d", k, c, class.Pool, class.Surcharge)
			}
		}
		for j, pool := range kind.Pools {
			if pool.Weight < 1 || pool.Group < 0 || pool.Group >= max(kind.Groups, 1) {
				return fmt.Errorf("siting: kind %d pool %d: weight %d, group %d of %d", k, j, pool.Weight, pool.Group, kind.Groups)
			}
			if len(pool.Floor) > 0 && pool.Floor[0] != 0 || !slices.IsSorted(pool.Floor) {
				return fmt.Errorf("siting: kind %d pool %d: the floor does not start at 0 or falls", k, j)
			}
		}
	}
	for b, bundle := range in.Bundles {
		if len(bundle.Cost) != len(in.Places) || len(bundle.Demand) != len(in.Kinds) {
			return fmt.Errorf("siting: bundle %d: %d costs for %d places, %d demands for %d kinds", b,
				len(bundle.Cost), len(in.Places), len(bundle.Demand), len(in.Kinds))
		}
		for k, list := range bundle.Demand {
			for _, d := range list {
				if d.Class < 0 || d.Class >= len(in.Kinds[k].Classes) || d.Count < 1 || d.LoadUA < 0 {
					return fmt.Errorf("siting: bundle %d kind %d: class %d, count %d, load %d", b, k, d.Class, d.Count, d.LoadUA)
				}
			}
		}
	}
	return nil
}

func (m *model) indexPools() {
	for _, kind := range m.in.Kinds {
		lists := make([][]int, len(kind.Pools))
		pos := make([]int32, len(kind.Classes))
		for c, class := range kind.Classes {
			pos[c] = int32(len(lists[class.Pool]))
			lists[class.Pool] = append(lists[class.Pool], c)
		}
		starts := make([]int32, len(kind.Pools))
		for j := 1; j < len(starts); j++ {
			starts[j] = starts[j-1] + int32(len(lists[j-1]))
		}
		salt := make([]uint64, len(kind.Classes))
		for c := range salt {
			salt[c] = newRandom(uint64(c) + 1).next()
		}
		m.pools = append(m.pools, lists)
		m.pos = append(m.pos, pos)
		m.start = append(m.start, starts)
		m.salt = append(m.salt, salt)
	}
}

// demandKinds returns per bundle what it asks of each kind. Equal demands share one value.
func (m *model) demandKinds() [][]typeKind {
	out := make([][]typeKind, len(m.in.Bundles))
	known := map[string][]typeKind{}
	for b := range m.in.Bundles {
		tk := make([]typeKind, len(m.in.Kinds))
		for k := range m.in.Kinds {
			tk[k] = m.typeKind(k, m.in.Bundles[b].Demand[k])
		}
		key := demandKey(tk)
		if old, ok := known[key]; ok {
			tk = old
		} else {
			known[key] = tk
		}
		out[b] = tk
	}
	return out
}

func (m *model) typeKind(k int, demand []Demand) typeKind {
	kind := &m.in.Kinds[k]
	tk := typeKind{ok: len(demand) > 0}
	sorted := slices.Clone(demand)
	slices.SortFunc(sorted, func(a, b Demand) int { return cmp.Compare(a.Class, b.Class) })
	for i, d := range sorted {
		class := kind.Classes[d.Class]
		station := int32(kind.Pools[class.Pool].StationClass)
		if i > 0 && station != tk.class {
			tk.ok = false // no station may hold it: its signals want stations of two classes
		}
		tk.class = station
		tk.surcharge += class.Surcharge * int64(d.Count)
		tk.parts = append(tk.parts, part{int32(d.Class), int32(class.Pool), m.pos[k][d.Class], int32(d.Count), d.LoadUA})
	}
	slices.SortStableFunc(tk.parts, func(a, b part) int { return cmp.Compare(a.pool, b.pool) })
	total := int64(0)
	for _, p := range tk.parts {
		w := int64(p.count) * max(kind.Classes[p.class].Unit, 1)
		tk.split = append(tk.split, poolPart{pool: p.class, count: p.count, weight: w})
		total += w
	}
	for i := range tk.split {
		f, _ := mulDivFloor(one, tk.split[i].weight, total)
		tk.fraction = append(tk.fraction, f)
	}
	for _, p := range tk.parts {
		if n := len(tk.pools); n == 0 || tk.pools[n-1].pool != p.pool {
			tk.pools = append(tk.pools, poolPart{pool: p.pool})
		}
		last := &tk.pools[len(tk.pools)-1]
		last.count += p.count
		last.weight = int64(last.count) * kind.Pools[p.pool].Weight
	}
	return tk
}

func signals(tk []typeKind) int32 {
	n := int32(0)
	for k := range tk {
		if tk[k].ok {
			for _, p := range tk[k].parts {
				n += p.count
			}
			return n
		}
	}
	return n
}

func demandKey(tk []typeKind) string {
	key := []byte{}
	for k := range tk {
		key = binary.AppendVarint(key, -1)
		for _, p := range tk[k].parts {
			key = binary.AppendVarint(key, int64(p.class))
			key = binary.AppendVarint(key, int64(p.count))
			key = binary.AppendVarint(key, p.load)
		}
	}
	return string(key)
}

// loners marks the bundles that are told apart from others: those in conflicts or partner sets.
func (m *model) loners() []bool {
	single := make([]bool, len(m.in.Bundles))
	for _, c := range m.in.Conflicts {
		single[c[0]], single[c[1]] = true, true
	}
	for _, set := range m.in.Partners {
		for _, p := range set {
			single[p.Bundle] = true
		}
	}
	return single
}

// allowedCost returns the bundle's cost row with Forbidden where no station can serve it. The row is the caller's own when
// nothing changes.
func (m *model) allowedCost(b int, tk []typeKind) []int64 {
	row := m.in.Bundles[b].Cost
	var own []int64
	for p := range m.in.Places {
		if row[p] >= Forbidden && row[p] == Forbidden || row[p] < Forbidden && m.allows(p, tk) {
			continue
		}
		if own == nil {
			own = slices.Clone(row)
		}
		own[p] = Forbidden
	}
	if own != nil {
		return own
	}
	return row
}

func (m *model) allows(p int, tk []typeKind) bool {
	place := &m.in.Places[p]
	k := &tk[place.Kind]
	if !k.ok || place.Copies == 0 {
		return false
	}
	for _, pp := range k.pools {
		if place.Cap != nil && int(pp.count) > place.Cap[pp.pool] {
			return false
		}
	}
	return true
}

// rowBook gives equal cost rows one number and one order of places.
type rowBook struct {
	shared map[*int64]int // by the caller's row, where nothing was changed in it
	equal  map[string]int // by content
	orders [][]int32
}

// number returns the row's number. shared says that the row is the caller's own.
func (rb *rowBook) number(cost []int64, shared bool) int {
	if len(cost) == 0 {
		return -1
	}
	if shared {
		if n, ok := rb.shared[&cost[0]]; ok {
			return n
		}
	}
	raw := make([]byte, 0, 8*len(cost))
	for _, c := range cost {
		raw = binary.LittleEndian.AppendUint64(raw, uint64(c))
	}
	n, ok := rb.equal[string(raw)]
	if !ok {
		n = len(rb.orders)
		rb.equal[string(raw)] = n
		rb.orders = append(rb.orders, byCost(cost))
	}
	if shared {
		rb.shared[&cost[0]] = n
	}
	return n
}

// byCost returns the allowed places, cheapest first.
func byCost(cost []int64) []int32 {
	var order []int32
	for p, c := range cost {
		if c < Forbidden {
			order = append(order, int32(p))
		}
	}
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(cost[a], cost[b]) })
	return order
}

func (m *model) linkConflicts() {
	for _, c := range m.in.Conflicts {
		a, b := m.typeOf[c[0]], m.typeOf[c[1]]
		if a < 0 || b < 0 || a == b {
			continue
		}
		m.types[a].conflict = append(m.types[a].conflict, b)
		m.types[b].conflict = append(m.types[b].conflict, a)
	}
}

func (m *model) linkPartners() {
	for s, set := range m.in.Partners {
		for _, p := range set {
			t := m.typeOf[p.Bundle]
			if t < 0 {
				continue
			}
			ref := partnerRef{set: int32(s)}
			for k, c := range p.Class {
				if c < 0 {
					ref.pool = append(ref.pool, -1)
				} else {
					ref.pool = append(ref.pool, int32(m.in.Kinds[k].Classes[c].Pool))
				}
			}
			m.types[t].partners = append(m.types[t].partners, ref)
			m.types[t].join(int32(s), p.Class)
		}
	}
}

// join notes a partner set in the parts of the classes that its signals count in, where none is noted yet.
func (a *alike) join(set int32, class []int) {
	if a.sets == nil {
		a.sets = make([][]int32, len(a.kinds))
		for k := range a.sets {
			a.sets[k] = make([]int32, len(a.kinds[k].parts))
			for i := range a.sets[k] {
				a.sets[k][i] = -1
			}
		}
	}
	for k, c := range class {
		for i, p := range a.kinds[k].parts {
			if int(p.class) == c && a.sets[k][i] < 0 {
				a.sets[k][i] = set
			}
		}
	}
}

// hash returns what q bundles of the type add to the hash of a filling. Hashes of fillings are sums, so the order of
// arrival does not matter.
func (m *model) hash(kind int32, tk *typeKind, q int32) uint64 {
	h := uint64(0)
	for _, p := range tk.parts {
		h += m.salt[kind][p.class] * uint64(int64(q*p.count))
	}
	return h
}

// cap returns the most signals of the pool that one station at the place can hold.
func (m *model) cap(p int, pool int32) int {
	if c := m.in.Places[p].Cap; c != nil {
		return c[pool]
	}
	return 1 << 30
}

// fanReach is how many of its cheapest places a type is a fan of.
const fanReach = 40

func (m *model) findFans() {
	m.fans = make([][]int32, len(m.in.Places))
	for t := range m.types {
		order := m.types[t].order
		for _, p := range order[:min(len(order), fanReach)] {
			m.fans[p] = append(m.fans[p], int32(t))
		}
	}
}
