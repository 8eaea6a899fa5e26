package checker

import (
	"fmt"
	"slices"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// environment is what decides which modules may be used at a place.
type environment struct {
	construction string
	ambient      float64 // highest, degC
}

func (r *run) environment(pl project.Place) environment {
	e := environment{construction: pl.Construction, ambient: float64(pl.AmbientMax.Or(r.p.Basis.AmbientMax))}
	if e.construction == "" {
		e.construction = r.p.Basis.Construction
	}
	return e
}

var exRank = map[string]int{"ia": 3, "ib": 2, "ic": 1}

// unsuited is section 3: why the signal may not use a channel of the set, or "".
func (r *run) unsuited(x *signal, m *hardware.Module, c *hardware.ChannelSet, e environment) string {
	if why := r.moduleUnsuited(x, m, e); why != "" {
		return why
	}
	switch {
	case c.Kind != x.Kind:
		return fmt.Sprintf("kind %s, channel %s", x.Kind, c.Kind)
	case !slices.Contains(c.Forms, x.form):
		return "form " + x.form
	case x.loop != "" && !slices.Contains(c.Loop, x.loop):
		return "loop: channel does not state " + x.loop
	case x.HART && !c.HART:
		return "no HART"
	case x.exi() && exRank[c.ExLevel] < exRank[x.ExLevel]:
		return "Ex level " + x.ExLevel
	case !x.exi() && c.ExLevel != "":
		return "intrinsically safe channel for a plain signal"
	case (x.Kind == project.RTD || x.Kind == project.TC) && !slices.Contains(c.Sensors, x.Sensor):
		return "sensor " + x.Sensor
	case x.Kind == project.RTD && len(c.Wires) > 0 && !slices.Contains(c.Wires, rtdWires(x)):
		return fmt.Sprintf("%d wires", rtdWires(x))
	case c.MaxEach > 0 && channelCurrent(x, c) > int64(c.MaxEach):
		return fmt.Sprintf("channel current %d uA above %d", channelCurrent(x, c), c.MaxEach)
	case x.Frequency.Set && c.MaxFreq > 0 && x.Frequency.Value > c.MaxFreq:
		return fmt.Sprintf("frequency %v Hz", float64(x.Frequency.Value))
	case x.Voltage.Set && len(c.Voltages) > 0 && x.Kind == project.DO && !offersVoltage(c, float64(x.Voltage.Value)):
		return fmt.Sprintf("contact voltage %v V", float64(x.Voltage.Value))
	}
	for _, f := range x.needs {
		if !slices.ContainsFunc(c.Terminals, func(t hardware.Terminal) bool { return t.Function == f }) {
			return "no terminal for " + f
		}
	}
	return ""
}

func rtdWires(x *signal) int {
	if x.wires == 0 {
		return 3
	}
	return x.wires
}

func offersVoltage(c *hardware.ChannelSet, v float64) bool {
	return slices.ContainsFunc(c.Voltages, func(have int) bool { return float64(have) == v })
}

func (r *run) moduleUnsuited(x *signal, m *hardware.Module, e environment) string {
	switch {
	case m.Infeed:
		return "infeed module"
	case !slices.Contains(m.Constructions, e.construction):
		return "module of another construction"
	case m.AmbientMax != 0 && float64(m.AmbientMax) < e.ambient:
		return fmt.Sprintf("module up to %v degC only", float64(m.AmbientMax))
	case m.SupplyKind != x.volt:
		return fmt.Sprintf("voltage kind %s on a %s module", x.volt, m.SupplyKind)
	case isSafety(x.supply) && !m.Safe:
		return "module is not stated interference-free"
	case r.unused[m.Code]:
		return "module may not be used"
	}
	for _, d := range r.decisions("signal:"+x.ID, "module") {
		if d.Strength == project.Fixed && d.Value != m.Code || d.Strength == project.Forbidden && d.Value == m.Code {
			return "decision on the module"
		}
	}
	return ""
}

func isSafety(class string) bool { return len(class) >= 7 && class[:7] == "safety:" }

// decisions returns the decisions on one property of one subject.
func (r *run) decisions(subject, property string) []project.Decision {
	return r.decided[subject+"\x00"+property]
}

// load is section 4: what the signal draws from its supply group, uA.
func load(x *signal, c *hardware.ChannelSet) int64 {
	in := int64(c.Input)
	switch x.Kind {
	case project.DI:
		switch x.form {
		case "pnp", "npn":
			return x.current + in
		case "24v":
			return 0
		}
		return in
	case project.DO:
		if x.form == "relay" {
			return 0
		}
		return x.current
	case project.AI:
		switch {
		case x.loop == "feeds" && x.wires == 3:
			return in + x.current
		case x.loop == "feeds":
			return in
		case x.loop == "" && x.wires == 3:
			return x.current
		}
		return 0
	case project.AO:
		return in
	case project.CNT:
		if x.form == "pulse-namur" {
			return in
		}
		return x.current + in
	case project.SER:
		return x.current
	}
	return 0
}

func channelCurrent(x *signal, c *hardware.ChannelSet) int64 {
	if x.Kind == project.DO {
		return x.current
	}
	return load(x, c)
}

// groupKey is section 5: signals share a supply group only if their keys are equal.
func (r *run) groupKey(x *signal) string {
	g, f := r.p.Basis.Group, "any"
	switch {
	case g.SplitAnalogue && x.Kind.Analogue():
		f = "analogue"
	case g.SplitInOut && x.Kind.Output():
		f = "out"
	case g.SplitInOut:
		f = "in"
	}
	key := x.volt + " " + x.supply + " " + f
	if x.exi() {
		key += " exi"
	}
	if x.seg != "" && (x.level == project.LevelGroup || x.level == project.LevelStation) {
		key += " seg:" + x.seg
	}
	if g.SplitByPart && x.Equipment != "" {
		key += " part:" + x.Equipment
	}
	return key
}

// moduleKey is section 5: signals share a module only if their keys are equal.
func (r *run) moduleKey(x *signal) string {
	key := r.groupKey(x)
	if x.seg != "" && x.level == project.LevelModule {
		key += " module-seg:" + x.seg
	}
	if x.Kind == project.DO && x.form == "relay" && x.highRelay() {
		key += " above-60v"
	}
	return key
}
