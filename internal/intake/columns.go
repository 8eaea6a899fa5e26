package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"railwright/internal/project"
)

// assign gives each column of a table its role.
func (r *reader) assign(s *Sheet, t *table) {
	width := 0
	for row := max(0, t.top); row <= t.last && row < max(0, t.top)+2000; row++ {
		width = max(width, min(s.Width(row), 400))
	}
	var texts [][]string
	if t.top >= 0 {
		texts = r.headingTexts(s, t.top, t.bottom, width)
	}
	for c := range width {
		col := column{index: c, prof: r.profileOf(s, c, t.first, t.last)}
		if texts != nil {
			col.heading = joinHeading(texts[c])
			h := r.combined(texts[c])
			col.cands, col.unit = h.cands, h.unit
		}
		if col.heading == "" && col.prof.n == 0 {
			continue
		}
		t.columns = append(t.columns, col)
	}
	if t.canonical = canonicalTable(t); t.canonical {
		for i := range t.columns {
			if c := &t.columns[i]; isCanonical(c.heading) {
				c.cands = []candidate{{role: role(strings.ToLower(c.heading)), prior: 1.4}}
			}
		}
		t.issued = issuedTable(t)
	}
	siblings(t)
	headingRoles(t)
	r.functionColumns(t)
	tagParts(t)
	contentRoles(t)
	settle(t)
	tagAndCode(s, t)
	if t.issued {
		for i := range t.columns {
			if c := &t.columns[i]; slices.Contains(landing, strings.ToLower(c.heading)) {
				c.role, c.sure, c.how = roleIgnore, 1, "issued list"
			}
		}
	}
}

// landing are the columns of an issued list that say where a signal landed: results of a plan, which
// are not read back as if a person had stated them.
var landing = []string{"state", "station", "slot", "module", "channel", "address", "terminals", "supply_group", "cable", "length_m"}

// issuedTable reports whether a canonical table is a signal list that this tool issued with a design.
func issuedTable(t *table) bool {
	n := 0
	for _, c := range t.columns {
		switch strings.ToLower(c.heading) {
		case "state", "supply_group", "terminals", "id":
			n++
		}
	}
	return n == 4
}

// combined looks up a heading over several rows, the column map first.
func (r *reader) combined(parts []string) headed {
	joined := joinHeading(parts)
	if m, ok := r.mapFolded[fold(joined)]; ok {
		return headed{cands: []candidate{{role: role(m), prior: 1.5}}, unit: headings.combine(parts).unit}
	}
	if len(parts) == 1 {
		return r.heading(tidy(parts[0]))
	}
	if h, ok := r.heads["\x00"+joined]; ok {
		return h
	}
	h := headings.combine(parts)
	r.heads["\x00"+joined] = h
	return h
}

func joinHeading(parts []string) string {
	var out []string
	for _, p := range parts {
		if p = tidy(p); p != "" && (len(out) == 0 || out[len(out)-1] != p) {
			out = append(out, p)
		}
	}
	return strings.Join(out, " / ")
}

// canonicalTable reports whether a table is a canonical list: headed by our own column names, with
// our own words for kinds. People may have added a column or two of theirs.
func canonicalTable(t *table) bool {
	n, others, underscored := 0, 0, 0
	var tag bool
	var kind *column
	for i := range t.columns {
		c := &t.columns[i]
		switch {
		case c.heading == "":
		case !isCanonical(c.heading):
			others++
		default:
			n++
			tag = tag || strings.EqualFold(c.heading, "tag")
			if strings.Contains(c.heading, "_") {
				underscored++
			}
			if strings.EqualFold(c.heading, "kind") {
				kind = c
			}
		}
	}
	if !tag || kind == nil || n < 4 || others > 0 && (n < 8 || underscored == 0) {
		return false
	}
	return underscored > 2 || kind.prof.n == 0 || kind.prof.share(kind.prof.ourKind) >= 0.9
}

func isCanonical(heading string) bool {
	return project.ColumnNamed(strings.ToLower(heading)) != nil
}

// siblings mends headings that mean different things in different company: TC is a thermocouple,
// but beside TS, TM and TR it is télécommande; EA is an analogue input beside SA, and "I/O" else.
func siblings(t *table) {
	has := map[string]bool{}
	for _, c := range t.columns {
		words := strings.Split(c.heading, " / ")
		has[fold(words[len(words)-1])] = true
	}
	for i := range t.columns {
		c := &t.columns[i]
		words := strings.Split(c.heading, " / ")
		switch last := fold(words[len(words)-1]); {
		case last == "tc" && (has["ts"] || has["tm"]) && has["tm"] != has["rtd"]:
			c.cands = []candidate{{role: countRole("DO"), prior: 1}}
		case last == "ea" && (has["sa"] || has["ed"] || has["etor"]):
			c.cands = []candidate{{role: countRole("AI"), prior: 1}}
		case last == "ta" && (has["ts"] || has["tm"]):
			c.cands = []candidate{{role: countRole("DI"), prior: 1}}
		case (last == "tcp" || last == "tco" || last == "tcpt" || last == "tcg") && (has["ts"] || has["tm"]):
			c.cands = []candidate{{role: countRole("CNT"), prior: 1}}
		case last == "aa" && (has["ae"] || has["be"] || has["ba"]):
			c.cands = []candidate{{role: countRole("AO"), prior: 1}}
		case last == "sa" && (has["ea"] || has["sd"] || has["stor"]):
			c.cands = []candidate{{role: countRole("AO"), prior: 1}}
		}
	}
}

// pairing is one possible role of one column.
type pairing struct {
	col   int
	role  role
	score float64
	how   string
}

// headingRoles pairs columns and roles by heading, weighed with the content; the best pairs first,
// each column once, each role once unless several columns may have it.
func headingRoles(t *table) {
	var all []pairing
	for i, c := range t.columns {
		for _, k := range c.cands {
			score := k.prior
			if k.prior < 1.3 { // a column map or canonical list is not argued with
				a := c.prof.affinity(k.role)
				if c.prof.n == 0 {
					a = 0.5
				}
				if k.role == "kind" && a < 0.2 && c.prof.share(c.prof.tag) > 0.6 {
					continue // a column of names
				}
				if c.prof.misfit(k) {
					continue
				}
				if (k.role == "range_low" || k.role == "range_high") && a < 0.2 && c.prof.share(c.prof.tag+c.prof.spaced) > 0.5 {
					continue // From and To of a cable
				}
				if len(c.cands) == 1 {
					score *= 0.65 + 0.35*a
				} else {
					score *= 0.35 + 0.65*a
				}
			}
			all = append(all, pairing{i, k.role, score, "heading"})
		}
	}
	slices.SortStableFunc(all, func(a, b pairing) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.col, b.col), cmp.Compare(a.role, b.role))
	})
	taken := map[role]int{}
	for _, p := range all {
		c := &t.columns[p.col]
		if c.role != "" || p.score < 0.3 {
			continue
		}
		if _, ok := taken[p.role]; ok && p.role == "description" && p.score < 0.55 {
			continue // a last resort that is not needed
		}
		if _, ok := taken[p.role]; ok && p.role == "form" && c.prof.share(c.prof.traits) > 0.5 {
			p.role = roleElectrical // "Signal in" beside "Signal out"
		}
		if at, ok := taken[p.role]; ok && !p.role.several() {
			if t.columns[at].prof.n > 0 || c.prof.n == 0 {
				continue
			}
			t.columns[at].role = "" // the other column of that name is empty
		}
		taken[p.role] = p.col
		c.role, c.sure, c.how = p.role, min(p.score, 0.99), p.how
		if p.score >= 1.3 {
			c.sure, c.how = 1, "column map"
			if t.canonical && isCanonical(c.heading) {
				c.how = "canonical name"
			}
		}
	}
}

// functionColumns finds tables whose columns are headed with functions of a device and hold marks:
// "Running", "Tripped", "Start" below "Inputs" and "Outputs". Each becomes a column of marks of the
// kind that its heading speaks for.
func (r *reader) functionColumns(t *table) {
	type found struct {
		at   int
		kind project.Kind
		fn   string
	}
	var all []found
	for i := range t.columns {
		c := &t.columns[i]
		if kind, counted := c.role.count(); counted && c.how == "column map" {
			if fn := functionName(c.heading); fn != "" && string(headingKind(c.heading)) == kind && !counts(headings.lookup(fn)) {
				c.fn = fn
			}
			continue
		} else if counted {
			return // kinds have columns of their own
		}
		if c.heading == "" || c.how == "column map" || c.prof.n == 0 || c.prof.share(c.prof.mark) < 0.8 && c.prof.share(c.prof.binary) < 0.9 || headsTag(c.heading) {
			continue
		}
		if k, fn := headingKind(c.heading), functionName(c.heading); k != "" && fn != "" {
			all = append(all, found{i, k, fn})
		}
	}
	for _, c := range t.columns {
		if c.role == "kind" && c.prof.affinity("kind") > 0.5 {
			return
		}
	}
	if len(all) < 2 {
		return
	}
	for _, f := range all {
		c := &t.columns[f.at]
		c.role, c.sure, c.how, c.fn = countRole(string(f.kind)), 0.8, "heading", f.fn
	}
}

// headsTag reports whether a row of a heading is a tag: the effects of a trip matrix are headed so,
// and its crosses are no signals.
func headsTag(heading string) bool {
	for _, p := range strings.Split(heading, " / ") {
		if look(p).tag && strings.ToUpper(p) == p {
			return true
		}
	}
	return false
}

// functionName is the last row of a heading without what stands in brackets.
func functionName(heading string) string {
	parts := strings.Split(heading, " / ")
	return tidy(reBracket.ReplaceAllString(parts[len(parts)-1], " "))
}

// functionKind knows headings of marks that say little elsewhere: "Current" is a measured value.
func functionKind(heading string) project.Kind {
	f := fold(heading)
	switch {
	case inList(f, wMeasures):
		return project.AI
	case inList(f, wReferences):
		return project.AO
	}
	return ""
}

var (
	wMeasures   = phrases("current, amps, motor current, strom, motorstrom, courant, intensite, corriente, intensidad, torque, drehmoment, couple, par, winding temp, speed feedback, speed fb, actual speed, istwert, drehzahl ist, drehzahlistwert, power, kw, position, position fb")
	wReferences = phrases("speed ref, speed reference, speed sp, speed set, speed demand, sollwert, drehzahl soll, drehzahlsollwert, consigne vitesse, consigne, consigna velocidad, consigna, ref vitesse, ref velocidad, speed setpoint, frequency ref")
)

// counts reports whether a heading is one of a kind of signal.
func counts(h headed) bool {
	for _, c := range h.cands {
		if _, ok := c.role.count(); ok && c.prior > 0.6 {
			return true
		}
	}
	return false
}

// headingKind concludes the kind of a signal from the rows of a heading, functions in the last one; "" where it says nothing.
func headingKind(heading string) project.Kind {
	parts := strings.Split(heading, " / ")
	ev := newEvidence()
	last := parts[len(parts)-1]
	if k := functionKind(last); k != "" {
		n, dir := split(k)
		ev.add(n, dir, 4, "")
	}
	if n, dir, _ := functionSays(last); n != "" {
		ev.add(n, dir, 4, "")
	}
	ev.fromDescription(last)
	tr := parseTraits(last, stylePoint)
	if tr.said > 0 && ev.noNature() && functionName(heading) == tidy(last) {
		return "" // "Relay", "Volt free": how, not what
	}
	ev.fromTraits(tr, 6)
	for _, p := range parts[:len(parts)-1] {
		for w := range strings.SplitSeq(fold(p), " ") {
			switch {
			case inList(w, wInputs):
				ev.add("", "in", 8, "")
			case inList(w, wOutputs):
				ev.add("", "out", 8, "")
			}
		}
		if n := natureWord(p); n != "" {
			ev.add(n, "", 6, "")
		}
	}
	if ev.noNature() && ev.dir != [len(directions)]int{} {
		ev.add("D", "", 4, "") // "Start" below "Outputs"
	}
	kind, sure := ev.kind()
	if sure < 0.6 || ev.noNature() {
		return ""
	}
	return kind
}

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

// essential roles are looked for by content where headings fail, in this order.
var essential = []struct {
	role  role
	least float64
}{
	{"tag", 0.6},
	{"kind", 0.75},
	{"form", 0.75},
	{"description", 0.6},
	{roleRange, 0.75},
	{"unit", 0.75},
	{"contact", 0.85},
	{roleAddress, 0.8},
	{roleElectrical, 0.85},
	{roleSource, 0.85},
	{roleDirection, 0.9},
	{roleNature, 0.9},
}

// contentRoles fills essential roles that no heading gave, from columns whose heading said nothing.
func contentRoles(t *table) {
	has := map[role]bool{}
	for _, c := range t.columns {
		has[c.role] = true
		if k, ok := c.role.count(); ok && k != "" {
			has["kind"] = true
		}
	}
	if has[roleAddress] || has[roleSlot] {
		has[roleAddress] = true
	}
	if has["kind"] {
		has[roleDirection], has[roleNature] = true, true
	}
	for _, e := range essential {
		if has[e.role] || e.role == roleRange && has["range_low"] {
			continue
		}
		at, top := -1, 0.0
		for i, c := range t.columns {
			if c.role != "" || len(c.cands) > 0 && e.role != roleElectrical || c.prof.n < 1 {
				continue
			}
			a := c.prof.affinity(e.role)
			if c.prof.n < 3 {
				a *= 0.8
			}
			if a > top {
				at, top = i, a
			}
		}
		if at >= 0 && top >= e.least {
			has[e.role] = true
			c := &t.columns[at]
			c.role, c.sure, c.how = e.role, 0.85*top, "content"
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

// byContent makes a table out of a block without headings, or returns nil where it is none.
func (r *reader) byContent(s *Sheet, sheet, first, last int) *table {
	t := &table{sheet: sheet, top: -1, bottom: -1, first: first, last: last, guessed: true}
	r.assign(s, t)
	var tag, other bool
	for _, c := range t.columns {
		switch c.role {
		case "tag":
			tag = c.prof.n >= 3 || c.prof.n == last-first+1
		case "kind", "form", roleRange, roleAddress, roleElectrical, "description", "unit":
			other = true
		}
	}
	if !tag || !other {
		return nil
	}
	if t.headsUnknown(s) {
		t.first++
		r.note("IMP-007", sheet, address(first, 0), 0.7, "1 row passed over: headings that the tool does not know")
	}
	return t
}

// headsUnknown reports whether the first row of a table without known headings holds headings after
// all: no digit in any cell, where every tag below has some.
func (t *table) headsUnknown(s *Sheet) bool {
	digits := func(text string) bool { return strings.ContainsAny(text, "0123456789") }
	for _, c := range t.columns {
		if digits(s.cell(t.first, c.index)) {
			return false
		}
	}
	for _, c := range t.columns {
		if c.role != "tag" {
			continue
		}
		n := 0
		for row := t.first + 1; row <= t.last && row < t.first+20; row++ {
			if text := s.cell(row, c.index); text != "" {
				if n++; !digits(text) {
					return false
				}
			}
		}
		return n >= 3
	}
	return false
}

// like reports how well a sister sheet's columns fit a block without headings: the share of its
// columns whose content suits the role.
func (t *table) like(s *Sheet, r *reader, first, last int) (*table, float64) {
	out := &table{sheet: 0, top: -1, bottom: -1, first: first, last: last, guessed: true}
	fit, n := 0.0, 0.0
	for _, c := range t.columns {
		p := r.profileOf(s, c.index, first, last)
		if p.n == 0 || c.role == "" {
			continue
		}
		n++
		a := p.affinity(c.role)
		if c.role == "tag" || c.role == "kind" {
			a = a * a
		}
		fit += a
		out.columns = append(out.columns, column{index: c.index, heading: c.heading, unit: c.unit, role: c.role, sure: c.sure * a, how: "sister sheet", prof: p})
	}
	if n < 2 {
		return nil, 0
	}
	return out, fit / n
}

// describe says what a column was taken for.
func (c *column) describe() string {
	name := "column " + strings.TrimSuffix(address(0, c.index), "1")
	if c.heading != "" {
		name += " " + quoted(c.heading)
	}
	return fmt.Sprintf("%s is read as %s", name, c.role)
}
