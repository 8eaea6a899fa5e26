package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/finding"
)

// doubles settles tags that stand in several rows: rows that say the same are one signal; of an old
// and a revised sheet the revised one counts; all others are left out together.
func (r *reader) doubles() {
	byTag := map[string][]*draft{}
	var order []string
	for _, d := range r.live() {
		t := strings.ToUpper(d.get("tag"))
		if d.ours {
			t = strings.TrimSpace(d.get("tag")) // our lists may tell tags apart by case
		}
		if t == "" {
			continue
		}
		if byTag[t] == nil {
			order = append(order, t)
		}
		byTag[t] = append(byTag[t], d)
	}
	newer := r.revisedSheets(byTag)
	for _, t := range order {
		set := byTag[t]
		if len(set) < 2 {
			continue
		}
		set = r.dropOld(set, newer)
		set = r.dropSame(set)
		if len(set) < 2 {
			continue
		}
		var spots []string
		for _, d := range set {
			at := d.at(r, "tag")
			spot := at.Cell
			if len(r.book.Sheets) > 1 {
				spot = at.Sheet + "!" + at.Cell
			}
			spots = append(spots, spot)
		}
		for _, d := range set {
			msg := fmt.Sprintf("tag %s stands in %d rows: %s; all of them are left out", quoted(d.get("tag")), len(set), strings.Join(spots[:min(6, len(spots))], ", "))
			r.res.Findings = append(r.res.Findings, problem("LST-030", finding.Error, d.at(r, "tag"), d.subject(), msg, "Give each signal its own tag, or delete the rows that are too many."))
			d.faults = append(d.faults, msg)
		}
	}
}

// revisedSheets pairs sheets that hold mostly the same tags and whose names tell the later one. The
// result says for each older sheet which one replaces it.
func (r *reader) revisedSheets(byTag map[string][]*draft) map[int]int {
	total := map[int]int{}
	both := map[[2]int]int{}
	for _, set := range byTag {
		seen := map[int]bool{}
		for _, d := range set {
			seen[d.sheet] = true
		}
		for a := range seen {
			total[a]++
			for b := range seen {
				if a < b {
					both[[2]int{a, b}]++
				}
			}
		}
	}
	newer := map[int]int{}
	pairs := make([][2]int, 0, len(both))
	for p := range both {
		pairs = append(pairs, p)
	}
	slices.SortFunc(pairs, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	for _, p := range pairs {
		if n := both[p]; n*2 < min(total[p[0]], total[p[1]]) {
			continue
		}
		a, b := r.book.Sheets[p[0]].Name, r.book.Sheets[p[1]].Name
		switch ra, rb := sheetAge(a), sheetAge(b); {
		case ra < rb:
			newer[p[0]] = p[1]
		case rb < ra:
			newer[p[1]] = p[0]
		default:
			continue
		}
		old, latest := a, b
		if _, ok := newer[p[1]]; ok {
			old, latest = b, a
		}
		r.res.Findings = append(r.res.Findings, problem("IMP-062", finding.Warning, finding.Where{File: r.book.File, Sheet: old}, "project",
			fmt.Sprintf("%d tags stand on sheet %s and on sheet %s; by their names the second is the later one and is taken", both[p], quoted(old), quoted(latest)), "Say which sheets to read if that is wrong."))
	}
	return newer
}

// sheetAge orders sheets by what their names say of revisions; 0 says nothing.
func sheetAge(name string) int {
	f := fold(name)
	age := 0
	switch {
	case hasAny(f, phrases("old, alt, superseded, ersetzt, ancien, obsolete, antiguo, previous, archive, archiv, withdrawn, veraltet, before")):
		age = -1000
	case hasAny(f, phrases("new, neu, revised, latest, current, nouveau, actuel, nuevo, actual, aktuell, updated, final, after")):
		age = 1000
	}
	words := strings.Fields(f)
	for i, w := range words {
		next := ""
		if i+1 < len(words) {
			next = words[i+1]
		}
		for _, prefix := range []string{"rev", "r", "v", "version", "index", "indice", "ausgabe", "issue", "ind"} {
			rest, ok := strings.CutPrefix(w, prefix)
			if !ok || rest == "" && next == "" {
				continue
			}
			if rest == "" {
				rest = next
			}
			if n, err := strconv.Atoi(rest); err == nil {
				return age + 100 + n
			}
			if len(rest) == 1 && rest[0] >= 'a' && rest[0] <= 'z' && prefix != "r" && prefix != "v" {
				return age + 10 + int(rest[0]-'a')
			}
		}
	}
	return age
}

func (r *reader) dropOld(set []*draft, newer map[int]int) []*draft {
	var out []*draft
	for _, d := range set {
		if b, ok := newer[d.sheet]; ok && slices.ContainsFunc(set, func(o *draft) bool { return o.sheet == b }) {
			d.dropped = true
			if f := r.rows[rowKey{d.sheet, d.row}]; f != nil && !f.leftOut {
				f.leftOut = true
				r.res.LeftOut++
			}
			continue
		}
		out = append(out, d)
	}
	return out
}

// dropSame keeps one of rows that say the same in every column.
func (r *reader) dropSame(set []*draft) []*draft {
	var out []*draft
	for _, d := range set {
		same := slices.IndexFunc(out, func(o *draft) bool {
			return o.sameCells(d) && slices.Equal(o.notes, d.notes) && o.address == d.address && o.channel == d.channel
		})
		if same < 0 {
			out = append(out, d)
			continue
		}
		d.dropped = true
		if f := r.rows[rowKey{d.sheet, d.row}]; f != nil && !f.leftOut {
			f.leftOut = true
			r.res.LeftOut++
		}
		r.res.Findings = append(r.res.Findings, problem("IMP-061", finding.Warning, d.at(r, "tag"), d.subject(),
			fmt.Sprintf("the row says the same as %s; it is taken once", out[same].at(r, "tag")), "Delete one of the rows."))
	}
	return out
}
