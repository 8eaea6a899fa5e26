package check

import (
	"fmt"
	"slices"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "BAS-001", Title: "Base does not suit its module",
	Why:     "A base has the terminals that a module needs, or it has not; a mains module on an ordinary base puts mains where nobody expects it.",
	Example: "A module with 16 channels on a base for 8 because both were fixed by hand; release the base.",
	Source:  "arithmetic", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			for _, sl := range st.Slots {
				if sl.Base == "" {
					continue
				}
				m, ok := f.List.Module(sl.Module)
				b, ok2 := f.List.Base(sl.Base)
				if !ok || !ok2 {
					continue
				}
				why := ""
				switch {
				case !slices.Contains(b.Constructions, st.Construction):
					why = "is not of construction " + st.Construction
				case !slices.Contains(b.Patterns, m.Pattern):
					why = fmt.Sprintf("does not offer the terminals %q", m.Pattern)
				case b.SupplyKind != "" && b.SupplyKind != m.SupplyKind:
					why = fmt.Sprintf("is made for %s, the module for %s", b.SupplyKind, m.SupplyKind)
				default:
					continue
				}
				return finding.Finding{
					Severity: finding.Error, Message: fmt.Sprintf("base %s in slot %d of %s %s (module %s).", b.Code, sl.Slot, st.ID, why, m.Code),
					Remedy: finding.Remedy{Text: "Release the fixed base; the plan takes the cheapest that suits."},
				}, true
			}
			return finding.Finding{}, false
		})
	},
})
