package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "NET-007", Title: "What one broken network cable takes away",
	Why:     "In a line or tree everything behind the break is lost; in a star one station; in a ring none.",
	Example: "Six stations in a line: the first cable takes all six; close it to a ring.",
	Source:  "arithmetic", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		n := &f.Design.Network
		if n.Topology != "line" && n.Topology != "tree" || len(f.Design.Stations) < 3 {
			return nil
		}
		behind := map[string][]string{}
		for _, s := range n.Segments {
			behind[s.From] = append(behind[s.From], s.To)
		}
		var count func(node string) int
		count = func(node string) int {
			k := 1
			for _, next := range behind[node] {
				k += count(next)
			}
			return k
		}
		worst, cable := 0, ""
		for _, s := range n.Segments {
			if k := count(s.To); k > worst {
				worst, cable = k, s.Cable
			}
		}
		if worst < 3 {
			return nil
		}
		return finding.List{{
			Severity: finding.Info, Subject: "cable:" + cable, Message: fmt.Sprintf("if network cable %s breaks, %d of %d stations are lost.", cable, worst, len(f.Design.Stations)),
			Figures: figures("stations", float64(worst), "1"),
			Remedy:  finding.Remedy{Text: "Accept it, or take topology ring or star.", Change: []finding.Change{{Subject: "project", Property: "network.topology", Value: "ring"}}},
		}}
	},
})
