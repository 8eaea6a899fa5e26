package packing_test

import (
	"fmt"
	"testing"

	"railwright/internal/hardware"
	"railwright/internal/packing"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"

	"pgregory.net/rapid"
)

// frozen turns a station into fixed parts.
func frozen(st *packing.Station, built bool) packing.Fixed {
	f := packing.Fixed{Coupler: st.Coupler.Code, Protect: map[int]string{}}
	for _, s := range st.Slots {
		fs := packing.FixedSlot{Module: s.Module.Code, Infeed: s.Infeed, Channels: map[int]int{}, Built: built}
		if s.Base != nil {
			fs.Base = s.Base.Code
		}
		for _, u := range s.Used {
			fs.Channels[u.Printed] = u.Signal
		}
		f.Slots = append(f.Slots, fs)
	}
	for _, g := range st.Groups {
		f.Protect[g.InfeedSlot] = g.Protection.Code
	}
	return f
}

// disturbed lists what of the old station is not as it was.
func disturbed(old, st *packing.Station) (out []string) {
	if st.Coupler != old.Coupler {
		out = append(out, "coupler")
	}
	for n, s := range old.Slots {
		if n >= len(st.Slots) || st.Slots[n].Module != s.Module || st.Slots[n].Base != s.Base || st.Slots[n].Infeed != s.Infeed {
			return append(out, fmt.Sprintf("slot %d", n+1))
		}
		for _, u := range s.Used {
			same := false
			for _, v := range st.Slots[n].Used {
				same = same || v == u
			}
			if !same {
				out = append(out, fmt.Sprintf("slot %d channel %d", n+1, u.Printed))
			}
		}
	}
	for g, group := range old.Groups {
		if g >= len(st.Groups) || st.Groups[g].InfeedSlot != group.InfeedSlot || st.Groups[g].Protection != group.Protection {
			out = append(out, fmt.Sprintf("group %d", g))
		}
	}
	return out
}

func TestNothingFixedIsTouched(t *testing.T) {
	quickly(t, 150)
	grown, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		place, signals := smallWorld(t, 10)
		d := draw{t}
		cut := d.n(0, len(signals))
		old, refusal := packing.Complete(packing.Order{Place: place, Signals: signals[:cut]})
		if refusal != nil {
			return
		}
		built := d.yes(60)
		st, refusal := packing.Complete(packing.Order{Place: place, Signals: signals, Fixed: frozen(old, built)})
		if refusal != nil {
			refused++
			if cut == len(signals) {
				t.Fatalf("a finished station is refused: %s\n%s", refusal.Text, written(old))
			}
			return
		}
		grown++
		if f := disturbed(old, st); len(f) > 0 {
			t.Fatalf("touched: %v\n%s\n%s", f, written(old), written(st))
		}
		if f := faults(place, st, signals, built); len(f) > 0 {
			t.Fatalf("%v\n%s\n%s", f, written(old), written(st))
		}
		if !sums(st) {
			t.Fatalf("the bill does not add up: %+v", st.Cost)
		}
		if cut == len(signals) && st.Cost.Total != old.Cost.Total {
			t.Fatalf("nothing was added, but the cost went from %s to %s", old.Cost.Total, st.Cost.Total)
		}
	})
	t.Logf("%d grown, %d refused", grown, refused)
}

// TestAdditionsUseTheSpare adds, one by one, signals like those that are there: what fits a free
// channel is taken without a new part.
func TestAdditionsUseTheSpare(t *testing.T) {
	for _, c := range hardware.Builtin().Constructions {
		signals := mixed(9, 60)
		for i := range signals {
			signals[i].RedundantWith = nil
		}
		place := builtinPlace(t, c.Code, signals, nil)
		st, refusal := packing.Complete(packing.Order{Place: place, Signals: all(45)})
		if refusal != nil {
			t.Fatal(refusal.Text)
		}
		spare, fresh := 0, 0
		for n := 46; n <= 60; n++ {
			next, refusal := packing.Complete(packing.Order{Place: place, Signals: all(n), Fixed: frozen(st, true)})
			if refusal != nil {
				t.Fatalf("%s: signal %d refused: %s", c.Code, n-1, refusal.Text)
			}
			if f := disturbed(st, next); len(f) > 0 {
				t.Fatalf("%s: touched: %v", c.Code, f)
			}
			if f := faults(place, next, all(n), true); len(f) > 0 {
				t.Fatalf("%s: %v", c.Code, f)
			}
			if room(place.Env, st, n-1) && len(next.Slots) != len(st.Slots) {
				t.Errorf("%s: signal %s got a new module though a channel is free", c.Code, signals[n-1].ID)
			}
			if len(next.Slots) == len(st.Slots) {
				spare++
			} else {
				fresh++
			}
			st = next
		}
		if st.Warnings == nil {
			t.Errorf("%s: the spare is used up, but nobody says so", c.Code)
		}
		t.Logf("%s: %d took a spare, %d a new module", c.Code, spare, fresh)
	}
}

// room reports whether the station has a free channel for the signal in a group of its key that
// carries it (all protections and ceilings of these stations have room for a few milliamperes; the
// outputs of more are left out).
func room(env *tariff.Env, st *packing.Station, signal int) bool {
	if env.Book.Current(signal) > 100_000 {
		return false
	}
	class := &env.Classes[env.ClassOf(signal)]
	for _, s := range st.Slots {
		g := st.Groups[s.Group]
		if g.Key != env.Book.GroupKey(signal) || len(s.Used) == 0 || env.Book.ModuleKey(s.Used[0].Signal) != env.Book.ModuleKey(signal) || g.Limit-g.Load < 60_000 {
			continue
		}
		for _, o := range class.Options {
			if env.Mods[o.Mod].M != s.Module {
				continue
			}
			used := 0
			for _, u := range s.Used {
				used += b2i(u.Set == o.Set)
			}
			if used < s.Module.Channels[o.Set].Count {
				return true
			}
		}
	}
	return false
}

func TestRefusalsSayWhatStandsInTheWay(t *testing.T) {
	signals := mixed(3, 30)
	for i := 28; i < 30; i++ {
		signals[i] = project.Signal{ID: signals[i].ID, Tag: signals[i].Tag, Kind: project.DI, Form: "contact", RedundantWith: []string{signals[57-i].ID}}
	}
	place := builtinPlace(t, "rail", signals, nil)
	for name, o := range map[string]packing.Order{
		"unknown module":       {Fixed: packing.Fixed{Slots: []packing.FixedSlot{{Module: "nonsense", Infeed: true}}}},
		"unsuitable channel":   {Fixed: packing.Fixed{Slots: []packing.FixedSlot{{Module: "tc4", Infeed: true, Channels: map[int]int{1: 0}}}}},
		"no such channel":      {Fixed: packing.Fixed{Slots: []packing.FixedSlot{{Module: "di16", Infeed: true, Channels: map[int]int{99: 0}}}}},
		"unknown coupler":      {Fixed: packing.Fixed{Coupler: "nonsense"}},
		"unknown protection":   {Fixed: packing.Fixed{Slots: []packing.FixedSlot{{Module: "di16", Infeed: true}}, Protect: map[int]string{1: "nonsense"}}},
		"partners on a module": {Fixed: packing.Fixed{Slots: []packing.FixedSlot{{Module: "di16", Infeed: true, Channels: map[int]int{1: 28, 2: 29}}}}},
		"channel fixed double": {Fixed: packing.Fixed{Slots: []packing.FixedSlot{{Module: "di16", Infeed: true, Channels: map[int]int{1: firstOf(signals, project.DI), 2: firstOf(signals, project.DI)}}}}},
	} {
		o.Place, o.Signals = place, all(30)
		if _, refusal := packing.Complete(o); refusal == nil || refusal.Text == "" || refusal.Limit == "" {
			t.Errorf("%s: %+v", name, refusal)
		} else {
			t.Logf("%s: %s", name, refusal.Text)
		}
	}
}

func firstOf(signals []project.Signal, kind project.Kind) int {
	for i := range signals {
		if signals[i].Kind == kind && signals[i].Form == "contact" {
			return i
		}
	}
	return 0
}

// TestPreferencesHoldWhileTheyAreCheaper keeps the station of before while moving costs more than it
// saves, and lets go where moving is free.
func TestPreferencesHoldWhileTheyAreCheaper(t *testing.T) {
	signals := mixed(4, 60)
	place := builtinPlace(t, "rail", signals, nil)
	old, refusal := packing.Complete(packing.Order{Place: place, Signals: all(60)})
	if refusal != nil {
		t.Fatal(refusal.Text)
	}
	prefer := func(price q.Money) packing.Prefer {
		p := packing.Prefer{Coupler: old.Coupler.Code, CouplerCost: price}
		for n, s := range old.Slots {
			p.Slots = append(p.Slots, packing.PreferSlot{Module: s.Module.Code, Infeed: s.Infeed, Cost: price})
			for _, u := range s.Used {
				p.Channels = append(p.Channels, packing.PreferChannel{Signal: u.Signal, Slot: n + 1, Channel: u.Printed, Cost: price})
			}
		}
		return p
	}
	fewer := all(60)[20:]
	dear, refusal := packing.Complete(packing.Order{Place: place, Signals: fewer, Prefer: prefer(10_000 * q.MoneyUnit)})
	if refusal != nil {
		t.Fatal(refusal.Text)
	}
	for _, s := range dear.Slots {
		for _, u := range s.Used {
			if !sameSeat(old, dear, u.Signal) {
				t.Errorf("signal %d moved though that costs 10 000", u.Signal)
			}
		}
	}
	free, refusal := packing.Complete(packing.Order{Place: place, Signals: fewer, Prefer: prefer(0)})
	if refusal != nil {
		t.Fatal(refusal.Text)
	}
	anew, _ := packing.Complete(packing.Order{Place: place, Signals: fewer})
	if free.Cost.Total > anew.Cost.Total {
		t.Errorf("moving is free, but the station costs %s instead of %s", free.Cost.Total, anew.Cost.Total)
	}
	same, _ := packing.Complete(packing.Order{Place: place, Signals: all(60), Prefer: prefer(q.MoneyUnit)})
	if same.Cost.Changes != 0 || same.Cost.Total != old.Cost.Total {
		t.Errorf("nothing changed, but changes cost %s and the total went from %s to %s", same.Cost.Changes, old.Cost.Total, same.Cost.Total)
	}
}

func sameSeat(a, b *packing.Station, signal int) bool {
	find := func(st *packing.Station) [2]int {
		for n, s := range st.Slots {
			for _, u := range s.Used {
				if u.Signal == signal {
					return [2]int{n, u.Printed}
				}
			}
		}
		return [2]int{-1, -1}
	}
	return find(a) == find(b)
}
