package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ADR-001", Title: "Addresses overlap",
	Why:     "Two signals on one address are one signal to the controller; bytes of two stations that overlap overwrite each other.",
	Example: "A first byte fixed by hand in the middle of another station's bytes; release it.",
	Source:  "iec-61131-3", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		var out finding.List
		seen := map[string]string{}
		for i := range f.Design.Stations {
			st := &f.Design.Stations[i]
			for _, sl := range st.Slots {
				for _, c := range sl.Channels {
					if c.Signal == nil || c.Address == "" {
						continue
					}
					if first, twice := seen[c.Address]; twice {
						out = append(out, finding.Finding{
							Severity: finding.Error, Subject: "signal:" + c.SignalID, Message: fmt.Sprintf("%s and %s share address %s.", first, *c.Signal, c.Address),
							Remedy: finding.Remedy{Text: "Release the fixed first bytes of one of their stations."},
						})
					}
					seen[c.Address] = *c.Signal
				}
			}
			for k := range i {
				if x, bad := overlap(&f.Design.Stations[k], st); bad {
					out = append(out, x)
				}
			}
		}
		return out
	},
})

func overlap(a, b *design.Station) (finding.Finding, bool) {
	meet := func(a1, an, b1, bn int) bool { return an > 0 && bn > 0 && a1 < b1+bn && b1 < a1+an }
	way, at := "", 0
	switch {
	case meet(a.FirstInByte, a.InputBytes, b.FirstInByte, b.InputBytes):
		way, at = "input", b.FirstInByte
	case meet(a.FirstOutByte, a.OutputBytes, b.FirstOutByte, b.OutputBytes):
		way, at = "output", b.FirstOutByte
	default:
		return finding.Finding{}, false
	}
	return finding.Finding{
		Severity: finding.Error, Subject: "station:" + b.ID, Message: fmt.Sprintf("the %s bytes of %s and %s overlap at byte %d.", way, a.ID, b.ID, at),
		Figures: figures("first_byte", float64(at), "byte"), Remedy: finding.Remedy{Text: "Release the fixed first byte of one of the two."},
	}, true
}
