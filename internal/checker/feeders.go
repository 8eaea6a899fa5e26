package checker

import (
	"fmt"

	"railwright/internal/hardware"
)

// source is the place from which a class of the station is fed.
func (r *run) source(st *station, class string) (string, bool) {
	if class == "ups" && r.p.Power.UPSPlace != "" {
		return r.p.Power.UPSPlace, true
	}
	best, length := "", int64(never)
	for _, pl := range r.p.Places { // by id
		if l, ok := r.ways[pl.ID][st.Place]; ok && pl.PowerSource && l < length {
			best, length = pl.ID, l
		}
	}
	return best, best != ""
}

// feederType is the cheapest supply cable that will do.
func (r *run) feederType() *hardware.Cable {
	return cheapest(r, r.hw.Cables, func(c *hardware.Cable) string { return c.Code }, func(c *hardware.Cable) bool {
		return c.Use == "supply" && c.Family == "power" && c.Cores >= 3 && c.Area >= r.p.Basis.Supply.FeederArea
	})
}

func (r *run) feederLaw(st *station, feeders map[string]*docFeeder) {
	want := 1
	for _, g := range st.groups {
		if g.ups {
			want = 2
		}
	}
	var mine []*docFeeder
	for _, f := range r.d.Feeders {
		if f.Station == st.ID {
			mine = append(mine, feeders[f.ID])
		}
	}
	if len(mine) != want && !r.excused(st.subject) {
		r.bad("POW", st.subject, fmt.Sprintf("%d feeders", want), "%d", len(mine))
	}
	classes := map[string]bool{}
	for _, f := range mine {
		r.oneFeeder(st, f)
		if f.Class != "" && (classes[f.Class] || f.Class != "normal" && (f.Class != "ups" || want < 2)) {
			r.bad("POW", "feeder:"+f.ID, "one feeder for each supply class of the station", "class %q", f.Class)
		}
		classes[f.Class] = true
		if source, ok := r.source(st, f.Class); f.Class != "" && ok && source != f.From {
			r.bad("POW", "feeder:"+f.ID, "from "+source+" for class "+f.Class, "from %s", f.From)
		}
	}
}

// feederDevice is the code of a feeder's protective device: stated, or that of the entry in
// protections that it names.
func (r *run) feederDevice(f *docFeeder) string {
	for _, p := range r.d.Protections {
		if p.ID == f.Protection && p.Protects == "feeder:"+f.ID {
			return p.Type
		}
	}
	return f.Protection
}

func (r *run) oneFeeder(st *station, f *docFeeder) {
	subject := "feeder:" + f.ID
	power := 0.0
	for _, s := range r.d.Supplies {
		if u := r.parts.supply[s.Type]; s.Feeder == f.ID && u != nil {
			power += s.LoadMA / 1000 * float64(u.Voltage)
		}
	}
	if v := float64(r.p.Power.FeederVoltage); f.VoltageV != v {
		r.bad("POW", subject, fmt.Sprintf("voltage_v %v", v), "%v", f.VoltageV)
	}
	if least := power / float64(r.p.Power.FeederVoltage); f.CurrentA < least/4-1e-6 { // like units may each state the whole load
		r.bad("POW", subject, fmt.Sprintf("current_a at least %.4f", least/4), "%v", f.CurrentA)
	}
	if dev := r.parts.protection[r.feederDevice(f)]; dev == nil {
		if !r.excused(st.subject, subject) {
			r.bad("POW", subject, "a protective device of the list", "%q", f.Protection)
		}
	}
	for i := range r.d.Cables {
		if c := &r.d.Cables[i]; c.ID == f.Cable {
			r.feederCable(st, f, c)
			return
		}
	}
	r.bad("REF", subject, "a cable of the design", "cable %q", f.Cable)
}

func (r *run) feederCable(st *station, f *docFeeder, c *docCable) {
	subject := "cable:" + c.ID
	same(r, "POW", subject, "use", c.Use, "supply")
	cable, device := r.feederPair(f, mm(c.LengthM), st.env.ambient)
	if cable != nil {
		same(r, "POW", subject, "type", c.Type, cable.Code)
	}
	if have := r.parts.protection[r.feederDevice(f)]; have != nil && (device == nil || have.Code != device.Code) {
		r.bad("POW", "feeder:"+f.ID, "the cheapest pair of device and cable that keeps section 7", "%s", have.Code)
	}
	same(r, "POW", subject, "to", c.To, st.subject)
	if c.From != "place:"+f.From && c.From != "board:"+f.From {
		r.bad("POW", subject, "from place:"+f.From+" or board:"+f.From, "from %s", c.From)
	}
	if laid, ok := r.linkLaid(f.From, st.Place); ok {
		same(r, "POW", subject, "length_m in mm", mm(c.LengthM), laid)
	}
	r.checkRoute("POW", subject, c.Route, f.From, st.Place)
	if typ := r.parts.cable[c.Type]; typ != nil && typ.MaxLength > 0 {
		r.limit(subject, "length in mm", mm(c.LengthM), int64(typ.MaxLength), st.subject, "feeder:"+f.ID)
	}
}
