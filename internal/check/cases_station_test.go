package check_test

import (
	"railwright/internal/check"
	"railwright/internal/design"
)

// Shorthand for changes to the one planned station.
func station(f *check.Facts) *design.Station { return &f.Design.Stations[0] }

func group(f *check.Facts) *design.SupplyGroup { return &station(f).SupplyGroups[0] }

func init() {
	cases = append(
		cases,
		ruleCase{rule: "STA-001", name: "too much logic", change: func(f *check.Facts) { station(f).LogicCurrentMA = 1e5 }, want: []string{"error station:A-S1"}},
		ruleCase{rule: "STA-001", name: "as planned"},
		ruleCase{rule: "STA-002", name: "too many bytes", change: func(f *check.Facts) { station(f).InputBytes = 1e6 }, want: []string{"error station:A-S1"}},
		ruleCase{rule: "STA-002", name: "as planned"},
		ruleCase{rule: "STA-003", name: "too long", change: func(f *check.Facts) { station(f).RailMM = 1e6 }, want: []string{"error station:A-S1"}},
		ruleCase{rule: "STA-003", name: "as planned"},
		ruleCase{
			rule: "STA-004", name: "no spare left", csv: "tag,kind,form,place,contact\nXS-1,DI,contact,A,NC\n",
			change: func(f *check.Facts) {
				sl := f.Seats["XS-1"].Slot
				sl.Channels = sl.Channels[:1]
			},
			want: []string{"warning station:A-S1 | asks for 1"},
		},
		ruleCase{rule: "STA-004", name: "as planned"},
		ruleCase{rule: "GRP-001", name: "too much load", change: func(f *check.Facts) { group(f).LoadMA = 1e5 }, want: []string{"error group:A-S1-G1"}},
		ruleCase{rule: "GRP-001", name: "as planned"},
		ruleCase{
			rule: "GRP-002", name: "a second infeed", csv: "tag,kind,form,place,contact\nXS-1,DI,contact,A,NC\nXS-2,DI,namur,A,\n",
			change: func(f *check.Facts) {
				for i := range station(f).Slots {
					station(f).Slots[i].Infeed = true
				}
			},
			want: []string{"error group:A-S1-G1 | 2 infeed points"},
		},
		ruleCase{rule: "GRP-002", name: "a module outside of its run", change: func(f *check.Facts) { group(f).LastSlot, group(f).FirstSlot = 9, 9 }, want: []string{"error group:A-S1-G1 | side by side"}},
		ruleCase{rule: "GRP-002", name: "as planned"},
		ruleCase{
			rule: "GRP-003", name: "another class", csv: "tag,kind,form,place,supply_class\nXS-1,DI,contact,A,ups\n",
			change: func(f *check.Facts) { group(f).Class = "24vdc normal in" }, want: []string{"error signal:XS-1 | ups"},
		},
		ruleCase{
			rule: "GRP-003", name: "a mixed group where the basis parts them", csv: "tag,kind,form,place\nXS-1,DI,contact,A\n",
			change: func(f *check.Facts) { group(f).Class = "24vdc normal any" }, want: []string{"warning signal:XS-1"},
		},
		ruleCase{rule: "GRP-003", name: "as planned", csv: "tag,kind,form,place,supply_class\nXS-1,DI,contact,A,ups\nXY-2,DO,24v,A,\n"},
		ruleCase{
			rule: "BAS-001", name: "another pattern",
			change: func(f *check.Facts) { b, _ := f.List.Base(station(f).Slots[0].Base); b.Patterns = []string{"other"} },
			want:   []string{"error station:A-S1 | does not offer the terminals"},
		},
		ruleCase{rule: "BAS-001", name: "as planned"},
		ruleCase{rule: "SIG-001", name: "no module takes it", csv: "tag,kind,form,place\nXS-1,DI,contact,A\nSY-1,AO,10v-bipolar,A\n", hw: dropped, want: []string{"error signal:SY-1 | no channel"}},
		ruleCase{rule: "SIG-001", name: "all placed"},
		ruleCase{rule: "SIG-002", name: "on hold", csv: "tag,kind,form,place,hold\nXS-1,DI,contact,A,maker to confirm\nXS-2,DI,contact,A,\n", want: []string{"warning signal:XS-1 | maker to confirm"}},
		ruleCase{rule: "SIG-002", name: "nothing on hold"},
		ruleCase{rule: "SIT-001", name: "one contact beside the controller", want: []string{"warning project"}},
		ruleCase{rule: "SIT-001", name: "stations are cheaper", change: func(f *check.Facts) { f.Design.HomeRun.Cost = f.Design.Cost.Total + 1 }},
		ruleCase{
			rule: "RED-001", name: "partners on one module", csv: "tag,kind,form,place,redundant_with\nXS-1,DI,contact,A,XS-2\nXS-2,DI,contact,A,XS-1\nXS-3,DI,contact,A,\n",
			change: func(f *check.Facts) {
				swapOnto(f, "XS-2", "XS-1")
			},
			want: []string{"error signal:XS-1 | share a module"},
		},
		ruleCase{rule: "RED-001", name: "as planned", csv: "tag,kind,form,place,redundant_with\nXS-1,DI,contact,A,XS-2\nXS-2,DI,contact,A,\n"},
		ruleCase{
			rule: "SEG-001", name: "two classes on one module", csv: "tag,kind,form,place,segregate\nXS-1,DI,contact,A,FIRE\nXS-2,DI,contact,A,\n",
			toml: "[basis.segregation]\nFIRE = \"module\"\n", change: func(f *check.Facts) { swapOnto(f, "XS-2", "XS-1") },
			want: []string{"error signal:XS-2 | shares slot"},
		},
		ruleCase{rule: "SEG-001", name: "as planned", csv: "tag,kind,form,place,segregate\nXS-1,DI,contact,A,FIRE\nXS-2,DI,contact,A,\n"},
		ruleCase{
			rule: "CAB-001", name: "too long", change: func(f *check.Facts) { f.Seats["XS-1"].Cable.LengthM = 900 },
			want: []string{"error cable:W-A-003 | 900.0 m long, 500.0 m allowed"},
		},
		ruleCase{rule: "CAB-001", name: "as planned"},
		ruleCase{rule: "ZON-001", name: "zone 2", toml: zonePlace, want: []string{"error station:A-S1 | zone 2"}},
		ruleCase{rule: "ZON-001", name: "no zone"},
		ruleCase{rule: "MNS-001", name: "mains inputs", csv: "tag,kind,form,place\nXS-1,DI,230vac,A\n", want: []string{"info station:A-S1"}},
		ruleCase{rule: "MNS-001", name: "24 V only"},
		ruleCase{rule: "EXI-001", name: "one circuit", csv: exiList("XT-1,yes"), want: []string{"info station:A-S1 | 1 intrinsically safe"}},
		ruleCase{rule: "EXI-001", name: "none"},
		ruleCase{
			// module: Uo 28 V, Io 93 mA, Po 651 mW, Co 83 nF, Lo 4.2 mH (IIC); cable 204 m x 200 pF/m = 40.8 nF
			rule: "EXI-002", name: "a device for 26 V; capacitance too large; a sound one", csv: exiList("XT-1,26V", "XT-2,60nF", "XT-3,yes"),
			want: []string{"error signal:XT-1 | Uo <= Ui of XT-1 (28 V, 26 V allowed)", "error signal:XT-2 | Ci + Ccable <= Co | 83 nF allowed"},
		},
		ruleCase{rule: "EXI-002", name: "sound", csv: exiList("XT-3,yes")},
		ruleCase{rule: "EXI-003", name: "nothing stated", csv: exiList("XT-1,nothing", "XT-2,yes"), want: []string{"warning signal:XT-1 | Ui of XT-1"}},
		ruleCase{rule: "EXI-003", name: "all stated", csv: exiList("XT-2,yes")},
		ruleCase{
			rule: "SAF-001", name: "fed from elsewhere, and a free contact beside it", csv: "tag,kind,form,place,supply_class,contact\nYS-1,DI,24v,A,safety:RAKE,\nYS-2,DI,contact,A,safety:RAKE,NC\nYS-3,DI,24v,A,,\n",
			want: []string{"error signal:YS-1 | YS-1 (24v | group 2"},
		},
		ruleCase{
			rule: "SAF-001", name: "a module that is not stated interference-free", csv: "tag,kind,form,place,supply_class\nXY-1,DO,24v,A,safety:RAKE\n",
			change: func(f *check.Facts) { f.Seats["XY-1"].Module.Safe = false }, want: []string{"error group:A-S1-G1 | interference-free"},
		},
		ruleCase{rule: "SAF-001", name: "as planned", csv: "tag,kind,form,place,supply_class,contact\nXY-1,DO,24v,A,safety:RAKE,\nYS-2,DI,contact,A,safety:RAKE,NC\n"},
		ruleCase{rule: "SAF-002", name: "a safety group", csv: "tag,kind,form,place,supply_class\nXY-1,DO,24v,A,safety:RAKE\n", want: []string{"info group:A-S1-G1"}},
		ruleCase{rule: "SAF-002", name: "none"},
		ruleCase{
			rule: "SAF-003", name: "NO and NC", csv: "tag,kind,form,place,supply_class,contact\nYS-1,DI,contact,A,safety:RAKE,NO\nYS-2,DI,contact,A,safety:RAKE,NC\nYS-3,DI,contact,A,,NO\n",
			want: []string{"warning signal:YS-1 | NO"},
		},
		ruleCase{rule: "SAF-003", name: "NC", csv: "tag,kind,form,place,supply_class,contact\nYS-2,DI,contact,A,safety:RAKE,NC\n"},
		ruleCase{
			rule: "SAF-004", name: "a valve with its electronic position switch elsewhere", csv: "tag,kind,form,place,supply_class,device\nXY-1,DO,24v,A,safety:RAKE,V1\nZS-1,DI,pnp,A,,V1\nZS-2,DI,contact,A,,V1\n",
			want: []string{"error group:A-S1-G2 | device V1"},
		},
		ruleCase{rule: "SAF-004", name: "a free contact", csv: "tag,kind,form,place,supply_class,device\nXY-1,DO,24v,A,safety:RAKE,V1\nZS-2,DI,contact,A,,V1\n"},
		ruleCase{
			rule: "SHO-001", name: "the group's own sensor supply", toml: "[[choice]]\nsubject = \"signal:XS-1\"\nproperty = \"module\"\nvalue = \"di16-type1\"\n", csv: "tag,kind,form,place\nXS-1,DI,contact,A\nXS-2,DI,pnp,A\n",
			want: []string{"info group:A-S1-G1 | di16-type1"},
		},
		ruleCase{rule: "SHO-001", name: "protected by module"},
		ruleCase{
			rule: "SEP-001", name: "mains and 4-20 mA", csv: "tag,kind,form,place\nXS-1,DI,230vac,B\nPT-1,AI,4-20ma,B\n",
			want: []string{"info project | A--B | 300 mm | 100 mm"},
		},
		ruleCase{rule: "SEP-001", name: "24 V and 4-20 mA", csv: "tag,kind,form,place\nXS-1,DI,contact,B\nPT-1,AI,4-20ma,B\n"},
		ruleCase{rule: "SRG-001", name: "buried", toml: buried, csv: "tag,kind,form,place\nXS-1,DI,contact,B\n", want: []string{"info station:A-S1 | 1 copper"}},
		ruleCase{rule: "SRG-001", name: "on trays", csv: "tag,kind,form,place\nXS-1,DI,contact,B\n"},
		ruleCase{rule: "CND-001", name: "4 mm2", change: func(f *check.Facts) { f.Seats["XS-1"].Cable.AreaMM2 = 4 }, want: []string{"error signal:XS-1 | 4 mm2"}},
		ruleCase{rule: "CND-001", name: "0.75 mm2"},
		ruleCase{rule: "CND-002", name: "0.34 mm2", change: func(f *check.Facts) { f.Seats["XS-1"].Cable.AreaMM2 = 0.34 }, want: []string{"info station:A-S1 | 0.34 mm2"}},
		ruleCase{rule: "CND-002", name: "0.75 mm2"},
		ruleCase{
			rule: "ADR-001", name: "one address twice", csv: "tag,kind,form,place\nXS-1,DI,contact,A\nXS-2,DI,contact,A\n",
			change: func(f *check.Facts) { f.Seats["XS-2"].Channel.Address = f.Seats["XS-1"].Channel.Address }, want: []string{"error signal:XS-2 | share address"},
		},
		ruleCase{
			rule: "ADR-001", name: "bytes overlap", change: func(f *check.Facts) {
				twin := *station(f)
				twin.ID, twin.Slots = "A-S2", nil
				f.Design.Stations = append(f.Design.Stations, twin)
			},
			want: []string{"error station:A-S2 | input bytes"},
		},
		ruleCase{rule: "ADR-001", name: "as planned"},
		ruleCase{rule: "AMB-001", name: "a hot place", change: func(f *check.Facts) { f.Project.Basis.AmbientMax = 65 }, want: []string{"error station:A-S1 | 65 degC"}},
		ruleCase{rule: "AMB-001", name: "as planned"},
		ruleCase{rule: "ENC-001", name: "59.5 degC and many modules: no enclosure of the list does", toml: "[basis]\nconstruction = \"rail\"\nambient_max_c = 59.5\n", csv: manyOutputs, want: []string{"error station:A-S1 | degC inside at 59.5 degC ambient, 60 degC allowed | surface"}},
		ruleCase{
			rule: "ENC-001", name: "an enclosure for 1 W", change: func(f *check.Facts) { e, _ := f.List.Enclosure(station(f).Enclosure); e.MaxHeat = 1000 },
			want: []string{"error station:A-S1 | may hold 1 W"},
		},
		ruleCase{rule: "ENC-001", name: "40 degC"},
		ruleCase{rule: "ENC-001", name: "56 degC: the plan takes a larger one", toml: "[basis]\nconstruction = \"rail\"\nambient_max_c = 56\n", csv: manyOutputs},
		ruleCase{rule: "ENC-009", name: "56 degC", toml: "[basis]\nconstruction = \"rail\"\nambient_max_c = 56\n", csv: manyOutputs, want: []string{"info station:A-S1 | would hold it | too warm there"}},
		ruleCase{rule: "ENC-009", name: "40 degC"},
		ruleCase{rule: "ENC-002", name: "-30 degC", toml: "[basis]\nconstruction = \"rail\"\nambient_min_c = -30\n", want: []string{"error station:A-S1 | -30 degC | -20 degC | heater"}},
		ruleCase{rule: "ENC-002", name: "0 degC"},
		ruleCase{rule: "ENC-003", name: "outdoors", toml: outdoors, want: []string{"warning station:A-S1 | heater"}},
		ruleCase{rule: "ENC-003", name: "indoors"},
		ruleCase{rule: "ENC-004", name: "outdoors", toml: outdoors + "[basis]\nconstruction = \"rail\"\nambient_max_c = 45\n", csv: manyOutputs, want: []string{"warning station:A-S1 | the sun adds"}},
		ruleCase{rule: "ENC-004", name: "in the shade", toml: outdoors + "[basis]\nconstruction = \"rail\"\n[basis.climate]\nsun_w_per_m2 = 0\n"},
		ruleCase{rule: "ENC-005", name: "a hundred cables, a shallow enclosure", csv: hundred, change: func(f *check.Facts) { refigure(f, "station:A-S1.gland_share", 90) }, want: []string{"warning station:A-S1 | cm2"}},
		ruleCase{rule: "ENC-005", name: "one cable"},
		ruleCase{rule: "ENC-006", name: "an indoor one", toml: outdoors, change: func(f *check.Facts) { station(f).Enclosure = "enclosure-indoor-600x600" }, want: []string{"error station:A-S1"}},
		ruleCase{rule: "ENC-006", name: "as planned", toml: outdoors},
		ruleCase{
			rule: "OUT-010", name: "too much for a channel", csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,450\n",
			change: func(f *check.Facts) { f.Seats["XY-1"].Set.MaxEach = 100_000 }, want: []string{"error signal:XY-1 | carries 450 mA"},
		},
		ruleCase{
			rule: "OUT-010", name: "too much for a module", csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,450\nXY-2,DO,24v,A,450\n",
			change: func(f *check.Facts) { f.Seats["XY-1"].Module.MaxTotal = 800_000 }, want: []string{"error station:A-S1 | 900 mA together"},
		},
		ruleCase{rule: "OUT-010", name: "as planned", csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,450\nXY-2,DO,24v,A,450\n"},
		ruleCase{
			rule: "SCL-003", name: "a module of 1 %", csv: "tag,kind,form,place,range_low,range_high,unit\nPT-1,AI,4-20ma,A,0,100,bar\n",
			change: func(f *check.Facts) { refigure(f, "signal:PT-1.module_error", 1.2) }, want: []string{"warning signal:PT-1 | 1.2 bar off"},
		},
		ruleCase{rule: "SCL-003", name: "0.1 %", csv: "tag,kind,form,place,range_low,range_high,unit\nPT-1,AI,4-20ma,A,0,100,bar\n"},
		ruleCase{rule: "STA-007", name: "more asked than there are", change: func(f *check.Facts) { f.Project.Basis.FreeSlots = 100 }, want: []string{"warning station:A-S1 | asks for 100"}},
		ruleCase{rule: "STA-007", name: "two asked", toml: "[basis]\nconstruction = \"rail\"\nfree_slots = 2\n"},
		ruleCase{
			rule: "CND-003", name: "two on one", change: func(f *check.Facts) {
				for i := range f.Design.Wires {
					if f.Design.Wires[i].Signal != "" {
						f.Design.Wires = append(f.Design.Wires, f.Design.Wires[i])
						return
					}
				}
			},
			want: []string{"error station:A-S1 | one terminal"},
		},
		ruleCase{rule: "CND-003", name: "as planned", csv: rows(20, "XS", "DI,contact,A")},
		ruleCase{rule: "ENC-007", name: "a thick cable", change: func(f *check.Facts) { f.Seats["XS-1"].Type.DiameterUM = 200_000 }, want: []string{"warning project | signal-2x0.75 (1)"}},
		ruleCase{rule: "ENC-007", name: "as planned"},
		ruleCase{rule: "ENC-008", name: "too full", change: func(f *check.Facts) { e, _ := f.List.Enclosure(station(f).Enclosure); e.Rail = 100 }, want: []string{"warning station:A-S1"}},
		ruleCase{rule: "ENC-008", name: "as planned"},
		ruleCase{
			rule: "ADR-003", name: "byte 3", toml: "[basis.address]\nalign_bytes = 4\n[[choice]]\nsubject = \"station:A-S1\"\nproperty = \"place\"\nvalue = \"A\"\n[[choice]]\nsubject = \"station:A-S1\"\nproperty = \"input_byte\"\nvalue = \"6\"\n",
			want: []string{"warning station:A-S1 | input byte 6"},
		},
		ruleCase{
			rule: "ADR-004", name: "4 bytes", toml: "[basis.address]\nmax_input_bytes = 4\n", csv: "tag,kind,form,place\nLT-1,AI,4-20ma,A\n",
			want: []string{"error station:A-S1 | ends at input byte | the controller has 4 bytes"},
		},
		ruleCase{rule: "ADR-004", name: "4 bytes for outputs", toml: "[basis.address]\nmax_output_bytes = 1\nfirst_output_byte = 10\n", csv: "tag,kind,form,place\nXY-1,DO,24v,A\n", want: []string{"error station:A-S1 | output byte | 1 bytes"}},
		ruleCase{rule: "ADR-004", name: "1024 bytes", toml: "[basis.address]\nmax_input_bytes = 1024\nmax_output_bytes = 1024\n"},
		ruleCase{rule: "ADR-003", name: "as planned", toml: "[basis.address]\nalign_bytes = 4\nfirst_input_byte = 3\n"},
	)
}

// swapOnto moves a signal to the slot of another one.
func swapOnto(f *check.Facts, id, onto string) {
	from, to := f.Seats[id], f.Seats[onto]
	for i := range to.Slot.Channels {
		c := &to.Slot.Channels[i]
		if c.Signal == nil {
			c.Signal, c.SignalID = from.Channel.Signal, id
			from.Channel.Signal, from.Channel.SignalID = nil, ""
			return
		}
	}
}
