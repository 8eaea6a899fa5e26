package intake

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// finish looks at all drafts together: it makes tags where they are missing or shared, settles
// doubles, turns drafts into signals, and keeps positions.
func (r *reader) finish() {
	r.shareTags()
	r.openTags()
	r.doubles()
	r.signals()
	r.placesUnknown()
	r.keepPositions()
}

// live returns the drafts that are still in.
func (r *reader) live() []*draft {
	var out []*draft
	for _, d := range r.drafts {
		if !d.dropped {
			out = append(out, d)
		}
	}
	return out
}

// shareTags finds lists whose tag names a device with a row for each of its signals, and gives each
// signal a tag of its own. Such lists share many tags, with different descriptions or kinds; in a
// list that shares few, a shared tag is a fault.
func (r *reader) shareTags() {
	bySheet := map[int]map[string][]*draft{}
	count := map[int]int{}
	for _, d := range r.live() {
		if t := d.get("tag"); t != "" && !d.ours {
			if bySheet[d.sheet] == nil {
				bySheet[d.sheet] = map[string][]*draft{}
			}
			bySheet[d.sheet][t] = append(bySheet[d.sheet][t], d)
			count[d.sheet]++
		}
	}
	for sheet := range r.book.Sheets {
		tags := bySheet[sheet]
		shared, different, withFn := 0, 0, 0
		for _, set := range tags {
			if len(set) < 2 {
				continue
			}
			shared += len(set)
			if distinctSignals(set) {
				different += len(set)
			}
			if set[0].fn != "" && set[0].fn != set[1].fn {
				withFn += len(set)
			}
		}
		enough := different*10 >= shared*7 && (different*4 >= count[sheet] && different >= 3 || withFn*2 >= shared && withFn >= 2 || different*2 >= count[sheet] && different >= 2)
		if shared == 0 {
			continue
		}
		for _, t := range sortedTags(tags) {
			if set := tags[t]; len(set) > 1 && distinctSignals(set) && (enough || distinctKinds(set)) {
				r.nameSignals(t, set)
			}
		}
	}
}

// distinctKinds reports whether rows of one tag state a kind each of its own: a device's command and
// its feedback, no slip of the pen.
func distinctKinds(set []*draft) bool {
	seen := map[string]bool{}
	for _, d := range set {
		k := d.get("kind")
		if k == "" || seen[k] {
			return false
		}
		seen[k] = true
	}
	return true
}

func sortedTags(m map[string][]*draft) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// distinctSignals reports whether rows of one tag speak of different signals.
func distinctSignals(set []*draft) bool {
	seen := map[string]bool{}
	for _, d := range set {
		k := fold(d.get("description")) + "|" + fold(d.fn) + "|" + d.get("kind")
		if d.get("description") == "" && d.fn == "" && d.get("kind") == "" || seen[k] {
			return false
		}
		seen[k] = true
	}
	return true
}

// nameSignals gives the signals of one device tags of their own: the function's name, else what is
// different in the description, else kind and ordinal.
func (r *reader) nameSignals(base string, set []*draft) {
	taken := map[string]bool{}
	ordinal := map[string]int{}
	differ := differences(set)
	for i, d := range set {
		suffix := suffixFrom(d.fn)
		if suffix == "" {
			suffix = suffixFrom(without(differ[i], base))
		}
		if suffix == "" || taken[suffix] || len(suffix) > 24 {
			ordinal[d.get("kind")]++
			suffix = d.get("kind") + strconv.Itoa(ordinal[d.get("kind")])
		}
		for n := 2; taken[suffix]; n++ {
			suffix = strings.TrimRight(suffix, "0123456789") + strconv.Itoa(n)
		}
		taken[suffix] = true
		tag := base + "-" + suffix
		d.set("tag", tag, max(d.tagCol, 0))
		d.fill("device", base, max(d.tagCol, 0))
		r.assumeOne(d, "IMP-060", 0.75, fmt.Sprintf("tag %s stands for a device with %d signals; this one is called %s", quoted(base), len(set), tag))
	}
}

// differences returns the descriptions of a set without the words that all begin or end with.
func differences(set []*draft) []string {
	words := make([][]string, len(set))
	for i, d := range set {
		words[i] = strings.Fields(d.get("description"))
	}
	same := func(at func(w []string) string) bool {
		if len(words[0]) == 0 {
			return false
		}
		first := at(words[0])
		for _, w := range words {
			if len(w) < 2 || len(words[0]) == 0 || !strings.EqualFold(at(w), first) {
				return false
			}
		}
		return true
	}
	for same(func(w []string) string { return w[0] }) {
		for i := range words {
			words[i] = words[i][1:]
		}
	}
	for same(func(w []string) string { return w[len(w)-1] }) {
		for i := range words {
			words[i] = words[i][:len(words[i])-1]
		}
	}
	out := make([]string, len(set))
	for i, w := range words {
		out[i] = strings.Join(w, " ")
	}
	return out
}

func (r *reader) assumeOne(d *draft, rule string, sure float64, msg string) {
	r.res.Findings = append(r.res.Findings, info(rule, d.at(r, "tag"), d.subject(), sure, msg))
}

// suffixFrom makes a short name part of words: "Running feedback" is RUNNING_FEEDBACK.
func suffixFrom(text string) string {
	f := strings.ToUpper(foldLetters(text))
	return strings.ReplaceAll(strings.TrimSpace(f), " ", "_")
}

func without(text, tag string) string {
	for _, w := range []string{tag, strings.ToLower(tag), strings.ReplaceAll(tag, "-", " ")} {
		text = strings.ReplaceAll(text, w, " ")
	}
	return text
}

// openTags gives signals without a tag a provisional one and a hold. Row numbers make it, so two of
// them are never doubles of one another.
func (r *reader) openTags() {
	taken := map[string]bool{}
	for _, d := range r.live() {
		taken[d.get("tag")] = true
	}
	for _, d := range r.live() {
		if d.get("tag") != "" || d.ours {
			continue
		}
		tag := "OPEN-" + strconv.Itoa(d.row+1)
		if len(r.book.Sheets) > 1 {
			tag = fmt.Sprintf("OPEN-%d-%d", d.sheet+1, d.row+1)
		}
		if d.fn != "" && suffixFrom(d.fn) != "" {
			tag += "-" + suffixFrom(d.fn)
		}
		if name := nameFromWords(d); name != "" && d.base == "" && d.tagCol < 0 && !taken[name] {
			tag = name
		}
		for n, base := 2, tag; taken[tag]; n++ {
			tag = base + "-" + strconv.Itoa(n)
		}
		taken[tag] = true
		seen := "empty"
		if d.base != "" {
			seen = quoted(d.base)
			d.remark("tag in the list: " + d.base)
		}
		d.set("tag", tag, max(d.tagCol, 0))
		d.hold("tag to be confirmed")
		r.res.Findings = append(r.res.Findings, problem("IMP-025", finding.Warning, d.at(r, "tag"), d.subject(),
			fmt.Sprintf("the tag is %s; the signal is called %s until it has one, and is put on hold", seen, tag), "Fill in the tag, and clear the hold."))
	}
}

// nameFromWords makes a tag for a signal of a list without tags: equipment and description.
func nameFromWords(d *draft) string {
	desc := suffixFrom(d.get("description"))
	if desc == "" {
		return ""
	}
	e := d.get("equipment")
	if strings.ToUpper(e) != e || strings.Contains(e, " ") {
		e = suffixFrom(e)
	}
	if e != "" && !strings.HasPrefix(desc, e) {
		desc = e + "-" + desc
	}
	if len(desc) > 40 {
		return ""
	}
	return desc
}

// signals turns drafts into signals through the project's own reader of canonical cells.
func (r *reader) signals() {
	r.res.Signals = make([]project.Signal, 0, len(r.drafts))
	r.res.revised = map[string]string{}
	for _, d := range r.live() {
		fate := r.rows[rowKey{d.sheet, d.row}]
		if len(d.faults) > 0 {
			fate.faults = append(fate.faults, d.faults...)
			continue
		}
		if len(d.notes) > 0 {
			own := d.get("remarks")
			text := strings.Join(d.notes, "; ")
			if own != "" {
				text = own + "; " + text
			}
			d.set("remarks", clipText(text), max(d.fromOf("remarks"), max(d.tagCol, 0)))
		}
		if len(d.holds) > 0 {
			d.fill("hold", clipText(strings.Join(d.holds, "; ")), max(d.tagCol, 0))
		}
		if d.get("id") == "" {
			d.put(columnNo["id"], d.get("tag"), 0)
		}
		noPlace := d.get("place") == ""
		row, found := project.ReadRow(func(c string) string {
			if c == "place" && noPlace {
				return "?"
			}
			return d.get(c)
		}, d.position(r))
		for _, f := range found {
			if f.Where != nil && f.Where.Cell == "" {
				at := d.at(r, "tag")
				f.Where = &at
			}
			r.take(f)
		}
		if row.Faulty {
			fate.faults = append(fate.faults, row.Why)
			continue
		}
		if noPlace {
			row.Signal.Place = ""
		}
		var assumed uint8
		if d.ours {
			assumed = d.assumptions()
		} else {
			d.unassume(&row.Signal)
		}
		d.raw = row.Signal.ID
		if _, twice := r.byID[d.raw]; twice {
			f := problem("LST-031", finding.Error, d.at(r, "id"), d.subject(), fmt.Sprintf("id %s stands in another row too; this row is left out", quoted(d.raw)), "Give the signal an id of its own, or clear the cell.")
			r.res.Findings = append(r.res.Findings, f)
			fate.faults = append(fate.faults, f.Message)
			d.raw = ""
			continue
		}
		fate.signals++
		r.byID[d.raw] = len(r.res.Signals)
		r.res.Signals = append(r.res.Signals, row.Signal)
		r.res.assumed = append(r.res.assumed, assumed)
		if d.revised != "" {
			r.res.revised[d.raw] = d.revised
		}
		d.kind, d.cells, d.notes, d.holds = string(row.Signal.Kind), nil, nil, nil // the signal holds them now
	}
}

// unassume empties what the canonical reader assumed. A foreign list that does not say who powers a
// loop must not look afterwards as if it had: whoever plans is told of the assumption again.
func (d *draft) unassume(s *project.Signal) {
	for _, f := range assumable {
		if d.get(f.column) == "" {
			*f.at(s) = ""
		}
	}
}

// assumptions are the bits of assumable that the row leaves empty.
func (d *draft) assumptions() uint8 {
	var bits uint8
	for n, f := range assumable {
		if strings.TrimSpace(d.get(f.column)) == "" {
			bits |= 1 << n
		}
	}
	return bits
}

// take passes a finding of the canonical reader on; equal assumptions are counted together.
func (r *reader) take(f finding.Finding) {
	if f.Severity == finding.Info && f.Where != nil {
		sure := 0.7
		if f.Rule == "LST-005" {
			sure = 0.95
		}
		r.assume(f.Rule, *f.Where, sure, "%s", f.Message)
		return
	}
	r.res.Findings = append(r.res.Findings, f)
}

func clipText(s string) string {
	if r := []rune(s); len(r) > project.MaxText {
		return string(r[:project.MaxText])
	}
	return s
}

// placesUnknown reports places that the project does not have, once each, and signals without one.
func (r *reader) placesUnknown() {
	if len(r.res.Signals) == 0 {
		return
	}
	known := map[string]bool{}
	var ids []string
	for _, p := range r.opt.Places {
		known[p.ID] = true
		ids = append(ids, p.ID)
	}
	count := map[string]int{}
	first := map[string]project.At{}
	for _, s := range r.res.Signals {
		if !known[s.Place] {
			if count[s.Place] == 0 {
				first[s.Place] = s.At
			}
			count[s.Place]++
		}
	}
	for _, name := range sortedKeys(count) {
		at := finding.Where{File: r.book.File}
		if w := first[name].Where("place"); w != nil && name != "" {
			at = *w
		}
		if name == "" {
			r.warn("IMP-064", at, fmt.Sprintf("%d signals have no place: no column, section or panel names one", count[name]), "Name the place of the whole list, or fill in the column place.")
			continue
		}
		if len(ids) == 0 {
			continue
		}
		msg := fmt.Sprintf("place %s of %d signals is not in project.toml", quoted(name), count[name])
		remedy := "Add [[place]] with that id, or mend the list."
		if near, ok := finding.Nearest(name, ids); ok {
			msg += "; did you mean " + near + "?"
		}
		r.warn("IMP-063", at, msg, remedy)
	}
}

// rejected collects the rows that gave no signal because of a fault.
func (r *reader) rejected() {
	for _, k := range r.doneRows {
		f := r.rows[k]
		if len(f.faults) == 0 {
			continue
		}
		s := &r.book.Sheets[k.sheet]
		rj := Rejected{Sheet: s.Name, Row: k.row + 1, Why: f.faults}
		for c := range min(s.Width(k.row), 400) {
			rj.Cells = append(rj.Cells, s.Text(k.row, c))
		}
		r.res.Rejected = append(r.res.Rejected, rj)
	}
}
