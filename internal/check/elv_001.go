package check

import (
	"fmt"
	"maps"
	"slices"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ELV-001", Title: "Supply unit without safe separation",
	Why:     "24 V and 48 V may be touched and need no protective conductor only as SELV or PELV: from a unit with safe separation from the mains. Earthed 0 V makes it PELV; then every part of the circuit must be so.",
	Example: "A unit whose data sheet does not name SELV; take one that does, or treat the whole circuit as live.",
	Source:  "iec-60364-4-41#414", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		where := map[string][]string{}
		for _, s := range f.Design.Supplies {
			if u, ok := f.List.Supply(s.Type); ok && !u.Safe && !slices.Contains(where[s.Type], s.Station) {
				where[s.Type] = append(where[s.Type], s.Station)
			}
		}
		var out finding.List
		for _, code := range slices.Sorted(maps.Keys(where)) {
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "part:" + code,
				Message: fmt.Sprintf("supply unit %s (%s) is not stated to have safe separation from the mains.", code, few(where[code])),
				Remedy:  finding.Remedy{Text: "Take a unit for SELV or PELV, or state safe_separation in hardware.toml after a look at its data sheet."},
			})
		}
		return out
	},
})
