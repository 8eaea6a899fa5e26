package hardware

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

func (c *checker) module(m *Module) {
	for _, code := range m.Constructions {
		cons, ok := c.list.Construction(code)
		c.known(m.Code, "constructions", code, "construction", ok)
		if ok {
			c.place(m, cons)
		}
	}
	if m.Infeed {
		c.infeed(m)
		return
	}
	if len(m.Channels) == 0 {
		c.fault("HWL-020", m.Code, "", "has no channels", "Add [[module.channels]], or write infeed = true.")
	}
	c.ambient(m.Code, float64(m.AmbientMin), float64(m.AmbientMax))
	for i := range m.Channels {
		c.channels(m, i)
	}
	c.numbers(m)
	c.labels(m)
}

func (c *checker) infeed(m *Module) {
	if len(m.Channels) > 0 {
		c.fault("HWL-020", m.Code, "infeed", "is an infeed module with channels", "Take out one of the two; a module with its own infeed has own_infeed = true.")
	}
	if m.BusLimit == 0 {
		c.fault("HWL-020", m.Code, "infeed", "is an infeed point without bus_limit_ma", "Add bus_limit_ma = ….")
	}
	if !slices.ContainsFunc(c.list.Constructions, func(k Construction) bool { return slices.Contains(k.InfeedModules, m.Code) }) {
		c.report("HWL-020", finding.Warning, m.Code, "infeed", "no construction names it in infeed_modules", "Name it there, or take it out.")
	}
}

// place checks that the module can stand in the construction.
func (c *checker) place(m *Module, k *Construction) {
	if m.Rank != "" && !slices.Contains(k.Order, m.Rank) {
		c.fault("HWL-019", m.Code, "rank", fmt.Sprintf("rank %q is not in the order of construction %s (%s)", clip(m.Rank), k.Code, strings.Join(k.Order, ", ")), "Name one of them, or add it there.")
	}
	if k.HasBases {
		c.onBase(m, k)
	}
	if m.Infeed {
		return
	}
	switch k.Opening {
	case ByModule:
		if len(c.list.InfeedModules(k, m.SupplyKind)) == 0 {
			c.lack("HWL-014", m.Code, "supply_kind", fmt.Sprintf("no infeed is possible: construction %s has no infeed module for %s", k.Code, m.SupplyKind), "Add one and name it in infeed_modules.")
		}
	case ByEach:
		if !m.OwnInfeed || m.BusLimit == 0 {
			c.fault("HWL-014", m.Code, "own_infeed", fmt.Sprintf("no infeed is possible: in construction %s every module feeds itself", k.Code), "Write own_infeed = true and bus_limit_ma = ….")
		}
	}
}

func (c *checker) onBase(m *Module, k *Construction) {
	if m.Pattern == "" {
		c.fault("HWL-015", m.Code, "pattern", "has no pattern, yet construction "+k.Code+" has bases", "Add pattern = \"…\".")
		return
	}
	if _, ok := c.list.CheapestBase(k, m, false); !ok {
		if _, ok := c.list.CheapestBase(k, m, true); !ok {
			c.lack("HWL-015", m.Code, "pattern", fmt.Sprintf("no base of construction %s offers pattern %q for %s", k.Code, clip(m.Pattern), m.SupplyKind), "Correct the pattern, or add a base.")
			return
		}
	}
	if _, ok := c.list.CheapestBase(k, m, true); !ok && k.Opening == ByBase && !m.Infeed {
		c.lack("HWL-014", m.Code, "pattern", fmt.Sprintf("no infeed is possible: construction %s has no infeed base with pattern %q for %s", k.Code, clip(m.Pattern), m.SupplyKind), "Add one.")
	}
}

// needs are the terminal functions of a kind and form; a set offers the form if it offers one of the
// alternatives (docs/plan-rules.md, section 2).
var needs = map[string][][]string{
	"DI contact": {{"supply+", "signal"}}, "DI 2-wire": {{"supply+", "signal"}},
	"DI pnp": {{"supply+", "signal", "supply-"}}, "DI npn": {{"supply+", "signal", "supply-"}},
	"DI namur": {{"signal+", "signal-"}}, "DI 24v": {{"signal", "supply-"}},
	"DI 120vac": {{"line", "signal"}}, "DI 230vac": {{"line", "signal"}},
	"DO 24v": {{"signal", "supply-"}}, "DO relay": {{"common", "no"}},
	"DO 120vac": {{"signal", "neutral"}}, "DO 230vac": {{"signal", "neutral"}},
	"AI current": {{"supply+", "signal+"}, {"signal+", "signal-"}}, "AI voltage": {{"signal+", "signal-"}, {"supply+", "signal+", "supply-"}},
	"AO": {{"signal+", "signal-"}}, "RTD": {{"signal+", "signal-"}, {"signal+", "signal-", "sense+"}, {"signal+", "signal-", "sense+", "sense-"}}, "TC": {{"signal+", "signal-"}},
	"CNT pulse-24v": {{"supply+", "signal"}, {"supply+", "signal", "supply-"}}, "CNT pulse-namur": {{"signal+", "signal-"}},
	"CNT encoder-24v":   {{"supply+", "supply-", "a", "b", "z"}},
	"CNT encoder-rs422": {{"supply+", "supply-", "a", "a-", "b", "b-", "z", "z-"}},
	"SER rs485":         {{"a", "b", "common"}}, "SER rs232": {{"tx", "rx", "common"}}, "SER rs422": {{"tx", "tx-", "rx", "rx-", "common"}},
}

func needsOf(kind project.Kind, form string) [][]string {
	key := string(kind) + " " + form
	switch {
	case kind == project.AI && (form == "4-20ma" || form == "0-20ma"):
		key = "AI current"
	case kind == project.AI:
		key = "AI voltage"
	case kind == project.AO || kind == project.RTD || kind == project.TC:
		key = string(kind)
	}
	return needs[key]
}

func (s *ChannelSet) offers(functions []string) bool {
	return !slices.ContainsFunc(functions, func(f string) bool { _, ok := s.Terminal(f); return !ok })
}

func (c *checker) channels(m *Module, i int) {
	s := &m.Channels[i]
	key := func(k string) string { return fmt.Sprintf("channels.%d.%s", i, k) }
	allowed := project.Forms[s.Kind]
	for _, form := range s.Forms {
		if !slices.Contains(allowed, form) {
			c.fault("HWL-006", m.Code, key("forms"), fmt.Sprintf("%s has no form %q; allowed are %s", s.Kind, clip(form), strings.Join(allowed, ", ")), "Write one of them.")
			continue
		}
		if !slices.ContainsFunc(needsOf(s.Kind, form), s.offers) {
			c.fault("HWL-016", m.Code, key("terminals"), fmt.Sprintf("takes %s %s but has no terminals for %s", s.Kind, form, strings.Join(needsOf(s.Kind, form)[0], ", ")), "Add them, or take the form out.")
		}
	}
	if len(s.Forms) == 0 {
		c.fault("HWL-020", m.Code, key("forms"), "takes no form", "Name at least one of "+strings.Join(allowed, ", ")+".")
	}
	sensors := project.Sensors[s.Kind]
	for _, sensor := range s.Sensors {
		if !slices.Contains(sensors, sensor) {
			c.fault("HWL-006", m.Code, key("sensors"), fmt.Sprintf("%s has no sensor %q; allowed are %s", s.Kind, clip(sensor), strings.Join(sensors, ", ")), "Write one of them.")
		}
	}
	if len(sensors) > 0 && len(s.Sensors) == 0 {
		c.fault("HWL-020", m.Code, key("sensors"), "names no sensor", "Name at least one of "+strings.Join(sensors, ", ")+".")
	}
	c.loops(m, i)
	c.edges(m, i)
	c.image(m, i)
}

// edges checks that a counter for 24 V whose lines have a resistance says at which voltages it switches:
// without, nobody can tell how fast its cable lets pulses be.
func (c *checker) edges(m *Module, i int) {
	s := &m.Channels[i]
	single := slices.Contains(s.Forms, "pulse-24v") || slices.Contains(s.Forms, "encoder-24v")
	if s.Kind == project.CNT && single && s.Impedance > 0 && s.InputType == 0 && (s.ThresholdOn == 0 || s.ThresholdOff == 0) {
		c.report("HWL-020", finding.Warning, m.Code, fmt.Sprintf("channels.%d.impedance_ohm", i),
			"counts on 24 V with an impedance, yet states no thresholds: edges over its cable cannot be computed", "Add threshold_on_v and threshold_off_v, or input_type.")
	}
}

// loops checks what only current inputs have.
func (c *checker) loops(m *Module, i int) {
	s := &m.Channels[i]
	key := fmt.Sprintf("channels.%d.loop", i)
	current := s.Kind == project.AI && slices.ContainsFunc(s.Forms, func(f string) bool { return f == "4-20ma" || f == "0-20ma" })
	if current && len(s.Loop) == 0 {
		c.fault("HWL-020", m.Code, key, "does not say who powers the loop", "Write loop = [\"feeds\"], [\"takes\"] or both.")
	}
	if slices.Contains(s.Loop, "feeds") && !s.offers([]string{"supply+", "signal+"}) {
		c.fault("HWL-016", m.Code, key, "feeds the loop but has no terminals supply+ and signal+", "Add them.")
	}
	if slices.Contains(s.Loop, "takes") && !s.offers([]string{"signal+", "signal-"}) {
		c.fault("HWL-016", m.Code, key, "takes an active device's current but has no terminals signal+ and signal-", "Add them.")
	}
}

// image checks that the module's bytes hold the channels, apart from each other.
func (c *checker) image(m *Module, i int) {
	s := &m.Channels[i]
	key := func(k string) string { return fmt.Sprintf("channels.%d.%s", i, k) }
	if !slices.Contains([]int{1, 8, 16, 32}, s.Bits) {
		c.fault("HWL-006", m.Code, key("bits"), fmt.Sprintf("channels of %d bits; allowed are 1, 8, 16, 32", s.Bits), "Write one of them.")
		return
	}
	end := s.Offset + (s.Count*s.Bits+7)/8
	if s.Image != "out" && end > m.In {
		c.fault("HWL-017", m.Code, key("count"), fmt.Sprintf("%d channels of %d bits from byte %d end at byte %d, the module has %d input bytes", s.Count, s.Bits, s.Offset, end, m.In), fmt.Sprintf("Write in_bytes = %d or fewer channels.", end))
	}
	if s.Image != "in" && end > m.Out {
		c.fault("HWL-017", m.Code, key("count"), fmt.Sprintf("%d channels of %d bits from byte %d end at byte %d, the module has %d output bytes", s.Count, s.Bits, s.Offset, end, m.Out), fmt.Sprintf("Write out_bytes = %d or fewer channels.", end))
	}
	for k := range m.Channels[:i] {
		o := &m.Channels[k]
		share := s.Image == o.Image || s.Image == "both" || o.Image == "both"
		if share && s.Offset < o.Offset+(o.Count*o.Bits+7)/8 && o.Offset < end {
			c.fault("HWL-017", m.Code, key("offset_byte"), fmt.Sprintf("channel sets %d and %d overlap in the process image", k+1, i+1), "Write another offset_byte.")
		}
	}
}

// numbers checks that no two channels bear the same printed number.
func (c *checker) numbers(m *Module) {
	seen := map[int]bool{}
	for i := range m.Channels {
		s := &m.Channels[i]
		for ch := range s.Count {
			n := s.Number(ch)
			if seen[n] {
				c.fault("HWL-018", m.Code, fmt.Sprintf("channels.%d.first", i), fmt.Sprintf("two channels bear the number %d", n), "Write another first or step.")
				return
			}
			seen[n] = true
		}
	}
}

// labels checks that no two clamping points bear the same label, but for functions of one channel
// that no signal needs together.
func (c *checker) labels(m *Module) {
	type point struct{ set, channel int }
	owner := map[string]point{}
	for i := range m.Channels {
		s := &m.Channels[i]
		key := fmt.Sprintf("channels.%d.terminals", i)
		for ch := range s.Count {
			at := point{i, ch}
			of := map[string]string{}
			for _, t := range s.Terminals {
				label := s.Label(t, ch)
				if o, taken := owner[label]; taken && o != at {
					c.fault("HWL-016", m.Code, key, fmt.Sprintf("terminal %q is printed at channel %d and at channel %d", label, m.Channels[o.set].Number(o.channel), s.Number(ch)), "Write a label that differs, such as one with {i+1} or {n}.")
					return
				}
				owner[label] = at
				if other, taken := of[label]; taken && s.together(other, t.Function) {
					c.fault("HWL-016", m.Code, key, fmt.Sprintf("%s and %s of one channel share terminal %q, yet some signal needs both", other, t.Function, label), "Write another label for one of them.")
					return
				}
				of[label] = t.Function
			}
		}
	}
}

// together reports whether some signal that the set takes needs both functions.
func (s *ChannelSet) together(a, b string) bool {
	for _, form := range s.Forms {
		for _, functions := range needsOf(s.Kind, form) {
			if s.offers(functions) && slices.Contains(functions, a) && slices.Contains(functions, b) {
				return true
			}
		}
	}
	return false
}
