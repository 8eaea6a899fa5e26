package plan

import (
	"fmt"

	"railwright/internal/cabling"
	"railwright/internal/calc/count"
	"railwright/internal/design"
	"railwright/internal/fit"
	"railwright/internal/formula"
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
		if !needsFeeder(b, class) {
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
func needsFeeder(b *built, class string) bool {
	if class == "normal" {
		return true
	}
	for i := range b.packed.Groups {
		if b.packed.Groups[i].Key.Supply == class {
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

// feeder lays the feeder of one supply class and chooses its protective device.
func (pr *problem) feeder(b *built, class string, w *work) (string, error) {
	from := b.site.feeder
	if class == "ups" {
		from = b.site.ups
	}
	volts := pr.g.p.Power.FeederVoltage
	id := fmt.Sprintf("%s-A%d", b.id, w.next("A", b.id))
	var current q.Microamps
	var parts []formula.Arg
	for _, pick := range b.packed.Supplies {
		if pick.Class == class {
			in := power.InputCurrent(pick.Unit, volts) * q.Microamps(pick.Count)
			current += in
			cid := fmt.Sprintf("feeder:%s.%s", id, pick.Unit.Code)
			w.calc.Eval(cid, count.FeederCurrent,
				formula.Arg{Value: pick.Unit.Output.Milliamps() * float64(pick.Count), From: "hardware:" + pick.Unit.Code + ".output_ma"},
				formula.Arg{Value: float64(pick.Unit.Voltage), From: "hardware:" + pick.Unit.Code + ".voltage_v"},
				formula.Arg{Value: float64(pick.Unit.Efficiency) / 10, From: "hardware:" + pick.Unit.Code + ".efficiency_percent"},
				formula.Arg{Value: float64(volts), From: "project:power.feeder_voltage_v"})
			parts = append(parts, formula.Arg{Name: pick.Unit.Code, Value: in.Milliamps(), From: "calc:" + cid})
		}
	}
	for i := range b.packed.Groups {
		if g := &b.packed.Groups[i]; !fit.DC(g.Key.Voltage) && feedOf(g) == class {
			current += g.Load
			parts = append(parts, formula.Arg{Name: "group " + decimal(i+1), Value: g.Load.Milliamps(), From: "calc:group:" + groupID(b.id, i) + ".load"})
		}
	}
	device, ok := power.Protection(pr.g.list, current, pr.g.allowed)
	if !ok {
		return "", &Impossible{
			fmt.Sprintf("The feeder of %s carries %s and no AC protective device of the hardware list is rated for it.", b.id, current),
			"Add a larger device to hardware.toml or allow more stations at " + b.site.place.ID + ".",
		}
	}
	w.calc.Eval("feeder:"+id+".current", count.Currents, parts...)
	cable := design.Cable{
		ID: w.cableIDs("supply", [][]string{{"board:" + from.From + ">station:" + b.id + " " + class}}, func(int) string { return from.From })[0], From: "board:" + from.From, To: "station:" + b.id, Use: "supply", Type: from.Cable.Code,
		Cores: from.Cable.Cores, AreaMM2: float64(from.Cable.Area), LengthM: from.Laid.Metres(), OrderM: from.Ordered.Metres(),
		Route: orEmpty(from.Route), Signals: []string{},
	}
	cable.Name = cable.ID
	w.d.Cables = append(w.d.Cables, cable)
	way, _ := pr.g.way(from.From, b.site.place.ID)
	pr.explainCable(&w.calc, cable, from.From, b.site.place.ID, way, "allow_station_m")
	w.d.Feeders = append(w.d.Feeders, design.Feeder{
		ID: id, From: from.From, Station: b.id, Class: class, Cable: cable.ID, Protection: id + "-F", VoltageV: float64(volts),
		CurrentA: float64(current.Current()), DropV: feederDrop(from.Cable, from.Laid, current),
	})
	w.d.Protections = append(w.d.Protections, design.Protection{
		ID: id + "-F", Type: device.Code, Protects: "feeder:" + id, RatingA: float64(device.Rating.Current()), LoadA: float64(current.Current()),
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
