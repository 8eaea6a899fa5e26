package drawing

import (
	"railwright/internal/paper"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// goldenSite is the design made by hand with places and routes to it.
func goldenSite() Input {
	in := handMade()
	p := *in.Project
	p.Basis = project.DefaultBasis()
	at := func(v float64) q.Opt[q.Length] { return q.Opt[q.Length]{Set: true, Value: q.Length(v)} }
	seen := map[string]bool{}
	place := func(id string) {
		if id == "" || seen[id] {
			return
		}
		seen[id] = true
		n := float64(len(p.Places))
		p.Places = append(p.Places, project.Place{ID: id, Name: "place " + id, X: at(40 * n), Y: at(25 * n), Controller: n == 0, PowerSource: n == 0})
		if n > 0 {
			p.Routes = append(p.Routes, project.Route{ID: p.Places[0].ID + "--" + id, From: p.Places[0].ID, To: id, Length: 48_000, Medium: "tray"})
		}
	}
	for _, f := range in.Design.Feeders {
		place(f.From)
	}
	for _, st := range in.Design.Stations {
		place(st.Place)
	}
	place("P")
	in.Project = &p
	in.Setting.Wire, in.Setting.Date = paper.MM2, "2026-03-01"
	return in
}
