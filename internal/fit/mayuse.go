package fit

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Where is what a place says of the modules that may stand there.
type Where struct {
	Construction string          // code of the construction
	Ambient      q.Temperature   // the place's highest ambient
	Off          map[string]bool // codes that a decision forbids
}

// Bar is one rule that keeps a signal off a channel set. The zero Bar is "none".
type Bar int

// The bars, from the one that fails first to the one that fails last; a set that fails late is the
// nearer miss.
const (
	NoBar        Bar = iota
	BarModule        // the module is an infeed module or of another construction
	BarKind          // other kind
	BarForm          // other electrical form
	BarLoop          // powers the loop where it must not, or does not where it must
	BarSensor        // other sensing element
	BarWires         // other number of wires
	BarEx            // Ex level too low, or an Ex channel for a signal that has none
	BarVoltage       // other voltage kind of the supply group
	BarContact       // contact voltage not allowed
	BarTerminals     // a conductor has no terminal
	BarHART          // no HART
	BarCurrent       // channel current too high
	BarFrequency     // frequency too high
	BarSafe          // not stated interference-free, in a safety-switched group
	BarAmbient       // not made for this ambient
	BarOff           // forbidden by a decision
	BarChosen        // a fixed decision names another module
)

// MayUse reports whether the signal may use channel set number set of the module, and the first
// bar if not (docs/plan-rules.md section 3). chosen is the module that a fixed decision names, ""
// if none does.
func MayUse(s *project.Signal, b *project.Basis, m *hardware.Module, set int, w Where, chosen string) (Bar, bool) {
	c := &m.Channels[set]
	switch {
	case m.Infeed || !slices.Contains(m.Constructions, w.Construction):
		return BarModule, false
	case c.Kind != s.Kind:
		return BarKind, false
	case !slices.Contains(c.Forms, s.Form):
		return BarForm, false
	case CurrentLoop(s) && !slices.Contains(c.Loop, loopWord(s)):
		return BarLoop, false
	case (s.Kind == project.RTD || s.Kind == project.TC) && !slices.Contains(c.Sensors, s.Sensor):
		return BarSensor, false
	case s.Kind == project.RTD && len(c.Wires) > 0 && !slices.Contains(c.Wires, Wires(s)):
		return BarWires, false
	case exRank(s.ExLevel) > exRank(c.ExLevel) || s.ExLevel == "" && c.ExLevel != "":
		return BarEx, false
	case m.SupplyKind != VoltageKind(s):
		return BarVoltage, false
	case s.Voltage.Set && len(c.Voltages) > 0 && !slices.Contains(c.Voltages, int(s.Voltage.Value+0.5)):
		return BarContact, false
	case !offers(c, Conductors(s)):
		return BarTerminals, false
	case s.HART && !c.HART:
		return BarHART, false
	case c.MaxEach > 0 && ChannelCurrent(s, b, c) > c.MaxEach:
		return BarCurrent, false
	case s.Frequency.Set && c.MaxFreq > 0 && s.Frequency.Value > c.MaxFreq:
		return BarFrequency, false
	case Safety(SupplyClass(s)) && !m.Safe:
		return BarSafe, false
	case w.Ambient > m.AmbientMax:
		return BarAmbient, false
	case w.Off[m.Code]:
		return BarOff, false
	case chosen != "" && chosen != m.Code:
		return BarChosen, false
	}
	return NoBar, true
}

func loopWord(s *project.Signal) string {
	if Passive(s) {
		return "feeds"
	}
	return "takes"
}

// exRank orders the levels of intrinsic safety; none is 0.
func exRank(level string) int {
	switch level {
	case "ia":
		return 3
	case "ib":
		return 2
	case "ic":
		return 1
	}
	return 0
}

func offers(c *hardware.ChannelSet, functions []string) bool {
	for _, f := range functions {
		if !slices.ContainsFunc(c.Terminals, func(t hardware.Terminal) bool { return t.Function == f }) {
			return false
		}
	}
	return true
}

// Why says in one sentence why no module of the list may carry the signal at a place, naming the
// modules that come nearest and what they lack. It returns "" if some module may.
func Why(s *project.Signal, b *project.Basis, l *hardware.List, w Where, chosen string) string {
	best, codes, set := BarModule, []string{}, (*hardware.ChannelSet)(nil)
	for mi := range l.Modules {
		m := &l.Modules[mi]
		for t := range m.Channels {
			bar, ok := MayUse(s, b, m, t, w, chosen)
			switch {
			case ok:
				return ""
			case bar > best:
				best, codes, set = bar, []string{m.Code}, &m.Channels[t]
			case bar == best && best > BarKind && !slices.Contains(codes, m.Code):
				codes = append(codes, m.Code)
			}
		}
	}
	slices.Sort(codes)
	text := fmt.Sprintf("no module of construction %s takes %s", w.Construction, Describe(s))
	if best <= BarKind {
		return text + "; " + remedy(BarKind)
	}
	if len(codes) > 3 {
		codes = append(codes[:3:3], "...")
	}
	return fmt.Sprintf("%s: nearest is %s, but %s; %s", text, strings.Join(codes, ", "), lacks(best, s, b, set, w, chosen), remedy(best))
}

// Describe names the signal's demands as the trade says them: "AI 4-20ma passive 3-wire HART ia".
func Describe(s *project.Signal) string {
	p := []string{string(s.Kind), s.Form}
	if CurrentLoop(s) {
		p = append(p, map[bool]string{true: "passive", false: "active"}[Passive(s)])
	}
	if s.Sensor != "" {
		p = append(p, s.Sensor)
	}
	if w := Wires(s); w > 0 {
		p = append(p, fmt.Sprintf("%d-wire", w))
	}
	if s.HART {
		p = append(p, "HART")
	}
	if s.ExLevel != "" {
		p = append(p, "Ex "+s.ExLevel)
	}
	if c := SupplyClass(s); c != "normal" {
		p = append(p, "in supply class "+c)
	}
	return strings.Join(p, " ")
}

func lacks(bar Bar, s *project.Signal, b *project.Basis, c *hardware.ChannelSet, w Where, chosen string) string {
	switch bar {
	case BarForm:
		return fmt.Sprintf("it takes the forms %s", strings.Join(c.Forms, ", "))
	case BarLoop:
		if Passive(s) {
			return "it does not power the loop"
		}
		return "it powers the loop, and so does the device"
	case BarSensor:
		return fmt.Sprintf("it takes the sensors %s", strings.Join(c.Sensors, ", "))
	case BarWires:
		return fmt.Sprintf("it takes %s wires, not %d", strings.Trim(fmt.Sprint(c.Wires), "[]"), Wires(s))
	case BarEx:
		if s.ExLevel == "" {
			return "its channels are for intrinsically safe circuits only"
		}
		if c.ExLevel == "" {
			return "its channels are not intrinsically safe"
		}
		return fmt.Sprintf("its channels are level %s", c.ExLevel)
	case BarVoltage:
		return fmt.Sprintf("its supply group is not %s", VoltageKind(s))
	case BarContact:
		return fmt.Sprintf("it switches %s V, not %s V", strings.Trim(fmt.Sprint(c.Voltages), "[]"), q.Short(float64(s.Voltage.Value)))
	case BarTerminals:
		return fmt.Sprintf("it has no terminals for all of %s", strings.Join(Conductors(s), ", "))
	case BarHART:
		return "it has no HART"
	case BarCurrent:
		return fmt.Sprintf("the channel current is %s and it allows %s", ChannelCurrent(s, b, c), c.MaxEach)
	case BarFrequency:
		return fmt.Sprintf("the frequency is %s Hz and it allows %s Hz", q.Short(float64(s.Frequency.Value)), q.Short(float64(c.MaxFreq)))
	case BarSafe:
		return "it is not stated interference-free"
	case BarAmbient:
		return fmt.Sprintf("the place reaches %s degC and it allows less", q.Short(float64(w.Ambient)))
	case BarOff:
		return "a decision forbids it"
	case BarChosen:
		return fmt.Sprintf("module %s is fixed for this signal", chosen)
	}
	return "it does not suit"
}

func remedy(bar Bar) string {
	switch bar {
	case BarKind, BarForm, BarSensor, BarWires, BarTerminals:
		return "correct the row, or add a module to the hardware list"
	case BarLoop:
		return "check columns active and wires, or add a module to the hardware list"
	case BarHART:
		return "drop hart from the row, or add a HART module to the hardware list"
	case BarEx:
		return "check column ex_level, or add a module to the hardware list"
	case BarVoltage, BarContact:
		return "check column voltage_v, or add a module to the hardware list"
	case BarCurrent:
		return "lower current_ma, use a relay between, or add a stronger module"
	case BarFrequency:
		return "lower frequency_hz, or add a faster module"
	case BarSafe:
		return "use another supply class, or a module stated interference-free"
	case BarAmbient:
		return "place the station where it is cooler, or add a module for this ambient"
	case BarOff, BarChosen:
		return "change that decision"
	}
	return "add a module to the hardware list"
}
