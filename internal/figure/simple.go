package figure

import "railwright/internal/project"

// Simple reports whether an intrinsically safe signal's device can be taken as simple apparatus: a
// contact, a resistance thermometer or a thermocouple of which the list states no figures.
func Simple(s *project.Signal) bool {
	if s.Ui.Set || s.Ii.Set || s.Pi.Set || s.Ci.Set || s.Li.Set {
		return false
	}
	return s.Kind == project.RTD || s.Kind == project.TC || s.Kind == project.DI && s.Form == "contact"
}
