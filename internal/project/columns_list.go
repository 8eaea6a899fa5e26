package project

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"railwright/internal/finding"
)

// LeftOut is a row of the list that is not planned, with the reason.
type LeftOut struct {
	ID, Tag string
	Where   finding.Where
	Why     string
}

// Settle applies the rules that look at all rows together: it marks doubles and rows with unknown
// places or partners as faulty, closes redundancy symmetrically (RedundantWith then holds ids, in
// order), and puts the sound rows into p.Signals in file order. Faulty rows are returned as left
// out. Of p it reads places, basis, choices; known names the stations of built and accepted designs.
func (p *Project) Settle(rows []Row, known []string) ([]LeftOut, finding.List) {
	l := listCheck{p: p, rows: rows}
	l.doubles("tag", "LST-030", func(s *Signal) string { return s.Tag })
	l.doubles("id", "LST-031", func(s *Signal) string { return s.ID })
	l.places()
	l.partners()
	l.devices()
	l.classes()
	l.stations(known)
	var out []LeftOut
	p.Signals = make([]Signal, 0, len(rows))
	for i := range rows {
		r := &rows[i]
		if !r.Faulty {
			p.Signals = append(p.Signals, r.Signal)
			continue
		}
		lo := LeftOut{ID: r.Signal.ID, Tag: r.Signal.Tag, Why: r.Why}
		if r.Cell != nil {
			lo.Where = *r.Cell
		}
		if lo.ID == "" {
			lo.ID = strings.TrimPrefix(RowSubject(r.Signal), "signal:")
		}
		out = append(out, lo)
	}
	slices.SortFunc(out, func(a, b LeftOut) int {
		return cmp.Or(cmp.Compare(a.ID, b.ID), cmp.Compare(a.Tag, b.Tag), cmp.Compare(a.Where.String(), b.Where.String()))
	})
	return out, l.found
}

// listCheck collects the findings of the whole list.
type listCheck struct {
	p     *Project
	rows  []Row
	found finding.List

	guesses int // "did you mean" looked up among all tags
}

// maxGuesses keeps a long list in which every partner is unknown from taking minutes.
const maxGuesses = 50

func (l *listCheck) add(i int, column, rule string, sev finding.Severity, remedy, format string, args ...any) {
	r := &l.rows[i]
	f := bad(rule, sev, fmt.Sprintf(format, args...), remedy)
	f.Where, f.Subject = r.Signal.At.Where(column), RowSubject(r.Signal)
	if sev == finding.Error {
		r.fail(f)
	}
	l.found = append(l.found, *f)
}

// doubles makes every row of a set with the same name faulty.
func (l *listCheck) doubles(column, rule string, of func(*Signal) string) {
	at := map[string][]int{}
	var order []string
	for i := range l.rows {
		v := of(&l.rows[i].Signal)
		if v == "" {
			continue
		}
		if at[v] == nil {
			order = append(order, v)
		}
		at[v] = append(at[v], i)
	}
	for _, v := range order {
		set := at[v]
		if len(set) < 2 || column == "id" && l.sameTag(set) {
			continue // an id that is only the tag is reported as the tag
		}
		for _, i := range set {
			l.add(i, column, rule, finding.Error, "Give each signal its own "+column+", or delete the rows that are too many.",
				"%s %s stands in %d rows: %s; all of them are left out", column, clip(v), len(set), l.spots(set, column))
		}
	}
}

func (l *listCheck) sameTag(set []int) bool {
	for _, i := range set {
		if l.rows[i].Signal.Tag != l.rows[set[0]].Signal.Tag {
			return false
		}
	}
	return true
}

// spots names up to six rows of a set.
func (l *listCheck) spots(set []int, column string) string {
	var p []string
	for n, i := range set {
		if n == 6 {
			p = append(p, fmt.Sprintf("and %d more", len(set)-n))
			break
		}
		at := l.rows[i].Signal.At
		if c := at.Cell(column); c != "" {
			p = append(p, c)
		} else {
			p = append(p, fmt.Sprintf("row %d", at.Row))
		}
	}
	return strings.Join(p, ", ")
}

func (l *listCheck) places() {
	known := map[string]bool{}
	var ids []string
	for _, pl := range l.p.Places {
		known[pl.ID] = true
		ids = append(ids, pl.ID)
	}
	slices.Sort(ids)
	for i := range l.rows {
		place := l.rows[i].Signal.Place
		if place == "" || known[place] {
			continue
		}
		msg, remedy := fmt.Sprintf("place %s is not in project.toml", clip(place)), "Add [[place]] with that id, or mend the cell."
		switch near, ok := finding.Nearest(place, ids); {
		case ok:
			msg += fmt.Sprintf("; did you mean %s?", near)
		case len(ids) > 0 && len(ids) <= 12:
			msg += "; known are " + strings.Join(ids, ", ")
		case len(ids) > 12:
			msg += fmt.Sprintf("; %d places are known", len(ids))
		}
		l.add(i, "place", "LST-035", finding.Error, remedy, "%s", msg)
	}
}

// partners turns the names in redundant_with into ids and closes the relation.
func (l *listCheck) partners() {
	byTag, byID := map[string]int{}, map[string]int{}
	var names []string
	for i := range l.rows {
		s := &l.rows[i].Signal
		if s.Tag != "" {
			byTag[s.Tag] = i
			names = append(names, s.Tag)
		}
		if s.ID != "" {
			byID[s.ID] = i
		}
	}
	pairs := make([]map[int]bool, len(l.rows))
	for i := range l.rows {
		for _, name := range l.rows[i].Signal.RedundantWith {
			t, isTag := byTag[name]
			d, isID := byID[name]
			switch {
			case isTag && isID && t != d && l.rows[t].Signal.ID != l.rows[d].Signal.ID:
				l.add(i, "redundant_with", "LST-039", finding.Error, "Rename one of them.",
					"redundant_with names %s, which is the tag of one signal and the id of another (%s)", clip(name), l.spots([]int{t, d}, "tag"))
				continue
			case isTag:
				d = t
			case !isID:
				msg := fmt.Sprintf("redundant_with names %s, which the list does not have", clip(name))
				if l.guesses++; l.guesses <= maxGuesses {
					if near, ok := finding.Nearest(name, names); ok {
						msg += fmt.Sprintf("; did you mean %s?", near)
					}
				}
				l.add(i, "redundant_with", "LST-032", finding.Error, "Mend the name, or put ; between several.", "%s", msg)
				continue
			}
			if d != i {
				if pairs[i] == nil {
					pairs[i] = map[int]bool{}
				}
				pairs[i][d] = true
			}
		}
	}
	l.closePairs(pairs)
}

func (l *listCheck) closePairs(pairs []map[int]bool) {
	ids := make([][]string, len(l.rows))
	for i := range l.rows {
		for _, j := range slices.Sorted(maps.Keys(pairs[i])) {
			a, b := &l.rows[i], &l.rows[j]
			switch {
			case a.Faulty:
			case b.Faulty:
				l.add(i, "redundant_with", "LST-034", finding.Warning, "Mend the partner's row.",
					"redundancy partner %s is left out (its row is faulty); nothing is kept apart from it yet", b.Signal.Tag)
			default:
				ids[i] = append(ids[i], b.Signal.ID)
				ids[j] = append(ids[j], a.Signal.ID)
				if !pairs[j][i] {
					l.add(j, "redundant_with", "LST-033", finding.Info, "", "%s names this signal as redundancy partner; the partnership is taken both ways", a.Signal.Tag)
				}
			}
		}
	}
	for i := range l.rows {
		slices.Sort(ids[i])
		l.rows[i].Signal.RedundantWith = slices.Compact(ids[i])
	}
}

// devices warns of a device whose signals stand at several places.
func (l *listCheck) devices() {
	first := map[string]int{}
	for i := range l.rows {
		s := &l.rows[i].Signal
		if s.Device == "" || s.Place == "" || l.rows[i].Faulty {
			continue
		}
		j, seen := first[s.Device]
		if !seen {
			first[s.Device] = i
			continue
		}
		if o := l.rows[j].Signal; o.Place != s.Place {
			l.add(i, "place", "LST-036", finding.Warning, "Mend the place, or give the device two names.",
				"device %s stands at %s here and at %s in row %d", s.Device, s.Place, o.Place, o.At.Row)
		}
	}
}

// classes reports segregation classes that the basis gives no level, once each.
func (l *listCheck) classes() {
	told := map[string]bool{}
	for i := range l.rows {
		c := l.rows[i].Signal.Segregate
		if _, set := l.p.Basis.Segregation[c]; c == "" || set || told[c] || l.rows[i].Faulty {
			continue
		}
		told[c] = true
		known := make([]string, 0, len(l.p.Basis.Segregation))
		for k := range l.p.Basis.Segregation {
			known = append(known, k)
		}
		slices.Sort(known)
		msg := fmt.Sprintf("segregation class %s has no level in [basis.segregation]; group is taken", c)
		if near, ok := finding.Nearest(c, known); ok {
			msg += fmt.Sprintf("; did you mean %s?", near)
		}
		l.add(i, "segregate", "LST-037", finding.Info, "", "%s", msg)
	}
}

// stations warns of wanted stations that nothing else knows. A station is known if a choice, the
// built or the accepted design has it, or if it is named after a place (as the tool names them).
func (l *listCheck) stations(known []string) {
	all := slices.Clone(known)
	for _, d := range l.p.Choices {
		if id, ok := strings.CutPrefix(d.Subject, "station:"); ok {
			all = append(all, id)
		}
	}
	for i := range l.rows {
		st := l.rows[i].Signal.Station
		if st == "" || l.rows[i].Faulty || slices.Contains(all, st) || l.namedAfterPlace(st) {
			continue
		}
		msg := fmt.Sprintf("station %s is neither fixed by a choice nor named after a place", clip(st))
		if near, ok := finding.Nearest(st, all); ok {
			msg += fmt.Sprintf("; did you mean %s?", near)
		}
		l.add(i, "station", "LST-038", finding.Warning, fmt.Sprintf("Add a choice with subject = \"station:%s\", property = \"place\", or mend the cell.", st), "%s", msg)
	}
}

func (l *listCheck) namedAfterPlace(station string) bool {
	for _, p := range l.p.Places {
		if strings.HasPrefix(station, p.ID) {
			return true
		}
	}
	return false
}
