package designtest

import (
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/formula"
	q "railwright/internal/quantity"
)

func tag(s string) *string { return &s }

// Sample returns a design of two stations with four signals, one unplaced signal, and findings of
// every severity. Its sums agree: parts and labour give the total.
func Sample() *design.Design {
	d := &design.Design{
		Format: design.Format,
		Input: design.Input{
			SHA256:         "0f1e2d3c4b5a69788796a5b4c3d2e1f00f1e2d3c4b5a69788796a5b4c3d2e1f0",
			HardwareSHA256: "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff",
			Seed:           1, Steps: 1234, Tool: "railwright dev", Complete: true,
		},
		Project:  design.Stated{Name: "Sample yard", Controller: "K1", Revision: "A", Convention: "byte", Signals: 5},
		Stations: []design.Station{pumpStation(), tankStation()},
		Cables:   cables(),
		Wires:    wires(),
		Supplies: []design.Supply{
			{ID: "PUMP-1/S1", Station: "PUMP-1", Class: "normal", Type: "psu-2a5", Units: 1, LoadMA: 505, NeedMA: 606, LimitMA: 2500, Feeder: "PUMP-1/F1", LossW: 1.8},
			{ID: "TANK-1/S1", Station: "TANK-1", Class: "normal", Type: "psu-2a5", Units: 1, LoadMA: 180, NeedMA: 216, LimitMA: 2500, Feeder: "TANK-1/F1", LossW: 0.7},
		},
		Feeders: []design.Feeder{
			{ID: "PUMP-1/F1", From: "MAIN", Station: "PUMP-1", Class: "normal", Cable: "C-F1", Protection: "PUMP-1/Q1", VoltageV: 230, CurrentA: 0.09, DropV: 0.1},
			{ID: "TANK-1/F1", From: "MAIN", Station: "TANK-1", Class: "normal", Cable: "C-F2", Protection: "TANK-1/Q1", VoltageV: 230, CurrentA: 0.04, DropV: 0.1},
		},
		Protections: []design.Protection{
			{ID: "PUMP-1/Q1", Type: "mcb-ac-6", Protects: "feeder:PUMP-1/F1", RatingA: 6, LoadA: 0.09},
			{ID: "PUMP-1/E1", Type: "ecb-2", Protects: "group:PUMP-1/G1", RatingA: 2, LoadA: 0.05},
			{ID: "PUMP-1/E2", Type: "ecb-2", Protects: "group:PUMP-1/G2", RatingA: 2, LoadA: 0.25},
			{ID: "TANK-1/Q1", Type: "mcb-ac-6", Protects: "feeder:TANK-1/F1", RatingA: 6, LoadA: 0.04},
			{ID: "TANK-1/E1", Type: "ecb-2", Protects: "group:TANK-1/G1", RatingA: 2, LoadA: 0.04},
		},
		Network: design.Network{
			Profile: "copper-100m", Topology: "line",
			Segments: []design.Segment{
				{Cable: "C-N1", From: "controller", To: "station:PUMP-1", LengthM: 54, LimitM: 90},
				{Cable: "C-N2", From: "station:PUMP-1", To: "station:TANK-1", LengthM: 34, LimitM: 90},
			},
			Addresses: []design.NodeAddress{
				{Station: "PUMP-1", Name: "pump-1", Address: "192.0.2.11", Node: 1},
				{Station: "TANK-1", Name: "tank-1", Address: "192.0.2.12", Node: 2},
			},
			Registers: []design.Register{
				{Station: "PUMP-1", Signal: "s1", Table: "discrete input", Number: 0},
				{Station: "PUMP-1", Signal: "s2", Table: "discrete input", Number: 1},
				{Station: "PUMP-1", Signal: "s3", Table: "coil", Number: 0},
				{Station: "TANK-1", Signal: "s4", Table: "input register", Number: 2, Words: 1},
			},
		},
		Unplaced: []design.Unplaced{
			{Signal: "s5", Tag: "QT-9", Where: "signals.csv, cell E6", Why: "place \"LAKE\" is not one of the project's places", Proof: "row"},
		},
		Findings:     findings(),
		Formulas:     map[string]*formula.Formula{"group load": groupLoad},
		Calculations: map[string]formula.Record{},
		Siting: design.Siting{
			Objective: 2290.5, LowerBound: 2250.2, Gap: 0.0175943,
			Certificate: map[string]int64{"LS-1/plain": 120_0000, "LT-1/screened": 260_5000, "P-1/plain": 99_0000},
			Curve:       []design.CurvePoint{{Stations: 1, Objective: 2410, LowerBound: 2250.2}, {Stations: 2, Objective: 2290.5, LowerBound: 2250.2}},
		},
		HomeRun: design.HomeRun{CableM: 642.5, Terminations: 36, Cost: 4210.35},
	}
	price(d)
	calculate(d)
	return d
}

func pumpStation() design.Station {
	return design.Station{
		ID: "PUMP-1", Name: "PUMP-1", Place: "PUMP", Construction: "rail-base", Coupler: "coupler-a", RailMM: 128,
		LogicCurrentMA: 120, LogicLimitMA: 1500, InputBytes: 1, OutputBytes: 1, HeatW: 6.4, EndPiece: "end-a", Enclosure: "box-400",
		Slots: []design.Slot{
			{
				Slot: 1, Module: "di4", Base: "base-infeed", Infeed: true, SupplyGroup: "PUMP-1/G1", InputBytes: 1,
				Channels: []design.Channel{
					{Channel: 1, Kind: "DI", Signal: tag("LS-1"), SignalID: "s1", Address: "%IX0.0", Terminals: map[string]string{"supply+": "A1", "signal": "B1"}},
					{Channel: 2, Kind: "DI", Signal: tag("=A1-LS-2"), SignalID: "s2", Address: "%IX0.1", Terminals: map[string]string{"supply+": "A2", "signal": "B2"}},
					{Channel: 3, Kind: "DI", Address: "%IX0.2", Terminals: map[string]string{"supply+": "A3", "signal": "B3"}},
					{Channel: 4, Kind: "DI", Address: "%IX0.3", Terminals: map[string]string{"supply+": "A4", "signal": "B4"}},
				},
			},
			{
				Slot: 2, Module: "do2", Base: "base-infeed", Infeed: true, SupplyGroup: "PUMP-1/G2", OutputBytes: 1,
				Channels: []design.Channel{
					{Channel: 1, Kind: "DO", Signal: tag("P-1"), SignalID: "s3", Address: "%QX0.0", Terminals: map[string]string{"signal": "A1", "supply-": "C1"}},
					{Channel: 2, Kind: "DO", Address: "%QX0.1", Terminals: map[string]string{"signal": "A2", "supply-": "C2"}},
				},
			},
		},
		SupplyGroups: []design.SupplyGroup{
			{ID: "PUMP-1/G1", Group: 1, InfeedAt: 1, FirstSlot: 1, LastSlot: 1, LoadMA: 50, LimitMA: 2000, Class: "normal", Reason: "first group of the station", Protection: "PUMP-1/E1", InfeedMM2: 1.5, VoltageMinV: 23.49},
			{ID: "PUMP-1/G2", Group: 2, InfeedAt: 2, FirstSlot: 2, LastSlot: 2, LoadMA: 250, LimitMA: 2000, Class: "normal", Reason: "outputs apart from inputs", Protection: "PUMP-1/E2", InfeedMM2: 1.5, VoltageMinV: 23.48},
		},
	}
}

func tankStation() design.Station {
	return design.Station{
		ID: "TANK-1", Name: "TANK-1", Place: "TANK", Construction: "rail-base", Coupler: "coupler-a", RailMM: 110,
		LogicCurrentMA: 60, LogicLimitMA: 1500, FirstInByte: 2, FirstOutByte: 2, InputBytes: 4, HeatW: 4.1, EndPiece: "end-a", Enclosure: "box-400",
		Slots: []design.Slot{{
			Slot: 1, Module: "ai2", Base: "", Infeed: false, SupplyGroup: "TANK-1/G1", InputByte: 2, InputBytes: 4,
			Channels: []design.Channel{
				{Channel: 0, Kind: "AI", Signal: tag("LT-1"), SignalID: "s4", Address: "%IW2", Terminals: map[string]string{"supply+": "1", "signal+": "2"}},
				{Channel: 1, Kind: "AI", Address: "%IW4", Terminals: map[string]string{"supply+": "5", "signal+": "6"}},
			},
		}},
		SupplyGroups: []design.SupplyGroup{
			{ID: "TANK-1/G1", Group: 1, InfeedAt: "coupler", FirstSlot: 1, LastSlot: 1, LoadMA: 40, LimitMA: 2000, Class: "normal", Reason: "first group of the station", Protection: "TANK-1/E1", InfeedMM2: 1.5, VoltageMinV: 23.49},
		},
	}
}

func cables() []design.Cable {
	return []design.Cable{
		{ID: "C-1", Name: "W-LS-1", From: "device:LS-1", To: "station:PUMP-1", Use: "field", Type: "sig-4x075", Cores: 4, AreaMM2: 0.75, LengthM: 14, OrderM: 15, Signals: []string{"s1", "s2"}, Bundle: "LS-1/plain"},
		{ID: "C-2", Name: "W-P-1", From: "device:P-1", To: "station:PUMP-1", Use: "field", Type: "sig-2x15", Cores: 2, AreaMM2: 1.5, LengthM: 14, OrderM: 15, Signals: []string{"s3"}, Bundle: "P-1/plain"},
		{ID: "C-3", Name: "W-LT-1", From: "device:LT-1", To: "station:TANK-1", Use: "field", Type: "scr-2x075", Cores: 2, AreaMM2: 0.75, LengthM: 34, OrderM: 36.4, Route: []string{"R2"}, Signals: []string{"s4"}, Bundle: "LT-1/screened"},
		{ID: "C-F1", Name: "W-PUMP-1-F", From: "place:MAIN", To: "station:PUMP-1", Use: "supply", Type: "pow-3x25", Cores: 3, AreaMM2: 2.5, LengthM: 54, OrderM: 57.8, Route: []string{"R1"}},
		{ID: "C-F2", Name: "W-TANK-1-F", From: "place:MAIN", To: "station:TANK-1", Use: "supply", Type: "pow-3x25", Cores: 3, AreaMM2: 2.5, LengthM: 84, OrderM: 89.9, Route: []string{"R1", "R2"}},
		{ID: "C-N1", Name: "W-N1", From: "controller", To: "station:PUMP-1", Use: "network", Type: "eth", Cores: 8, AreaMM2: 0.14, LengthM: 54, OrderM: 57.8, Route: []string{"R1"}},
		{ID: "C-N2", Name: "W-N2", From: "station:PUMP-1", To: "station:TANK-1", Use: "network", Type: "eth", Cores: 8, AreaMM2: 0.14, LengthM: 34, OrderM: 36.4, Route: []string{"R2"}},
	}
}

func wires() []design.Wire {
	w := func(id, cable, core, from, to, signal string, area float64) design.Wire {
		return design.Wire{ID: id, Cable: cable, Core: core, From: from, To: to, Signal: signal, AreaMM2: area}
	}
	return []design.Wire{
		w("C-1/1", "C-1", "1", "device:LS-1/supply+", "station:PUMP-1/1/A1", "s1", 0.75),
		w("C-1/2", "C-1", "2", "device:LS-1/signal", "station:PUMP-1/1/B1", "s1", 0.75),
		w("C-1/3", "C-1", "3", "device:LS-1/supply+", "station:PUMP-1/1/A2", "s2", 0.75),
		w("C-1/4", "C-1", "4", "device:LS-1/signal", "station:PUMP-1/1/B2", "s2", 0.75),
		w("C-2/1", "C-2", "1", "device:P-1/signal", "station:PUMP-1/2/A1", "s3", 1.5),
		w("C-2/2", "C-2", "2", "device:P-1/supply-", "station:PUMP-1/2/C1", "s3", 1.5),
		w("C-3/1", "C-3", "1", "device:LT-1/supply+", "station:TANK-1/1/1", "s4", 0.75),
		w("C-3/2", "C-3", "2", "device:LT-1/signal+", "station:TANK-1/1/2", "s4", 0.75),
	}
}

func findings() finding.List {
	return finding.List{
		{
			Rule: "LST-004", Severity: finding.Error, Subject: "signal:s5", Where: &finding.Where{File: "signals.csv", Cell: "E6", Line: 6},
			Message: "place \"LAKE\" is not one of the project's places", Remedy: finding.Remedy{Text: "Use one of MAIN, PUMP, TANK, or add the place to project.toml."},
		},
		{
			Rule: "POW-003", Severity: finding.Warning, Subject: "group:PUMP-1/G2", Message: "23.48 V at the infeed point, 23.5 V wished",
			Figures: map[string]finding.Figure{"voltage": {Value: 23.48, Unit: "V"}, "wished": {Value: 23.5, Unit: "V"}},
			Remedy: finding.Remedy{
				Text:   "Use 2.5 mm2.",
				Change: []finding.Change{{Subject: "project", Property: "basis.supply.infeed_area_mm2", Value: "2.5"}},
			},
			Source: "common practice", Calculation: "group:PUMP-1/G2/load",
		},
		{Rule: "POW-003", Severity: finding.Warning, Subject: "group:TANK-1/G1", Message: "23.49 V at the infeed point, 23.5 V wished", Calculation: "group:TANK-1/G1/load"},
		{Rule: "LST-101", Severity: finding.Info, Subject: "signal:s4", Message: "column active is empty: taken as passive"},
	}
}

var groupLoad = &formula.Formula{
	Name: "group load", Text: "sum(i)", Variadic: true,
	Inputs: []formula.Input{{Name: "i", Unit: "mA", Doc: "current of one signal or module"}},
	Result: formula.Input{Name: "load", Unit: "mA"}, Source: "own arithmetic",
	Eval: func(x []float64) float64 {
		s := 0.0
		for _, v := range x {
			s += v
		}
		return s
	},
}

func calculate(d *design.Design) {
	var b formula.Book
	b.Eval(
		"group:PUMP-1/G2/load", groupLoad,
		formula.Arg{Name: "module", Value: 0, From: "hardware:do2.supply_ma"},
		formula.Arg{Name: "P-1", Value: 250, From: "signal:s3.current_ma"},
	)
	b.Eval(
		"group:TANK-1/G1/load", groupLoad,
		formula.Arg{Name: "module", Value: 15, From: "hardware:ai2.supply_ma"},
		formula.Arg{Name: "LT-1", Value: 25, From: "hardware:ai2.channels.input_ma"},
	)
	d.Calculations = b.Records()
}

// price fills parts, labour and the sums. All prices are multiples of 0.001, so the sums are exact
// in q.Money.
func price(d *design.Design) {
	part := func(code, title, class, unit string, count, price float64, spare int, for_ string) design.Part {
		return design.Part{Code: code, Title: title, Class: class, Unit: unit, Count: count, Price: price, Spare: spare, For: for_}
	}
	d.Parts = []design.Part{
		part("scr-2x075", "screened cable 2 x 0.75", "cable", "m", 36.4, 1.5, 0, "field cables"),
		part("sig-4x075", "signal cable 4 x 0.75", "cable", "m", 15, 1.2, 0, "field cables"),
		part("coupler-a", "coupler", "coupler", "pc", 1, 180, 0, "station:PUMP-1"),
		part("coupler-a", "coupler", "coupler", "pc", 1, 180, 0, "station:TANK-1"),
		part("coupler-a", "coupler", "coupler", "pc", 0, 180, 1, "store room"),
		part("box-400", "enclosure", "enclosure", "pc", 1, 210, 0, "station:PUMP-1"),
		part("box-400", "enclosure", "enclosure", "pc", 1, 210, 0, "station:TANK-1"),
		part("ai2", "2 analogue inputs", "module", "pc", 1, 120, 0, "station:TANK-1"),
		part("di4", "4 digital inputs", "module", "pc", 1, 40, 0, "station:PUMP-1"),
		part("do2", "2 digital outputs", "module", "pc", 1, 45, 0, "station:PUMP-1"),
	}
	d.Labour = []design.Labour{
		{Task: "check", Count: 3, Seconds: 1800, Price: 97.5, For: "station:PUMP-1", Constant: true},
		{Task: "check", Count: 1, Seconds: 1800, Price: 32.5, For: "station:TANK-1", Constant: true},
		{Task: "pull", Count: 48, Seconds: 60, Price: 51.984, For: "field cables"},
		{Task: "station", Count: 1, Seconds: 28800, Price: 520, For: "station:PUMP-1"},
		{Task: "station", Count: 1, Seconds: 28800, Price: 520, For: "station:TANK-1"},
	}
	sums, total, constant := map[string]q.Money{}, q.Money(0), q.Money(0)
	for _, p := range d.Parts {
		m := q.ToMoney(p.Count * p.Price)
		sums[p.Class] += m
		total += m
	}
	for _, l := range d.Labour {
		m := q.ToMoney(l.Price)
		sums["labour"] += m
		total += m
		if l.Constant {
			constant += m
		}
	}
	d.Cost = design.Cost{Currency: "EUR", Parts: map[string]float64{}, Total: total.Cents(), Constant: constant.Cents()}
	for class, m := range sums {
		d.Cost.Parts[class] = m.Cents()
	}
	d.Siting.Objective, d.Siting.LowerBound = (total - constant).Cents(), (total - constant - 40*q.MoneyUnit).Cents()
	d.Siting.Gap = (d.Siting.Objective - d.Siting.LowerBound) / d.Siting.Objective
	d.Siting.Curve[1].Objective, d.Siting.Curve[1].LowerBound = d.Siting.Objective, d.Siting.LowerBound
	d.Siting.Curve[0].LowerBound = d.Siting.LowerBound
}
