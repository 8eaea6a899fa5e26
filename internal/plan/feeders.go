package plan

import (
	"fmt"

	"railwright/internal/cabling"
	"railwright/internal/design"
	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/packing"
	"railwright/internal/power"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// supplies writes the supply units, feeders, protections and infeed wires of a station.
func (pr *problem) supplies(b *built, w *work) error {
	st := w.station(b.id)
	feeders := map[string]string{}
	for _, class := range []string{"normal", "ups"} {
		if !needsFeeder(b.packed, class) {
			continue
		}
		id, err := pr.feeder(b, class, w)
		if err != nil {
			return err
		}
		feeders[class] = id
	}
	for _, pick := range b.packed.Supplies {
		for n := range pick.Count {
			id := fmt.Sprintf("%s-U%d", b.id, w.next("U", b.id))
			w.d.Supplies = append(w.d.Supplies, design.Supply{
				ID: id, Station: b.id, Class: pick.Class, Type: pick.Unit.Code, LoadMA: pick.Load.Milliamps(), NeedMA: pick.Need.Milliamps(),
				LimitMA: pick.Output.Milliamps(), Units: pick.Count, Feeder: feeders[pick.Class],
				LossW: loss(pick) / float64(pick.Count),
			})
			if n == 0 {
				pr.explainSupply(b, pick, id, &w.calc)
			}
			st.HeatW += loss(pick) / float64(pick.Count)
		}
	}
	for i := range b.packed.Groups {
		g := &b.packed.Groups[i]
		id := fmt.Sprintf("%s-F%d", b.id, w.next("F", b.id))
		gid := groupID(b.id, i)
		w.d.Protections = append(w.d.Protections, design.Protection{
			ID: id, Type: g.Protection.Code, Protects: "group:" + gid, RatingA: float64(g.Protection.Rating.Current()), LoadA: float64(g.Load.Current()),
		})
		w.d.Wires = append(w.d.Wires, cabling.InfeedWires(b.id, st.SupplyGroups[i], id)...)
	}
	return nil
}

// needsFeeder reports whether the station has a feeder of the class: the normal one always, the ups
// one where a ups group stands.
func needsFeeder(st *packing.Station, class string) bool {
	if class == "normal" {
		return true
	}
	for i := range st.Groups {
		if st.Groups[i].Key.Supply == class {
			return true
		}
	}
	return false
}

// loss is what supply units turn into heat at the feed's load.
func loss(pick tariff.SupplyPick) float64 {
	if pick.Unit.Efficiency <= 0 {
		return 0
	}
	out := float64(pick.Load.Current()) * float64(pick.Unit.Voltage)
	return round3(out * (1000/float64(pick.Unit.Efficiency) - 1))
}

func round3(v float64) float64 { return float64(int64(v*1000+0.5)) / 1000 }

// feed is one feeder of a packed station, sized.
type feed struct {
	from   power.Feeder // from which board, over which way; its cable is the cheapest of all
	need   power.Need
	device *hardware.Protection
	cable  *hardware.Cable
}

// beyond is what the feed costs more than the cheapest cable and device, which the site's price holds.
func (f *feed) beyond(cheapest q.Money) q.Money {
	return f.device.Price - cheapest + f.cable.Price.Of(f.from.Ordered) - f.from.Cable.Price.Of(f.from.Ordered)
}

// feedFor sizes the feeder of one supply class of a packed station; false where no protective device
// carries it.
func (pr *problem) feedFor(s *site, st *packing.Station, class string) (feed, bool) {
	f := feed{from: s.feeder}
	if class == "ups" {
		f.from = s.ups
	}
	for _, pick := range st.Supplies {
		if pick.Class == class {
			f.need.Current += power.InputCurrent(pick.Unit, pr.g.p.Power.FeederVoltage) * q.Microamps(pick.Count)
			f.need.Inrush += q.ToMicroamps(pick.Unit.Inrush) * q.Microamps(pick.Count)
		}
	}
	for i := range st.Groups {
		if g := &st.Groups[i]; !fit.DC(g.Key.Voltage) && feedOf(g) == class {
			f.need.Current += g.Load
		}
	}
	f.need.Laid, f.need.Ambient = f.from.Laid, s.prices.Site.Ambient
	pair, ok := power.Sized(pr.g.list, pr.g.p, f.need, f.from.Ordered, pr.g.allowed)
	f.device, f.cable = pair.Device, pair.Cable
	return f, ok
}

// feedsBeyond is what the feeders of a packed station cost more than the site's price holds.
func (pr *problem) feedsBeyond(s *site, st *packing.Station) (q.Money, bool) {
	cheapest, ok := power.Protection(pr.g.list, 0, pr.g.allowed)
	if !ok {
		return 0, false
	}
	var sum q.Money
	for _, class := range []string{"normal", "ups"} {
		if !needsFeeder(st, class) {
			continue
		}
		f, ok := pr.feedFor(s, st, class)
		if !ok {
			return 0, false
		}
		sum += f.beyond(cheapest.Price)
	}
	return sum, true
}

// feeder lays the feeder of one supply class and writes its protective device.
func (pr *problem) feeder(b *built, class string, w *work) (string, error) {
	f, ok := pr.feedFor(b.site, b.packed, class)
	if !ok {
		return "", &Impossible{
			fmt.Sprintf("The feeder of %s carries %s and no AC protective device of the hardware list is rated for it.", b.id, f.need.Current),
			"Add a larger device to hardware.toml or allow more stations at " + b.site.place.ID + ".",
		}
	}
	id := fmt.Sprintf("%s-A%d", b.id, w.next("A", b.id))
	pr.explainFeeder(b, class, id, &w.calc)
	from, volts := f.from, pr.g.p.Power.FeederVoltage
	cable := design.Cable{
		ID:   w.cableIDs("supply", [][]string{{"board:" + from.From + ">station:" + b.id + " " + class}}, func(int) string { return from.From })[0],
		From: "board:" + from.From, To: "station:" + b.id, Use: "supply", Type: f.cable.Code,
		Cores: f.cable.Cores, AreaMM2: float64(f.cable.Area), LengthM: from.Laid.Metres(), OrderM: from.Ordered.Metres(),
		Route: orEmpty(from.Route), Signals: []string{},
	}
	cable.Name = cable.ID
	w.d.Cables = append(w.d.Cables, cable)
	way, _ := pr.g.way(from.From, b.site.place.ID)
	pr.explainCable(&w.calc, cable, from.From, b.site.place.ID, way, "allow_station_m")
	current := f.need.Current
	w.d.Feeders = append(w.d.Feeders, design.Feeder{
		ID: id, From: from.From, Station: b.id, Class: class, Cable: cable.ID, Protection: id + "-F", VoltageV: float64(volts),
		CurrentA: float64(current.Current()), DropV: feederDrop(f.cable, from.Laid, current),
	})
	w.d.Protections = append(w.d.Protections, design.Protection{
		ID: id + "-F", Type: f.device.Code, Protects: "feeder:" + id, RatingA: float64(f.device.Rating.Current()), LoadA: float64(current.Current()),
	})
	return id, nil
}

// feedOf is the supply class that feeds a group: ups, or normal for everything else.
func feedOf(g *packing.Group) string {
	if g.Key.Supply == "ups" {
		return "ups"
	}
	return "normal"
}

// feederDrop is the voltage that both cores lose at the feeder's current and hot copper, rounded to
// 1 mV.
func feederDrop(c *hardware.Cable, laid q.Millimetres, i q.Microamps) float64 {
	return round3(float64(cabling.Drop(c, laid, i)))
}
