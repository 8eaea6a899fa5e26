package checker

import (
	"slices"
	"strings"
)

// findingLaw: each finding is complete, stands in order, and names what exists.
func findingLaw(r *run) {
	rank := map[string]int{"error": 0, "warning": 1, "info": 2}
	last := 0
	for _, f := range r.d.Findings {
		subject := "finding:" + f.Rule
		n, known := rank[f.Severity]
		if !known {
			r.bad("FIND", subject, "error, warning or info", "severity %q", f.Severity)
		}
		if n < last {
			r.bad("FIND", subject, "errors, then warnings, then infos", "%s behind the next", f.Severity)
		}
		last = n
		if f.Rule == "" || f.Message == "" {
			r.bad("FIND", subject, "a rule and a message", "%q %q", f.Rule, f.Message)
		}
		if f.Severity == "error" && f.Remedy.Text == "" {
			r.bad("FIND", subject, "a remedy", "error without one")
		}
		if r.opt.KnownRule != nil && !r.opt.KnownRule(f.Rule) {
			r.bad("FIND", subject, "a known rule", "%q", f.Rule)
		}
		if !r.subjectExists(f.Subject) {
			r.bad("FIND", subject, "a subject that exists", "%q", f.Subject)
		}
		if _, ok := r.d.Calculations[f.Calculation]; f.Calculation != "" && !ok {
			r.bad("FIND", subject, "a calculation of the design", "%q", f.Calculation)
		}
		for _, fig := range f.Figures {
			r.finite(subject, fig.Value)
		}
	}
}

// subjectExists looks a subject up where the design or the project can tell; what a reader names
// (rows that were left out, files) it lets pass.
func (r *run) subjectExists(subject string) bool {
	room, id, cut := strings.Cut(subject, ":")
	if !cut {
		return subject != ""
	}
	switch room {
	case "station":
		return r.station[id] != nil || r.namedInDecisions(subject)
	case "group":
		return slices.ContainsFunc(r.stations, func(st *station) bool {
			return slices.ContainsFunc(st.groups, func(g *group) bool { return g.ID == id })
		})
	case "cable":
		return slices.ContainsFunc(r.d.Cables, func(c docCable) bool { return c.ID == id })
	case "feeder":
		return slices.ContainsFunc(r.d.Feeders, func(f docFeeder) bool { return f.ID == id })
	case "supply":
		return slices.ContainsFunc(r.d.Supplies, func(s docSupply) bool { return s.ID == id })
	}
	return true
}

func (r *run) namedInDecisions(subject string) bool {
	for _, d := range r.p.Decisions() {
		if d.Subject == subject || "station:"+d.Value == subject && d.Property == "station" {
			return true
		}
	}
	return false
}
