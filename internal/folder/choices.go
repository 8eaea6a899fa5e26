package folder

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
	"railwright/internal/tomltree"
)

// property is one thing that a choice can decide.
type property struct {
	subject, name string // name may end in ".N"
	value         string // form of the value, for people
	doc           string
	ok            func(value string) bool
}

var (
	channelForm = regexp.MustCompile(`^[^/]+/[1-9][0-9]*/[0-9]+$`)
	addressForm = regexp.MustCompile(`^%[IQ][XBWD]?[0-9]+(?:\.[0-9]+)?$`)
)

func anyText(v string) bool   { return v != "" }
func yesOrNo(v string) bool   { return v == "yes" || v == "no" }
func onlyYes(v string) bool   { return v == "yes" }
func wholeByte(v string) bool { n, err := strconv.Atoi(v); return err == nil && n >= 0 && n <= 65_535 }

// properties are all that choices can decide.
var properties = []property{
	{"signal", "station", "STATION", "the station that serves the signal", anyText},
	{"signal", "place", "PLACE", "a station at that place serves the signal", anyText},
	{"signal", "channel", "STATION/SLOT/CHANNEL", "the channel that carries the signal", channelForm.MatchString},
	{"signal", "module", "CODE", "a module of that code carries the signal", anyText},
	{"signal", "address", "%IX4.0", "located address, in the basis's convention", addressForm.MatchString},
	{"signal", "cable", "CODE", "cable type of the signal's field cable", anyText},
	{"place", "station", "yes or no", "a station stands there, or none may", yesOrNo},
	{"station", "place", "PLACE", "the station exists and stands there", anyText},
	{"station", "coupler", "CODE", "the station's coupler", anyText},
	{"station", "enclosure", "CODE", "the station's enclosure", anyText},
	{"station", "slot.N", "CODE or CODE@BASE", "the module in slot N, counted from 1, and its base", anyText},
	{"station", "infeed.N", "yes", "a supply group begins at slot N", onlyYes},
	{"station", "input_byte", "a whole number", "first input byte of the station", wholeByte},
	{"station", "output_byte", "a whole number", "first output byte of the station", wholeByte},
	{"station", "infeed_mm2.N", "a number", "infeed conductor of the group that begins at slot N (0: at the coupler)", section},
	{"station", "protection.N", "CODE", "protective device of the group that begins at slot N (0: at the coupler)", anyText},
	{"part", "use", "yes or no", "whether the part may be used", yesOrNo},
}

// section reports whether a text is a conductor's section in mm2.
func section(s string) bool {
	v, err := strconv.ParseFloat(s, 64)
	return err == nil && v >= 0.08 && v <= 120
}

// readChoices reads [[choice]] tables. Faulty ones are reported and left out.
func readChoices(tables []tomltree.Table, file string) []project.Decision {
	var out []project.Decision
	for _, t := range tables {
		d := defaultChoice()
		readKeys(t, choiceKeys, &d)
		d.File, d.Line = file, t.Line("")
		if d.Subject == "" || d.Property == "" || d.Value == "" {
			continue
		}
		if checkChoice(t, d) {
			out = append(out, d)
		}
	}
	return out
}

func checkChoice(t tomltree.Table, d project.Decision) bool {
	wrong := func(key, msg, remedy string) bool {
		t.Report("PRJ-040", finding.Error, key, msg, remedy)
		return false
	}
	sort, name, _ := strings.Cut(d.Subject, ":")
	sorts := []string{"signal", "station", "place", "part"}
	if !slices.Contains(sorts, sort) || strings.TrimSpace(name) == "" {
		return wrong("subject", fmt.Sprintf("subject %q is not understood; it is one of signal:ID, station:ID, place:ID, part:CODE", d.Subject), "Mend the subject.")
	}
	var names []string
	for _, p := range properties {
		if p.subject != sort {
			continue
		}
		names = append(names, p.name)
		if !p.matches(d.Property) {
			continue
		}
		if !p.ok(d.Value) {
			return wrong("value", fmt.Sprintf("value %q is not understood; %s %s takes %s", d.Value, sort, d.Property, p.value), "Mend the value.")
		}
		return true
	}
	msg := fmt.Sprintf("a %s has no property %q; it has %s", sort, d.Property, strings.Join(names, ", "))
	if near, ok := finding.Nearest(d.Property, names); ok {
		msg += fmt.Sprintf("; did you mean %q?", near)
	}
	return wrong("property", msg, "Mend the property.")
}

func (p property) matches(name string) bool {
	stem, numbered := strings.CutSuffix(p.name, ".N")
	if !numbered {
		return p.name == name
	}
	n, ok := strings.CutPrefix(name, stem+".")
	least := 1
	if stem == "protection" {
		least = 0
	}
	v, err := strconv.Atoi(n)
	return ok && err == nil && v >= least && v <= 999
}

// settleChoices turns tags in subjects into ids, drops choices about things that do not exist and
// reports contradictions. The signals must be settled already.
func settleChoices(p *project.Project, leftOut []project.LeftOut) finding.List {
	c := choiceCheck{p: p, ids: map[string]bool{}, byTag: map[string]string{}, out: map[string]bool{}, places: map[string]bool{}}
	for _, s := range p.Signals {
		c.ids[s.ID] = true
		c.byTag[s.Tag] = s.ID
	}
	for _, l := range leftOut {
		c.out[l.ID], c.out[l.Tag] = true, true
	}
	for _, pl := range p.Places {
		c.places[pl.ID] = true
	}
	kept := make([]project.Decision, 0, len(p.Choices))
	for _, d := range p.Choices {
		if c.resolve(&d) {
			kept = append(kept, d)
		}
	}
	p.Choices = kept
	c.contradictions()
	return c.found
}

type choiceCheck struct {
	p      *project.Project
	ids    map[string]bool
	byTag  map[string]string
	out    map[string]bool
	places map[string]bool
	found  finding.List

	guesses int
}

func (c *choiceCheck) add(d project.Decision, rule string, sev finding.Severity, msg, remedy string) {
	f := finding.Finding{Rule: rule, Severity: sev, Subject: d.Subject, Message: msg, Remedy: finding.Remedy{Text: remedy}}
	if d.File != "" {
		f.Where = &finding.Where{File: d.File, Line: d.Line}
	}
	c.found = append(c.found, f)
}

func (c *choiceCheck) resolve(d *project.Decision) bool {
	sort, name, _ := strings.Cut(d.Subject, ":")
	name = strings.TrimSpace(name)
	d.Subject = sort + ":" + name
	switch sort {
	case "signal":
		if id := c.byTag[name]; !c.ids[name] && id != "" {
			d.Subject = "signal:" + id
			break
		}
		if c.ids[name] {
			break
		}
		if c.out[name] {
			c.add(*d, "PRJ-044", finding.Warning, fmt.Sprintf("the row of signal %s is left out; the choice waits until it is mended", name), "Mend the row.")
			return false
		}
		c.unknown(*d, "signal", name, c.tags())
		return false
	case "place":
		if !c.places[name] {
			c.unknown(*d, "place", name, c.placeIDs())
			return false
		}
	}
	if d.Property == "place" && !c.places[d.Value] {
		c.unknown(*d, "place", d.Value, c.placeIDs())
		return false
	}
	return true
}

// tags returns all tags for a guess at what was meant; none after many guesses, which would take
// long.
func (c *choiceCheck) tags() []string {
	if c.guesses++; c.guesses > 50 {
		return nil
	}
	tags := make([]string, 0, len(c.p.Signals))
	for _, s := range c.p.Signals {
		tags = append(tags, s.Tag)
	}
	slices.Sort(tags)
	return tags
}

func (c *choiceCheck) placeIDs() []string {
	ids := make([]string, 0, len(c.p.Places))
	for _, p := range c.p.Places {
		ids = append(ids, p.ID)
	}
	slices.Sort(ids)
	return ids
}

func (c *choiceCheck) unknown(d project.Decision, what, name string, known []string) {
	msg := fmt.Sprintf("the choice names %s %s, which does not exist", what, name)
	if near, ok := finding.Nearest(name, known); ok {
		msg += fmt.Sprintf("; did you mean %s?", near)
	}
	c.add(d, "PRJ-041", finding.Error, msg, "Mend the name, or delete the choice.")
}

// contradictions compares all decisions, those of the list's columns too.
func (c *choiceCheck) contradictions() {
	first := map[[2]string]project.Decision{}   // fixed, by subject and property
	refused := map[[3]string]project.Decision{} // forbidden, by subject, property and value
	taken := map[[2]string]project.Decision{}   // what only one subject can have
	stationAt := map[string]project.Decision{}
	all := c.p.Decisions()
	for _, d := range all {
		if d.Strength == project.Forbidden {
			refused[[3]string{d.Subject, d.Property, d.Value}] = d
		}
	}
	for _, d := range all {
		if d.Strength != project.Fixed {
			continue
		}
		k := [2]string{d.Subject, d.Property}
		if o, ok := first[k]; ok {
			if o.Value == d.Value {
				c.add(d, "PRJ-043", finding.Info, fmt.Sprintf("%s %s %s is stated twice (%s and %s)", d.Subject, d.Property, d.Value, spot(o), spot(d)), "One is enough.")
			} else {
				c.clash(o, d, "differ")
			}
			continue
		}
		first[k] = d
		if o, ok := refused[[3]string{d.Subject, d.Property, d.Value}]; ok {
			c.clash(o, d, "cannot both hold")
		}
		if d.Property == "channel" || d.Property == "address" {
			kv := [2]string{d.Property, d.Value}
			if o, ok := taken[kv]; ok {
				c.clash(o, d, "want the same "+d.Property)
			}
			taken[kv] = d
		}
		if strings.HasPrefix(d.Subject, "station:") && d.Property == "place" {
			stationAt[strings.TrimPrefix(d.Subject, "station:")] = d
		}
	}
	c.stationPlaces(first, stationAt)
	for i := range c.p.Places {
		pl := &c.p.Places[i]
		d, ok := first[[2]string{"place:" + pl.ID, "station"}]
		if ok && d.Value == "yes" && pl.Forbidden {
			c.add(d, "PRJ-042", finding.Error, fmt.Sprintf("%s wants a station at place %s, which is forbidden (%s)", spot(d), pl.ID, pl.Reason), "Take one of the two back.")
		}
	}
}

// stationPlaces compares where signals want to be served with where stations are fixed.
func (c *choiceCheck) stationPlaces(first map[[2]string]project.Decision, stationAt map[string]project.Decision) {
	for _, s := range c.p.Signals {
		at, ok1 := first[[2]string{"signal:" + s.ID, "place"}]
		st, ok2 := first[[2]string{"signal:" + s.ID, "station"}]
		if fixed, known := stationAt[st.Value]; ok1 && ok2 && known && fixed.Value != at.Value {
			c.clash(at, st, fmt.Sprintf("cannot both hold, as station %s stands at %s (%s)", st.Value, fixed.Value, spot(fixed)))
		}
	}
	for _, st := range slices.Sorted(keys(stationAt)) {
		d := stationAt[st]
		no, ok := first[[2]string{"place:" + d.Value, "station"}]
		if ok && no.Value == "no" {
			c.clash(no, d, "cannot both hold")
		}
		for i := range c.p.Places {
			if pl := &c.p.Places[i]; pl.ID == d.Value && pl.Forbidden {
				c.add(d, "PRJ-042", finding.Error, fmt.Sprintf("%s puts station %s at place %s, which is forbidden (%s)", spot(d), st, pl.ID, pl.Reason), "Take one of the two back.")
			}
		}
	}
}

func (c *choiceCheck) clash(a, b project.Decision, how string) {
	c.add(b, "PRJ-042", finding.Error, fmt.Sprintf("%s and %s %s", tell(a), tell(b), how), "Take one of the two back.")
}

// tell names a decision with its spot.
func tell(d project.Decision) string {
	verb := "="
	if d.Strength == project.Forbidden {
		verb = "≠"
	}
	return fmt.Sprintf("%s %s %s %s (%s)", d.Subject, d.Property, verb, d.Value, spot(d))
}

func spot(d project.Decision) string {
	switch {
	case d.File == "":
		return "stated in the tool"
	case d.Origin == project.FromList:
		return fmt.Sprintf("%s row %d", d.File, d.Line)
	}
	return fmt.Sprintf("%s line %d", d.File, d.Line)
}
