package plan

import (
	"fmt"
	"slices"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// released says, where something could not be done beside what is installed, what releasing it would give:
// the same project planned without the decisions of origin built. It returns nil where nothing is
// installed, or nothing stands in the way.
func released(d *design.Design, p *project.Project, list *hardware.List, opt Options) finding.List {
	free := *p
	free.Choices = slices.DeleteFunc(slices.Clone(p.Choices), func(c project.Decision) bool { return c.Origin == project.FromBuilt })
	if len(free.Choices) == len(p.Choices) || !hindered(d) {
		return nil
	}
	opt.Progress, opt.Findings = nil, nil
	other, err := Run(&free, list, opt)
	if err != nil {
		return nil
	}
	more := len(d.Unplaced) - len(other.Unplaced)
	less := q.ToMoney(d.Cost.Total) - q.ToMoney(other.Cost.Total)
	if more <= 0 && less <= 0 {
		return nil
	}
	what := fmt.Sprintf("with everything installed released, %d more signals would be placed", max(more, 0))
	if more <= 0 {
		what = "with everything installed released, every fixed choice could be followed"
	}
	if less > 0 && more <= 0 {
		what += fmt.Sprintf(", and the plant would cost %s %s less", d.Cost.Currency, less)
	}
	return finding.List{{
		Rule: "FRZ-001", Severity: finding.Info, Subject: "project", Message: what + ". What is installed would have to move for that.",
		Figures: map[string]finding.Figure{
			"placed_more": {Value: float64(more), Unit: "1"}, "total": {Value: d.Cost.Total, Unit: d.Cost.Currency}, "total_released": {Value: other.Cost.Total, Unit: d.Cost.Currency},
		},
		Remedy: finding.Remedy{Text: "Release only the stations that the error findings name: railwright freeze FOLDER --release STATION."}, Source: "arithmetic",
	}}
}

// hindered reports whether a signal that could have a channel has none, or a fixed choice is not kept.
func hindered(d *design.Design) bool {
	return slices.ContainsFunc(d.Unplaced, func(u design.Unplaced) bool { return u.Proof == "set" || u.Proof == "not proven" }) ||
		slices.ContainsFunc(d.Findings, func(f finding.Finding) bool {
			return f.Severity == finding.Error && (f.Rule == "CHO-005" || f.Rule == "STA-005")
		})
}
