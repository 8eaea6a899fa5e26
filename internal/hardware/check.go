package hardware

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"railwright/internal/finding"
)

// Check looks at what the entries of a list say of each other and of themselves: references to
// unknown codes, constructions that cannot be built, modules that no base suits, terminals that
// collide, bytes that do not hold the channels. Each finding bears the line of the key at fault,
// where the list was read from a file.
func Check(l *List) finding.List {
	c := checker{list: l}
	c.uniqueCodes()
	for i := range l.Constructions {
		c.construction(&l.Constructions[i])
	}
	for i := range l.Couplers {
		c.coupler(&l.Couplers[i])
	}
	for i := range l.Modules {
		c.module(&l.Modules[i])
	}
	for i := range l.Bases {
		c.base(&l.Bases[i])
	}
	for i := range l.Networks {
		c.network(&l.Networks[i])
	}
	c.others()
	c.found.Sort()
	return c.found
}

type checker struct {
	list  *List
	found finding.List
}

func (c *checker) report(rule string, sev finding.Severity, code, key, message, remedy string) {
	c.found = append(c.found, finding.Finding{
		Rule: rule, Severity: sev, Subject: subject(code), Where: c.list.where(code, key),
		Message: code + ": " + message, Remedy: finding.Remedy{Text: remedy},
	})
}

// lack reports something that is missing elsewhere in the list, unless an entry was left out for its
// faults: that may be the missing one, and mending it comes first.
func (c *checker) lack(rule, code, key, message, remedy string) {
	if len(c.list.faulty) == 0 {
		c.fault(rule, code, key, message, remedy)
	}
}

func (c *checker) fault(rule, code, key, message, remedy string) {
	c.report(rule, finding.Error, code, key, message, remedy)
}

// known reports a code that names no entry of the class. A code whose own entry was left out for its
// faults is not reported again.
func (c *checker) known(code, key, names, class string, ok bool) {
	if ok || names == "" || c.list.faulty[names] {
		return
	}
	c.fault("HWL-013", code, key, fmt.Sprintf("%s names %s %q, which is not in the list", key, class, clip(names)),
		"Name one that is, or add it."+didYouMean(names, c.list))
}

func didYouMean(word string, l *List) string {
	var all []string
	for _, c := range classes {
		all = append(all, c.codes(l)...)
	}
	if near, ok := finding.Nearest(word, all); ok {
		return " Did you mean " + near + "?"
	}
	return ""
}

// uniqueCodes reports codes that two classes use.
func (c *checker) uniqueCodes() {
	class := map[string]string{}
	for _, cl := range classes {
		name := cl.keys().Name
		for _, code := range cl.codes(c.list) {
			if first, twice := class[code]; twice {
				c.fault("HWL-011", code, "code", fmt.Sprintf("is the code of a %s and of a %s", first, name), "Codes are unique over the whole list: give one of the two another.")
				continue
			}
			class[code] = name
		}
	}
}

func (c *checker) construction(e *Construction) {
	l := c.list
	_, ok := l.Part(e.EndPiece)
	c.known(e.Code, "end_piece", e.EndPiece, "part", ok)
	for _, m := range e.InfeedModules {
		im, ok := l.Module(m)
		c.known(e.Code, "infeed_modules", m, "module", ok)
		switch {
		case !ok:
		case !im.Infeed:
			c.fault("HWL-014", e.Code, "infeed_modules", m+" is no infeed module", "Write infeed = true there, or take it out here.")
		case !slices.Contains(im.Constructions, e.Code):
			c.fault("HWL-014", e.Code, "infeed_modules", m+" does not belong to this construction", "Add it to the constructions there, or take it out here.")
		}
	}
	if e.CouplerFeeds && e.CouplerLimit == 0 {
		c.fault("HWL-020", e.Code, "coupler_feeds", "the coupler feeds the first group but no coupler_limit_ma is given", "Add coupler_limit_ma = ….")
	}
	if !e.CouplerFeeds && e.CouplerLimit > 0 {
		c.report("HWL-020", finding.Warning, e.Code, "coupler_limit_ma", "coupler_limit_ma has no effect without coupler_feeds = true", "Write coupler_feeds = true, or take it out.")
	}
	if e.CouplerFeeds && e.FirstSlot == "infeed" {
		c.fault("HWL-020", e.Code, "first_slot", "slot 1 must open a group, yet the coupler feeds the first group", "Take one of the two out.")
	}
	for i, rank := range e.Order {
		if slices.Contains(e.Order[:i], rank) {
			c.fault("HWL-020", e.Code, "order", fmt.Sprintf("rank %q stands twice in the order", clip(rank)), "Keep one.")
		}
	}
	c.opens(e)
	if !slices.ContainsFunc(l.Couplers, func(k Coupler) bool { return k.Construction == e.Code }) {
		c.lack("HWL-021", e.Code, "", "no coupler belongs to it", "Add a [[coupler]] with construction = \""+e.Code+"\".")
	}
	if !slices.ContainsFunc(l.Modules, func(m Module) bool { return !m.Infeed && slices.Contains(m.Constructions, e.Code) }) {
		c.lack("HWL-021", e.Code, "", "no module with channels belongs to it", "Add a [[module]] with constructions = [\""+e.Code+"\"].")
	}
}

// opens reports a construction in which no group can be opened.
func (c *checker) opens(e *Construction) {
	switch e.Opening {
	case ByBase:
		if !e.HasBases {
			c.fault("HWL-014", e.Code, "opening", "groups begin at an infeed base, yet it has no bases", "Write bases = true, or another opening.")
		} else if !slices.ContainsFunc(c.list.Bases, func(b Base) bool { return b.Infeed && slices.Contains(b.Constructions, e.Code) }) {
			c.lack("HWL-014", e.Code, "opening", "no infeed is possible: it has no infeed base", "Add a [[base]] with infeed = true.")
		}
	case ByModule:
		if len(e.InfeedModules) == 0 {
			c.lack("HWL-014", e.Code, "opening", "no infeed is possible: infeed_modules is empty", "Name at least one infeed module.")
		}
	}
	if e.Opening != ByModule && len(e.InfeedModules) > 0 {
		c.report("HWL-020", finding.Warning, e.Code, "infeed_modules", "infeed_modules has no effect with this opening", "Take it out, or write opening = \"module\".")
	}
}

func (c *checker) coupler(e *Coupler) {
	_, ok := c.list.Construction(e.Construction)
	c.known(e.Code, "construction", e.Construction, "construction", ok)
	_, ok = c.list.Network(e.Network)
	c.known(e.Code, "network", e.Network, "network profile", ok)
	if e.HeaderIn >= e.MaxIn || e.HeaderOut >= e.MaxOut {
		c.fault("HWL-017", e.Code, "header_in_bytes", "the header leaves no byte for modules", "Write a smaller header or a larger process image.")
	}
	c.ambient(e.Code, float64(e.AmbientMin), float64(e.AmbientMax))
}

func (c *checker) ambient(code string, least, most float64) {
	if least > most {
		c.fault("HWL-020", code, "ambient_min_c", "ambient_min_c is above ambient_max_c", "Exchange the two.")
	}
}

func (c *checker) base(e *Base) {
	for _, k := range e.Constructions {
		cons, ok := c.list.Construction(k)
		c.known(e.Code, "constructions", k, "construction", ok)
		if ok && !cons.HasBases {
			c.fault("HWL-015", e.Code, "constructions", "construction "+k+" has no bases", "Write bases = true there, or take it out here.")
		}
		if ok && !slices.ContainsFunc(c.list.Modules, func(m Module) bool { return suits(e, &m, k) }) {
			c.lack("HWL-015", e.Code, "patterns", "offers no pattern that a module of construction "+k+" has: "+strings.Join(e.Patterns, ", "), "Correct the pattern or the supply kind, or take the base out.")
		}
	}
	if e.Infeed && e.BusLimit == 0 {
		c.fault("HWL-020", e.Code, "infeed", "is an infeed point without bus_limit_ma", "Add bus_limit_ma = ….")
	}
}

func (c *checker) network(e *NetworkProfile) {
	cable, ok := c.list.Cable(e.Cable)
	c.known(e.Code, "cable", e.Cable, "cable", ok)
	if ok && cable.Use != "network" {
		c.fault("HWL-020", e.Code, "cable", fmt.Sprintf("cable %s has use %q, not network", cable.Code, cable.Use), "Name a network cable.")
	}
	if ok && cable.Family != e.Medium {
		c.fault("HWL-020", e.Code, "medium", fmt.Sprintf("medium is %s, the cable's family is %s", e.Medium, cable.Family), "Make them alike.")
	}
	if ok && cable.MaxLength > 0 && cable.MaxLength < e.MaxSegment {
		c.fault("HWL-020", e.Code, "max_segment_m", fmt.Sprintf("segments of %s, yet the cable allows %s", e.MaxSegment, cable.MaxLength), "Write the smaller of the two.")
	}
	_, ok = c.list.Part(e.EndPart)
	c.known(e.Code, "end_part", e.EndPart, "part", ok)
	_, ok = c.list.Part(e.SwitchPart)
	c.known(e.Code, "switch_part", e.SwitchPart, "part", ok)
	if (e.SwitchPart != "") != (e.SwitchPorts > 0) {
		c.fault("HWL-020", e.Code, "switch_ports", "switch_part and switch_ports belong together", "Give both or none.")
	}
	if len(e.Topologies) == 0 {
		c.fault("HWL-020", e.Code, "topologies", "no topology is given", "Name at least one of "+strings.Join(topologies, ", ")+".")
	}
}

// others are the entries that are judged by themselves.
func (c *checker) others() {
	for _, e := range c.list.Protections {
		if e.AC == e.DC {
			c.fault("HWL-020", e.Code, "dc", "is made for neither or both of DC and AC", "Write one of dc = true and ac = true; list a device for both twice.")
		}
	}
	for _, e := range c.list.Supplies {
		c.ambient(e.Code, float64(e.DerateFrom), float64(e.AmbientMax))
	}
	for _, e := range c.list.Enclosures {
		if e.Row > e.Rail || e.Row > e.Width {
			c.fault("HWL-020", e.Code, "row_mm", fmt.Sprintf("a row of %d mm is longer than the rail (%d mm) or the enclosure (%d mm)", e.Row, e.Rail, e.Width), "Correct row_mm.")
		}
	}
	for _, e := range c.list.Cables {
		optical := e.Family == "fibre-ethernet"
		if !optical && (e.Area == 0 || e.Class == 0) {
			c.fault("HWL-020", e.Code, "area_mm2", "has no area_mm2 or no class", "Add both; only optical cables have none.")
		}
		if e.Class == 3 || e.Class == 4 {
			c.fault("HWL-020", e.Code, "class", "IEC 60228 has classes 1, 2, 5 and 6", "Write one of them.")
		}
	}
	for _, e := range c.list.Cables {
		if n := len(e.Colours); n > 0 && n != e.Cores {
			c.fault("HWL-020", e.Code, "core_colours", fmt.Sprintf("%d colours for %d cores", n, e.Cores), "Give each core its colour, or leave the key out.")
		}
		for _, code := range e.Colours {
			if !colourCode.MatchString(code) {
				c.fault("HWL-020", e.Code, "core_colours", fmt.Sprintf("%q is no colour code of IEC 60757", code), "Write BK, BN, RD, OG, YE, GN, BU, VT, GY, WH, PK, GD, TQ, SR or GNYE; several colours of one core follow each other.")
			}
		}
	}
	for _, e := range c.list.Parts {
		if e.Construction != "" {
			_, ok := c.list.Construction(e.Construction)
			c.known(e.Code, "construction", e.Construction, "construction", ok)
		}
		if e.MinDiameterUM > e.MaxDiameterUM {
			c.fault("HWL-020", e.Code, "min_diameter_mm", "min_diameter_mm is above max_diameter_mm", "Exchange the two.")
		}
	}
}

// colourCode is a colour of IEC 60757 table 1, or several of them on one core (5.1).
var colourCode = regexp.MustCompile(`^(GNYE|(BK|BN|RD|OG|YE|GN|BU|VT|GY|WH|PK|GD|TQ|SR){1,3})$`)
