package check

import (
	"fmt"
	"slices"

	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "STA-004", Title: "Fewer spare channels than the basis asks for",
	Why:     "Signals are added until the last day and for thirty years after; without a spare each one costs a module.",
	Example: "A frozen station whose spares were used up by additions; accept it or add a module.",
	Source:  "common-practice#spare", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for si := range f.Design.Stations {
			st := &f.Design.Stations[si]
			used, free := map[spareKey]int64{}, map[spareKey]int64{}
			class := map[string]string{}
			for _, g := range st.SupplyGroups {
				class[g.ID] = g.Class
			}
			for _, sl := range st.Slots {
				for _, c := range sl.Channels {
					k := spareKey{class[sl.SupplyGroup], project.Kind(c.Kind)}
					if c.Signal == nil {
						free[k]++
					} else {
						used[k]++
					}
				}
			}
			for _, k := range sortedSpares(used) {
				need := q.CeilDiv(used[k]*f.Project.Basis.Spare[k.kind], 1000)
				if free[k] >= need {
					continue
				}
				out = append(out, finding.Finding{
					Severity: finding.Warning, Subject: "station:" + st.ID,
					Message: fmt.Sprintf("%s keeps %d spare %s channels beside %d used ones in groups %q; the basis asks for %d.", st.ID, free[k], k.kind, used[k], k.class, need),
					Figures: figures("spare", float64(free[k]), "1", "asked", float64(need), "1"),
					Remedy:  finding.Remedy{Text: "Add a module, or lower the spare in the basis."},
				})
			}
		}
		return out
	},
})

type spareKey struct {
	class string
	kind  project.Kind
}

func sortedSpares(m map[spareKey]int64) []spareKey {
	keys := make([]spareKey, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b spareKey) int {
		if a.class != b.class {
			if a.class < b.class {
				return -1
			}
			return 1
		}
		return slices.Index(project.Kinds, a.kind) - slices.Index(project.Kinds, b.kind)
	})
	return keys
}
