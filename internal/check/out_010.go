package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "OUT-010", Title: "Load above what its channel or module carries",
	Why:     "A channel carries so much, and all channels of a module together often less than their sum.",
	Example: "Eight valves of 1 A on a module for 8 x 2 A and 6 A in all, because their channels are fixed; release two of them.",
	Source:  "arithmetic", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		total := map[string]q.Microamps{}
		seat := func(at Seat) string { return fmt.Sprintf("%s/%d", at.Station.ID, at.Slot.Slot) }
		current := func(s *project.Signal, at Seat) q.Microamps {
			return fit.ChannelCurrent(s, &f.Project.Basis, at.Set)
		}
		out := placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			i := current(s, at)
			total[seat(at)] += i
			if at.Set.MaxEach == 0 || i <= at.Set.MaxEach {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s carries %s mA; a channel of module %s carries %s mA.", s.Tag, num(i.Milliamps(), 1), at.Module.Code, num(at.Set.MaxEach.Milliamps(), 1)),
				Figures: figures("current_ma", i.Milliamps(), "mA", "max_each_ma", at.Set.MaxEach.Milliamps(), "mA"),
				Remedy:  finding.Remedy{Text: "Release the fixed module or channel; the plan takes one that carries it."},
			}, true
		})
		seen := map[string]bool{}
		return append(out, placed(f, func(_ *project.Signal, at Seat) (finding.Finding, bool) {
			sum, most := total[seat(at)], at.Module.MaxTotal
			if most == 0 || sum <= most || seen[seat(at)] {
				return finding.Finding{}, false
			}
			seen[seat(at)] = true
			return finding.Finding{
				Severity: finding.Error, Subject: "station:" + at.Station.ID,
				Message: fmt.Sprintf("the channels in slot %d of %s carry %s mA together; module %s carries %s mA.", at.Slot.Slot, at.Station.ID, num(sum.Milliamps(), 1), at.Module.Code, num(most.Milliamps(), 1)),
				Figures: figures("current_ma", sum.Milliamps(), "mA", "max_total_ma", most.Milliamps(), "mA"),
				Remedy:  finding.Remedy{Text: "Release fixed channels of this module; the plan spreads them."},
			}, true
		})...)
	},
})
