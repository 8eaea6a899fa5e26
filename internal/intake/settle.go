package intake

import (
	"slices"
)

// tagParts gives a suffix column to the tag where other columns hold parts of it.
func tagParts(t *table) {
	parts := 0
	for _, c := range t.columns {
		if c.role == roleTagPart {
			parts++
		}
		if c.role == "tag" {
			return
		}
	}
	for i := range t.columns {
		if c := &t.columns[i]; parts > 0 && c.role == roleFunction && fold(c.heading) == "suffix" {
			c.role = roleTagPart
		}
	}
}

// settle mends the whole: a list without a tag takes the next best name, and roles that make sense
// only together.
func settle(t *table) {
	find := func(ro role) *column {
		for i := range t.columns {
			if t.columns[i].role == ro {
				return &t.columns[i]
			}
		}
		return nil
	}
	promote := func(to role, from ...role) {
		if find(to) != nil {
			return
		}
		for _, f := range from {
			if c := find(f); c != nil && c.prof.n > 0 && c.how != "column map" && (to != "tag" || f == roleSymbol || c.prof.affinity("tag") >= 0.4) {
				c.role, c.sure = to, c.sure*0.8
				return
			}
		}
	}
	parts := 0
	for _, c := range t.columns {
		if c.role == roleTagPart {
			parts++
		}
	}
	if tag := find("tag"); tag != nil && tag.how != "column map" && tag.how != "canonical name" && tag.prof.affinity("tag") < 0.25 {
		// What is headed as tag holds none; a symbol column that looks better takes its place.
		if sy := find(roleSymbol); sy != nil && sy.prof.affinity("tag") > 0.5 {
			tag.role = roleOldTag
			sy.role, sy.sure = "tag", sy.sure*0.8
		}
	}
	if parts < 2 {
		if dev := find("device"); dev != nil && dev.sure < 0.5 && dev.prof.distinct*10 < dev.prof.n*8 && find("equipment") != nil {
			promote("tag", roleSymbol, roleLoop, "equipment", roleOldTag, "id") // From and To of a cable name no signals where they repeat
		} else {
			promote("tag", roleSymbol, roleLoop, "device", roleOldTag, "id")
		}
		if c := find("equipment"); c != nil && find("tag") == nil && c.prof.affinity("tag") > 0.5 {
			c.role, c.sure = "tag", c.sure*0.7
		}
	}
	if find("tag") == nil && parts < 2 {
		named := 0
		for _, c := range t.columns {
			if c.role == "description" {
				named++
			}
		}
		for i := range t.columns {
			if c := &t.columns[i]; named > 1 && c.role == "description" && c.how != "column map" && c.prof.affinity("tag") >= 0.6 && c.prof.distinct*10 >= c.prof.n*7 {
				c.role, c.sure = "tag", c.sure*0.8
				break
			}
		}
	}
	if eq := find("equipment"); find("description") == nil && eq != nil && eq.how == "heading" && eq.prof.share(eq.prof.spaced) > 0.6 && eq.prof.distinct*10 >= eq.prof.n*8 {
		promote("description", "equipment") // different in each row: it is the signal that is named
	}
	if find("description") == nil {
		if fn := find(roleFunction); fn != nil && fn.prof.share(fn.prof.spaced) > 0.5 {
			promote("description", roleFunction)
		}
		best, top := -1, 0.0
		for i, c := range t.columns { // of several columns of comments the one that describes
			if a := c.prof.affinity("description") * float64(c.prof.n); c.role == "remarks" && c.how != "column map" && c.prof.n > 0 && a > top {
				best, top = i, a
			}
		}
		if best >= 0 && find("description") == nil {
			t.columns[best].role, t.columns[best].sure = "description", t.columns[best].sure*0.8
		}
		promote("description", "remarks", roleFunction)
	}
	if box := find(roleBox); box != nil && box.how == "heading" && box.sure < 0.5 && find("device") == nil && box.prof.n >= 4 && box.prof.distinct*10 >= box.prof.n*9 {
		box.role = "device" // one for each row: the field device itself
	}
	if dev := find("device"); dev != nil && dev.how != "column map" && dev.how != "canonical name" && dev.prof.share(dev.prof.tag) < 0.3 && dev.prof.share(dev.prof.spaced+dev.prof.formOnly) > 0.5 {
		dev.role = roleNote // it says what the device is, not what it is called
		if p := dev.prof; find("equipment") == nil && p.traits == 0 && p.distinct*2 <= p.n {
			dev.role = "equipment"
		}
	}
	if ch := find(roleChannel); ch != nil && ch.how != "column map" && find("tag") == nil && parts < 2 && find(roleSlot) == nil && find(roleRack) == nil && ch.prof.n > 2 && ch.prof.distinct == ch.prof.n && ch.prof.share(ch.prof.small) < 0.5 {
		ch.role, ch.sure = "tag", ch.sure*0.8 // numbers that name the signals
	}
	if find("range_low") != nil && find("range_high") == nil {
		find("range_low").role = roleNote
	}
	if find("kind") == nil && find(roleNature) == nil && find(roleDirection) == nil {
		promote("kind", roleMaker)
		if c := find("kind"); c != nil && c.prof.affinity("kind") < 0.5 {
			c.role = roleMaker
		}
	}
	countless(t)
}

// countless drops count columns that are none: a single one without marks, or in a table whose rows
// state their kind.
func countless(t *table) {
	n, kind := 0, false
	for _, c := range t.columns {
		if _, ok := c.role.count(); ok {
			n++
		}
		kind = kind || c.role == "kind" && c.prof.n > 0 && c.prof.affinity("kind") > 0.6
	}
	for i := range t.columns {
		c := &t.columns[i]
		if _, ok := c.role.count(); ok && c.how != "column map" && (kind && n < 2 || n == 1 && c.prof.n > 0 && c.prof.affinity(c.role) < 0.5) {
			c.role = ""
			if kind {
				c.role = roleQuantity
			}
		}
	}
}

// tagAndCode finds lists that name a signal by two columns, the device's tag and a code of the signal
// that comes again with other devices: only both together are unique.
func tagAndCode(s *Sheet, t *table) {
	tag := -1
	for i, c := range t.columns {
		if c.role == "tag" && c.how == "heading" && c.prof.distinct < c.prof.n && c.prof.n > 2 {
			tag = i
		}
	}
	if tag < 0 {
		return
	}
	for i, c := range t.columns {
		if c.role != "" && c.role != "device" && c.role != roleSymbol && c.role != roleFunction || c.how == "column map" || c.prof.n*10 < t.columns[tag].prof.n*9 || c.prof.share(c.prof.tag) < 0.8 && c.role != roleFunction {
			continue
		}
		both, one := map[string]bool{}, map[string]bool{}
		n := 0
		for row := t.first; row <= t.last && row < t.first+3000; row++ {
			a, b := s.cell(row, t.columns[tag].index), s.cell(row, c.index)
			if a == "" || b == "" {
				continue
			}
			n++
			one[a], both[a+"\x00"+b] = true, true
		}
		if len(both) < n || len(one) == n {
			continue
		}
		device, code := &t.columns[i], &t.columns[tag]
		if len(device.cands) == 0 || !slices.ContainsFunc(device.cands, func(k candidate) bool { return k.role == "tag" }) {
			if c.role == roleFunction {
				return // already told apart by it
			}
			continue
		}
		device.role, device.sure, device.how = "tag", 0.8, "heading"
		code.role, code.sure = roleFunction, 0.75
		return
	}
}
