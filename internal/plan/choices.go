package plan

import (
	"fmt"
	"strconv"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// seat is a channel fixed by a decision.
type seat struct {
	station string
	slot    int
	channel int
}

// wish is a preferred value and what it costs to do otherwise.
type wish struct {
	value string
	cost  q.Money
}

// choices are a project's decisions, sorted out by what they decide. Maps of fixed choices are by
// subject id.
type choices struct {
	station map[string]string // signal -> station id
	place   map[string]string // signal -> place id
	seat    map[string]seat   // signal -> channel
	module  map[string]string // signal -> module code
	cable   map[string]string // signal -> cable code
	address map[string]string // signal -> located address

	placeOf    map[string]string         // station -> place
	coupler    map[string]string         // station -> coupler code
	enclosure  map[string]string         // station -> enclosure code
	slots      map[string]map[int]string // station -> slot -> module code
	infeeds    map[string]map[int]bool   // station -> slots at which a group begins
	inputByte  map[string]int
	outputByte map[string]int
	protection map[string]map[int]string // station -> first slot of the group (0: coupler) -> code

	area map[string]map[int]string // station -> first slot of the group -> infeed conductor; power reads it

	open   map[string]bool // place -> a station must stand there
	closed map[string]bool // place -> none may
	off    map[string]bool // part code -> must not be used

	notStation map[string][]string // signal -> stations that must not serve it
	notPlace   map[string][]string // signal -> places
	wantPlace  map[string][]wish   // signal -> preferred places
	wantSeat   map[string][]wish   // signal -> preferred channels "STATION/SLOT/CHANNEL"

	from  map[string]project.Decision // subject + property -> the fixed decision, for messages
	found finding.List
}

func newChoices() *choices {
	return &choices{
		station: map[string]string{}, place: map[string]string{}, seat: map[string]seat{}, module: map[string]string{},
		cable: map[string]string{}, address: map[string]string{}, placeOf: map[string]string{}, coupler: map[string]string{}, enclosure: map[string]string{},
		slots: map[string]map[int]string{}, infeeds: map[string]map[int]bool{}, inputByte: map[string]int{}, outputByte: map[string]int{},
		protection: map[string]map[int]string{}, open: map[string]bool{}, closed: map[string]bool{}, off: map[string]bool{},
		notStation: map[string][]string{}, notPlace: map[string][]string{}, wantPlace: map[string][]wish{}, wantSeat: map[string][]wish{},
		area: map[string]map[int]string{},
		from: map[string]project.Decision{},
	}
}

// sortOut reads all decisions of the project. Decisions that contradict each other, or that mean
// nothing, become error findings that name them; the first (in the order of Decisions) holds.
func sortOut(p *project.Project) *choices {
	c := newChoices()
	for _, d := range p.Decisions() {
		kind, id, ok := strings.Cut(d.Subject, ":")
		if !ok || !c.take(kind, id, d) {
			c.refuse(d, fmt.Sprintf("%s %q = %q (%s) is no choice that can be made.", d.Subject, d.Property, d.Value, d.Strength),
				"See the table of choices in docs/project-folder.md.")
		}
	}
	return c
}

func (c *choices) take(kind, id string, d project.Decision) bool {
	if d.Strength == project.Fixed && !c.first(d) {
		return true
	}
	switch kind {
	case "signal":
		return c.takeSignal(id, d)
	case "station":
		return d.Strength == project.Fixed && c.takeStation(id, d)
	case "place":
		if d.Property != "station" {
			return false
		}
		yes := d.Value == "yes"
		if (d.Strength == project.Forbidden) == yes {
			c.closed[id] = true
		} else {
			c.open[id] = true
		}
		return d.Strength != project.Preferred && (yes || d.Value == "no")
	case "part":
		if d.Property != "use" {
			return false
		}
		c.off[id] = d.Strength == project.Forbidden || d.Value == "no"
		return true
	}
	return false
}

// first notes a fixed decision and reports whether it is the first on its subject and property; a
// later one with another value is a contradiction.
func (c *choices) first(d project.Decision) bool {
	key := d.Subject + " " + d.Property
	old, seen := c.from[key]
	if !seen {
		c.from[key] = d
		return true
	}
	if old.Value != d.Value {
		c.refuse(d, fmt.Sprintf("%s: %s is fixed to %q (%s) and to %q (%s).", d.Subject, d.Property, old.Value, spot(old), d.Value, spot(d)),
			"Release one of the two; the first holds until then.")
	}
	return false
}

func spot(d project.Decision) string {
	s := string(d.Origin)
	if d.File != "" {
		s += ", " + d.File
	}
	if d.Line > 0 {
		s += fmt.Sprintf(" line %d", d.Line)
	}
	return s
}

func (c *choices) takeSignal(id string, d project.Decision) bool {
	switch d.Strength {
	case project.Forbidden:
		switch d.Property {
		case "station":
			c.notStation[id] = append(c.notStation[id], d.Value)
		case "place":
			c.notPlace[id] = append(c.notPlace[id], d.Value)
		default:
			return false
		}
		return true
	case project.Preferred:
		w := wish{d.Value, d.ChangeCost}
		switch d.Property {
		case "place":
			c.wantPlace[id] = append(c.wantPlace[id], w)
		case "channel":
			c.wantSeat[id] = append(c.wantSeat[id], w)
		case "station", "module", "address":
			// kept by the matching of ids with the previous design; no cost of change of its own
		default:
			return false
		}
		return true
	}
	switch d.Property {
	case "station":
		c.station[id] = d.Value
	case "place":
		c.place[id] = d.Value
	case "module":
		c.module[id] = d.Value
	case "cable":
		c.cable[id] = d.Value
	case "address":
		c.address[id] = d.Value
	case "channel":
		s, ok := parseSeat(d.Value)
		if !ok {
			return false
		}
		c.seat[id] = s
		if other, fixed := c.station[id]; fixed && other != s.station {
			c.refuse(d, fmt.Sprintf("signal %s is fixed to station %s and to channel %s.", id, other, d.Value), "Release one of the two.")
			delete(c.seat, id)
			return true
		}
		c.station[id] = s.station
	default:
		return false
	}
	return true
}

// parseSeat reads STATION/SLOT/CHANNEL.
func parseSeat(text string) (seat, bool) {
	parts := strings.Split(text, "/")
	if len(parts) != 3 || parts[0] == "" {
		return seat{}, false
	}
	slot, err1 := strconv.Atoi(parts[1])
	channel, err2 := strconv.Atoi(parts[2])
	return seat{parts[0], slot, channel}, err1 == nil && err2 == nil && slot >= 1 && channel >= 0
}

func (c *choices) takeStation(id string, d project.Decision) bool {
	property, number, _ := strings.Cut(d.Property, ".")
	n, err := strconv.Atoi(number)
	numbered := err == nil && n >= 0
	switch {
	case d.Property == "place":
		c.placeOf[id] = d.Value
	case d.Property == "coupler":
		c.coupler[id] = d.Value
	case d.Property == "enclosure":
		c.enclosure[id] = d.Value
	case property == "slot" && numbered && n >= 1:
		put(c.slots, id, n, d.Value)
	case property == "infeed" && numbered && n >= 1:
		put(c.infeeds, id, n, d.Value == "yes")
	case property == "infeed_mm2" && numbered:
		area, err := strconv.ParseFloat(d.Value, 64)
		if err != nil || area <= 0 {
			return false
		}
		put(c.area, id, n, d.Value)
	case property == "protection" && numbered:
		put(c.protection, id, n, d.Value)
	case d.Property == "input_byte" || d.Property == "output_byte":
		v, err := strconv.Atoi(d.Value)
		if err != nil || v < 0 {
			return false
		}
		if d.Property == "input_byte" {
			c.inputByte[id] = v
		} else {
			c.outputByte[id] = v
		}
	default:
		return false
	}
	return true
}

func put[V any](m map[string]map[int]V, id string, n int, v V) {
	if m[id] == nil {
		m[id] = map[int]V{}
	}
	m[id][n] = v
}

func (c *choices) refuse(d project.Decision, message, remedy string) {
	f := finding.Finding{
		Rule: "CHO-001", Severity: finding.Error, Subject: d.Subject, Message: message,
		Remedy: finding.Remedy{Text: remedy}, Source: "arithmetic",
	}
	if d.File != "" {
		f.Where = &finding.Where{File: d.File, Line: d.Line}
	}
	c.found = append(c.found, f)
}
