package check

import (
	"fmt"

	"railwright/internal/cabling"
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "CAB-002", Title: "Larger conductor chosen",
	Why:     "Over a long way the cheapest cable may leave a valve, a transmitter or an input too few volts, or a resistance thermometer too much lead. The plan then takes the smallest larger conductor that does, and says so: it costs more and needs larger ferrules and glands.",
	Example: "A valve of 250 mA at 270 m may have 6.5 ohm of cable; 0.75 mm2 have 16.8 ohm, the plan takes 2.5 mm2 with 5.2 ohm.",
	Source:  "arithmetic#ohm", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		choices, off := fixedChoices(f), notUsed(f)
		index := map[string]int{}
		for i := range f.Project.Signals {
			index[f.Project.Signals[i].ID] = i
		}
		var out finding.List
		for i := range f.Design.Cables {
			if c := &f.Design.Cables[i]; c.Use == "field" {
				if x, ok := enlarged(f, c, index, choices, off); ok {
					out = append(out, x)
				}
			}
		}
		return out
	},
})

// enlarged compares a field cable with the cheapest that would do by cores, screen and least area.
func enlarged(f *Facts, c *design.Cable, index map[string]int, choices fixed, off map[string]bool) (finding.Finding, bool) {
	have, ok := f.List.Cable(c.Type)
	var signals []project.Signal
	for _, id := range c.Signals {
		i, known := index[id]
		if !known || choices.told("signal:"+id, "cable") {
			return finding.Finding{}, false
		}
		signals = append(signals, f.Project.Signals[i])
	}
	bundles := fit.Bundles(signals, &f.Project.Basis)
	if !ok || len(bundles) != 1 {
		return finding.Finding{}, false
	}
	need := fit.Need(bundles[0], signals, &f.Project.Basis, "")
	need.Off = off
	length := q.ToMillimetres(q.Length(c.LengthM))
	base, _ := fit.CableFor(f.List, need, length, nil, nil)
	if base == nil || base.Area >= have.Area {
		return finding.Finding{}, false
	}
	small, ok1 := loopOf(base, c.LengthM)
	large, ok2 := loopOf(have, c.LengthM)
	id, allowed := tightest(f, bundles[0], signals, need)
	if !ok1 || !ok2 || id == "" {
		return finding.Finding{}, false
	}
	what := fmt.Sprintf("over %.0f m they have %.1f ohm, and %.1f ohm with the smaller", c.LengthM, large, small)
	if large > allowed {
		what = fmt.Sprintf("over %.0f m even these, the largest of the list, have %.1f ohm (%.1f ohm with the smaller), so the volts hold while the group does not carry its most", c.LengthM, large, small)
	}
	return finding.Finding{
		Severity: finding.Info, Subject: "cable:" + c.ID, Calculation: "cable:" + c.ID + ".loop",
		Message: fmt.Sprintf("%s has %s mm2 rather than %s mm2: both cores may have %.1f ohm for %s; %s.",
			c.ID, num(float64(have.Area), 2), num(float64(base.Area), 2), allowed, id, what),
		Figures: figures("area_mm2", float64(have.Area), "mm2", "cheapest_mm2", float64(base.Area), "mm2", "loop_ohm", large, "ohm", "cheapest_loop_ohm", small, "ohm", "allowed_ohm", allowed, "ohm"),
		Remedy:  finding.Remedy{Text: "None needed; fix the cable by hand if you know better."},
	}, true
}

// tightest is the signal of a bundle whose cores may have the least resistance, and how much.
func tightest(f *Facts, bundle fit.Bundle, signals []project.Signal, need fit.CableNeed) (tag string, ohm float64) {
	chooser := cabling.Chooser{List: f.List, Basis: &f.Project.Basis, Power: f.Project.Power}
	sets := func(i int) []*hardware.ChannelSet {
		if at, ok := f.Seats[signals[i].ID]; ok {
			return []*hardware.ChannelSet{at.Set}
		}
		return nil
	}
	need = need.Ask(bundle, signals, &f.Project.Basis, sets, chooser.AtChannels)
	take := func(i int, r float64) {
		if tag == "" || r < ohm {
			tag, ohm = signals[i].Tag, r
		}
	}
	for _, x := range need.Loads {
		kind := fit.VoltageKind(&signals[x.Signal])
		take(x.Signal, float64(chooser.AtChannels(kind)-x.Minimum)/float64(x.Current.Current()))
	}
	for _, x := range need.Lines {
		take(x.Signal, float64(x.MilliOhm)/1000)
	}
	return tag, ohm
}
