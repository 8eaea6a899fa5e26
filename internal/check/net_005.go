package check

import (
	"fmt"

	"railwright/internal/calc/bus"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "NET-005", Title: "Network load",
	Why:     "Cyclic frames leave the rest of a link to everything else; above half of it, frames come late when something happens.",
	Example: "Sixty stations of 200 bytes at 1 ms on 100 Mbit/s take 120 %; take 4 ms.",
	Source:  "common-practice#cyclic-load", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		load := f.Design.Network.LoadPct
		easy, high := 100*bus.LoadEasy, 100*bus.LoadHigh
		if load <= easy {
			return nil
		}
		x := finding.Finding{
			Severity: finding.Warning, Subject: "project", Message: fmt.Sprintf("cyclic data take %.0f %% of the network at %s ms; up to %.0f %% is easy, above %.0f %% too much.", load, num(f.Design.Network.UpdateMS, 2), easy, high),
			Figures: figures("load_percent", load, "%", "easy_percent", easy, "%", "high_percent", high, "%"),
			Remedy:  finding.Remedy{Text: fmt.Sprintf("Set update_ms to %s ms or more.", num(f.Design.Network.UpdateMS*load/easy, 1)), Change: []finding.Change{{Subject: "project", Property: "network.update_ms", Value: num(f.Design.Network.UpdateMS*load/easy, 1)}}},
		}
		if load > high {
			x.Severity = finding.Error
		}
		for _, id := range []string{"network.input_load", "network.output_load", "network.bus_load"} {
			if v, ok := f.Figure(id); ok && v == load {
				x.Calculation = id
			}
		}
		return finding.List{x}
	},
})
