package plan

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/packing"
	"railwright/internal/siting"
)

// built is one station of the answer, named and packed.
type built struct {
	id      string
	site    *site
	signals []int // indices into the book's signals
	bundles []int
	packed  *packing.Station
}

// stationPrefix is what the ids of a place's stations begin with.
func stationPrefix(place string) string { return place + "-S" }

// placeOfStation reads the place out of a station id that was given by stationPrefix.
func placeOfStation(id string) string {
	if i := strings.LastIndex(id, "-S"); i > 0 {
		if _, err := strconv.Atoi(id[i+2:]); err == nil {
			return id[:i]
		}
	}
	return ""
}

// keepOrdinal notes the ordinal of an id that came from elsewhere.
func keepOrdinal(names *design.Names, prefix, id string) {
	if n, err := strconv.Atoi(strings.TrimPrefix(id, prefix)); err == nil && strings.HasPrefix(id, prefix) {
		names.Keep(prefix, n)
	}
}

// order is what packing is asked for a set of bundles at a site.
func (pr *problem) order(at int, bundles []int) (packing.Order, string) {
	o := packing.Order{Place: pr.sites[at].prices}
	station := ""
	for _, b := range bundles {
		o.Signals = append(o.Signals, pr.bundles[b].Signals...)
		if s := pr.stationOf(pr.bundles[b].Signals); s != "" {
			station = s
		}
	}
	slices.Sort(o.Signals)
	if station == "" {
		station = pr.vacant(at)
	}
	if station != "" {
		o.Fixed = pr.fixed(station, o.Signals)
	}
	return o, station
}

// vacant returns the first station fixed at the site to which no signal is fixed, or "".
func (pr *problem) vacant(at int) string {
	for _, s := range pr.sites[at].stations {
		if !pr.bound(s) {
			return s
		}
	}
	return ""
}

// bound reports whether a signal is fixed to the station.
func (pr *problem) bound(station string) bool {
	for _, s := range pr.g.choices.station {
		if s == station {
			return true
		}
	}
	return false
}

// fixed gathers what choices fix of a station.
func (pr *problem) fixed(station string, signals []int) packing.Fixed {
	c := pr.g.choices
	f := packing.Fixed{Coupler: c.coupler[station], Enclosure: c.enclosure[station], MaxIn: roomBehind(c.inputByte, station), MaxOut: roomBehind(c.outputByte, station), Protect: c.protection[station]}
	slots := c.slots[station]
	for n := 1; n <= len(slots); n++ {
		module, ok := slots[n]
		if !ok {
			break // a gap; reported by findGaps
		}
		_, base, _ := strings.Cut(module, "@")
		module, _, _ = strings.Cut(module, "@")
		f.Slots = append(f.Slots, packing.FixedSlot{Module: module, Base: base, Infeed: c.infeeds[station][n], Channels: map[int]int{}, Built: c.built(station, n)})
	}
	for _, i := range signals {
		s, ok := c.seat[pr.book.Signals[i].ID]
		if ok && s.station == station && s.slot <= len(f.Slots) {
			f.Slots[s.slot-1].Channels[s.channel] = i
		}
	}
	return f
}

// roomBehind returns how many bytes lie between the fixed first byte of a station and the next one fixed; 0
// where nothing limits it.
func roomBehind(first map[string]int, station string) int {
	own, ok := first[station]
	if !ok {
		return 0
	}
	room := 0
	for id, at := range first {
		if id != station && at > own && (room == 0 || at-own < room) {
			room = at - own
		}
	}
	return room
}

// built reports whether the slot is fixed because it is installed.
func (c *choices) built(station string, slot int) bool {
	return c.from[fmt.Sprintf("station:%s slot.%d", station, slot)].Origin == "built"
}

// findGaps reports fixed channels in slots that are not fixed themselves, and slots fixed with a gap
// before them: packing could not keep either.
func (pr *problem) findGaps() finding.List {
	c := pr.g.choices
	var out finding.List
	for _, station := range slices.Sorted(maps.Keys(c.slots)) {
		for _, n := range slices.Sorted(maps.Keys(c.slots[station])) {
			if n > len(c.slots[station]) {
				out = append(out, finding.Finding{
					Rule: "CHO-002", Severity: finding.Error, Subject: "station:" + station,
					Message: fmt.Sprintf("slot %d of %s is fixed, but not every slot before it.", n, station),
					Remedy:  finding.Remedy{Text: "Fix the slots from 1 on without a gap, or release this one."}, Source: "arithmetic",
				})
				break
			}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(c.seat)) {
		if s := c.seat[id]; s.slot > len(c.slots[s.station]) {
			out = append(out, finding.Finding{
				Rule: "CHO-003", Severity: finding.Error, Subject: "signal:" + id,
				Message: fmt.Sprintf("it is fixed to slot %d of %s, but no choice says which module is in that slot.", s.slot, s.station),
				Remedy: finding.Remedy{
					Text:   "Fix the slot's module as well.",
					Change: []finding.Change{{Subject: "station:" + s.station, Property: fmt.Sprintf("slot.%d", s.slot), Value: "MODULE-CODE"}},
				}, Source: "arithmetic",
			})
		}
	}
	return out
}

// confirm is siting.Confirm: the true cost of a station, by packing and by the feeders that it needs.
func (pr *problem) confirm(place int, bundles []int) (int64, bool) {
	o, id := pr.order(place, bundles)
	st, refusal := packing.Complete(o)
	if refusal != nil {
		return 0, false
	}
	st = pr.settle(&pr.sites[place], st, id)
	feeders, ok := pr.feedsBeyond(&pr.sites[place], st)
	return int64(st.Cost.Total + st.Cost.Changes + feeders), ok
}

// build names and packs the stations of siting's answer. A station that packing refuses (siting
// confirms every one, so only one with nothing else to be done) gives a finding and unplaced signals.
func (pr *problem) build(answer []siting.Station, previous *design.Design, names *design.Names, pack func([]packing.Order) []packed) ([]built, finding.List) {
	var out []built
	var orders []packing.Order
	for _, s := range answer {
		o, fixed := pr.order(s.Place, s.Bundles)
		if fixed != "" && slices.ContainsFunc(out, func(b built) bool { return b.id == fixed }) {
			fixed = ""
			o.Fixed = packing.Fixed{}
		}
		out = append(out, built{id: fixed, site: &pr.sites[s.Place], signals: o.Signals, bundles: s.Bundles})
		orders = append(orders, o)
	}
	pr.name(out, previous, names)
	var found finding.List
	var kept []built
	for i, p := range pack(orders) {
		if p.refusal != nil {
			found = append(found, refused(out[i].id, p.refusal))
			for _, sig := range out[i].signals {
				pr.leave(sig, p.refusal.Text, "not proven")
			}
			continue
		}
		out[i].packed = pr.settle(out[i].site, p.station, out[i].id)
		kept = append(kept, out[i])
	}
	slices.SortFunc(kept, func(a, b built) int { return cmp.Compare(a.id, b.id) })
	return kept, found
}

func refused(id string, r *packing.Refusal) finding.Finding {
	return finding.Finding{
		Rule: "STA-005", Severity: finding.Error, Subject: "station:" + id, Message: r.Text,
		Figures: map[string]finding.Figure{r.Limit: {Value: float64(r.Value), Unit: r.Unit}, "allowed": {Value: float64(r.Allowed), Unit: r.Unit}},
		Remedy:  finding.Remedy{Text: r.Remedy}, Source: "arithmetic",
	}
}

// name gives ids to the stations that no choice names: that of the previous station at the same
// place with which one has most signals in common, else the next ordinal of the place.
func (pr *problem) name(out []built, previous *design.Design, names *design.Names) {
	taken := map[string]bool{}
	for _, b := range out {
		if b.id != "" {
			taken[b.id] = true
			keepOrdinal(names, stationPrefix(b.site.place.ID), b.id)
		}
	}
	old := map[string][]string{}
	if previous != nil {
		for _, s := range previous.Stations {
			if taken[s.ID] {
				continue
			}
			for _, id := range stationSignals(s) {
				old[s.ID] = append(old[s.ID], s.Place+"\x00"+id)
			}
		}
	}
	sets := make([][]string, len(out))
	for i, b := range out {
		if b.id == "" {
			for _, s := range b.signals {
				sets[i] = append(sets[i], b.site.place.ID+"\x00"+pr.book.Signals[s].ID)
			}
		}
	}
	matched := design.Match(old, sets)
	for i := range out {
		if out[i].id == "" {
			out[i].id = matched[i]
		}
		if out[i].id == "" {
			out[i].id = names.Next(stationPrefix(out[i].site.place.ID), 1)
		}
	}
}

func stationSignals(s design.Station) []string {
	var ids []string
	for _, sl := range s.Slots {
		for _, c := range sl.Channels {
			if c.Signal != nil {
				ids = append(ids, c.SignalID)
			}
		}
	}
	return ids
}
