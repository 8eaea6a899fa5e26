package fit

import (
	"cmp"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// CableNeed is what a bundle asks of its field cable.
type CableNeed struct {
	Code     string // type fixed by a decision, "" = free
	Family   string
	Screened bool
	Cores    int             // conductors of the signals and spare cores
	Area     q.CrossSection  // least conductor; 0 where the family has no areas to choose from
	Longest  q.Millimetres   // most laid length by the basis; 0 = no limit
	Loads    []Far           // devices with a least voltage
	Off      map[string]bool // forbidden codes
}

// Far is a device with a least voltage, at the far end of the cable.
type Far struct {
	Signal  int         // index of the signal
	Current q.Microamps // through both cores
	Minimum q.Voltage
}

// Need returns what the bundle asks of its cable. code is the cable type that a decision fixes for
// one of its signals, "" if none does.
func Need(bundle Bundle, signals []project.Signal, b *project.Basis, code string) CableNeed {
	n := CableNeed{Code: code, Family: Family(bundle.Class)}
	for _, i := range bundle.Signals {
		s := &signals[i]
		n.Cores += len(Conductors(s))
		n.Screened = n.Screened || Screened(s)
		if n.Family == "power" || n.Family == "signal" {
			n.Area = max(n.Area, b.Cable.Area[s.Kind])
		}
		if l := b.MaxCable[s.Kind]; l > 0 && (n.Longest == 0 || l < n.Longest) {
			n.Longest = l
		}
		if s.MinVoltage.Set && s.MinVoltage.Value > 0 {
			n.Loads = append(n.Loads, Far{i, SignalCurrent(s, b), s.MinVoltage.Value})
		}
	}
	n.Cores += b.Cable.SpareCores
	return n
}

// NoCable says why no cable type suits. The zero value is "one does".
type NoCable string

// The reasons.
const (
	CableSuits    NoCable = ""
	NoSuchCable   NoCable = "no field cable of that family, screen and number of cores in the hardware list"
	TooLong       NoCable = "longer than the longest field cable allowed"
	VoltageTooLow NoCable = "no conductor is large enough to keep the least voltage of the load"
)

// AtLoad returns the voltage at the far end of the cable's two cores, laid over that length, that
// carry the current.
type AtLoad func(c *hardware.Cable, laid q.Millimetres, i q.Microamps) q.Voltage

// CableFor returns the field cable for a need at a laid length: the cheapest per metre, then by
// code, that suits. Where that leaves a load below its least voltage, it is the smallest larger
// conductor that keeps it (then the cheapest, then by code). at nil leaves voltages unchecked.
func CableFor(l *hardware.List, n CableNeed, laid q.Millimetres, at AtLoad) (*hardware.Cable, NoCable) {
	if n.Longest > 0 && laid > n.Longest {
		return nil, TooLong
	}
	var first, kept *hardware.Cable
	why := NoSuchCable
	for i := range l.Cables {
		c := &l.Cables[i]
		switch {
		case !n.suits(c):
		case c.MaxLength > 0 && laid > c.MaxLength:
			why = TooLong
		case first == nil || cheaper(c, first) < 0:
			first = c
		}
	}
	if first == nil {
		return nil, why
	}
	if n.keepsVoltage(first, laid, at) {
		return first, CableSuits
	}
	for i := range l.Cables {
		c := &l.Cables[i]
		if !n.suits(c) || c.MaxLength > 0 && laid > c.MaxLength || c.Area <= first.Area || !n.keepsVoltage(c, laid, at) {
			continue
		}
		if kept == nil || cmp.Or(cmp.Compare(c.Area, kept.Area), cheaper(c, kept)) < 0 {
			kept = c
		}
	}
	if kept == nil {
		return nil, VoltageTooLow
	}
	return kept, CableSuits
}

func cheaper(a, b *hardware.Cable) int {
	return cmp.Or(cmp.Compare(a.Price, b.Price), cmp.Compare(a.Code, b.Code))
}

func (n CableNeed) suits(c *hardware.Cable) bool {
	if n.Code != "" {
		return c.Code == n.Code
	}
	return c.Use == "field" && c.Family == n.Family && c.Cores >= n.Cores && !n.Off[c.Code] &&
		(c.Screened || !n.Screened) && c.Area >= n.Area-1e-9
}

func (n CableNeed) keepsVoltage(c *hardware.Cable, laid q.Millimetres, at AtLoad) bool {
	if at == nil || n.Code != "" {
		return true
	}
	for _, f := range n.Loads {
		if at(c, laid, f.Current) < f.Minimum {
			return false
		}
	}
	return true
}
