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
	Lines    []Line          // most that the two cores of a signal may have
	Off      map[string]bool // forbidden codes
	suited   []*hardware.Cable
}

// Among notes the cables of the list that suit the need over any length, so that CableFor need not look
// through all others again and again.
func (n CableNeed) Among(l *hardware.List) CableNeed {
	n.suited = n.all(l)
	return n
}

// all are the cables that suit the need over any length.
func (n CableNeed) all(l *hardware.List) []*hardware.Cable {
	if n.suited != nil {
		return n.suited
	}
	out := []*hardware.Cable{}
	for i := range l.Cables {
		if n.suits(&l.Cables[i]) {
			out = append(out, &l.Cables[i])
		}
	}
	return out
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
		if current := SignalCurrent(s, b); s.MinVoltage.Set && s.MinVoltage.Value > 0 && current > 0 && fed(s) {
			n.Loads = append(n.Loads, Far{Signal: i, Current: current, Minimum: s.MinVoltage.Value})
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

// LoopOf returns the resistance of the cable's two cores over a length in milliohms, rounded up, at 70 degC,
// or warm: at the place's highest ambient temperature.
type LoopOf func(c *hardware.Cable, laid q.Millimetres, warm bool) int64

// CableFor returns the field cable for a need at a laid length: the cheapest per metre, then by
// code, that suits. Where that leaves a load below its least voltage or a line above its most resistance,
// it is the smallest larger conductor that keeps both (then the cheapest, then by code). Lines that no
// cable keeps are left out, but for those of a supply (Line.Supply): for them it is the largest conductor.
// at or loop nil leaves voltages or lines unchecked.
func CableFor(l *hardware.List, n CableNeed, laid q.Millimetres, at AtLoad, loop LoopOf) (*hardware.Cable, NoCable) {
	if n.Longest > 0 && laid > n.Longest {
		return nil, TooLong
	}
	var first *hardware.Cable
	why, suited := NoSuchCable, n.all(l)
	for _, c := range suited {
		switch {
		case c.MaxLength > 0 && laid > c.MaxLength:
			why = TooLong
		case first == nil || cheaper(c, first) < 0:
			first = c
		}
	}
	if first == nil {
		return nil, why
	}
	if n.keepsVoltage(first, laid, at) && (loop == nil || n.Code != "" || n.keepsLines(first, laid, n.Lines, loop)) {
		return first, CableSuits
	}
	lines, short := n.keepable(suited, laid, loop)
	kept := n.best(suited, first, short, func(c *hardware.Cable) bool {
		return n.keepsVoltage(c, laid, at) && n.keepsLines(c, laid, lines, loop) && (c.MaxLength == 0 || laid <= c.MaxLength)
	})
	if kept == nil {
		return nil, VoltageTooLow
	}
	return kept, CableSuits
}

// best is the first cable or, where it does not keep everything, the smallest larger conductor that does;
// the largest where largest is set; nil if there is none.
func (n CableNeed) best(suited []*hardware.Cable, first *hardware.Cable, largest bool, keeps func(*hardware.Cable) bool) (best *hardware.Cable) {
	sign := 1
	if largest {
		sign = -1
	}
	if keeps(first) {
		if !largest {
			return first
		}
		best = first
	}
	for _, c := range suited {
		if c.Area <= first.Area || !keeps(c) {
			continue
		}
		if best == nil || cmp.Or(sign*cmp.Compare(c.Area, best.Area), cheaper(c, best)) < 0 {
			best = c
		}
	}
	return best
}

// keepable returns the lines that some cable of the list keeps, and whether one of a supply is left out.
func (n CableNeed) keepable(suited []*hardware.Cable, laid q.Millimetres, loop LoopOf) (lines []Line, short bool) {
	if loop == nil || n.Code != "" {
		return nil, false
	}
	for _, x := range n.Lines {
		kept := false
		for _, c := range suited {
			kept = kept || (c.MaxLength == 0 || laid <= c.MaxLength) && loop(c, laid, x.Warm) <= x.MilliOhm
		}
		if kept {
			lines = append(lines, x)
		}
		short = short || !kept && x.Supply
	}
	return lines, short
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
		if at(c, laid, f.Current) < f.Minimum-1e-6 {
			return false
		}
	}
	return true
}

func (n CableNeed) keepsLines(c *hardware.Cable, laid q.Millimetres, lines []Line, loop LoopOf) bool {
	for _, x := range lines {
		if loop(c, laid, x.Warm) > x.MilliOhm {
			return false
		}
	}
	return true
}
