package synth

import (
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// template is a sort of device with the signals that it brings.
type template struct {
	letters string
	weight  int
	plain   bool
	make    func(b *builder, place, device string)
}

func amps(v float64) q.Opt[q.Current] { return q.Some(q.Current(v)) }

var templates = []template{
	{"XV", 20, true, func(b *builder, place, device string) {
		b.add(place, device, "ZSO", project.Signal{Kind: project.DI, Form: "contact"})
		b.add(place, device, "ZSC", project.Signal{Kind: project.DI, Form: "contact"})
		b.add(place, device, "XY", project.Signal{Kind: project.DO, Form: "24v", Current: amps(0.1 + 0.05*float64(b.from.Intn(7)))})
	}},
	{"M", 12, true, func(b *builder, place, device string) {
		b.add(place, device, "RUN", project.Signal{Kind: project.DI, Form: "contact"})
		b.add(place, device, "FLT", project.Signal{Kind: project.DI, Form: "contact", Contact: "NC"})
		b.add(place, device, "STA", project.Signal{Kind: project.DO, Form: "relay", Current: amps(0.2), Voltage: q.Some(q.Voltage(24))})
	}},
	{"LT", 15, true, func(b *builder, place, device string) {
		b.add(place, device, "PV", project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive"})
	}},
	{"PT", 10, true, func(b *builder, place, device string) {
		b.add(place, device, "PV", project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive", HART: b.from.Intn(2) == 0})
	}},
	{"FT", 5, true, func(b *builder, place, device string) {
		b.add(place, device, "PV", project.Signal{Kind: project.AI, Form: "4-20ma", Active: "active", Wires: 4})
	}},
	{"FV", 5, true, func(b *builder, place, device string) {
		b.add(place, device, "SP", project.Signal{Kind: project.AO, Form: "4-20ma"})
	}},
	{"LS", 10, true, func(b *builder, place, device string) {
		b.add(place, device, "SW", project.Signal{Kind: project.DI, Form: []string{"pnp", "contact", "2-wire"}[b.from.Intn(3)]})
	}},
	{"TT", 5, true, func(b *builder, place, device string) {
		b.add(place, device, "PV", project.Signal{Kind: project.RTD, Form: "resistance", Sensor: "Pt100", Wires: 3})
	}},
	{"TE", 3, false, func(b *builder, place, device string) {
		b.add(place, device, "PV", project.Signal{Kind: project.TC, Form: "millivolt", Sensor: []string{"K", "J"}[b.from.Intn(2)]})
	}},
	{"FQ", 3, false, func(b *builder, place, device string) {
		b.add(place, device, "PLS", project.Signal{Kind: project.CNT, Form: "pulse-24v"})
	}},
	{"AT", 2, false, func(b *builder, place, device string) {
		b.add(place, device, "BUS", project.Signal{Kind: project.SER, Form: "rs485"})
	}},
	{"GS", 3, false, func(b *builder, place, device string) {
		b.add(place, device, "SW", project.Signal{Kind: project.DI, Form: "namur"})
	}},
	{"EX", 2, false, func(b *builder, place, device string) {
		b.add(place, device, "SW", project.Signal{Kind: project.DI, Form: "namur", ExLevel: "ia", ExZone: "1", ExGas: "IIC"})
	}},
	{"HS", 2, false, func(b *builder, place, device string) {
		b.add(place, device, "IN", project.Signal{Kind: project.DI, Form: "230vac"})
		b.add(place, device, "OUT", project.Signal{Kind: project.DO, Form: "230vac", Current: amps(0.2)})
	}},
	{"SV", 2, false, func(b *builder, place, device string) {
		b.add(place, device, "XY", project.Signal{Kind: project.DO, Form: "24v", Current: amps(0.3), SupplyClass: "safety:STOP"})
	}},
	{"UA", 2, false, func(b *builder, place, device string) {
		b.add(place, device, "SW", project.Signal{Kind: project.DI, Form: "contact", SupplyClass: "ups"})
	}},
	{"FD", 2, false, func(b *builder, place, device string) {
		b.add(place, device, "SW", project.Signal{Kind: project.DI, Form: "contact", Segregate: []string{"FIRE", "TRAIN-B"}[b.from.Intn(2)]})
	}},
	{"LR", 3, false, func(b *builder, place, device string) {
		x := b.add(place, device+"A", "PV", project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive"}).ID
		y := b.add(place, device+"B", "PV", project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive", RedundantWith: []string{x}}).ID
		b.p.Signals[len(b.p.Signals)-2].RedundantWith = []string{y}
	}},
}
