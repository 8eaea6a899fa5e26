package packing

import (
	"cmp"
	"fmt"
	"slices"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// write seats the remaining signals, feeds the groups for what they really draw and writes the
// station out.
func (a *attempt) write(j joined) (*Station, *Refusal) {
	fresh, old := onRail(a.tasks, j.picks)
	for k := range a.tasks {
		var groups []*railGroup
		for i := range old {
			if old[i].task == &a.tasks[k] {
				groups = append(groups, &old[i])
			}
		}
		for i := range fresh {
			if fresh[i].task == &a.tasks[k] {
				groups = append(groups, &fresh[i])
			}
		}
		seatAll(a.place.Env, &a.tasks[k], groups)
	}
	w := &writer{a: a, env: a.place.Env, st: &Station{Coupler: j.frame.Coupler, EndPiece: a.place.Env.Construction.EndPiece}}
	w.existing(old)
	for i := range fresh {
		if r := w.group(&fresh[i]); r != nil {
			return nil, r
		}
	}
	if r := w.frame(); r != nil {
		return nil, r
	}
	w.st.Warnings = append(w.st.Warnings, a.exists.doubts...)
	w.spareWarnings()
	w.count()
	return w.st, nil
}

// writer builds a Station from groups in order.
type writer struct {
	a     *attempt
	env   *tariff.Env
	st    *Station
	total tariff.Total
}

// group appends a new supply group.
func (w *writer) group(g *railGroup) *Refusal {
	s := &keySolver{t: g.task}
	g.load = 0
	for i := range g.mods {
		g.load += loadOf(w.env, &g.mods[i])
	}
	if !s.feed(&g.planGroup) {
		return &Refusal{Limit: "supply group", Value: int64(g.load), Unit: "uA", Text: fmt.Sprintf("nothing feeds a group %s of %s", g.task.key(), g.load)}
	}
	prot := g.prot
	out := Group{
		Key: g.task.key(), AtCoupler: g.coupler, First: len(w.st.Slots) + 1, Load: g.load, Protection: prot,
		Ceiling: fit.Ceiling(g.point.Bus, &w.env.Book.Project.Basis),
	}
	if out.Ceiling == 0 {
		out.Ceiling = prot.Rating
	}
	out.Limit = min(out.Ceiling, prot.Rating)
	if !g.coupler {
		out.InfeedSlot = out.First
	}
	n := len(w.st.Groups)
	if g.point.Infeed != nil {
		w.st.Slots = append(w.st.Slots, Slot{Module: g.point.Infeed, Base: g.point.Base, Infeed: true, Group: n})
	}
	for i := range g.mods {
		m := &g.mods[i]
		d := &w.env.Mods[m.mod]
		slot := Slot{Module: d.M, Base: d.Through, Group: n, Infeed: i == 0 && g.point.Infeed == nil && !g.coupler}
		if slot.Infeed && g.point.Base != nil {
			slot.Base = g.point.Base
		}
		slot.Used = channelsOf(w.env, m, nil)
		w.st.Slots = append(w.st.Slots, slot)
	}
	out.Last = len(w.st.Slots)
	out.Reason = w.reason(&out)
	w.st.Groups = append(w.st.Groups, out)
	return nil
}

// channelsOf gives the seated signals of a module their channels: in order of equipment and tag
// onto the free channels of each set.
func channelsOf(env *tariff.Env, m *planMod, taken []Channel) []Channel {
	out := slices.Clone(taken)
	seats := slices.Clone(m.hard)
	slices.SortFunc(seats, func(a, b seat) int {
		return cmp.Or(cmp.Compare(a.set, b.set), compareSignals(env.Book, a.signal, b.signal))
	})
	for _, x := range seats {
		set := &env.Mods[m.mod].M.Channels[x.set]
		for i := range set.Count {
			if !slices.ContainsFunc(out, func(c Channel) bool { return c.Set == x.set && c.Index == i }) {
				out = append(out, Channel{x.set, i, Printed(set, i), x.signal})
				break
			}
		}
	}
	slices.SortFunc(out, func(a, b Channel) int { return cmp.Or(cmp.Compare(a.Set, b.Set), cmp.Compare(a.Index, b.Index)) })
	return out
}

// Printed returns the number printed on channel i (from 0) of a set.
func Printed(set *hardware.ChannelSet, i int) int { return set.First + i*max(1, set.Step) }

// reason says why a group was begun.
func (w *writer) reason(g *Group) string {
	if len(w.st.Groups) == 0 {
		if g.AtCoupler {
			return "first group, fed at the coupler"
		}
		return "first group"
	}
	prev := &w.st.Groups[len(w.st.Groups)-1]
	return reasonBetween(w.env, prev, g)
}

func reasonBetween(env *tariff.Env, prev, g *Group) string {
	a, b := prev.Key, g.Key
	switch {
	case a.Voltage != b.Voltage:
		return fmt.Sprintf("another voltage: %s after %s", b.Voltage, a.Voltage)
	case a.Supply != b.Supply:
		return fmt.Sprintf("another supply class: %s after %s", b.Supply, a.Supply)
	case a.Exi != b.Exi:
		return "intrinsically safe signals apart from others"
	case a.Segregate != b.Segregate:
		return fmt.Sprintf("segregation class %q apart from %q", b.Segregate, a.Segregate)
	case a.Part != b.Part:
		return fmt.Sprintf("own protection for %q", b.Part)
	case a.Function != b.Function:
		return fmt.Sprintf("basis splits %s from %s", b.Function, a.Function)
	case env.Construction.Opening == hardware.ByEach:
		return "each module is fed by itself"
	case prev.Load+g.Load > prev.Ceiling:
		return fmt.Sprintf("overload: together with the group before %s, %s allowed", prev.Load+g.Load, prev.Ceiling)
	}
	return "keeps rank order, redundant partners or module currents apart"
}

// frame chooses what stands round the modules as they are.
func (w *writer) frame() *Refusal {
	st := w.st
	for i := range st.Slots {
		w.slotUse(&st.Slots[i])
	}
	for i := range st.Groups {
		w.total.Add(st.Groups[i].Key, st.Groups[i].Load)
		w.total.ProtWidth += st.Groups[i].Protection.Width
	}
	convention := w.env.Book.Project.Basis.Address.Convention
	var gaps bytesOf
	if convention == "word" {
		gaps = func(c *hardware.Coupler) (in, out int) { return Bytes(c, st.Slots, convention) }
	}
	f, bar := frameWith(w.a.place, &w.total, w.a.exists.keep, gaps)
	if bar != nil {
		return &Refusal{
			Limit: bar.Limit, Value: bar.Value, Allowed: bar.Allowed, Unit: bar.Unit, Text: bar.String(),
			Remedy: "serve some of the signals from another station",
		}
	}
	st.Coupler, st.Enclosure, st.Supplies = f.Coupler, f.Enclosure, slices.Clone(f.Supplies[:f.Count])
	st.Rail, st.Logic, st.Heat = f.Rail, w.total.Use.Logic, w.total.Use.Heat+f.Coupler.Heat
	st.InBytes, st.OutBytes = Bytes(st.Coupler, st.Slots, convention)
	return nil
}

func (w *writer) slotUse(s *Slot) {
	width := s.Module.Width
	if s.Base != nil {
		width = max(width, s.Base.Width)
	}
	w.total.Use = w.total.Use.Plus(tariff.Use{Slots: 1, Rail: width, Logic: s.Module.Logic, In: int64(s.Module.In), Out: int64(s.Module.Out), Heat: s.Module.Heat})
}

// Bytes returns a station's bytes of process image, header and gaps included: in convention
// "word" a slot with channels of 16 or 32 bits begins at a multiple of 2 or 4.
func Bytes(coupler *hardware.Coupler, slots []Slot, convention string) (in, out int) {
	in, out = coupler.HeaderIn, coupler.HeaderOut
	for i := range slots {
		m := slots[i].Module
		if convention == "word" {
			a, b := alignOf(m)
			in, out = up(in, a), up(out, b)
		}
		in += m.In
		out += m.Out
	}
	return in, out
}

func alignOf(m *hardware.Module) (in, out int) {
	in, out = 1, 1
	for i := range m.Channels {
		c := &m.Channels[i]
		bytes := 1
		if c.Bits == 16 || c.Bits == 32 {
			bytes = c.Bits / 8
		}
		if c.Image != "out" {
			in = max(in, bytes)
		}
		if c.Image != "in" {
			out = max(out, bytes)
		}
	}
	return in, out
}

func up(n, to int) int { return (n + to - 1) / to * to }

// bytesOf counts the process image with its gaps for a choice of plans.
func (a *attempt) bytesOf(picks []*keyPlan) bytesOf {
	fresh, old := onRail(a.tasks, picks)
	var slots []Slot
	for _, s := range a.exists.slots {
		slots = append(slots, Slot{Module: s.module})
	}
	add := func(g *railGroup) {
		if g.point.Infeed != nil && g.old < 0 {
			slots = append(slots, Slot{Module: g.point.Infeed})
		}
		for _, m := range g.mods {
			if m.slot == 0 {
				slots = append(slots, Slot{Module: a.place.Env.Mods[m.mod].M})
			}
		}
	}
	for i := range old {
		add(&old[i])
	}
	for i := range fresh {
		add(&fresh[i])
	}
	return func(c *hardware.Coupler) (in, out int) { return Bytes(c, slots, "word") }
}

// count lists parts and labour, and sums them.
func (w *writer) count() {
	st, site, labour := w.st, &w.a.place.Site, &w.env.Book.Labour
	counts := map[string]*PartCount{}
	add := func(code, class string, n int, price q.Money) {
		if code == "" || n == 0 {
			return
		}
		if counts[code] == nil {
			counts[code] = &PartCount{Code: code, Class: class, Price: price}
		}
		counts[code].Count += n
	}
	add(st.Coupler.Code, "coupler", 1, st.Coupler.Price)
	add(st.Enclosure.Code, "enclosure", 1, st.Enclosure.Price)
	if p := w.a.place.EndPiece; p != nil {
		add(p.Code, "end piece", 1, p.Price)
	}
	for i := range st.Slots {
		s := &st.Slots[i]
		add(s.Module.Code, "module", 1, s.Module.Price)
		if s.Base != nil {
			add(s.Base.Code, "base", 1, s.Base.Price)
		}
	}
	for i := range st.Groups {
		p := st.Groups[i].Protection
		add(p.Code, "protection", 1, p.Price)
	}
	ups := false
	for _, s := range st.Supplies {
		add(s.Unit.Code, "supply unit", s.Count, s.Unit.Price)
		ups = ups || s.Class == "ups"
	}
	c := &st.Cost
	for _, p := range counts {
		c.Parts = append(c.Parts, *p)
	}
	slices.SortFunc(c.Parts, func(a, b PartCount) int { return cmp.Compare(a.Code, b.Code) })
	c.Labour = []TaskCount{{"station", 1, labour.Station}, {"module", len(st.Slots), labour.Module}, {"group", len(st.Groups), labour.Group}}
	c.Feeder, c.Fixed = site.Feeder, site.FixedCost
	if ups {
		c.Feeder += site.UPSFeeder
	}
	c.Total = c.Feeder + c.Fixed
	for _, p := range c.Parts {
		c.Total += q.Money(p.Count) * p.Price
	}
	for _, t := range c.Labour {
		c.Total += q.Money(t.Count) * t.Price
	}
}
