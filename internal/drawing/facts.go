package drawing

import (
	"fmt"
	"strconv"
	"strings"

	"railwright/internal/calc/conductor"
	"railwright/internal/paper"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// num prints a number with at most so many decimals and no zeros behind.
func num(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// size prints a conductor's cross-section as the setting wants it: by gauge with the design's area behind it.
func (b *book) size(mm2 float64) string {
	metric := num(mm2, 3) + " mm²"
	if g := b.gauge(mm2); g != "" {
		return g + " (" + metric + ")"
	}
	if mm2 == 0 {
		return ""
	}
	return metric
}

// sizeShort is size where there is room for one figure.
func (b *book) sizeShort(mm2 float64) string {
	if g := b.gauge(mm2); g != "" {
		return g
	}
	return b.size(mm2)
}

// gauge is the gauge to use for an area: "AWG 14"; "" where the setting wants none.
func (b *book) gauge(mm2 float64) string {
	if b.Setting.Wire != paper.AWG || mm2 == 0 {
		return ""
	}
	n, err := conductor.SoldAWG(q.CrossSection(mm2))
	if err != nil {
		return ""
	}
	return "AWG " + n.String()
}

// facts are what a loop diagram says of a signal beside its wiring: the list's data, then the design's figures.
func (b *book) facts(s *strand) []string {
	var out []string
	add := func(text string) {
		if text != "" {
			out = append(out, text)
		}
	}
	if s.signal != nil {
		add(s.signal.Description)
		add(electrical(s.signal))
		add(b.rangeOf(s.signal))
		if s.signal.SafeState != "" {
			add(b.say("drawing.fact.safe", s.signal.SafeState))
		}
		if len(s.signal.RedundantWith) > 0 {
			add(b.say("drawing.fact.partner", strings.Join(s.signal.RedundantWith, ", ")))
		}
	}
	if c := b.ix.circuits[s.id]; c != nil {
		if b.coupled(s.id) {
			add(b.say("drawing.fact.coupled", num(c.DeviceV, 1)))
		} else if c.DeviceV > 0 && c.NeededV > 0 {
			add(b.say("drawing.fact.volts_needed", num(c.DeviceV, 1), num(c.NeededV, 1)))
		} else if c.DeviceV > 0 {
			add(b.say("drawing.fact.volts", num(c.DeviceV, 1)))
		}
		if c.LoopOhm > 0 {
			add(b.say("drawing.fact.ohms", num(c.LoopOhm, 2)))
		}
		if c.ErrorK > 0 {
			add(b.say("drawing.fact.kelvin", num(c.ErrorK, 2)))
		}
		if c.Within > 0 {
			add(b.say("drawing.fact.reaction_within", num(c.Reaction, 0), num(c.Within, 0)))
		} else if c.Reaction > 0 {
			add(b.say("drawing.fact.reaction", num(c.Reaction, 0)))
		}
	}
	if r := b.ix.regs[s.id]; r != nil {
		add(fmt.Sprintf("%s %d", r.Table, r.Number))
	}
	return out
}

// coupled reports whether a circuit's voltage is what the cable's capacitance couples into an open AC input,
// not what is left of a supply.
func (b *book) coupled(signal string) bool {
	_, ok := b.Design.Calculations["signal:"+signal+".coupled"]
	return ok
}

// electrical says kind and form in the list's own words, and what bears on the wiring.
func electrical(s *project.Signal) string {
	words := []string{string(s.Kind), s.Form}
	for _, w := range []string{s.Contact, s.Active, s.Sensor} {
		if w != "" {
			words = append(words, w)
		}
	}
	if s.Wires > 0 {
		words = append(words, fmt.Sprintf("%d-wire", s.Wires))
	}
	if s.HART {
		words = append(words, "HART")
	}
	if s.ExLevel != "" {
		words = append(words, "Ex "+s.ExLevel)
	}
	return strings.Join(words, " ")
}

func (b *book) rangeOf(s *project.Signal) string {
	var parts []string
	if s.RangeLow.Set && s.RangeHigh.Set {
		parts = append(parts, fmt.Sprintf("%s…%s %s", q.Short(s.RangeLow.Value), q.Short(s.RangeHigh.Value), s.Unit))
	}
	if s.AlarmLow.Set {
		parts = append(parts, b.say("drawing.fact.low", q.Short(s.AlarmLow.Value)))
	}
	if s.AlarmHigh.Set {
		parts = append(parts, b.say("drawing.fact.high", q.Short(s.AlarmHigh.Value)))
	}
	return strings.TrimSpace(strings.Join(parts, ", "))
}
