package modification

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/words"
)

func text(n int) string { return fmt.Sprint(n) }

// builder lays the acts out as steps.
type builder struct {
	m       *Modification
	in      Input
	site    *site
	plan    *outages
	byUnit  map[string][]act  // acts that need a unit off
	free    []act             // acts that need nothing off
	unland  map[string]string // key of a core that moves -> unit where it comes off
	loosed  map[string]bool   // cores that hang loose now
	offNow  []string          // units
	numbers map[string]int    // unit -> index of its outage
	wires   map[string]design.Wire
	tags    map[string]string
	people  *people
}

func newBuilder(in Input, s *site, acts []act) *builder {
	b := &builder{
		m: &Modification{}, in: in, site: s, byUnit: map[string][]act{}, unland: map[string]string{}, loosed: map[string]bool{},
		numbers: map[string]int{}, wires: map[string]design.Wire{}, tags: map[string]string{}, people: peopleOf(in),
	}
	for _, d := range []*design.Design{in.Old, in.New} {
		for _, w := range d.Wires {
			b.wires[w.ID] = w
		}
		for id, seat := range seats(d) {
			b.tags[id] = seat.tag
		}
	}
	for _, a := range acts {
		if a.kind == Unland || a.kind == Land {
			b.m.Cores++
		}
		if a.kind == Unland && a.parked {
			b.unland[a.change.Key] = a.unit
		}
		if a.unit == "" {
			b.free = append(b.free, a)
		} else {
			b.byUnit[a.unit] = append(b.byUnit[a.unit], a)
		}
	}
	b.plan = &outages{
		units: slices.Sorted(maps.Keys(b.byUnit)), after: map[string]map[string]bool{},
		count: func(units []string) int { return len(s.off(units)) },
	}
	for unit, list := range b.byUnit {
		for _, a := range list {
			if from := b.unland[a.change.Key]; a.kind == Land && a.parked && from != "" && from != unit {
				if b.plan.after[unit] == nil {
					b.plan.after[unit] = map[string]bool{}
				}
				b.plan.after[unit][from] = true
			}
		}
	}
	return b
}

// prepare does what can be done beside the running plant: new stations, cables and boxes.
func (b *builder) prepare() {
	b.do("", b.take(&b.free, func(a act) bool {
		switch a.kind {
		case Install, Pull, Fit, Exchange, TakeOut:
			return true
		case Unland:
			b.loosed[a.change.Key] = a.parked
			return true
		}
		return false
	}))
	b.landFree()
}

// landFree lands what waits for no outage (any more).
func (b *builder) landFree() {
	b.do("", b.take(&b.free, func(a act) bool {
		return (a.kind == Land || a.kind == Set) && (!a.parked || b.loosed[a.change.Key])
	}))
}

// take removes the acts that match from a list and returns them in their order.
func (b *builder) take(list *[]act, match func(act) bool) []act {
	var out, left []act
	for _, a := range *list {
		if match(a) {
			out = append(out, a)
		} else {
			left = append(left, a)
		}
	}
	*list = left
	byKind(out)
	return out
}

// begin isolates a unit and does all that waits for nothing else.
func (b *builder) begin(unit string) {
	b.offNow = append(b.offNow, unit)
	b.m.Peak = max(b.m.Peak, len(b.site.off(b.offNow)))
	o := b.outage(unit)
	b.m.Outages = append(b.m.Outages, o)
	b.numbers[unit] = len(b.m.Outages) - 1
	b.add(Step{Kind: Isolate, Station: b.stationOfUnit(unit), Text: b.isolateText(unit), Signals: o.Signals, Cautions: b.isolateCautions(o), Back: words.Text("modification.back_isolate")}, unit)
	b.m.Outages[b.numbers[unit]].First = len(b.m.Steps)
	list := b.byUnit[unit]
	now := b.take(&list, func(a act) bool { return a.kind != Land && a.kind != Set && a.kind != Load && a.kind != Withdraw })
	b.byUnit[unit] = list
	for _, a := range now {
		if a.kind == Unland && a.parked {
			b.loosed[a.change.Key] = true
		}
	}
	b.do(unit, now)
	for _, u := range b.offNow { // a unit that waited for these cores goes on
		b.land(u)
	}
}

func (b *builder) land(unit string) {
	list := b.byUnit[unit]
	now := b.take(&list, func(a act) bool {
		return a.kind == Land && (!a.parked || b.loosed[a.change.Key] || b.unland[a.change.Key] == "")
	})
	b.byUnit[unit] = list
	b.do(unit, now)
}

// end sets and loads, switches on and tests.
func (b *builder) end(unit string) {
	list := b.byUnit[unit]
	b.do(unit, b.take(&list, func(a act) bool { return a.kind != Withdraw }))
	b.do(unit, b.take(&list, func(act) bool { return true }))
	b.byUnit[unit] = list
	b.landFree()
	o := &b.m.Outages[b.numbers[unit]]
	if b.stays(unit) {
		b.add(Step{Kind: Restore, Station: b.stationOfUnit(unit), Text: b.restoreText(unit), Signals: o.Signals, Cautions: []string{words.Text("modification.caution_on")}, Back: words.Text("modification.back_restore")}, unit)
	}
	b.offNow = slices.DeleteFunc(b.offNow, func(u string) bool { return u == unit })
	b.test(unit, o.First)
	o.Last = len(b.m.Steps)
}

// stays: the unit, or its station, is still there afterwards.
func (b *builder) stays(unit string) bool {
	id := b.stationOfUnit(unit)
	return id == "" || slices.ContainsFunc(b.in.New.Stations, func(s design.Station) bool { return s.ID == id })
}

// test asks for a test of the signals whose connection was touched since a step.
func (b *builder) test(unit string, since int) {
	touched := map[string]bool{}
	for _, s := range b.m.Steps[max(since-1, 0):] {
		if s.Kind == Isolate || s.Kind == Restore || s.Kind == Unland {
			continue
		}
		for _, id := range s.Signals {
			touched[id] = true
		}
	}
	present := seats(b.in.New)
	maps.DeleteFunc(touched, func(id string, _ bool) bool { return present[id] == nil })
	if len(touched) == 0 {
		return
	}
	ids := slices.SortedFunc(maps.Keys(touched), natural)
	b.add(Step{Kind: Test, Station: b.stationOfUnit(unit), Text: words.Text("modification.test", b.names(ids)), Signals: ids, Back: words.Text("modification.back_test")}, unit)
}

// close does what comes after all outages: the controller's addresses, labels, old cables.
func (b *builder) close() {
	b.landFree()
	start := len(b.m.Steps)
	b.do("", b.take(&b.free, func(a act) bool { return a.kind == Load }))
	b.testNew(start)
	b.do("", b.take(&b.free, func(a act) bool { return a.kind == Mark }))
	b.do("", b.take(&b.free, func(act) bool { return true }))
	for i := range b.m.Steps {
		b.m.Steps[i].Number = i + 1
	}
}

// testNew tests the signals of stations that were built beside the plant, and those with new addresses only.
func (b *builder) testNew(loads int) {
	tested := map[string]bool{}
	touched := map[string]bool{}
	for i, s := range b.m.Steps {
		for _, id := range s.Signals {
			switch {
			case s.Kind == Test:
				tested[id] = true
			case i >= loads || s.Outage == 0:
				touched[id] = true
			}
		}
	}
	present := seats(b.in.New)
	maps.DeleteFunc(touched, func(id string, _ bool) bool { return tested[id] || present[id] == nil })
	if ids := slices.SortedFunc(maps.Keys(touched), natural); len(ids) > 0 {
		b.add(Step{Kind: Test, Text: words.Text("modification.test", b.names(ids)), Signals: ids, Back: words.Text("modification.back_test")}, "")
	}
}

// add appends a step; unit is the outage it lies in.
func (b *builder) add(s Step, unit string) {
	s.Number = len(b.m.Steps) + 1
	if unit != "" {
		s.Outage = b.numbers[unit] + 1
	}
	b.m.Steps = append(b.m.Steps, s)
}

func (b *builder) stationOfUnit(unit string) string {
	switch kindOf(unit) {
	case "group":
		return b.site.owner(idOf(unit))
	case "station":
		return idOf(unit)
	}
	return ""
}

// names lists tags, the ids of signals.
func (b *builder) names(ids []string) string {
	tags := make([]string, len(ids))
	for i, id := range ids {
		tags[i] = b.tag(id)
	}
	return strings.Join(tags, ", ")
}

func (b *builder) tag(id string) string {
	if t := b.tags[id]; t != "" {
		return t
	}
	return id
}
