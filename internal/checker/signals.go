package checker

import (
	"math"
	"slices"

	"railwright/internal/project"
)

// signal is a row of the list with what the rules make of it.
type signal struct {
	project.Signal
	form     string
	supply   string // supply class, never empty
	volt     string // voltage kind
	current  int64  // uA
	wires    int    // as stated
	loop     string // AI current: "feeds" (passive) or "takes" (active); "" otherwise
	needs    []string
	seg      string // segregation class, "" if none or its level is none
	level    project.Level
	device   string
	cable    string // cable class
	screened bool
	partners map[string]bool
}

// derive fills in what depends on the project and the hardware list alone.
func (r *run) derive() {
	r.sig, r.places, r.unused = map[string]*signal{}, map[string]project.Place{}, map[string]bool{}
	for _, pl := range r.p.Places {
		r.places[pl.ID] = pl
	}
	r.catalogue()
	r.shortest()
	byTag := map[string]string{}
	for _, s := range r.p.Signals {
		x := r.newSignal(s)
		r.sig[s.ID] = x
		r.sigs = append(r.sigs, x)
		byTag[s.Tag] = s.ID
	}
	for _, x := range r.sigs {
		for _, name := range x.RedundantWith {
			y := r.sig[name]
			if y == nil {
				y = r.sig[byTag[name]]
			}
			if y != nil && y != x {
				x.partners[y.ID], y.partners[x.ID] = true, true
			}
		}
	}
	r.bundle = map[string]*bundle{}
	r.makeBundles()
}

func (r *run) newSignal(s project.Signal) *signal {
	x := &signal{Signal: s, form: s.Form, supply: s.SupplyClass, wires: s.Wires, device: s.Device, partners: map[string]bool{}}
	if x.form == "" && len(project.Forms[s.Kind]) > 0 {
		x.form = project.Forms[s.Kind][0]
	}
	if x.supply == "" {
		x.supply = "normal"
	}
	if x.device == "" {
		x.device = s.ID
	}
	x.volt = voltageKind(x)
	i := s.Current.Or(r.p.Basis.DefaultCurrent[string(s.Kind)+" "+x.form])
	x.current = int64(math.Round(float64(i) * 1e6))
	if x.aiCurrent() {
		x.loop = "feeds"
		if s.Active == "active" || s.Active == "" && s.Wires == 4 {
			x.loop = "takes"
		}
	}
	x.needs = functions(x)
	if s.Segregate != "" {
		x.level = r.p.Basis.Segregation[s.Segregate]
		if x.level == "" {
			x.level = project.LevelGroup
		}
		if x.level != project.LevelNone {
			x.seg = s.Segregate
		}
	}
	x.screened = s.Screen == "yes" || s.Screen == "" && (slices.Contains([]project.Kind{project.AI, project.AO, project.RTD, project.TC, project.SER}, s.Kind) ||
		x.form == "encoder-24v" || x.form == "encoder-rs422")
	x.cable = cableClass(x)
	return x
}

func (x *signal) aiCurrent() bool {
	return x.Kind == project.AI && (x.form == "4-20ma" || x.form == "0-20ma")
}

func (x *signal) mains() bool { return x.form == "120vac" || x.form == "230vac" }

// highRelay reports a relay contact above 60 V.
func (x *signal) highRelay() bool {
	return x.Kind == project.DO && x.form == "relay" && x.Voltage.Set && float64(x.Voltage.Value) > 60
}

func (x *signal) exi() bool { return x.ExLevel != "" }

// voltageKind is section 3's last paragraph.
func voltageKind(x *signal) string {
	if x.mains() {
		return x.form
	}
	if v := float64(x.Voltage.Or(0)); x.Kind == project.DO && x.form == "24v" && v >= 40 && v <= 60 {
		return "48vdc"
	}
	return "24vdc"
}

// functions is the table of section 2: the conductors that a signal needs.
func functions(x *signal) []string {
	pair := []string{"signal+", "signal-"}
	switch x.Kind {
	case project.DI:
		switch x.form {
		case "contact", "2-wire":
			return []string{"supply+", "signal"}
		case "pnp", "npn":
			return []string{"supply+", "signal", "supply-"}
		case "namur":
			return pair
		case "24v":
			return []string{"signal", "supply-"}
		case "120vac", "230vac":
			return []string{"line", "signal"}
		}
	case project.DO:
		switch x.form {
		case "24v":
			return []string{"signal", "supply-"}
		case "relay":
			return []string{"common", "no"}
		case "120vac", "230vac":
			return []string{"signal", "neutral"}
		}
	case project.AI:
		three := []string{"supply+", "signal+", "supply-"}
		switch {
		case x.aiCurrent() && (x.loop == "takes" || x.wires == 4):
			return pair
		case x.wires == 3:
			return three
		case x.aiCurrent():
			return []string{"supply+", "signal+"}
		}
		return pair
	case project.AO, project.TC:
		return pair
	case project.RTD:
		switch x.wires {
		case 2:
			return pair
		case 4:
			return []string{"signal+", "signal-", "sense+", "sense-"}
		}
		return []string{"signal+", "signal-", "sense+"}
	case project.CNT:
		return counterFunctions(x, pair)
	case project.SER:
		switch x.form {
		case "rs485":
			return []string{"a", "b", "common"}
		case "rs232":
			return []string{"tx", "rx", "common"}
		case "rs422":
			return []string{"tx", "tx-", "rx", "rx-", "common"}
		}
	}
	return nil
}

func counterFunctions(x *signal, pair []string) []string {
	switch x.form {
	case "pulse-namur":
		return pair
	case "pulse-24v":
		if x.wires == 2 {
			return []string{"supply+", "signal"}
		}
		return []string{"supply+", "signal", "supply-"}
	case "encoder-24v":
		return []string{"supply+", "supply-", "a", "b", "z"}
	case "encoder-rs422":
		return []string{"supply+", "supply-", "a", "a-", "b", "b-", "z", "z-"}
	}
	return nil
}
