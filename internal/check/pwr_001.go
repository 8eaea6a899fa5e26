package check

import (
	"fmt"

	"railwright/internal/figure"
	"railwright/internal/finding"
)

// lowestMean is the lowest mean supply voltage of equipment for 24 V DC: -15 %.
const lowestMean = 20.4

// leastMean is the lowest mean supply voltage of equipment for the voltage kind of a group; 0 for mains.
func leastMean(kind string) float64 {
	return map[string]float64{"24vdc": lowestMean, "48vdc": 2 * lowestMean}[kind]
}

var _ = add(Rule{
	Code: "PWR-001", Title: "Supply group below its lowest voltage",
	Why:     "Below 24 V - 15 % = 20.4 V (48 V: 40.8 V), as a mean, modules and devices need not work; the fault shows under full load only.",
	Example: "A group 40 m from its supply unit on 1.5 mm2; move the supply unit nearer or take larger conductors.",
	Source:  "iec-61131-2#supply", Mend: ByBasis,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			for _, g := range st.SupplyGroups {
				least := leastMean(figure.Voltage(&g))
				if least == 0 || g.VoltageMinV >= least-1e-6 {
					continue
				}
				out = append(out, finding.Finding{
					Severity: finding.Error, Subject: "group:" + g.ID,
					Message:     fmt.Sprintf("group %d of %s has %.2f V at its infeed point at full load, %.1f V needed.", g.Group, st.ID, g.VoltageMinV, least),
					Figures:     figures("voltage_min_v", g.VoltageMinV, "V", "needed_v", least, "V"),
					Remedy:      finding.Remedy{Text: "Shorten the infeed wires or take a larger conductor (basis supply.infeed_*)."},
					Calculation: "group:" + g.ID + ".voltage",
				})
			}
		}
		return out
	},
})
