package hardware

import (
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tomltree"
)

var moduleFields = []field[Module]{
	code(func(e *Module) *string { return &e.Code }),
	text("title", "what it is", func(e *Module) *string { return &e.Title }),
	must(words("constructions", "codes of the constructions it belongs to", func(e *Module) *[]string { return &e.Constructions })),
	must(count("width_mm", "width on the rail", "mm", 1, 1, maxWidthMM, func(e *Module) *q.Millimetres { return &e.Width })),
	text("rank", "its place in the construction's order; none = the first", func(e *Module) *string { return &e.Rank }),
	count("logic_ma", "current drawn from the logic supply", "mA", 1000, 0, maxAmpsMA, func(e *Module) *q.Microamps { return &e.Logic }),
	count("supply_ma", "current drawn from its supply group, signals excluded", "mA", 1000, 0, maxAmpsMA, func(e *Module) *q.Microamps { return &e.Supply }),
	must(word("supply_kind", "voltage of its supply group", func(e *Module) *string { return &e.SupplyKind }, voltageKinds...)),
	count("max_total_ma", "most current of all its channels together; 0 = no limit", "mA", 1000, 0, maxAmpsMA, func(e *Module) *q.Microamps { return &e.MaxTotal }),
	count("in_bytes", "process image, inputs", "bytes", 1, 0, 4096, func(e *Module) *int { return &e.In }),
	count("out_bytes", "process image, outputs", "bytes", 1, 0, 4096, func(e *Module) *int { return &e.Out }),
	text("pattern", "terminal pattern that a base must offer", func(e *Module) *string { return &e.Pattern }),
	flag("infeed", "is an infeed module: it has no channels and begins a supply group", func(e *Module) *bool { return &e.Infeed }),
	count("bus_limit_ma", "infeed modules and modules with an infeed of their own: most load of the group", "mA", 1000, 0, maxAmpsMA, func(e *Module) *q.Microamps { return &e.BusLimit }),
	flag("own_infeed", "is the infeed point of its own group (opening = \"each\")", func(e *Module) *bool { return &e.OwnInfeed }),
	flag("isolated", "channels are isolated from each other", func(e *Module) *bool { return &e.Isolated }),
	flag("interference_free", "stated free of feedback: may stand in a safety-switched group", func(e *Module) *bool { return &e.Safe }),
	count("heat_w", "losses at full use", "W", 1000, 0, 1000, func(e *Module) *int64 { return &e.Heat }),
	figure("ambient_min_c", "lowest ambient", "degC", 1, coldestC, hottestC, func(e *Module) *q.Temperature { return &e.AmbientMin }),
	must(figure("ambient_max_c", "highest ambient", "degC", 1, coldestC, hottestC, func(e *Module) *q.Temperature { return &e.AmbientMax })),
	pieces(func(e *Module) *q.Money { return &e.Price }),
	text("source", "origin of the figures", func(e *Module) *string { return &e.Source }),
}

// Functions are the functions a terminal can have, in the order in which lists print them.
var Functions = []string{
	"supply+", "line", "common", "signal", "signal+", "signal-", "sense+", "sense-", "supply-", "no", "neutral",
	"a", "a-", "b", "b-", "z", "z-", "tx", "tx-", "rx", "rx-",
}

var channelFields = []field[ChannelSet]{
	must(word("kind", "kind of its signals", func(e *ChannelSet) *project.Kind { return &e.Kind }, kindWords()...)),
	must(words("forms", "electrical forms that it takes", func(e *ChannelSet) *[]string { return &e.Forms })),
	words("loop", "AI current: feeds = the module powers the loop, takes = an active device may drive it", func(e *ChannelSet) *[]string { return &e.Loop }, "feeds", "takes"),
	wholes("wires", "RTD: wires that it can connect; none = any", 2, 4, func(e *ChannelSet) *[]int { return &e.Wires }),
	words("sensors", "RTD, TC: sensing elements", func(e *ChannelSet) *[]string { return &e.Sensors }),
	flag("hart", "speaks HART", func(e *ChannelSet) *bool { return &e.HART }),
	word("ex_level", "intrinsically safe, level of protection", func(e *ChannelSet) *string { return &e.ExLevel }, "ia", "ib", "ic"),
	must(count("count", "channels", "", 1, 1, 256, func(e *ChannelSet) *int { return &e.Count })),
	count("first", "number printed on the first channel", "", 1, 0, 10_000, func(e *ChannelSet) *int { return &e.First }),
	step(func(e *ChannelSet) *int { return &e.Step }),
	must(count("bits", "size of one channel in the process image: 1, 8, 16 or 32", "bits", 1, 1, 32, func(e *ChannelSet) *int { return &e.Bits })),
	must(word("image", "part of the process image", func(e *ChannelSet) *string { return &e.Image }, "in", "out", "both")),
	count("offset_byte", "first byte of the set inside the module's bytes", "bytes", 1, 0, 4096, func(e *ChannelSet) *int { return &e.Offset }),
	count("input_ma", "current that one channel draws from the group: DI at \"1\", AI and AO the loop's most", "mA", 1000, 0, 10_000, func(e *ChannelSet) *q.Microamps { return &e.Input }),
	count("max_each_ma", "most current of one channel; 0 = no limit", "mA", 1000, 0, maxAmpsMA, func(e *ChannelSet) *q.Microamps { return &e.MaxEach }),
	wholes("voltages_v", "relay outputs: contact voltages allowed; none = any", 1, 1000, func(e *ChannelSet) *[]int { return &e.Voltages }),
	terminals(),
	count("input_type", "DI: 1, 2 or 3 by IEC 61131-2", "", 1, 0, 3, func(e *ChannelSet) *int { return &e.InputType }),
	figure("threshold_on_v", "DI: lowest voltage surely read as 1", "V", 1, 0, 500, func(e *ChannelSet) *q.Voltage { return &e.ThresholdOn }),
	figure("threshold_off_v", "DI: highest voltage surely read as 0", "V", 1, 0, 500, func(e *ChannelSet) *q.Voltage { return &e.ThresholdOff }),
	figure("impedance_ohm", "input resistance; counters: source and input together", "ohm", 1, 0, 1e9, func(e *ChannelSet) *q.Resistance { return &e.Impedance }),
	figure("loop_voltage_v", "AI: lowest voltage offered to a passive loop at 22 mA, before the input's own resistance", "V", 1, 0, 60, func(e *ChannelSet) *q.Voltage { return &e.LoopVoltage }),
	figure("max_load_ohm", "AO: largest load", "ohm", 1, 0, 1e6, func(e *ChannelSet) *q.Resistance { return &e.MaxLoad }),
	figure("min_load_ohm", "AO voltage: least load resistance", "ohm", 1, 0, 1e6, func(e *ChannelSet) *q.Resistance { return &e.MinLoadOhm }),
	figure("min_current_ma", "DI: least current surely read as 1", "mA", 1000, 0, 1000, func(e *ChannelSet) *q.Current { return &e.MinCurrent }),
	figure("off_current_ma", "DI: most current still read as 0", "mA", 1000, 0, 1000, func(e *ChannelSet) *q.Current { return &e.OffCurrent }),
	figure("filter_ms", "input filter or conversion time", "ms", 1000, 0, 60_000, func(e *ChannelSet) *q.Duration { return &e.Filter }),
	figure("max_frequency_hz", "highest frequency", "Hz", 1, 0, 1e8, func(e *ChannelSet) *q.Frequency { return &e.MaxFreq }),
	count("resolution_bits", "resolution", "bits", 1, 0, 64, func(e *ChannelSet) *int { return &e.Bit }),
	count("raw_low", "AI, AO: count in the process image at the lower end of the electrical range; bipolar ranges begin at -raw_high", "", 1, -2147483648, 2147483647, func(e *ChannelSet) *int64 { return &e.RawLow }),
	count("raw_high", "AI, AO: count at the upper end; 0 = not stated: no scaling is exported", "", 1, 0, 2147483647, func(e *ChannelSet) *int64 { return &e.RawHigh }),
	figure("raw_step_k", "RTD, TC: kelvins for one count, 0 degC at count 0; 0 = not stated", "K", 1, 0, 10, func(e *ChannelSet) *float64 { return &e.RawStep }),
	figure("accuracy_percent", "error at 25 degC, of the range", "%", 1, 0, 50, func(e *ChannelSet) *float64 { return &e.Accuracy }),
	figure("accuracy_k", "RTD, TC: error at 25 degC, cold junction excluded", "K", 1, 0, 50, func(e *ChannelSet) *float64 { return &e.AccuracyK }),
	figure("cold_junction_k", "TC: error of the cold junction", "K", 1, 0, 50, func(e *ChannelSet) *float64 { return &e.ColdJunction }),
	figure("drift_ppm_per_k", "change with ambient, of the range", "ppm/K", 1, 0, 10_000, func(e *ChannelSet) *float64 { return &e.Drift }),
	figure("measuring_current_ma", "RTD: measuring current", "mA", 1000, 0, 100, func(e *ChannelSet) *q.Current { return &e.Measuring }),
	flag("wire_break", "a broken wire is reported", func(e *ChannelSet) *bool { return &e.WireBreak }),
	flag("short_proof", "outputs: survives a short circuit of the load", func(e *ChannelSet) *bool { return &e.ShortProof }),
	word("sensor_supply", "what loses its supply when one sensor lead is shorted", func(e *ChannelSet) *string { return &e.SensorSupply }, "channel", "module", "group"),
	figure("voltage_drop_v", "DO: most voltage lost at rated current", "V", 1, 0, 100, func(e *ChannelSet) *q.Voltage { return &e.Drop }),
	figure("leakage_ma", "DO: most current when off", "mA", 1000, 0, 1000, func(e *ChannelSet) *q.Current { return &e.Leakage }),
	figure("min_load_ma", "DO: least current for a sure contact", "mA", 1000, 0, 10_000, func(e *ChannelSet) *q.Current { return &e.MinLoad }),
	figure("lamp_w", "DO: largest lamp", "W", 1, 0, 10_000, func(e *ChannelSet) *q.Power { return &e.Lamp }),
	count("inductive_ma", "relay: most current of a coil (DC-13, AC-15); 0 = not stated", "mA", 1000, 0, maxAmpsMA, func(e *ChannelSet) *q.Microamps { return &e.Inductive }),
	count("life_operations", "relay: operations at rated load", "", 1, 0, 1e9, func(e *ChannelSet) *int { return &e.Operations }),
	figure("output_delay_ms", "from the module's process image to the terminal", "ms", 1000, 0, 60_000, func(e *ChannelSet) *q.Duration { return &e.OutputDelay }),
	flag("substitute", "outputs: a safe state can be set for each channel", func(e *ChannelSet) *bool { return &e.Substitute }),
	count("max_bit_rate", "SER: highest bit rate", "bit/s", 1, 0, 1e9, func(e *ChannelSet) *int { return &e.MaxBitRate }),
	figure("uo_v", "Ex i: highest output voltage", "V", 1, 0, 400, func(e *ChannelSet) *q.Voltage { return &e.Uo }),
	figure("io_ma", "Ex i: highest output current", "mA", 1000, 0, 10_000, func(e *ChannelSet) *q.Current { return &e.Io }),
	figure("po_mw", "Ex i: highest output power", "mW", 1000, 0, 100_000, func(e *ChannelSet) *q.Power { return &e.Po }),
	figure("co_iic_nf", "Ex i: most outer capacitance, gas group IIC", "nF", 1e9, 0, 1e9, func(e *ChannelSet) *q.Capacitance { return &e.CoIIC }),
	figure("lo_iic_mh", "Ex i: most outer inductance, gas group IIC", "mH", 1000, 0, 1e6, func(e *ChannelSet) *q.Inductance { return &e.LoIIC }),
	figure("co_iib_nf", "Ex i: the same for IIB and IIA", "nF", 1e9, 0, 1e9, func(e *ChannelSet) *q.Capacitance { return &e.CoIIB }),
	figure("lo_iib_mh", "Ex i: the same for IIB and IIA", "mH", 1000, 0, 1e6, func(e *ChannelSet) *q.Inductance { return &e.LoIIB }),
}

func kindWords() []string {
	out := make([]string, len(project.Kinds))
	for i, k := range project.Kinds {
		out[i] = string(k)
	}
	return out
}

// step is the distance of printed channel numbers, 1 where none is given.
func step(at func(*ChannelSet) *int) field[ChannelSet] {
	return field[ChannelSet]{
		key: "step", note: "distance of printed channel numbers; default 1", limit: "1 to 100",
		read: func(t tomltree.Table, f *field[ChannelSet], e *ChannelSet) { *at(e) = int(t.Int(f.key, 1, 1, 100)) },
		write: func(e *ChannelSet) string {
			if *at(e) == 1 {
				return ""
			}
			return decimal(int64(*at(e)), 1)
		},
	}
}

// terminals is the table of terminals and the clamping range that holds for all of them.
func terminals() field[ChannelSet] {
	return field[ChannelSet]{
		key: "terminals", note: "label template of each function's terminal, such as { \"supply+\" = \"a{i+1}\" }; with terminal_min_mm2 and terminal_max_mm2, the conductors that each clamps", need: true,
		limit: "table of " + strings.Join(Functions, ", "),
		read:  readTerminals,
		write: writeTerminals,
	}
}

func readTerminals(t tomltree.Table, f *field[ChannelSet], e *ChannelSet) {
	least := t.Float("terminal_min_mm2", 0.2, 0.01, 300)
	most := t.Float("terminal_max_mm2", 2.5, 0.01, 300)
	if least > most {
		t.Report("HWL-016", finding.Error, "terminal_min_mm2", "terminal_min_mm2 is above terminal_max_mm2", "Exchange the two.")
	}
	if !t.Has(f.key) {
		t.Report("HWL-003", finding.Error, "", "the key terminals is missing", `Add terminals = { "signal" = "{n}.1", … }.`)
		return
	}
	table := t.Table(f.key)
	table.SetSubject(t.Subject())
	for _, function := range Functions {
		if !table.Has(function) {
			continue
		}
		label := table.NeedString(function)
		if err := checkLabel(label); err != nil && label != "" {
			table.Report("HWL-016", finding.Error, function, "label "+quoted(clip(label))+": "+err.Error(),
				"Write plain text with {n} for the channel's printed number or {i+1}, {2i+1} for a number counted from its place i = 0, 1, 2 …")
		}
		e.Terminals = append(e.Terminals, Terminal{Function: function, Label: label, MinArea: q.CrossSection(least), MaxArea: q.CrossSection(most)})
	}
}

func writeTerminals(e *ChannelSet) string {
	parts := make([]string, len(e.Terminals))
	for i, t := range e.Terminals {
		parts[i] = quoted(t.Function) + " = " + quoted(t.Label)
	}
	out := "{ " + strings.Join(parts, ", ") + " }"
	if len(e.Terminals) > 0 {
		out += "\nterminal_min_mm2 = " + q.Short(float64(e.Terminals[0].MinArea)) + "\nterminal_max_mm2 = " + q.Short(float64(e.Terminals[0].MaxArea))
	}
	return out
}
