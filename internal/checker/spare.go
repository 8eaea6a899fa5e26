package checker

import (
	"cmp"
	"fmt"
	"slices"

	"railwright/internal/project"
)

// spareLaw: at each station, for each group key and kind in use, enough free channels of the kind
// on modules of groups with that key.
func spareLaw(r *run) {
	type pair struct {
		key  string
		kind project.Kind
	}
	for _, st := range r.stations {
		used, free := map[pair]int64{}, map[pair]int64{}
		for _, g := range st.groups {
			for _, sl := range g.slots {
				for _, ch := range sl.channels {
					k := pair{cmp.Or(g.key, g.Class), ch.set.Kind} // modules kept as spare hold no signal that tells
					if ch.SignalID != "" {
						used[k]++
					} else {
						free[k]++
					}
				}
			}
		}
		var keys []pair
		for k := range used {
			keys = append(keys, k)
		}
		slices.SortFunc(keys, func(a, b pair) int { return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.kind, b.kind)) })
		for _, k := range keys {
			want := (used[k]*r.p.Basis.Spare[k.kind] + 999) / 1000
			if free[k] < want && !r.excused(st.subject) && !(r.installed(st) && r.told(st.subject, "STA-006")) {
				r.bad("SPAR", st.subject, fmt.Sprintf("%d spare %s channels in groups %q, or a finding", want, k.kind, k.key), "%d", free[k])
			}
		}
	}
}

// told reports whether a finding of the rule names the subject.
func (r *run) told(subject, rule string) bool {
	return slices.ContainsFunc(r.d.Findings, func(f docFinding) bool { return f.Subject == subject && f.Rule == rule })
}
