package folder

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
	"railwright/internal/tomltree"
)

// checkNumbers finds figures that contradict each other.
func (s *stated) checkNumbers() {
	p := &s.project
	if p.Power.SupplyMin > p.Power.SupplyVoltage {
		s.power.Report("PRJ-026", finding.Error, "supply_min_v", fmt.Sprintf("supply_min_v %v is above supply_voltage_v %v", float64(p.Power.SupplyMin), float64(p.Power.SupplyVoltage)),
			"Write the lowest mean voltage at the supply unit's terminals.")
	}
	basis := s.doc.Root().Table("basis")
	if p.Basis.AmbientMin > p.Basis.AmbientMax {
		basis.Report("PRJ-022", finding.Error, "ambient_min_c", fmt.Sprintf("ambient_min_c %v is above ambient_max_c %v", float64(p.Basis.AmbientMin), float64(p.Basis.AmbientMax)), "Swap or mend the two.")
	}
	for _, pl := range p.Places {
		lo, hi := pl.AmbientMin.Or(p.Basis.AmbientMin), pl.AmbientMax.Or(p.Basis.AmbientMax)
		if (pl.AmbientMin.Set || pl.AmbientMax.Set) && lo > hi {
			s.places[pl.ID].Report("PRJ-022", finding.Error, "ambient_min_c", fmt.Sprintf("ambient_min_c %v is above ambient_max_c %v", float64(lo), float64(hi)), "Mend one of the two.")
		}
	}
}

// checkPlaces finds what no plan can be made with, and places that contradict themselves.
func (s *stated) checkPlaces(root tomltree.Table) {
	p := &s.project
	if len(p.Places) == 0 {
		root.Report("PRJ-015", finding.Error, "place", "no place is stated", "Add [[place]] with id for every spot with devices, one with controller = true, and candidate = true where a station may stand.")
		return
	}
	var controllers, candidates, sources []string
	for _, pl := range p.Places {
		t := s.places[pl.ID]
		if pl.Controller {
			controllers = append(controllers, pl.ID)
			if len(controllers) > 1 {
				t.Report("PRJ-016", finding.Error, "controller", fmt.Sprintf("place %s has the controller too, after %s (line %d)", pl.ID, controllers[0], s.places[controllers[0]].Line("controller")),
					"Keep controller = true at one place.")
			}
		}
		if pl.PowerSource {
			sources = append(sources, pl.ID)
		}
		switch {
		case pl.Candidate && pl.Forbidden:
			t.Report("PRJ-018", finding.Error, "forbidden", fmt.Sprintf("place %s is candidate (line %d) and forbidden", pl.ID, t.Line("candidate")), "Keep one of the two.")
		case pl.Candidate && (pl.Zone == "0" || pl.Zone == "20"):
			t.Report("PRJ-028", finding.Error, "zone", fmt.Sprintf("place %s is in zone %s and candidate; no station may stand in zone 0 or 20", pl.ID, pl.Zone), "Take candidate away.")
		case pl.Candidate:
			candidates = append(candidates, pl.ID)
		case pl.Forbidden && pl.Reason == "":
			t.Report("PRJ-019", finding.Warning, "forbidden", fmt.Sprintf("place %s is forbidden without a reason", pl.ID), "Add reason = \"…\"; somebody will ask.")
		}
	}
	first := p.Places[0].ID
	if len(controllers) == 0 {
		s.places[first].Report("PRJ-016", finding.Error, "controller", "no place has the controller", "Write controller = true at the place of the controller.")
	}
	if len(candidates) == 0 {
		s.places[first].Report("PRJ-017", finding.Error, "candidate", "no station may stand anywhere: no place is a candidate", "Write candidate = true where a station may stand.")
	}
	if len(sources) == 0 {
		s.places[first].Report("PRJ-020", finding.Error, "power_source", "no place has a mains distribution board to feed stations", "Write power_source = true where one stands.")
	}
	if ups := p.Power.UPSPlace; ups != "" && !s.known(ups) {
		s.power.Report("PRJ-021", finding.Error, "ups_place", s.unknownPlace("ups_place", ups), "Name a place that is stated.")
	}
}

func (s *stated) known(place string) bool { _, ok := s.places[place]; return ok }

func (s *stated) unknownPlace(key, place string) string {
	msg := fmt.Sprintf("%s names place %s, which is not stated", key, place)
	ids := make([]string, 0, len(s.project.Places))
	for _, p := range s.project.Places {
		ids = append(ids, p.ID)
	}
	slices.Sort(ids)
	if near, ok := finding.Nearest(place, ids); ok {
		msg += fmt.Sprintf("; did you mean %s?", near)
	}
	return msg
}

// checkRoutes finds routes that lead nowhere and places that no cable can reach.
func (s *stated) checkRoutes() {
	p := &s.project
	next := map[string][]string{}
	kept := p.Routes[:0]
	for i, r := range p.Routes {
		t := s.routes[i]
		ok := true
		for _, end := range []struct{ key, place string }{{"from", r.From}, {"to", r.To}} {
			if !s.known(end.place) {
				ok = false
				t.Report("PRJ-023", finding.Error, end.key, s.unknownPlace(end.key, end.place), "Name a place that is stated.")
			}
		}
		if r.From == r.To {
			ok = false
			t.Report("PRJ-024", finding.Error, "to", fmt.Sprintf("the route begins and ends at %s", r.From), "For cables inside a place state its local_m.")
		}
		if ok {
			next[r.From] = append(next[r.From], r.To)
			next[r.To] = append(next[r.To], r.From)
			kept = append(kept, r)
		}
	}
	p.Routes = kept
	s.checkReach(next)
}

func (s *stated) checkReach(next map[string][]string) {
	start := slices.IndexFunc(s.project.Places, func(p project.Place) bool { return p.Controller })
	if start < 0 {
		return
	}
	queue := []string{s.project.Places[start].ID}
	reached := map[string]bool{queue[0]: true}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, n := range next[at] {
			if !reached[n] {
				reached[n] = true
				queue = append(queue, n)
			}
		}
	}
	for _, pl := range s.project.Places {
		if reached[pl.ID] {
			continue
		}
		sev, what := finding.Warning, ""
		if pl.Candidate {
			sev, what = finding.Error, ", so no network cable could reach a station here"
		}
		s.places[pl.ID].Report("PRJ-025", sev, "id", fmt.Sprintf("no route joins place %s with the controller%s", pl.ID, what), "Add the [[route]] that is missing.")
	}
}

// Rule is one kind of fault of project.toml and choices.toml beyond those of tomltree.Rules.
type Rule struct{ Code, Title, Text string }

// Rules are the faults of meaning of the project folder. Codes are permanent.
var Rules = []Rule{
	{"PRJ-010", "number too fine", "The project counts in whole steps (0.1 %, seconds, millimetres, cents); digits beyond would be lost."},
	{"PRJ-011", "format not known", "The folder has another format number than this version reads."},
	{"PRJ-012", "alignment not a power of two", "Stations begin at multiples of 1, 2, 4, 8, 16, 32 or 64 bytes."},
	{"PRJ-013", "two headings for one column", "The column map sends two headings to one canonical column."},
	{"PRJ-014", "id stands twice", "Places and routes have ids of their own; the first one is used."},
	{"PRJ-015", "no place", "Without places nothing can be planned."},
	{"PRJ-016", "not exactly one controller", "The network begins at the one place of the controller."},
	{"PRJ-017", "no candidate place", "A station may stand only where a place is a candidate."},
	{"PRJ-018", "candidate and forbidden", "A place cannot be both."},
	{"PRJ-019", "forbidden without a reason", "The reason is printed where somebody will look for it."},
	{"PRJ-020", "no power source", "Feeders begin at a place with power_source."},
	{"PRJ-021", "UPS board at an unknown place", "ups_place names a place that is not stated."},
	{"PRJ-022", "temperatures reversed", "The lowest temperature must not be above the highest."},
	{"PRJ-023", "route to an unknown place", "A route joins two stated places; this one is not used."},
	{"PRJ-024", "route from a place to itself", "This one is not used."},
	{"PRJ-025", "place out of reach", "No chain of routes joins the place with the controller."},
	{"PRJ-026", "supply voltages reversed", "The lowest voltage must not be above the nominal one."},
	{"PRJ-027", "text cannot be used", "Names and texts stand on one line; ids hold no comma or semicolon."},
	{"PRJ-028", "station in zone 0 or 20", "No station may stand there."},
	{"PRJ-040", "choice not understood", "Subject, property and value must be of the forms in the table of choices; the choice is not used."},
	{"PRJ-041", "choice names something unknown", "The signal or place does not exist; the choice is not used."},
	{"PRJ-042", "choices contradict", "Two decisions cannot both hold. No plan can keep both, so the message names both."},
	{"PRJ-043", "choice stands twice", "The same decision is stated twice; once is enough."},
	{"PRJ-044", "choice for a signal that is left out", "The signal's row is faulty; the choice waits until it is mended."},
	{"PRJ-050", "list missing", "The folder has no signals.csv, signals.xlsx or signals.ods."},
	{"PRJ-051", "two lists", "More than one signal list stands in the folder; the message says which one is read."},
	{"PRJ-052", "file cannot be read as a table", "Damaged, encrypted, too large or of another kind."},
}

// joinAnd writes a list of names for people.
func joinAnd(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
