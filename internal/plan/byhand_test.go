package plan_test

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"railwright/internal/checker"
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/project"
)

// Copper as a handbook has it, in ohm per metre of one core. Resistances at 20 degC: IEC 60228 (class 5,
// and class 1 or 2 of feeders); 0.393 % for each kelvin (IEC 60287-1-1). "Hot" is 70 degC, the limit of PVC.
const (
	r075    = 31.109e-3 // 26.0 ohm/km x 1.1965
	r15     = 15.913e-3 // 13.3 x 1.1965
	r25     = 9.548e-3  // 7.98 x 1.1965
	rMains  = 14.478e-3 // 1.5 mm2 class 1: 12.1 x 1.1965
	rFeed25 = 8.866e-3  // 2.5 mm2 class 1: 7.41 x 1.1965
	rFeed4  = 5.516e-3  // 4 mm2 class 1: 4.61 x 1.1965
	rFeed10 = 2.190e-3  // 10 mm2 class 2: 1.83 x 1.1965
	// Wire gauge 18 is 0.127 x 92^(18/39) = 1.0237 mm thick, 0.8231 mm2 (ASTM B258): 17.241 / 0.8231 x 1.02 for
	// tolerance and stranding x 1.1965. An odd 0.6 mm2 of class 5 has at most 16 % more than solid copper.
	rGauge18 = 25.564e-3
	r06      = 39.882e-3 // 17.241 / 0.6 x 1.16 x 1.1965
	r075At   = 28.044e-3 // 0.75 mm2 at 40 degC: 26.0 x 1.0786
)

// byHand is one figure that an engineer who had not read the program worked out with a pocket
// calculator: from the standards, the list, the project and the data sheet figures of the parts only.
type byHand struct {
	figure string // calculation of the design
	hand   float64
}

// handCase is a project of testdata/byhand. Says names the findings that the hand calculation expects, as
// RULE SUBJECT; of these rules there are no others.
type handCase struct {
	project string
	figures []byHand
	says    []string
}

// Every figure of these circuits agrees with the hand calculation within 0.5 % (the digits that the
// constants above carry allow some 0.05 %).
func TestCircuitsByHand(t *testing.T) {
	for _, c := range handCases() {
		t.Run(c.project, func(t *testing.T) {
			d := planFolder(t, filepath.Join("testdata", "byhand", c.project))
			if len(d.Unplaced) > 0 {
				t.Fatalf("unplaced: %v", d.Unplaced)
			}
			for _, f := range c.figures {
				r, ok := d.Calculations[cableFigure(d, f.figure)]
				if !ok {
					t.Errorf("no calculation %s", f.figure)
					continue
				}
				if got := r.Result.Value; math.Abs(got-f.hand) > 0.005*math.Abs(f.hand)+1e-9 {
					t.Errorf("%s is %.6g, by hand %.6g (%+.2f %%)", f.figure, got, f.hand, 100*(got/f.hand-1))
				}
			}
			found, rules := map[string]bool{}, map[string]bool{}
			for _, s := range c.says {
				rules[strings.Fields(s)[0]] = true
			}
			for _, f := range d.Findings {
				if rules[f.Rule] && f.Severity != finding.Info {
					found[f.Rule+" "+f.Subject] = true
				}
			}
			for _, s := range c.says {
				if !found[s] {
					t.Errorf("no finding %s", s)
				}
				delete(found, s)
			}
			for s := range found {
				t.Errorf("finding %s, which the hand calculation does not have", s)
			}
		})
	}
}

// The checker, which shares no code with the planner, finds nothing against these plans: it comes to the same
// cables and devices by docs/plan-rules.md alone.
func TestHandProjectsKeepTheLaws(t *testing.T) {
	for _, c := range handCases() {
		t.Run(c.project, func(t *testing.T) {
			p, list, d := planOf(t, filepath.Join("testdata", "byhand", c.project))
			data, err := design.Encode(d)
			if err != nil {
				t.Fatal(err)
			}
			for i, bad := range checker.Check(p, list, data, checker.Options{}) {
				if i < 5 {
					t.Error(bad)
				}
			}
		})
	}
}

func planFolder(t *testing.T, dir string) *design.Design {
	t.Helper()
	_, _, d := planOf(t, dir)
	return d
}

func planOf(t *testing.T, dir string) (*project.Project, *hardware.List, *design.Design) {
	t.Helper()
	f, err := folder.Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	list := hardware.Builtin()
	if f.Hardware != nil {
		own, found := hardware.Load(list, folder.HardwareFile, f.Hardware)
		if len(found) > 0 {
			t.Fatal(found)
		}
		list = own
	}
	d, err := plan.Run(f.Project, list, plan.Options{Steps: 200})
	if err != nil {
		t.Fatal(err)
	}
	return f.Project, list, d
}

// cableFigure turns "cable of SIGNAL.loop" into "cable:ID.loop": cables are numbered by the plan.
func cableFigure(d *design.Design, figure string) string {
	of, ok := strings.CutPrefix(figure, "cable of ")
	if !ok {
		return figure
	}
	signal, key, _ := strings.Cut(of, ".")
	for _, c := range d.Cables {
		for _, s := range c.Signals {
			if s == signal {
				return "cable:" + c.ID + "." + key
			}
		}
	}
	return figure
}

// Sums over modules below are of the parts' own figures: current from the group, logic current (of which
// 0.245 comes out of the 24 V), heat.
func handCases() []handCase {
	const (
		// valves: 250, 400, 250, 250, 40 mA and 10 mA of the module; 2 m of 1.5 mm2 to the infeed point
		valves = 1.200
		atG    = 23.5 - 2*2*r15*valves
		// inputs: 2.5 for each of four inputs and 3 for that of type 1 are 3 x 2.5 + 3 = 10.5, NAMUR 8, the
		// three-wire sensor's own 15; modules 8, 12, 20
		inputs = 0.0735
		atI    = 23.5 - 2*2*r15*inputs
		mains  = 253 * 2 * math.Pi * 50 * 150e-12 * 40000 // 230 V + 10 %, 150 pF/m, 40 V / 1 mA is 40 kohm
		x300   = 2 * math.Pi * 50 * 150e-12 * 304 * 40000
		x60    = 2 * math.Pi * 50 * 150e-12 * 60 * 40000
		// pulses: 2 x (30 + 4) + 18 mA; 100 pF/m over 124 m against 6 kohm
		atP = 23.5 - 2*2*r15*0.086
		rc  = 6000 * 100e-12 * 124
		// three wires: module 8, 90 + 2.5; module 32, 60 + 22
		atW       = 23.5 - 2*2*r15*0.2145
		atE       = 23.5 - 2*2*r15*0.088
		rcEncoder = 3000 * 120e-12 * 124
		// loops, heat: coupler 2.5; modules 1.7, 1.3, 1.6, 1, 2.2; device 0.175; unit 88 % at 24 V x (130 mA
		// coupler + 444 mA logic x 0.245 + 176 mA modules + 5 loops of 22 mA). Enclosure 400 x 400 x 210 on a wall.
		loopHeat = 2.5 + 1.7 + 1.3 + 1.6 + 1 + 2.2 + 0.175 + 0.52478*24*(1/0.88-1)
		wall400  = 1.4*0.4*(0.4+0.21) + 1.8*0.21*0.4
		loopIn   = 40 + loopHeat/(5.5*wall400)
		// mains: lowest mains at the infeed point; the supply unit is counted at full output
		atMains = 207 - 2*144*rFeed25*(0.9+60/0.88/230) - 2*2*r15*0.9
		// climate, out: 10 valves and 14 mA in the group, 130 mA coupler, 88 mA logic x 0.245
		outLoad = 5.014 + 0.130 + 0.088*0.245
		outHeat = 2.5 + 2.32 + 0.45 + outLoad*24*(1/0.925-1)
		// hot: 6 valves and 10 mA; the unit of class ups could carry coupler and logic (115 mA) as well
		hotLoad = 4.210 + 0.130 + 0.115*0.245
		hotUPS  = 0.0105 + 0.130 + 0.115*0.245
		hotHeat = 2.5 + 3.2 + 0.6 + 0.45 + 0.175 + hotLoad*24*(1/0.925-1) + hotUPS*24*(1/0.88-1)
		hotIn   = 53 + hotHeat/(5.5*wall400)
		// protections: 3 x 0.5 A and 10 mA over 40 m
		atProt = 23.5 - 2*40*r15*1.510
		// bus: each station sends 2 + 16 + 2 bytes and gets 1
		cycle = (380+300*5+11*105)/0.09375 + 75
	)
	lead := func(slope float64) float64 { return 2 * 124 * r075At / slope }
	return []handCase{
		{"valves", []byHand{
			{"group:F1-S1-G1.load", 1000 * valves},
			{"group:F1-S1-G1.voltage", atG},
			{"signal:XV-1.device", atG - 0.5 - 0.250*2*124*r15},
			{"signal:XV-2.device", atG - 0.5 - 0.400*2*124*r15},
			{"signal:XV-3.device", atG - 0.5 - 0.250*2*304*r25},
			{"signal:XV-4.device", atG - 0.5 - 0.250*2*304*r15},
			{"signal:XV-5.device", atG - 0.5 - 0.040*2*304*r075},
			{"cable of XV-3.loop", 2 * 304 * r25},
			{"cable of XV-3.ordered", 325.3}, // 304 x 1.07 = 325.28
			// electronic device 2 A: trips at 3 A; a unit of 2.5 A gives 3.5 A into a short, though 23.5 V / 64 mohm
			// would drive 369 A
			{"group:F1-S1-G1.trip", 3},
			{"group:F1-S1-G1.fault_min", 3.5},
		}, []string{"OUT-001 signal:XV-4"}},
		{"gauges", []byHand{
			{"cable of XV-1.loop", 2 * 124 * rGauge18},
			{"cable of XV-2.loop", 2 * 124 * r06},
			// XV-3 states no cable: the gauge is the cheapest that does
			{"cable of XV-3.loop", 2 * 124 * rGauge18},
			// 100 + 2 x 150 + 450 mA and the module's 10 mA in the group
			{"signal:XV-1.device", 23.5 - 2*2*r15*0.860 - 0.5 - 0.100*2*124*rGauge18},
			{"signal:XV-2.device", 23.5 - 2*2*r15*0.860 - 0.5 - 0.150*2*124*r06}, // 21.5 V of 22.2
			// 450 mA may have some 4.7 ohm: the gauge has 6.3, 1 mm2 5.8; 1.5 mm2 3.9
			{"cable of XV-4.loop", 2 * 124 * r15},
		}, []string{"OUT-001 signal:XV-2"}},
		{"loops", []byHand{
			{"signal:LT-1.transmitter", 19.2 - 0.022*(250+2*304*r075)},
			{"signal:LT-2.transmitter", 19.2 - 0.022*(250+2*304*r075+300)},
			{"signal:LT-3.transmitter", 19.2 - 0.022*(100+2*124*r075+150)},
			{"signal:LT-1.hart_r", 250 + 2*304*r075},
			{"signal:LT-1.hart_rc", 1e6 * (250 + 2*304*r075) * (5e-9 + 304*120e-12)}, // screened pair: 120 pF/m
			{"signal:LT-2.hart_rc", 1e6 * (550 + 2*304*r075) * (5e-9 + 304*120e-12)},
			{"signal:PT-6.error", 100 * 2 * 304 * r075 / 100000},
			{"signal:FY-1.load", 250 + 2*304*r075},
			{"signal:FY-2.load", 550 + 2*124*r075},
			{"station:F1-S1.surface", wall400},
			{"station:F1-S1.inside_max", loopIn},
			// module: 0.05 % and 50 ppm/K from 25 degC on
			{"signal:LT-1.module_error", 6 * (0.0005 + 50e-6*(loopIn-25))},
			{"signal:PT-6.module_error", 10 * (0.001 + 50e-6*(loopIn-25))},
			{"signal:LT-1.resolution", 6.0 / 65536},
			// the coupler's 4 bytes and 8 + 8 + 16 + 8, and 48 round them: 92 bytes in 10 ms at 100 Mbit/s
			{"station:F1-S1.input_load", 100 * 92 * 8 / (100e6 * 0.010)},
			// filter 20, coupler 1, update 10, scan 20; output 5 of the current output
			{"station:F1-S1.reaction.ai4-hart.AI", 20 + 2*1 + 2*10 + 2*20 + 5},
		}, []string{"LOP-002 signal:LT-2", "LOP-002 signal:LT-3", "LOP-006 signal:FY-2"}},
		{"inputs", []byHand{
			{"group:F1-S1-G1.load", 1000 * inputs},
			{"signal:ZS-1.on", atI - 8 - 0.0025*2*124*r075},
			{"signal:ZS-1.off", 1.5 - 0.6},
			{"signal:ZS-2.on", atI - 8 - 0.003*2*304*r075}, // 15.42 V: enough for type 1
			{"signal:ZS-2.off", 0.5 - 1.2},
			{"signal:ZS-3.device", atI - (2*0.015+0.0025)*304*r075}, // the plus core carries the input's 2.5 mA too
			{"signal:ZS-3.on", atI - 3.5 - (0.015+2*0.0025)*304*r075},
			{"signal:ZS-5.on", atI - 0.0025*2*304*r075},
			{"cable of ZS-4.loop", 2 * 304 * r075}, // 18.9 ohm of 50
			{"signal:XS-6.coupled", mains * 304 / math.Sqrt(1+x300*x300)},
			{"signal:XS-7.coupled", mains * 60 / math.Sqrt(1+x60*x60)}, // 28 V: still a 0
			// a short at the mains group: 207 V, board 0.5 ohm, 144 m feeder, 2 m infeed; breaker B6 trips at 30 A
			{"group:F1-S1-G2.fault_min", 207 / (0.5 + 2*144*rFeed25 + 2*2*r15)},
			{"group:F1-S1-G2.trip", 30},
			{"feeder:F1-S1-A1.fault_min", 207 / (0.5 + 2*144*rFeed25)},
		}, []string{"DIN-002 signal:ZS-2", "DIN-004 signal:XS-6"}},
		{"mains", []byHand{
			// 207 V - 2 x 144 m of feeder (output, and 60 W / 0.88 / 230 V of the supply unit) - infeed - triac - 2 x 304 m
			{"group:F1-S1-G1.voltage", atMains},
			{"signal:XA-1.device", atMains - 1.5 - 2*304*rMains*0.9},
			{"group:F1-S1-G1.fault_min", 207 / (0.5 + 2*144*rFeed25 + 2*2*r15)},
			// the triac does not bear a short, and B6 does not trip at 17.4 A; 1.5 mm2 as C bears 15.2 A (table 6), three circuits 0.79
			{"signal:XA-1.fault_end", 207 / (0.5 + 2*144*rFeed25 + 2*2*r15 + 2*304*rMains)},
			{"signal:XA-1.ampacity", 15.2 * 0.79},
			{"signal:XA-1.leak", 100 * 2.0 / 900},
			// the breaker trips from its upper edge on within 0.1 s: 30 A x sqrt(0.1 s) / 115
			{"group:F1-S1-G1.survives", 30 * math.Sqrt(0.1) / 115},
			// network, feeder and field cable of 7.2 to 9.1 mm, each through M16, on a floor of 400 x 210 mm
			{"station:F1-S1.gland_share", 100 * 3 * 1.6 * 16.3 * 1.6 * 16.3 / (400 * 210)},
			// 120 V modules: 108 V and 132 V, whatever the feeder carries
			{"group:F2-S1-G1.fault_min", 108 / (0.5 + 2*144*rFeed25 + 2*2*r15)},
			{"group:F2-S1-G1.fault_max", 132 / (2 * 144 * 7.41e-3)},
		}, []string{"OUT-001 signal:XA-1", "PWR-014 group:F2-S1-G1", "PWR-015 signal:XA-1"}},
		{"temperatures", []byHand{
			// platinum is weakest at the warm end: 100 x (3.9083e-3 - 2 x 5.775e-7 x 40)
			{"signal:TE-1.lead_error", lead(0.38621)},
			{"signal:TE-4.lead_error", lead(3.8621)},
			{"signal:TE-5.lead_error", lead(0.5485)}, // nickel at the cold end: 100 x 5.485e-3 at 0 degC
			// three wires: two cores differ by 2 %
			{"signal:TE-2.lead_error", 0.02 * 124 * r075At / 0.38621},
			// 0 to 900 degC of type K and 0 to 1400 of type S are weakest at 0: 39.45 and 5.403 uV/K; the terminals are
			// at some 42 degC: 41.1 uV/K, and 5.403 + 0.025189 x 42 - 6.974e-5 x 42^2 + 1.3e-7 x 42^3 = 6.348. The module's cold junction is good to 1 K.
			{"signal:TE-6.cold_junction", 1 * 41.1 / 39.45},
			{"signal:TE-7.cold_junction", 1 * 6.348 / 5.403},
		}, []string{"RTD-001 signal:TE-1", "RTD-001 signal:TE-4", "RTD-001 signal:TE-5"}},
		{"pulses", []byHand{
			{"signal:FQ-1.device", atP - (2*0.030+0.004)*124*r075},
			{"signal:FQ-1.rise", 1e6 * rc * math.Log(atP/(atP-11))},
			{"signal:FQ-1.fall", 1e6 * rc * math.Log(28.8/5)},
			{"signal:FQ-1.f_max", 1 / (2 * (rc*math.Log(28.8/5) + 10e-6))}, // 10 us of input filter
		}, []string{"CNT-001 signal:FQ-2"}},
		{"protections", []byHand{
			{"group:A-S1-G1.voltage", atProt},
			{"signal:XV-A1.device", atProt - 0.5 - 0.5*2*34*r15},
			// 23.5 V / (2 x 40 m) would be 18.5 A; the unit stops at 15 A
			{"group:A-S1-G1.fault_min", 15},
			{"group:A-S1-G1.trip", 7 * 2},   // B on direct current
			{"group:B-S1-G1.trip", 15 * 2},  // C
			{"group:C-S1-G1.trip", 10 * 2},  // miniature fuse
			{"group:D-S1-G1.trip", 1.5 * 4}, // electronic
			{"group:E-S1-G1.trip", 4.5 * 4}, // Z: 3 x 1.5
			{"group:A-S1-G1.i2", 1.45 * 2},
			{"group:C-S1-G1.i2", 2.1 * 2},
			{"group:E-S1-G1.i2", 1.30 * 4},
			{"supply:A-S1-U1.need", 1.2 * (1510 + 130 + 57*0.245)},
			{"supply:A-S1-U1.hold_up", 20 * 10000 / (1510 + 130 + 57*0.245)},
			// feeder 104 m: a unit of 240 W at 92.5 % draws 1.128 A; C, 3 circuits: 21 x 0.79
			{"feeder:A-S1-A1.drop_percent", 100 * 2 * 104 * rFeed25 * 240 / 0.925 / 230 / 230},
			{"feeder:A-S1-A1.ampacity", 21 * 0.79},
			{"feeder:A-S1-A1.fault_min", 207 / (0.5 + 2*104*rFeed25)},
			{"feeder:A-S1-A1.inrush", 25},
			{"feeder:A-S1-A1.holds", 30},
		}, []string{"PWR-003 group:B-S1-G1", "PWR-003 group:C-S1-G1", "PWR-003 group:E-S1-G1"}},
		{"climate", []byHand{
			{"station:OUT-S1.heat", outHeat},
			{"station:OUT-S1.inside_max", 45 + outHeat/(5.5*wall400)},
			{"station:OUT-S1.sun", 1000 * 0.25 * 0.4 * 0.4},
			{"station:OUT-S1.inside_in_sun", 45 + (outHeat+40)/(5.5*wall400)},
			{"station:OUT-S1.inside_limit", 60 - 0.5*6}, // 600 m above 2000
			// Magnus over water: 80 % at -30 degC are 0.409 hPa, which are 65 % at -27.8 degC
			{"station:OUT-S1.dry", -27.78},
			{"station:OUT-S1.heater", 2*5.5*wall400*10 - 2.5}, // wind doubles the loss; -20 inside, coupler 2.5 W
			{"supply:OUT-S1-U1.load", 1000 * outLoad},
			{"supply:OUT-S1-U1.output_inside", 10000 * (1 - 0.025*(45+outHeat/(5.5*wall400)-50))},
			// 604 m: only 10 mm2 lets a short trip B10 (50 A)
			{"feeder:OUT-S1-A1.fault_min", 207 / (0.5 + 2*604*rFeed10)},
			{"feeder:OUT-S1-A1.ampacity", 50 * 0.91 * 0.79},
			{"station:HOT-S1.heat", hotHeat},
			{"station:HOT-S1.inside_max", hotIn},
			{"supply:HOT-S1-U1.need", 1200 * hotLoad},
			{"supply:HOT-S1-U1.output", 10000 * (1 - 0.025*3)},
			{"supply:HOT-S1-U1.output_inside", 10000 * (1 - 0.025*(hotIn-50))},
			{"supply:HOT-S1-U2.load", 1000 * hotUPS},
			{"group:HOT-S1-G1.ampacity", 13.5 * (0.71 - 0.026*(hotIn-55))}, // table D.1: 0.71 at 55, 0.58 at 60 degC
			{"feeder:HOT-S1-A1.ampacity", 28 * (0.82 - 0.022*3) * 0.79},
			{"feeder:HOT-S1-A1.fault_min", 207 / (0.5 + 2*254*rFeed4)},
			{"feeder:HOT-S1-A1.drop_percent", 100 * 2 * 254 * rFeed4 * 240 / 0.925 / 230 / 230},
		}, []string{"ENC-001 station:HOT-S1", "ENC-002 station:OUT-S1", "ENC-003 station:OUT-S1", "ENC-004 station:OUT-S1"}},
		{"grouping", []byHand{
			// table 6, E: 22 A for 2.5 mm2; table D.1: 1.15 at 30 and 1.08 at 35 degC; eight circuits on a tray 0.72
			{"feeder:F1-S1-A1.ampacity", 22 * (1.15 - 0.014*2) * 0.72},
			// B1: 13.5 A for 1.5 mm2; six bunched circuits 0.57; inside 32 degC and coupler 2.5 W, module 0.6,
			// device 0.175, and 12 % of the unit's 152 mA (130, 46 x 0.245, 10.5)
			{"group:F1-S1-G1.ampacity", 13.5 * 0.57 * (1.15 - 0.014*(2+(2.5+0.6+0.175+0.15177*24*(1/0.88-1))/(5.5*wall400)))},
		}, nil},
		{"bus", []byHand{
			{"network.length", 5 * 304},
			{"network.bytes", 5 * (20 + 1)},
			{"network.cycle", cycle},
			{"station:P1-S1.reaction.ai8-loop.AI", 20 + 2*2 + 2*cycle/1000 + 2*10},
			{"station:P1-S1.reaction.di16.DI", 3 + 2*2 + 2*cycle/1000 + 2*10},
		}, []string{"NET-004 project"}}, // 5 x 304 m are more than 1200 m
		{"ethernet", []byHand{
			{"station:P1-S1.input_load", 100 * 84 * 8 / (100e6 * 0.001)}, // the smallest frame: 64 and 20 round it
			{"network.input_load", 5 * 100 * 84 * 8 / (100e6 * 0.001)},
			{"station:P1-S1.reaction.ai8-loop.AI", 20 + 2*1 + 2*1 + 2*10},
		}, nil},
		{"can", []byHand{
			// each station sends 20 bytes (two frames of 8 and one of 4) and gets 1; worst stuffing: 47 + 64 + 24,
			// 47 + 32 + 16, 47 + 8 + 10 bits
			{"network.bits", 3 * (2*135 + 95 + 65)},
			{"network.bus_load", 100 * 3 * 430 / (125 * 50.0)},
			{"station:P1-S1.reaction.di16.DI", 3 + 2*2 + 2*50 + 2*10},
		}, []string{"NET-004 project"}}, // 912 m, 500 m at 125 kbit/s
		{"canfull", []byHand{
			{"network.bus_load", 100 * 3 * 430 / (125 * 4.0)}, // 258 %: an update takes 10.3 ms, not 4
			{"network.kept", 3 * 430 / 125.0},
			{"station:P1-S1.reaction.di16.DI", 3 + 2*2 + 2*3*430/125.0 + 2*10},
		}, []string{"NET-004 project", "NET-005 project"}},
		{"voltageout", []byHand{
			// 0 to 10 V into 2 kohm: the cable keeps 18.9 of 2018.9 ohm, 0.94 %
			{"signal:FY-3.error", 100 * 2 * 304 * r075 / (2000 + 2*304*r075)},
		}, []string{"LOP-007 signal:FY-3"}},
		{"threewire", []byHand{
			// plus core: the sensor's own 90 mA and the input's 2.5; minus core 90, signal core 2.5
			{"signal:ZS-1.device", atW - 304*r075*(0.0925+0.090)},
			{"signal:ZS-1.on", atW - 3.5 - 304*r075*(0.0925+0.0025)}, // not 19.9 V, as if only 2.5 mA flowed
			// plus core: 60 mA and the failure current of 22 mA
			{"signal:QT-1.device", atW - 304*r075*(0.082+0.060)},
		}, nil},
		{"encoders", []byHand{
			// screened cable 120 pF/m over 124 m against 3 kohm; group: 60 mA, input 12, module 16
			{"signal:GE-1.rise", 1e6 * rcEncoder * math.Log(atE/(atE-11))},
			{"signal:GE-1.fall", 1e6 * rcEncoder * math.Log(28.8/5)},              // 78 us
			{"signal:GE-1.f_max", 1 / (2 * (rcEncoder*math.Log(28.8/5) + 10e-6))}, // 5.7 kHz
		}, []string{"CNT-001 signal:GE-1"}},
		{"exi", []byHand{
			{"signal:LT-1.exi_c", 5 + 0.2*184},
			{"signal:LT-1.exi_l", 0.02 + 0.001*184},
			{"signal:LT-2.exi_c", 11 + 0.2*434}, // 97.8 of 83 nF, halved to 41.5: Ci and Li are above 1 % of Co and Lo
			{"signal:LT-2.exi_l", 0.1 + 0.001*434},
			{"signal:LT-1.transmitter", 19 - 0.022*(250+2*184*r075)},
			{"signal:ZS-1.exi_c", 50 + 0.2*184},
			// module do4-exi loses 11 V at its 50 mA
			{"signal:XV-1.exi_l", 0.001 * 184},
		}, []string{"EXI-002 signal:LT-2", "EXI-002 signal:LT-3", "EXI-002 signal:LT-4"}},
	}
}
