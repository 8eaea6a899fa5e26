package packing

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// existing is what stands on the rail already.
type existing struct {
	keep   tariff.Keep
	total  tariff.Total
	slots  []oldSlot
	groups []oldRun
	doubts []Warning // rules that what is built breaks
}

// oldSlot is a slot that exists.
type oldSlot struct {
	FixedSlot
	module *hardware.Module
	base   *hardware.Base
	group  int
	used   []Channel
}

// oldRun is a supply group that exists.
type oldRun struct {
	first, last int // slot numbers
	key         fit.GroupKey
	known       bool // the key is known from signals
	point       tariff.Point
	coupler     bool
	load        q.Microamps
	prot        *hardware.Protection // fixed, or nil
	task, local int                  // where its key is solved; task -1 = nowhere
}

// read takes the fixed parts in and makes the tasks for what is left.
func (a *attempt) read(fixed Fixed, signals []int) *Refusal {
	a.exists.keep = tariff.Keep{
		Coupler: fixed.Coupler, Enclosure: fixed.Enclosure, MaxIn: fixed.MaxIn, MaxOut: fixed.MaxOut,
		Installed: slices.ContainsFunc(fixed.Slots, func(s FixedSlot) bool { return s.Built }),
	}
	if len(fixed.Slots) == 0 {
		a.tasks = newTasks(a.place.Env, signals)
		return nil
	}
	held := map[int]bool{}
	for n := range fixed.Slots {
		if r := a.readSlot(n+1, fixed.Slots[n], held); r != nil {
			return r
		}
	}
	if r := a.readGroups(fixed); r != nil {
		return r
	}
	if r := a.checkFixed(); r != nil {
		return r
	}
	left := slices.DeleteFunc(slices.Clone(signals), func(i int) bool { return held[i] })
	a.tasks = newTasks(a.place.Env, left)
	a.adopt(left)
	return nil
}

func (a *attempt) readSlot(n int, f FixedSlot, held map[int]bool) *Refusal {
	env := a.place.Env
	m, ok := env.Book.List.Module(f.Module)
	if !ok {
		return &Refusal{Limit: "fixed parts", Text: fmt.Sprintf("slot %d: no module %q in the hardware list", n, f.Module), Proof: true}
	}
	if n == 1 && env.Construction.Opening == hardware.ByBase && !env.Construction.CouplerFeeds {
		f.Infeed = true // nothing else can feed it
	}
	s := oldSlot{FixedSlot: f, module: m}
	if env.Construction.HasBases {
		if s.base, ok = env.Book.List.Base(f.Base); !ok && f.Base != "" {
			return &Refusal{Limit: "fixed parts", Text: fmt.Sprintf("slot %d: no base %q in the hardware list", n, f.Base), Proof: true}
		}
		if !ok {
			if s.base = env.BaseFor(m, f.Infeed && env.Construction.Opening == hardware.ByBase); s.base == nil {
				return &Refusal{Limit: "fixed parts", Text: fmt.Sprintf("slot %d: no base suits module %s there", n, f.Module), Proof: true}
			}
		}
	}
	for _, printed := range slices.Sorted(maps.Keys(f.Channels)) {
		signal := f.Channels[printed]
		if held[signal] {
			return &Refusal{
				Limit: "fixed parts", Signals: []int{signal}, Proof: true, Remedy: "release one of them",
				Text: fmt.Sprintf("signal %s is fixed to two channels", env.Book.Signals[signal].ID),
			}
		}
		held[signal] = true
		c, ok := channelFor(env, m, printed, signal)
		if !ok {
			return &Refusal{
				Limit: "fixed parts", Text: fmt.Sprintf("slot %d: module %s has no channel %d", n, f.Module, printed), Proof: true,
				Signals: []int{signal}, Remedy: "correct the channel number",
			}
		}
		s.used = append(s.used, c)
	}
	slices.SortFunc(s.used, func(a, b Channel) int { return cmp.Or(cmp.Compare(a.Set, b.Set), cmp.Compare(a.Index, b.Index)) })
	for _, c := range s.used {
		if t := env.TypeOf[c.Signal]; !f.Built && (t < 0 || !allows(env, t, m, c.Set)) {
			return &Refusal{
				Limit: "fixed parts", Signals: []int{c.Signal}, Proof: true, Remedy: "change that decision",
				Text: fmt.Sprintf("slot %d, channel %d of %s cannot carry signal %s (%s)", n, c.Printed, f.Module, env.Book.Signals[c.Signal].ID, fit.Describe(&env.Book.Signals[c.Signal])),
			}
		}
	}
	a.exists.slots = append(a.exists.slots, s)
	return nil
}

// channelFor finds the channel with a printed number; where several sets print it, the one that the
// signal may use.
func channelFor(env *tariff.Env, m *hardware.Module, printed, signal int) (found Channel, ok bool) {
	for set := range m.Channels {
		c := &m.Channels[set]
		for i := range c.Count {
			if Printed(c, i) != printed {
				continue
			}
			suits := env.TypeOf[signal] >= 0 && allows(env, env.TypeOf[signal], m, set)
			if !ok || suits {
				found, ok = Channel{set, i, printed, signal}, true
			}
			if suits {
				return found, true
			}
		}
	}
	return found, ok
}

func allows(env *tariff.Env, typ int, m *hardware.Module, set int) bool {
	for _, o := range env.Classes[env.Types[typ].Class].Options {
		if env.Mods[o.Mod].M == m && o.Set == set {
			return true
		}
	}
	return false
}

// readGroups parts the existing slots into their supply groups.
func (a *attempt) readGroups(fixed Fixed) *Refusal {
	env, b := a.place.Env, a.place.Env.Book
	for n := range a.exists.slots {
		s := &a.exists.slots[n]
		each := env.Construction.Opening == hardware.ByEach
		if n == 0 || s.Infeed || s.module.Infeed || each {
			run := oldRun{first: n + 1, task: -1}
			switch {
			case s.module.Infeed:
				run.point = tariff.Point{Infeed: s.module, Base: s.base, Bus: s.module.BusLimit}
			case each:
				run.point = tariff.Point{Bus: s.module.BusLimit}
			case s.Infeed && s.base != nil:
				run.point = tariff.Point{Base: s.base, Bus: s.base.BusLimit}
			case env.Construction.CouplerFeeds:
				run.coupler, run.point = true, tariff.Point{Bus: env.Construction.CouplerLimit}
			default:
				return &Refusal{
					Limit: "fixed parts", Text: "slot 1 opens no supply group and the coupler feeds none", Proof: true,
					Remedy: "fix infeed.1 as well",
				}
			}
			a.exists.groups = append(a.exists.groups, run)
		}
		g := len(a.exists.groups) - 1
		run := &a.exists.groups[g]
		s.group, run.last = g, n+1
		run.load += s.module.Supply
		for _, c := range s.used {
			if !run.known {
				run.key, run.known = b.GroupKey(c.Signal), true
			}
			run.load += fit.LoadOf(&b.Signals[c.Signal], b.Current(c.Signal), &s.module.Channels[c.Set])
		}
		width := s.module.Width
		if s.base != nil {
			width = max(width, s.base.Width)
		}
		a.exists.total.Use = a.exists.total.Use.Plus(tariff.Use{Slots: 1, Rail: width, Logic: s.module.Logic, In: int64(s.module.In), Out: int64(s.module.Out), Heat: s.module.Heat})
	}
	for g := range a.exists.groups {
		run := &a.exists.groups[g]
		at := run.first
		if run.coupler {
			at = 0
		}
		if code := fixed.Protect[at]; code != "" {
			p, ok := b.List.Protection(code)
			if !ok {
				return &Refusal{Limit: "fixed parts", Text: fmt.Sprintf("no protective device %q in the hardware list", code), Proof: true}
			}
			run.prot = p
		}
	}
	return nil
}

// kindOf is the voltage kind of an existing group.
func (a *attempt) kindOf(run *oldRun) string {
	for n := run.first; n <= run.last; n++ {
		if k := a.exists.slots[n-1].module.SupplyKind; k != "" {
			return k
		}
	}
	return fit.V24
}

// existing writes the existing slots and groups out, with what was added to them.
func (w *writer) existing(old []railGroup) {
	a := w.a
	for n := range a.exists.slots {
		s := &a.exists.slots[n]
		slot := Slot{Module: s.module, Base: s.base, Group: s.group, Used: s.used, Fixed: true}
		run := &a.exists.groups[s.group]
		slot.Infeed = n+1 == run.first && !run.coupler
		w.st.Slots = append(w.st.Slots, slot)
	}
	for g := range a.exists.groups {
		run := &a.exists.groups[g]
		load := run.load
		var grown *railGroup
		for i := range old {
			if run.task >= 0 && old[i].task == &a.tasks[run.task] && old[i].old == run.local {
				grown = &old[i]
			}
		}
		if grown != nil {
			for i := range grown.mods {
				m := &grown.mods[i]
				load += loadOf(w.env, m)
				if m.slot > 0 {
					w.st.Slots[m.slot-1].Used = channelsOf(w.env, m, w.st.Slots[m.slot-1].Used)
					continue
				}
				d := &w.env.Mods[m.mod]
				w.st.Slots = append(w.st.Slots, Slot{Module: d.M, Base: d.Through, Group: g, Used: channelsOf(w.env, m, nil)})
			}
		}
		w.oldGroup(run, g, load)
	}
}

func (w *writer) oldGroup(run *oldRun, g int, load q.Microamps) {
	out := Group{
		Key: run.key, AtCoupler: run.coupler, InfeedSlot: run.first, First: run.first, Last: run.last, Load: load, Protection: run.prot,
		Ceiling: fit.Ceiling(run.point.Bus, &w.env.Book.Project.Basis), Fixed: true,
	}
	if run.coupler {
		out.InfeedSlot = 0
	}
	if g == len(w.a.exists.groups)-1 {
		out.Last = len(w.st.Slots)
	}
	if out.Protection == nil {
		if p, ok := fit.ProtectionFor(w.env.Book.List, w.a.kindOf(run), load, run.point.Bus, w.env.Book.Off); ok {
			out.Protection = p
		} else {
			out.Protection = &hardware.Protection{}
			w.st.Warnings = append(w.st.Warnings, Warning{
				Code: "protection", Group: run.key.String(), Value: int64(load),
				Text: fmt.Sprintf("no protective device of the hardware list suits the existing group at slot %d with %s", run.first, load),
			})
		}
	}
	if out.Ceiling == 0 {
		out.Ceiling = out.Protection.Rating
	}
	out.Limit = min(out.Ceiling, out.Protection.Rating)
	if len(w.st.Groups) == 0 {
		out.Reason = "first group"
	} else {
		out.Reason = reasonBetween(w.env, &w.st.Groups[len(w.st.Groups)-1], &out)
	}
	if load > out.Limit {
		w.st.Warnings = append(w.st.Warnings, Warning{
			Code: "group", Group: run.key.String(), Value: int64(load), Wanted: int64(out.Limit),
			Text: fmt.Sprintf("existing group at slot %d draws %s, %s allowed", run.first, load, out.Limit),
		})
	}
	w.st.Groups = append(w.st.Groups, out)
}
