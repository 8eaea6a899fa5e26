package fit

import (
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Voltage kinds of a supply group.
const (
	V24  = "24vdc"
	V48  = "48vdc"
	V120 = "120vac"
	V230 = "230vac"
)

// HighContact is the contact voltage above which a relay output counts as mains.
const HighContact q.Voltage = 60

// VoltageKind returns the voltage kind of the supply group that the signal needs.
func VoltageKind(s *project.Signal) string {
	switch {
	case s.Form == V120 || s.Form == V230:
		return s.Form
	case s.Kind == project.DO && s.Form == "24v" && s.Voltage.Set && s.Voltage.Value >= 40 && s.Voltage.Value <= 60:
		return V48
	}
	return V24
}

// DC reports whether the voltage kind is a direct voltage.
func DC(kind string) bool { return kind == V24 || kind == V48 }

// Mains reports whether the signal's conductors carry mains or switch more than HighContact.
func Mains(s *project.Signal) bool {
	return s.Form == V120 || s.Form == V230 || HighRelay(s)
}

// HighRelay reports whether the signal is a relay output with a contact voltage above HighContact.
func HighRelay(s *project.Signal) bool {
	return s.Form == "relay" && s.Voltage.Set && s.Voltage.Value > HighContact
}

// currentForm reports whether the form is a current loop.
func currentForm(form string) bool { return form == "4-20ma" || form == "0-20ma" }

// CurrentLoop reports whether the signal is an analogue input in a current loop.
func CurrentLoop(s *project.Signal) bool { return s.Kind == project.AI && currentForm(s.Form) }

// Passive reports whether the module must power the signal's current loop. A loop of which the
// list says nothing is passive with 2 or 0 wires, and with 3; active with 4.
func Passive(s *project.Signal) bool {
	if !CurrentLoop(s) {
		return false
	}
	switch s.Active {
	case "active":
		return false
	case "passive":
		return true
	}
	return s.Wires != 4
}

// LoopAssumed reports whether Passive had to assume who powers the loop (worth an info finding).
func LoopAssumed(s *project.Signal) bool { return CurrentLoop(s) && s.Active == "" }

// SupplyClass returns the supply class, "normal" where the list says none.
func SupplyClass(s *project.Signal) string {
	if s.SupplyClass == "" {
		return "normal"
	}
	return s.SupplyClass
}

// Safety reports whether a supply class is switched by a safety function.
func Safety(class string) bool { return len(class) >= 6 && class[:6] == "safety" }

// Wires returns the number of wires of an RTD or CNT signal with the usual number filled in, else
// the stated one.
func Wires(s *project.Signal) int {
	if s.Wires == 0 && (s.Kind == project.RTD || s.Kind == project.CNT && s.Form == "pulse-24v") {
		return 3
	}
	return s.Wires
}

var fixedConductors = map[string][]string{
	"DI contact": {"supply+", "signal"}, "DI 2-wire": {"supply+", "signal"},
	"DI pnp": {"supply+", "signal", "supply-"}, "DI npn": {"supply+", "signal", "supply-"},
	"DI namur": {"signal+", "signal-"}, "CNT pulse-namur": {"signal+", "signal-"},
	"DI 24v": {"signal", "supply-"}, "DI 120vac": {"line", "signal"}, "DI 230vac": {"line", "signal"},
	"DO 24v": {"signal", "supply-"}, "DO relay": {"common", "no"},
	"DO 120vac": {"signal", "neutral"}, "DO 230vac": {"signal", "neutral"},
	"CNT encoder-24v":   {"supply+", "supply-", "a", "b", "z"},
	"CNT encoder-rs422": {"supply+", "supply-", "a", "a-", "b", "b-", "z", "z-"},
	"SER rs485":         {"a", "b", "common"}, "SER rs232": {"tx", "rx", "common"},
	"SER rs422": {"tx", "tx-", "rx", "rx-", "common"},
}

// Conductors returns the functions that the signal needs, one per core, in the order in which they
// are wired (docs/plan-rules.md, section 2). The slice must not be changed.
func Conductors(s *project.Signal) []string {
	if f, ok := fixedConductors[string(s.Kind)+" "+s.Form]; ok {
		return f
	}
	pair, fed, three := []string{"signal+", "signal-"}, []string{"supply+", "signal+"}, []string{"supply+", "signal+", "supply-"}
	switch s.Kind {
	case project.AI:
		switch {
		case s.Wires == 3 && (!CurrentLoop(s) || Passive(s)):
			return three
		case CurrentLoop(s) && Passive(s) && s.Wires != 4:
			return fed
		}
		return pair
	case project.RTD:
		return []string{"signal+", "signal-", "sense+", "sense-"}[:min(max(Wires(s), 2), 4)]
	case project.CNT:
		if s.Wires == 2 {
			return []string{"supply+", "signal"}
		}
		return []string{"supply+", "signal", "supply-"}
	}
	return pair
}

// SignalCurrent returns the current I of the signal: what the list says, else the basis's default
// for its kind and form, else 0.
func SignalCurrent(s *project.Signal, b *project.Basis) q.Microamps {
	if s.Current.Set {
		return q.ToMicroamps(s.Current.Value)
	}
	return q.ToMicroamps(b.DefaultCurrent[string(s.Kind)+" "+s.Form])
}

// Load returns what the signal draws from its supply group when it sits on the channel set.
func Load(s *project.Signal, b *project.Basis, set *hardware.ChannelSet) q.Microamps {
	return LoadOf(s, SignalCurrent(s, b), set)
}

// LoadOf is Load with the signal's current already known.
func LoadOf(s *project.Signal, i q.Microamps, set *hardware.ChannelSet) q.Microamps {
	switch s.Kind {
	case project.DI:
		switch s.Form {
		case "pnp", "npn":
			return i + set.Input
		case "24v":
			return 0
		}
		return set.Input
	case project.DO:
		if s.Form == "relay" {
			return 0
		}
		return i
	case project.AI:
		var l q.Microamps
		if CurrentLoop(s) && Passive(s) {
			l = set.Input
			if s.Wires == 3 {
				l += i
			}
		} else if !CurrentLoop(s) && s.Wires == 3 {
			l = i
		}
		return l
	case project.AO:
		return set.Input
	case project.CNT:
		if s.Form == "pulse-namur" {
			return set.Input
		}
		return i + set.Input
	case project.SER:
		return i
	}
	return 0
}

// ChannelCurrent returns the current through the channel, which MaxEach and MaxTotal limit.
func ChannelCurrent(s *project.Signal, b *project.Basis, set *hardware.ChannelSet) q.Microamps {
	return ChannelCurrentOf(s, SignalCurrent(s, b), set)
}

// ChannelCurrentOf is ChannelCurrent with the signal's current already known.
func ChannelCurrentOf(s *project.Signal, i q.Microamps, set *hardware.ChannelSet) q.Microamps {
	if s.Kind == project.DO {
		return i
	}
	return LoadOf(s, i, set)
}

// Screened reports whether the signal's cable has a screen.
func Screened(s *project.Signal) bool {
	switch s.Screen {
	case "yes":
		return true
	case "no":
		return false
	}
	return s.Kind.Analogue() || s.Kind == project.SER || s.Form == "encoder-24v" || s.Form == "encoder-rs422"
}
