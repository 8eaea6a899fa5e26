package check

import (
	"cmp"
	"slices"

	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

// Mend says who may remedy a finding of the rule.
type Mend string

// Who may mend.
const (
	ByPlan   Mend = "the plan"                // the next plan makes the choice by itself unless told otherwise
	ByChoice Mend = "a person's choice"       // a hand choice or an edit of the list
	ByBasis  Mend = "the design basis"        // an assumption of the basis
	ByExpert Mend = "only a competent person" // safety-related: never mended or waived by the tool
)

// Rule is one check.
type Rule struct {
	Code    string // permanent, "GRP-001"
	Title   string
	Why     string // what goes wrong where the rule is broken
	Example string // a case on which it fires, and how it is mended
	Source  string // cite reference
	Mend    Mend
	Run     func(f *Facts) finding.List // nil: found while planning, by the room that decides
}

// Facts is what rules read: the design with its calculations, what it was made from, and lookups.
type Facts = figure.View

// Seat is where a signal sits.
type Seat = figure.Seat

// Gather builds the lookups over a design.
func Gather(d *design.Design, p *project.Project, list *hardware.List) *Facts {
	return figure.Look(d, p, list)
}

// Run applies every rule and returns the findings in their order.
func Run(f *Facts) finding.List {
	var all finding.List
	for _, r := range All() {
		if r.Run == nil {
			continue
		}
		for _, x := range r.Run(f) {
			x.Rule = r.Code
			if x.Source == "" {
				x.Source = r.Source
			}
			all = append(all, x)
		}
	}
	all.Sort()
	return all
}

// All returns the rules in order of code.
func All() []Rule {
	all := slices.Clone(registered)
	slices.SortFunc(all, func(a, b Rule) int { return cmp.Compare(a.Code, b.Code) })
	return all
}

// registered is filled by the rule files, one add each.
var registered []Rule

func add(r Rule) Rule {
	registered = append(registered, r)
	return r
}

// figures makes the figures of a finding from name, value, unit triples.
func figures(parts ...any) map[string]finding.Figure {
	out := map[string]finding.Figure{}
	for i := 0; i+2 < len(parts); i += 3 {
		out[parts[i].(string)] = finding.Figure{Value: parts[i+1].(float64), Unit: parts[i+2].(string)}
	}
	return out
}
