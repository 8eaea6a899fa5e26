package plan

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/fit"
	"railwright/internal/formula"
	"railwright/internal/hardware"
	"railwright/internal/packing"
	"railwright/internal/project"
)

// layout writes a packed station as the design has it, with the working of its figures.
func (pr *problem) layout(b *built, book *formula.Book) design.Station {
	p := b.packed
	s := design.Station{
		ID: b.id, Name: b.site.place.Name + " " + ordinal(b.id), Place: b.site.place.ID, Construction: b.site.prices.Env.Construction.Code,
		Coupler: p.Coupler.Code, RailMM: int64(p.Rail), LogicCurrentMA: p.Logic.Milliamps(), LogicLimitMA: p.Coupler.LogicLimit.Milliamps(),
		InputBytes: p.InBytes, OutputBytes: p.OutBytes, HeatW: float64(p.Heat) / 1000, EndPiece: p.EndPiece, Enclosure: p.Enclosure.Code,
		Slots: []design.Slot{}, SupplyGroups: []design.SupplyGroup{},
	}
	for i := range p.Groups {
		s.SupplyGroups = append(s.SupplyGroups, pr.group(b, i))
	}
	for i := range p.Slots {
		s.Slots = append(s.Slots, pr.slot(b, i))
	}
	pr.explainStation(b, &s, book)
	return s
}

func ordinal(id string) string {
	if place := placeOfStation(id); place != "" {
		return id[len(place)+1:]
	}
	return id
}

func groupID(station string, n int) string { return fmt.Sprintf("%s-G%d", station, n+1) }

func (pr *problem) group(b *built, i int) design.SupplyGroup {
	g := &b.packed.Groups[i]
	out := design.SupplyGroup{
		ID: groupID(b.id, i), Group: i + 1, InfeedAt: g.InfeedSlot, FirstSlot: g.First, LastSlot: g.Last,
		LoadMA: g.Load.Milliamps(), LimitMA: g.Limit.Milliamps(), Class: g.Key.String(), Reason: g.Reason,
		Protection: g.Protection.Code, InfeedMM2: float64(pr.g.p.Basis.Supply.InfeedArea),
	}
	if g.AtCoupler {
		out.InfeedAt = "coupler"
	}
	if !fit.DC(g.Key.Voltage) {
		out.VoltageMinV = float64(pr.g.p.Power.FeederVoltage)
	}
	return out
}

func (pr *problem) slot(b *built, i int) design.Slot {
	from := &b.packed.Slots[i]
	s := design.Slot{Slot: i + 1, Module: from.Module.Code, Infeed: from.Infeed, SupplyGroup: groupID(b.id, from.Group), Channels: []design.Channel{}}
	if from.Base != nil {
		s.Base = from.Base.Code
	}
	used := map[[2]int]packing.Channel{}
	for _, c := range from.Used {
		used[[2]int{c.Set, c.Index}] = c
	}
	for si := range from.Module.Channels {
		set := &from.Module.Channels[si]
		for n := range set.Count {
			ch := design.Channel{Channel: set.Number(n), Kind: string(set.Kind), Terminals: map[string]string{}}
			if c, ok := used[[2]int{si, n}]; ok {
				signal := &pr.book.Signals[c.Signal]
				tag := signal.Tag
				ch.Signal, ch.SignalID = &tag, signal.ID
				ch.Terminals = terminals(signal, set, n)
			}
			s.Channels = append(s.Channels, ch)
		}
	}
	return s
}

// terminals returns the terminal of each function that the signal needs on channel n of the set.
func terminals(s *project.Signal, set *hardware.ChannelSet, n int) map[string]string {
	out := map[string]string{}
	for _, function := range fit.Conductors(s) {
		if t, ok := set.Terminal(function); ok {
			out[function] = set.Label(t, n)
		}
	}
	return out
}
