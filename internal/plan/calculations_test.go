package plan_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"sync"
	"testing"

	"railwright/internal/cite"
	"railwright/internal/demo"
	"railwright/internal/design"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/project"
)

// waterworks is the built-in example planned with a small budget, once.
var waterworks = sync.OnceValues(func() (*design.Design, *folder.Folder) { return planned(demo.Files()) })

func planned(files []demo.File) (*design.Design, *folder.Folder) {
	in := folder.Files{}
	for _, f := range files {
		in[f.Name] = f.Data
	}
	f := folder.Parse(in)
	d, err := plan.Run(f.Project, hardware.Builtin(), plan.Options{Steps: 1500, Findings: f.Findings, Unplaced: f.LeftOut})
	if err != nil {
		panic(err)
	}
	return d, f
}

// originKeys are the keys that the origin of an input may name, as the published pages list them.
type originKeys struct {
	project  []*regexp.Regexp
	hardware map[string]bool
	codes    map[string]bool
	columns  map[string]bool
}

func published(list *hardware.List) originKeys {
	k := originKeys{hardware: map[string]bool{"terminal_min_mm2": true, "terminal_max_mm2": true}, codes: map[string]bool{}, columns: map[string]bool{}}
	for _, s := range folder.Sections() {
		for _, key := range s.Keys {
			name := strings.Trim(key.Name, `"`)
			if at := strings.LastIndexByte(key.Name, '"'); at >= 0 {
				name = strings.ReplaceAll(key.Name, `"`, "")
			}
			section := strings.Trim(s.Header, "[]")
			pattern := regexp.QuoteMeta(name)
			if !strings.HasPrefix(name, section+".") && section != "(top)" {
				pattern = regexp.QuoteMeta(section) + `\.` + pattern
			}
			if strings.HasPrefix(s.Header, "[[") { // one for each: with its id
				pattern = regexp.QuoteMeta(section) + `\..+\.` + regexp.QuoteMeta(name)
			}
			k.project = append(k.project, regexp.MustCompile("^"+pattern+"$"))
		}
	}
	for _, e := range hardware.Entries() {
		for _, key := range e.Keys {
			k.hardware[key.Name] = true
		}
	}
	for _, p := range codesOf(list) {
		k.codes[p] = true
	}
	for _, c := range project.ColumnNames() {
		k.columns[c] = true
	}
	return k
}

func codesOf(l *hardware.List) []string {
	var out []string
	for _, e := range l.Couplers {
		out = append(out, e.Code)
	}
	for _, e := range l.Modules {
		out = append(out, e.Code)
	}
	for _, e := range l.Bases {
		out = append(out, e.Code)
	}
	for _, e := range l.Supplies {
		out = append(out, e.Code)
	}
	for _, e := range l.Protections {
		out = append(out, e.Code)
	}
	for _, e := range l.Cables {
		out = append(out, e.Code)
	}
	for _, e := range l.Enclosures {
		out = append(out, e.Code)
	}
	for _, e := range l.Networks {
		out = append(out, e.Code)
	}
	for _, e := range l.Parts {
		out = append(out, e.Code)
	}
	for _, e := range l.Boxes {
		out = append(out, e.Code)
	}
	return out
}

func (k *originKeys) fault(d *design.Design, signals map[string]bool, from string) string {
	kind, rest, _ := strings.Cut(from, ":")
	at := strings.LastIndexByte(rest, '.')
	switch kind {
	case "calc":
		if _, ok := d.Calculations[rest]; !ok {
			return "no such calculation"
		}
	case "project":
		for _, p := range k.project {
			if p.MatchString(rest) {
				return ""
			}
		}
		return "no such key in docs/project-folder.md"
	case "hardware":
		if at < 0 || !k.codes[rest[:at]] || !k.hardware[rest[at+1:]] && rest[at+1:] != "price_per_m" {
			return "no such entry and key in docs/hardware.md"
		}
	case "signal":
		if at < 0 || !signals[rest[:at]] || !k.columns[rest[at+1:]] {
			return "no such signal and column"
		}
	case "cite":
		if _, err := cite.Lookup(rest); err != nil {
			return err.Error()
		}
	default:
		return "unknown kind of origin"
	}
	return ""
}

// Every input of every calculation of the example comes from a key of the project, of the signal list or
// of the hardware list, from a cited source or from another calculation; and no chain leans on itself.
func TestEveryInputLeadsToALeaf(t *testing.T) {
	d, f := waterworks()
	keys, signals := published(hardware.Builtin()), map[string]bool{}
	for _, s := range f.Project.Signals {
		signals[s.ID] = true
	}
	state := map[string]int{} // 1: being followed, 2: done
	var follow func(id string)
	follow = func(id string) {
		if state[id] == 1 {
			t.Fatalf("%s leans on itself", id)
		}
		if state[id] == 2 {
			return
		}
		state[id] = 1
		for name, in := range d.Calculations[id].Inputs {
			if bad := keys.fault(d, signals, in.From); bad != "" {
				t.Errorf("%s: %s comes from %q: %s", id, name, in.From, bad)
			} else if next, ok := strings.CutPrefix(in.From, "calc:"); ok {
				follow(next)
			}
		}
		state[id] = 2
	}
	for id := range d.Calculations {
		follow(id)
	}
}

// Every figure of the example that comes out of a formula is the result of its calculation.
func TestEveryFigureHasItsCalculation(t *testing.T) {
	d, f := waterworks()
	same := func(what string, have float64, id string, per, tol float64) {
		t.Helper()
		r, ok := d.Calculations[id]
		if !ok {
			t.Errorf("%s has no calculation %s", what, id)
		} else if math.Abs(have-r.Result.Value*per) > tol {
			t.Errorf("%s is %v, its calculation %s gives %v", what, have, id, r.Result.Value*per)
		}
	}
	for _, st := range d.Stations {
		s := "station:" + st.ID
		same(s+" rail_mm", float64(st.RailMM), s+".rail", 1, 0)
		same(s+" logic_current_ma", st.LogicCurrentMA, s+".logic", 1, 1e-6)
		same(s+" heat_w", st.HeatW, s+".heat", 1, 1e-6)
		same(s+" inside_max_c", st.InsideMaxC, s+".inside_max", 1, 0)
		same(s+" inside_min_c", st.InsideMinC, s+".inside_min", 1, 0)
		same(s+" heater_w", st.HeaterW, s+".heater", 1, 0)
		for _, g := range st.SupplyGroups {
			id := "group:" + g.ID
			same(id+" load_ma", g.LoadMA, id+".load", 1, 1e-6)
			same(id+" ampacity_a", g.AmpacityA, id+".ampacity", 1, 0)
			same(id+" fault_min_a", g.FaultMinA, id+".fault_min", 1, 0)
			same(id+" trip_a", g.TripA, id+".trip", 1, 0)
			if strings.Contains(g.Class, "vdc") {
				same(id+" voltage_min_v", g.VoltageMinV, id+".voltage", 1, 1e-9)
			}
		}
	}
	first := map[string]string{}
	for _, s := range d.Supplies {
		key := s.Station + s.Class + s.Type
		if first[key] == "" {
			first[key] = "supply:" + s.ID
		}
		id := first[key]
		same(id+" load_ma", s.LoadMA, id+".load", 1, 1e-6)
		same(id+" need_ma", s.NeedMA, id+".need", 1, 0.002) // rounded up to microamperes twice
		same(id+" short_a", s.ShortA, id+".short", 1, 0)
		same(id+" hold_up_ms", s.HoldMS, id+".hold_up", 1, 0)
		units := d.Calculations[id+".units"].Result.Value
		same(id+" limit_ma", s.LimitMA, id+".output", units, 0.001*units)
		same(id+" loss_w", s.LossW, id+".loss", 1/units, 0.001)
	}
	for _, x := range d.Feeders {
		id := "feeder:" + x.ID
		same(id+" current_a", x.CurrentA, id+".current", 0.001, 1e-9)
		same(id+" drop_v", x.VoltageV-x.DropV, id+".at_load", 1, 0.0006) // drop_v is rounded to 1 mV
		same(id+" ampacity_a", x.AmpacityA, id+".ampacity", 1, 0)
		same(id+" fault_min_a", x.FaultMinA, id+".fault_min", 1, 0)
		same(id+" trip_a", x.TripA, id+".trip", 1, 0)
		same(id+" inrush_a", x.InrushA, id+".inrush", 1, 0)
	}
	for _, c := range d.Cables {
		same("cable:"+c.ID+" length_m", c.LengthM, "cable:"+c.ID+".laid", 1, 1e-9)
		same("cable:"+c.ID+" order_m", c.OrderM, "cable:"+c.ID+".ordered", 1, 1e-9)
	}
	kinds := map[string]string{"DO": "device", "RTD": "lead_error", "TC": "cold_junction", "CNT": "device"}
	signals := map[string]*project.Signal{}
	for i := range f.Project.Signals {
		signals[f.Project.Signals[i].ID] = &f.Project.Signals[i]
	}
	for _, c := range d.Circuits {
		s := signals[c.Signal]
		if c.LoopOhm != 0 {
			same("circuit "+c.Signal+" loop_ohm", c.LoopOhm, "cable:"+c.Cable+".loop", 1, 0)
		}
		have, name := c.DeviceV, kinds[string(s.Kind)]
		switch {
		case s.Kind == project.RTD || s.Kind == project.TC:
			have = c.ErrorK
		case s.Kind == project.DI && strings.HasSuffix(s.Form, "vac"):
			name = "coupled"
		case s.Kind == project.DI:
			name = "on"
		case s.Kind == project.AI && s.Wires == 3:
			name = "device"
		case s.Kind == project.AI:
			name = "transmitter"
		}
		if have != 0 {
			same(fmt.Sprintf("circuit %s (%s)", c.Signal, s.Kind), have, "signal:"+c.Signal+"."+name, 1, 0)
		}
		if c.Reaction <= 0 {
			t.Errorf("circuit %s has no reaction time", c.Signal)
		}
	}
	if in, out := d.Calculations["network.input_load"].Result.Value, d.Calculations["network.output_load"].Result.Value; d.Network.LoadPct != math.Max(in, out) || in == 0 {
		t.Errorf("network load %v, calculations %v and %v", d.Network.LoadPct, in, out)
	}
	same("cost total", d.Cost.Total, "cost.total", 1, 0.005)
	same("cost constant", d.Cost.Constant, "cost.constant", 1, 0.005)
	same("objective", d.Siting.Objective, "cost.objective", 1, 0.005)
	same("home run cost", d.HomeRun.Cost, "home_run.cost", 1, 0.005)
	same("home run cable_m", d.HomeRun.CableM, "home_run.cable_m", 1, 1e-6)
	same("home run terminations", float64(d.HomeRun.Terminations), "home_run.labour.termination", 1/d.Calculations["cost.task.termination"].Result.Value, 1e-6)
	same("gap", d.Siting.Gap, "siting.gap", 1, 1e-9)
}
