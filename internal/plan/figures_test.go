package plan_test

import (
	"math"
	"testing"

	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/plan"
)

// Figures of a small project worked out by hand, beside the program: the constants stand as numbers, not
// as calls of the handbook.
func TestFiguresByHand(t *testing.T) {
	f := folder.Parse(folder.Files{
		"project.toml": []byte("format = 1\n[project]\nname = \"x\"\n[basis]\nconstruction = \"rail\"\n[network]\nprofile = \"ethernet-fibre\"\n" +
			"[[place]]\nid = \"A\"\ncontroller = true\ncandidate = true\npower_source = true\n[[place]]\nid = \"B\"\n[[route]]\nfrom = \"A\"\nto = \"B\"\nlength_m = 200\n"),
		"signals.csv": []byte("tag,kind,form,place,current_ma,wires,sensor,range_low,range_high,hart,active,load_ohm,leakage_ma\n" +
			"XY-1,DO,24v,B,250,,,,,,,,\n" +
			"ZS-1,DI,2-wire,B,,,,,,,,,1.2\n" +
			"XS-1,DI,230vac,B,,,,,,,,,\n" +
			"TE-1,RTD,resistance,B,,2,Pt100,0,100,,,,\n" +
			"TE-2,RTD,resistance,B,,3,Pt100,0,100,,,,\n" +
			"LT-1,AI,4-20ma,B,,2,,0,10,yes,passive,50,\n" +
			"FY-1,AO,4-20ma,B,,,,0,100,,,300,\n" +
			"FQ-1,CNT,pulse-24v,B,,,,,,,,,\n"),
	})
	d, err := plan.Run(f.Project, hardware.Builtin(), plan.Options{Steps: 200})
	if err != nil {
		t.Fatal(err)
	}
	list := hardware.Builtin()
	v := func(id string) float64 {
		r, ok := d.Calculations[id]
		if !ok {
			t.Errorf("no calculation %s", id)
		}
		return r.Result.Value
	}
	in := func(id, name string) float64 { return d.Calculations[id].Inputs[name].Value }
	st := d.Stations[0]
	group := func(signal string) string {
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				if c.SignalID == signal && c.Signal != nil {
					return "group:" + sl.SupplyGroup
				}
			}
		}
		return ""
	}
	const (
		laid   = 204.0                          // 200 m, 2 m at either end
		hot75  = 26.0 * (1 + 0.00393*50) / 1000 // ohm/m: IEC 60228 class 5, 0.75 mm2, at 70 degC
		warm75 = 26.0 * (1 + 0.00393*20) / 1000 // at 40 degC
		hot15  = 13.3 * (1 + 0.00393*50) / 1000 // class 5, 1.5 mm2
		feed25 = 7.41 * (1 + 0.00393*50) / 1000 // class 1, 2.5 mm2
		board  = 2.0*2 + 10                     // m of feeder: the place's own way and both allowances
		mains  = 230.0
		omega  = 2 * math.Pi * 50
		cable  = 150e-12 * laid // F: core against core
	)
	load := v(group("XY-1")+".load") / 1000 // A
	atGroup := 23.5 - 2*2*hot15*load
	inside := st.InsideMaxC
	e, _ := list.Enclosure(st.Enclosure)
	h, w, dep := e.Height.Metres(), e.Width.Metres(), e.Depth.Metres()
	surface := h*w*(0.9+0.5) + 2*h*dep*0.9 + w*dep*1.4
	for _, c := range []struct {
		id   string
		want float64
	}{
		{group("XY-1") + ".voltage", atGroup},
		{"signal:XY-1.device", atGroup - 0.5 - 0.250*2*laid*hot15},
		{"signal:ZS-1.on", v(group("ZS-1")+".voltage") - 8 - in("signal:ZS-1.on", "current")/1000*2*laid*hot75},
		{"signal:ZS-1.off", 1.5 - 1.2},
		{"signal:XS-1.coupled", 253 * omega * cable * 40000 / math.Hypot(1, omega*cable*40000)},
		{"signal:TE-1.lead", 2 * laid * warm75},
		{"signal:TE-1.lead_error", 2 * laid * warm75 / (100 * (3.9083e-3 - 2*5.775e-7*100))},
		{"signal:TE-2.lead_error", laid * warm75 * 0.02 / (100 * (3.9083e-3 - 2*5.775e-7*100))},
		{"signal:LT-1.transmitter", 19.2 - 0.022*(250+2*laid*hot75+50)},
		{"signal:LT-1.hart_r", 250 + 2*laid*hot75 + 50},
		{"signal:LT-1.hart_rc", (250 + 2*laid*hot75 + 50) * (5e-9 + in("signal:LT-1.hart_rc", "cable")*1e-12*laid) * 1e6},
		{"signal:FY-1.load", 300 + 2*laid*hot75},
		{"signal:FQ-1.fall", 6000 * in("signal:FQ-1.fall", "c") * 1e-12 * laid * math.Log(28.8/5) * 1e6},
		{"feeder:A-S1-A1.at_load", mains - 2*board*feed25*d.Feeders[0].CurrentA},
		{"feeder:A-S1-A1.fault_min", mains * 0.9 / (0.5 + 2*board*feed25)},
		{"feeder:A-S1-A1.ampacity", 21 * 1 * 0.79}, // IEC 60204-1 table 6, C: 21 A at 40 degC; three circuits 0.79
		{"station:A-S1.surface", surface},
		{"station:A-S1.inside_max", 40 + st.HeatW/(5.5*surface)},
		{group("XY-1") + ".ampacity", 13.5 * (1 - 0.018*(inside-40))}, // B1: 13.5 A; table D.1 falls 0.018 per kelvin from 40 to 50 degC
		{"supply:A-S1-U1.short", 3.5},
		{"station:A-S1.input_load", 100 * math.Max(84, float64(v("station:A-S1.input_bytes"))+48) * 8 / (100e6 * 0.010)},
	} {
		if got := v(c.id); math.Abs(got-c.want) > 1e-6*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s is %v, by hand %v", c.id, got, c.want)
		}
	}
	if load < 0.25 || load > 0.5 || inside < 40 || inside > 50 {
		t.Errorf("the case has moved: load %v A, inside %v degC", load, inside)
	}
}
