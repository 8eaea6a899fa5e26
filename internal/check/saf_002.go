package check

import (
	"fmt"
	"strings"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SAF-002", Title: "Safety-switched group to be verified",
	Why:     "That a supply is cut does not yet make a safety function: the whole chain's performance level has to be verified.",
	Example: "Every safety-switched group brings this notice; it is answered by the verification, not by the tool.",
	Source:  "iso-13849-1", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			for _, g := range st.SupplyGroups {
				if strings.Contains(g.Class, " safety:") {
					out = append(out, finding.Finding{
						Severity: finding.Info, Subject: "group:" + g.ID,
						Message: fmt.Sprintf("group %d of %s is switched by a safety function (%s).", g.Group, st.ID, g.Class),
						Remedy:  finding.Remedy{Text: "Verify the performance level or safety integrity level of the whole chain (ISO 13849-1, IEC 62061)."},
					})
				}
			}
		}
		return out
	},
})
