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
