package check

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ENC-007", Title: "Cable without a gland",
	Why:     "A gland seals a range of diameters; a cable beside every range of the hardware list has none, and the enclosure loses its IP.",
	Example: "A multicore of 42 mm with glands up to 38 mm in the list; add the gland to hardware.toml.",
	Source:  "iec-62444#range", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		count := map[string]int{}
		for i := range f.Design.Cables {
			c := &f.Design.Cables[i]
			t, ok := f.List.Cable(c.Type)
			if !ok || t.DiameterUM == 0 || !strings.HasPrefix(c.To, "station:") {
				continue
			}
			sealed := false
			for _, p := range f.List.Parts {
				sealed = sealed || p.Use == "gland" && p.MinDiameterUM <= t.DiameterUM && t.DiameterUM <= p.MaxDiameterUM
			}
			if !sealed {
				count[c.Type]++
			}
		}
		if len(count) == 0 {
			return nil
		}
		var types []string
		for code, n := range count {
			types = append(types, fmt.Sprintf("%s (%d)", code, n))
		}
		slices.Sort(types)
		return finding.List{{
			Severity: finding.Warning, Subject: "project", Message: fmt.Sprintf("no gland of the hardware list seals these cables: %s.", few(types)),
			Figures: figures("types", float64(len(types)), "1"),
			Remedy:  finding.Remedy{Text: "Add glands for their diameters to hardware.toml."},
		}}
	},
})
