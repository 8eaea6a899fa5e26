package checker

import (
	"fmt"
	"slices"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// fieldCableLaw: one field cable for each bundle that is served, of the right type and length;
// and what all cables have in common.
func fieldCableLaw(r *run) {
	found := map[*bundle]int{}
	for i := range r.d.Cables {
		c := &r.d.Cables[i]
		subject := "cable:" + c.ID
		typ := r.parts.cable[c.Type]
		if typ == nil {
			r.bad("REF", subject, "a cable of the list", "type %q", c.Type)
			continue
		}
		if typ.Use != c.Use {
			r.bad("CAB", subject, "a type for use "+c.Use, "type %s for %s", typ.Code, typ.Use)
		}
		same(r, "CAB", subject, "cores", c.Cores, typ.Cores)
		same(r, "CAB", subject, "area_mm2", c.AreaMM2, float64(typ.Area))
		if r.unused[c.Type] {
			r.bad("DEC", subject, "a part that may be used", "type %s", c.Type)
		}
		want := r.ordered(mm(c.LengthM))
		same(r, "CAB", subject, "order_m in mm", mm(c.OrderM), want)
		switch c.Use {
		case "field":
			r.fieldCable(c, typ, found)
		case "network", "supply": // networkLaw, powerLaw
		default:
			r.bad("CAB", subject, "field, network or supply", "use %q is not in the counting rules", c.Use)
		}
	}
	for _, b := range r.bundles {
		want := 0
		if len(r.placed(b)) > 0 {
			want = 1
		}
		if found[b] != want {
			r.bad("CAB", "bundle:"+b.id, fmt.Sprintf("%d field cables", want), "%d", found[b])
		}
	}
}

func (r *run) fieldCable(c *docCable, typ *hardware.Cable, found map[*bundle]int) {
	subject := "cable:" + c.ID
	if len(c.Signals) == 0 || r.bundle[c.Signals[0]] == nil {
		r.bad("CAB", subject, "the signals of a bundle", "signals %v", c.Signals)
		return
	}
	b := r.bundle[c.Signals[0]]
	found[b]++
	list := r.placed(b)
	want := ids(list, func(x *signal) string { return x.ID })
	have := slices.Clone(c.Signals)
	slices.Sort(have)
	if !slices.Equal(have, want) {
		r.bad("CAB", subject, fmt.Sprintf("the bundle's signals %v", want), "signals %v", have)
	}
	if len(list) == 0 {
		return
	}
	st := r.at[list[0].ID][0].st
	same(r, "CAB", subject, "from", c.From, "device:"+b.device)
	if c.Bundle != "" {
		same(r, "CAB", subject, "bundle", c.Bundle, b.id)
	}
	same(r, "CAB", subject, "to", c.To, st.subject)
	r.checkRoute("CAB", subject, c.Route, b.place, st.Place)
	laid, ok := r.fieldLaid(b.place, st.Place)
	if ok {
		same(r, "CAB", subject, "length_m in mm", mm(c.LengthM), laid)
	}
	r.fieldTypeLaw(c, typ, b, list, laid, st.env)
	if most := r.longest(list, typ); most > 0 {
		r.limit(subject, "length in mm", laid, most, "signal:"+list[0].ID, st.subject)
	}
	for _, x := range list {
		if v := float64(typ.Rated); v > 0 && float64(ratedFor(x)) > v && !r.excused(subject, "signal:"+x.ID) {
			r.bad("LIM", subject, fmt.Sprintf("a cable rated for %d V", ratedFor(x)), "%v V", v)
		}
	}
}

// ratedFor is the voltage that a signal puts on its cable.
func ratedFor(x *signal) int {
	switch {
	case x.form == "120vac":
		return 120
	case x.form == "230vac":
		return 230
	case x.highRelay():
		return int(x.Voltage.Value)
	case x.volt == "48vdc":
		return 48
	}
	return 24
}

// fieldTypeLaw: the cheapest type; a larger area only where the voltage at a load wants it.
func (r *run) fieldTypeLaw(c *docCable, typ *hardware.Cable, b *bundle, list []*signal, laid int64, env environment) {
	subject := "cable:" + c.ID
	if cores := conductors(list); typ.Cores < cores {
		r.bad("CAB", subject, fmt.Sprintf("%d cores", cores), "%d cores", typ.Cores)
	}
	want, base := r.cableFor(b, list, laid, env), r.fieldType(b, list, r.areaFor(b, list))
	switch {
	case want == nil:
		if !r.excused(subject, "signal:"+list[0].ID) {
			r.bad("CAB", subject, "no cable of the list does, or an error finding", "type %s", typ.Code)
		}
	case typ.Code == want.Code || r.cableByHand(list):
	case want != base:
		r.bad("CAB", subject, want.Code+" (larger than "+base.Code+" for the voltage or the line)", "type %s", typ.Code)
	default:
		r.bad("CAB", subject, want.Code, "type %s", typ.Code)
	}
}

func (r *run) cableByHand(list []*signal) bool {
	return slices.ContainsFunc(list, func(x *signal) bool { return len(r.decisions("signal:"+x.ID, "cable")) > 0 })
}

// cableFixed reports a fixed decision on the cable of one of the signals.
func (r *run) cableFixed(list []*signal) bool {
	return slices.ContainsFunc(list, func(x *signal) bool {
		return slices.ContainsFunc(r.decisions("signal:"+x.ID, "cable"), func(d project.Decision) bool { return d.Strength == project.Fixed })
	})
}
