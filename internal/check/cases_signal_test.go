package check_test

import (
	"strings"

	"railwright/internal/check"
)

func init() {
	cases = append(
		cases,
		ruleCase{
			rule: "LOP-001", name: "two sources by a fixed module, and a passive loop beside it",
			toml: "[[choice]]\nsubject = \"signal:FT-1\"\nproperty = \"module\"\nvalue = \"ai8-loop\"\n",
			csv:  "tag,kind,form,place,active,wires\nFT-1,AI,4-20ma,A,active,4\nLT-2,AI,4-20ma,A,passive,2\n",
			want: []string{"error signal:FT-1 | two sources | ai8-loop | ai8-current"},
		},
		ruleCase{
			rule: "LOP-001", name: "no source by a fixed module",
			toml: "[[choice]]\nsubject = \"signal:FT-1\"\nproperty = \"module\"\nvalue = \"ai8-current\"\n",
			csv:  "tag,kind,form,place,active,wires\nFT-1,AI,4-20ma,A,passive,2\n",
			want: []string{"error signal:FT-1 | no source"},
		},
		ruleCase{
			rule: "LOP-001", name: "free modules suit",
			csv: "tag,kind,form,place,active,wires\nFT-1,AI,4-20ma,A,passive,2\nFT-2,AI,4-20ma,A,active,4\nFT-3,AI,4-20ma,A,passive,3\n",
		},
		ruleCase{
			// own arithmetic: 204 m laid of 0.75 mm2 at 31.11 ohm/km hot: 12.69 ohm; module ai4-loop or ai8-loop: 100 ohm, 19.2 V at 22 mA
			// LT-1: 19.2 - 0.022 x (100 + 12.69 + 300) = 10.12 V; without 300 ohm 16.72 V
			rule: "LOP-002", name: "barrier and long cable; a default; a sound one",
			csv: "tag,kind,form,place,active,wires,min_voltage_v,load_ohm\nLT-1,AI,4-20ma,B,passive,2,16,300\nLT-2,AI,4-20ma,B,passive,2,,300\nLT-3,AI,4-20ma,B,passive,2,12,\n",
			want: []string{
				"error signal:LT-1 | 10.12 V at 22 mA | 16 V needed | in series 300 ohm | 16.7 V",
				"warning signal:LT-2 | 10.12 V at 22 mA | 12 V",
			},
		},
		ruleCase{
			// 19.2 - 0.022 x (100 + 12.69) = 16.72 V; 1.5 mm2: 6.49 ohm: 16.86 V
			rule: "LOP-002", name: "a smaller conductor fixed by hand; the plan takes the larger",
			csv:  "tag,kind,form,place,active,wires,min_voltage_v,cable\nLT-1,AI,4-20ma,B,passive,2,16.8,signal-2x0.75-screened\nLT-2,AI,4-20ma,B,passive,2,16.8,\n",
			want: []string{"error signal:LT-1 | 16.72 V | Use 1.5 mm2 | 16.86 V"},
		},
		ruleCase{rule: "LOP-002", name: "active loops have a supply of their own", csv: "tag,kind,form,place,active,wires,min_voltage_v\nLT-1,AI,4-20ma,B,active,4,30\n"},
		ruleCase{
			rule: "LOP-003", name: "too much in series; HART without; no HART with",
			csv:  "tag,kind,form,place,active,wires,hart,load_ohm,min_voltage_v\nLT-1,AI,4-20ma,A,passive,2,yes,400,5\nLT-2,AI,4-20ma,A,passive,2,yes,,5\nLT-3,AI,4-20ma,A,passive,2,no,400,5\n",
			want: []string{"warning signal:LT-1 | 651 ohm | 230 to 600 ohm | 51 ohm"},
		},
		ruleCase{
			rule: "LOP-003", name: "too little", toml: "[basis.circuit]\nhart_min_ohm = 300\n",
			csv:  "tag,kind,form,place,active,wires,hart\nLT-1,AI,4-20ma,A,passive,2,yes\n",
			want: []string{"warning signal:LT-1 | 251 ohm | Put 49 ohm in series"},
		},
		ruleCase{rule: "LOP-003", name: "an input of 250 ohm", csv: "tag,kind,form,place,active,wires,hart\nLT-1,AI,4-20ma,A,passive,2,yes\n"},
		ruleCase{
			// r = 250 + 12.69 = 262.7 ohm; 262.7 x (300 nF + 120 pF/m x 204 m) = 85.2 us
			rule: "LOP-004", name: "a device of 300 nF", toml: "[basis.circuit]\nhart_device_nf = 300\n",
			csv:  "tag,kind,form,place,active,wires,hart\nLT-1,AI,4-20ma,B,passive,2,yes\nLT-2,AI,4-20ma,B,passive,2,no\n",
			want: []string{"warning signal:LT-1 | 85 us | 65 us"},
		},
		ruleCase{
			// own arithmetic: 250 + 2 x 204 m x 31.1 mohm/m = 262.7 ohm x (240 + 204 x 0.12) nF = 69.5 us. With 240 nF the formula of
			// the physical layer leaves 65e6 / (262.7 x 120) - (240000 + 10000) / 120 < 0: no length at all
			rule: "LOP-004", name: "a device that states 240 nF itself",
			csv:  "tag,kind,form,place,active,wires,hart,ci_nf\nLT-1,AI,4-20ma,B,passive,2,yes,240\n",
			want: []string{"warning signal:LT-1 | 65 us | No length of this cable"},
		},
		ruleCase{rule: "LOP-004", name: "an ordinary one", csv: "tag,kind,form,place,active,wires,hart\nLT-1,AI,4-20ma,B,passive,2,yes\n"},
		ruleCase{
			rule: "LOP-005", name: "0-20 mA with alarm, without, and 4-20 mA",
			csv:  "tag,kind,form,place,active,wires,range_low,range_high,unit,alarm_low\nLT-1,AI,0-20ma,A,passive,2,0,4,m,1\nLT-2,AI,0-20ma,A,passive,2,0,4,m,\nLT-3,AI,4-20ma,A,passive,2,0,4,m,1\n",
			want: []string{"warning signal:LT-1 | reads as 0 m"},
		},
		ruleCase{
			rule: "LOP-005", name: "a module that does not report it",
			csv:    "tag,kind,form,place,active,wires\nLT-3,AI,4-20ma,A,passive,2\n",
			change: func(f *check.Facts) { s := f.Seats["LT-3"]; s.Set.WireBreak = false },
			want:   []string{"warning signal:LT-3 | below 3.6 or above 21 mA"},
		},
		ruleCase{rule: "LOP-005", name: "4-20 mA is seen", csv: "tag,kind,form,place,active,wires\nLT-3,AI,4-20ma,A,passive,2\n"},
		ruleCase{
			rule: "LOP-006", name: "too many ohms, few, and a voltage output loaded too much",
			csv:  "tag,kind,form,place,load_ohm\nFY-1,AO,4-20ma,B,800\nFY-2,AO,4-20ma,B,250\nSY-3,AO,0-10v,B,300\nSY-4,AO,0-10v,B,10000\n",
			want: []string{"error signal:FY-1 | 813 ohm | device 800 ohm", "error signal:SY-3 | 300 ohm"},
		},
		ruleCase{rule: "LOP-006", name: "a usual positioner", csv: "tag,kind,form,place,load_ohm\nFY-2,AO,4-20ma,B,450\nFY-3,AO,4-20ma,B,\n"},
		ruleCase{
			// 12.69 ohm into 10 kohm: 0.127 %
			rule: "LOP-007", name: "an input of 10 kohm",
			csv: "tag,kind,form,place,cable\nPT-1,AI,0-10v,B,signal-2x0.75-screened\nPT-2,AI,0-10v,A,\nPT-3,AI,0-10v,B,\n",
			hw:  lowInput, want: []string{"warning signal:PT-1 | loses 0.13 %"},
		},
		ruleCase{
			// own arithmetic: 12.7 ohm of both cores into 1500 ohm
			rule: "LOP-007", name: "an output into 1500 ohm, one into 100 kohm, one of unknown load",
			csv:  "tag,kind,form,place,load_ohm\nFY-1,AO,0-10v,B,1500\nFY-2,AO,0-10v,B,100000\nFY-3,AO,0-10v,B,\n",
			want: []string{"warning signal:FY-1 | loses 0.84 % | device 1500 ohm, both cores 12.7 ohm | current output"},
		},
		ruleCase{rule: "LOP-007", name: "an input of 100 kohm", csv: "tag,kind,form,place\nPT-1,AI,0-10v,B\n"},
		ruleCase{
			// di16-type1 has 90 / 16 a channel, di8 62 / 8 and a state-0 current of 1.5 mA; type 1: 0.5 mA and 15 V, 23.5 - 0.6 - 8 V = 14.9 V
			rule: "SIG-003", name: "a leaky switch", csv: "tag,kind,form,place,leakage_ma\nZS-1,DI,2-wire,A,1.2\n",
			want: []string{"info station:A-S1 | ZS-1 sits on di8 | di16-type1 costs less a channel | DIN-001, DIN-002"},
		},
		ruleCase{rule: "SIG-003", name: "a leaky switch on a module fixed by hand; contacts", toml: "[[choice]]\nsubject = \"signal:ZS-1\"\nproperty = \"module\"\nvalue = \"di16-type1\"\n", csv: "tag,kind,form,place,leakage_ma,contact\nZS-1,DI,2-wire,A,1.2,NO\nXS-2,DI,contact,A,,NC\n"},
		ruleCase{
			// (23.5 - 0.57 V of the infeed at 10 A - 0.5 - 21.6 V) / 0.06 A = 13.8 ohm; 204 m of 0.5 mm2 class 5 hot have 19.0, 0.75 mm2 12.7 ohm
			rule: "CAB-002", name: "a valve that 0.5 mm2 do not feed", toml: "[basis]\nconstruction = \"rail\"\n[basis.cable.area_mm2]\nDO = 0.5\n", csv: "tag,kind,form,place,current_ma,min_voltage_v,cable\nXY-1,DO,24v,B,60,21.6,\nXY-2,DO,24v,A,60,21.6,\nXY-3,DO,24v,B,60,21.6,signal-2x0.5\n",
			want: []string{"info cable:W-B-001 | has 0.75 mm2 rather than 0.5 mm2 | for XY-1 | 12.7 ohm | 19.0 ohm"},
		},
		ruleCase{
			// (207 - 11.5 that the feeder may lose - 1.5 - 184 V) / 0.9 A = 11.1 ohm; 404 m of 1.5 mm2 hot have 11.7 ohm, 2.5 mm2 7.2 ohm
			rule: "CAB-002", name: "a contactor behind feeder and field cable", toml: strings.Replace(usualPlaces, "length_m = 200", "length_m = 400", 1),
			csv:  "tag,kind,form,place,current_ma,voltage_v,min_voltage_v\nXA-1,DO,230vac,B,900,230,184\n",
			want: []string{"info cable:W-B-001 | has 2.5 mm2 rather than 1.5 mm2 | for XA-1"},
		},
		ruleCase{
			// 40 m of 1.5 mm2 at 1.8 A lose 2.29 V: 23.5 - 0.57 - 0.5 - 2.29 = 20.1 V without 2.5 mm2
			rule: "CAB-002", name: "the output's own drop counts", toml: strings.Replace(usualPlaces, "length_m = 200", "length_m = 36", 1),
			csv: "tag,kind,form,place,current_ma,min_voltage_v\nXY-1,DO,24v,B,1800,20.4\n", want: []string{"info cable:W-B-001 | has 2.5 mm2 | for XY-1"},
		},
		ruleCase{rule: "CAB-002", name: "the cheapest does"},
		ruleCase{
			// at 24 V supply_min 12: 12 - 8 - 2.5 mA x 12.69 ohm = 3.96 V; a contact keeps its 12 V
			rule: "DIN-001", name: "a low supply", toml: "[power]\nsupply_min_v = 12\n",
			csv:  "tag,kind,form,place,contact\nZS-1,DI,2-wire,B,NO\nZS-2,DI,contact,B,NO\n",
			want: []string{"error signal:ZS-1 | 11 V needed for a 1"},
		},
		ruleCase{rule: "DIN-001", name: "an ordinary supply", csv: "tag,kind,form,place,contact\nZS-1,DI,2-wire,B,NO\nZS-2,DI,pnp,B,NO\n"},
		ruleCase{
			// bleeder: 5 V / (1.2 - 0.5 mA) = 7143 ohm
			rule: "DIN-002", name: "a leaky switch on a type 1 input, one within, one not stated",
			toml: "[[choice]]\nsubject = \"signal:LS-1\"\nproperty = \"module\"\nvalue = \"di16-type1\"\n[[choice]]\nsubject = \"signal:LS-2\"\nproperty = \"module\"\nvalue = \"di16-type1\"\n[[choice]]\nsubject = \"signal:LS-3\"\nproperty = \"module\"\nvalue = \"di16-type1\"\n",
			csv:  "tag,kind,form,place,leakage_ma\nLS-1,DI,2-wire,A,1.2\nLS-2,DI,2-wire,A,0.4\nLS-3,DI,2-wire,A,\n",
			want: []string{"error signal:LS-1 | leaks 1.2 mA | 0.5 mA for a 0 | 7143 ohm", "warning signal:LS-3 | 1.5 mA"},
		},
		ruleCase{rule: "DIN-002", name: "type 3 takes what the standard allows", csv: "tag,kind,form,place,leakage_ma\nLS-1,DI,2-wire,A,1.5\nLS-2,DI,2-wire,A,\n"},
		ruleCase{
			// 11 V / (5 - 2.5 mA) = 4400 ohm
			rule: "DIN-003", name: "a switch for 5 mA, one for 2 mA",
			csv:  "tag,kind,form,place,current_ma\nLS-1,DI,2-wire,A,5\nLS-2,DI,2-wire,A,2\nLS-3,DI,2-wire,A,\n",
			want: []string{"warning signal:LS-1 | needs 5 mA | draws 2.5 mA | 4400 ohm"},
		},
		ruleCase{rule: "DIN-003", name: "not stated", csv: "tag,kind,form,place,current_ma\nLS-3,DI,2-wire,A,\n"},
		ruleCase{
			// 253 V, 150 pF/m x 204 m, 40 kohm: w C R = 0.3845; 253 x 0.3845 / sqrt(1 + 0.3845^2) = 90.8 V
			rule: "DIN-004", name: "230 V at 200 m and at home",
			csv:  "tag,kind,form,place\nXS-1,DI,230vac,B\nXS-2,DI,230vac,A\n",
			want: []string{"error signal:XS-1 | leave XS-1 91 V | 40 V are still a 0 | Switch 24 V DC"},
		},
		ruleCase{rule: "DIN-004", name: "24 V at 200 m", csv: "tag,kind,form,place\nXS-1,DI,contact,B\n"},
		ruleCase{
			rule: "DIN-005", name: "850 m of 0.75 mm2",
			toml: "[basis]\nconstruction = \"rail\"\nmax_cable_m = 2000\n[[place]]\nid = \"A\"\ncontroller = true\ncandidate = true\npower_source = true\n[[place]]\nid = \"B\"\n[[route]]\nfrom = \"A\"\nto = \"B\"\nlength_m = 850\n",
			csv:  "tag,kind,form,place,cable\nGS-1,DI,namur,B,signal-2x0.75\nGS-2,DI,namur,A,\nGS-3,DI,contact,B,\nGS-4,DI,namur,B,\n",
			want: []string{"error signal:GS-1 | 53.1 ohm, 50 ohm allowed | Use 1 mm2 | 39.9 ohm"},
		},
		ruleCase{rule: "DIN-005", name: "200 m", csv: "tag,kind,form,place\nGS-1,DI,namur,B\n"},
		ruleCase{
			rule: "POL-001", name: "NPN with earthed 0 V",
			csv:  "tag,kind,form,place\nGS-1,DI,npn,A\nGS-2,DI,pnp,A\n",
			want: []string{"error signal:GS-1 | NPN | PNP"},
		},
		ruleCase{rule: "POL-001", name: "isolated", toml: "[basis]\nconstruction = \"rail\"\nearthing = \"isolated\"\n", csv: "tag,kind,form,place\nGS-1,DI,npn,A\n"},
		ruleCase{
			rule: "POL-002", name: "NPN fixed to a module for PNP",
			toml: "[[choice]]\nsubject = \"signal:GS-1\"\nproperty = \"module\"\nvalue = \"di16\"\n",
			csv:  "tag,kind,form,place\nGS-1,DI,npn,A\nGS-2,DI,pnp,A\n",
			want: []string{"error signal:GS-1 | npn | di16"},
		},
		ruleCase{rule: "POL-002", name: "free", csv: "tag,kind,form,place\nGS-1,DI,npn,A\nGS-2,DI,pnp,A\n"},
		ruleCase{rule: "EAR-001", name: "isolated", toml: "[basis]\nconstruction = \"rail\"\nearthing = \"isolated\"\n", want: []string{"info project | insulation monitor"}},
		ruleCase{rule: "EAR-001", name: "earthed"},
		ruleCase{
			rule: "CNT-001", name: "5 kHz over 200 m, 100 Hz beside it",
			csv:  "tag,kind,form,place,frequency_hz\nFQ-1,CNT,pulse-24v,B,5000\nFQ-2,CNT,pulse-24v,B,100\nFQ-3,CNT,pulse-24v,B,\n",
			want: []string{"error signal:FQ-1 | 5000 Hz | pass 2229 Hz (edges of 77 and 214 us)"},
		},
		ruleCase{rule: "CNT-001", name: "slow", csv: "tag,kind,form,place,frequency_hz\nFQ-2,CNT,pulse-24v,B,100\n"},
		ruleCase{
			// own arithmetic: 23.5 V less infeed, less 0.5 V in the output, less 0.25 A x 2 x 204 m x 15.91 ohm/km = 1.62 V: 21.36 V
			rule: "OUT-001", name: "a valve that wants 21.9 V; the cable is fixed",
			csv:  "tag,kind,form,place,current_ma,min_voltage_v,cable\nXY-1,DO,24v,B,250,21.9,signal-2x1.5\nXY-2,DO,24v,B,250,21,signal-2x1.5\n",
			want: []string{"error signal:XY-1 | V over 204 m of 1.5 mm2 at 250 mA, 21.9 V needed | Use 2.5 mm2"},
		},
		ruleCase{rule: "OUT-001", name: "near", csv: "tag,kind,form,place,current_ma,min_voltage_v\nXY-1,DO,24v,A,250,21.6\nXY-2,DO,24v,A,,\n"},
		ruleCase{
			rule: "OUT-002", name: "a contactor and a lamp",
			csv:  "tag,kind,form,place,current_ma,inrush_ma\nXY-1,DO,24v,A,500,3000\nXL-2,DO,24v,A,200,2000\nXY-3,DO,24v,A,250,400\n",
			want: []string{"warning signal:XY-1 | 3000 mA"},
		},
		ruleCase{rule: "OUT-002", name: "not stated", csv: "tag,kind,form,place,current_ma,inrush_ma\nXY-1,DO,24v,A,250,\n"},
		ruleCase{
			rule: "OUT-003", name: "a small relay on a mains output",
			csv:  "tag,kind,form,place,current_ma\nXY-1,DO,230vac,A,6\nXY-2,DO,230vac,A,500\n",
			want: []string{"warning signal:XY-1 | leaks 2 mA | 33 %"},
		},
		ruleCase{rule: "OUT-003", name: "a valve", csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,250\n"},
		ruleCase{
			rule: "OUT-004", name: "2 mA over a relay contact",
			csv:  "tag,kind,form,place,current_ma,voltage_v\nXY-1,DO,relay,A,2,24\nXY-2,DO,relay,A,500,24\n",
			want: []string{"warning signal:XY-1 | draws 2 mA | 10 mA"},
		},
		ruleCase{rule: "OUT-004", name: "not stated", csv: "tag,kind,form,place,current_ma,voltage_v\nXY-1,DO,relay,A,,24\n"},
		ruleCase{
			// 100 000 operations / 0.1 Hz = 1e6 s = 11.6 days
			rule: "OUT-005", name: "every ten seconds",
			csv:  "tag,kind,form,place,current_ma,voltage_v,frequency_hz\nXY-1,DO,relay,A,500,24,0.1\nXY-2,DO,relay,A,500,24,0.0001\n",
			want: []string{"warning signal:XY-1 | 12 days"},
		},
		ruleCase{rule: "OUT-005", name: "seldom", csv: "tag,kind,form,place,current_ma,voltage_v\nXY-1,DO,relay,A,500,24\n"},
		ruleCase{
			rule: "OUT-006", name: "outputs of which the list says nothing",
			csv:  "tag,kind,form,place,voltage_v\nXY-1,DO,relay,A,24\nXY-2,DO,24v,A,\n",
			want: []string{"info station:A-S1 | of 2 outputs | relays are: 1"},
		},
		ruleCase{
			rule: "OUT-006", name: "none, a diode across an AC coil, a diode, a lamp",
			csv:  "tag,kind,form,place,voltage_v,suppressor\nXY-1,DO,24v,A,,none\nXY-2,DO,230vac,A,,diode\nXY-3,DO,24v,A,,diode\nXY-4,DO,relay,A,230,not-a-coil\nXY-5,DO,230vac,A,,none\n",
			want: []string{"warning signal:XY-1 | no suppressor | a diode", "error signal:XY-2 | shorts every other half wave | RC unit", "warning signal:XY-5 | no suppressor | RC unit"},
		},
		ruleCase{rule: "OUT-006", name: "inputs only"},
		ruleCase{
			rule: "OUT-011", name: "a coil, something, a heater", csv: "tag,kind,form,place,voltage_v,current_ma,suppressor\nXY-1,DO,relay,A,230,3000,rc\nXY-2,DO,relay,A,230,3000,\nXY-3,DO,relay,A,230,3000,not-a-coil\n",
			want: []string{"warning signal:XY-1 | 3000 mA | switches 2000 mA of coils", "info signal:XY-2 | not-a-coil"},
		},
		ruleCase{rule: "OUT-011", name: "a small coil", csv: "tag,kind,form,place,voltage_v,current_ma\nXY-1,DO,relay,A,230,60\n"},
		ruleCase{
			rule: "OUT-007", name: "a module without a substitute value",
			csv:    "tag,kind,form,place,safe_state\nXY-1,DO,24v,A,1\nXY-2,DO,24v,A,0\n",
			change: func(f *check.Facts) { f.Seats["XY-1"].Set.Substitute = false },
			want:   []string{"error signal:XY-1 | must go to 1"},
		},
		ruleCase{
			rule: "OUT-007", name: "a coupler that does not watch",
			csv: "tag,kind,form,place,safe_state\nXY-2,DO,24v,A,0\n",
			change: func(f *check.Facts) {
				c, _ := f.List.Coupler(f.Design.Stations[0].Coupler)
				c.Watchdog = 0
			},
			want: []string{"error signal:XY-2 | does not watch it"},
		},
		ruleCase{rule: "OUT-007", name: "both have it", csv: "tag,kind,form,place,safe_state\nXY-1,DO,24v,A,1\nXY-2,DO,24v,A,hold\n"},
		ruleCase{
			rule: "OUT-008", name: "one without", csv: "tag,kind,form,place,safe_state\nXY-1,DO,24v,A,\nXY-2,DO,24v,A,0\n",
			want: []string{"warning station:A-S1 | 1 outputs | XY-1"},
		},
		ruleCase{rule: "OUT-008", name: "all stated", csv: "tag,kind,form,place,safe_state\nXY-2,DO,24v,A,0\n"},
		ruleCase{
			// own arithmetic: 2.5 mm2 hot 9.55 ohm/km x 2 x 204 m = 3.90 ohm; 23.5 - 0.9 x 3.90 = 19.99 V; reach 204 x 1.9 / 3.51 = 110.5 m
			rule: "OUT-009", name: "900 mA at 200 m", csv: "tag,kind,form,place,current_ma,min_voltage_v\nXY-1,DO,24v,B,900,21.6\nXY-2,DO,24v,A,900,21.6\n",
			want: []string{"error signal:XY-1 | 20.0 V at 900 mA over 204 m of 2.5 mm2 from A | 21.6 V needed | within 111 m | 488 mA"},
		},
		ruleCase{rule: "OUT-009", name: "250 mA at 200 m", csv: "tag,kind,form,place,current_ma,min_voltage_v\nXY-1,DO,24v,B,250,20.5\n"},
		ruleCase{
			// own arithmetic: 26.0 x 1.0786 = 28.04 ohm/km at 40 degC x 2 x 204 m = 11.44 ohm / 0.385 ohm/K (Pt100 at 50 degC) = 29.7 K; 3 wires: 204 m x 28.04 ohm/km x 2 % / 0.385 = 0.30 K
			rule: "RTD-001", name: "two wires at 200 m; three; four; Pt1000",
			csv:  "tag,kind,form,place,wires,sensor,range_low,range_high\nTE-1,RTD,resistance,B,2,Pt100,0,100\nTE-2,RTD,resistance,B,3,Pt100,0,100\nTE-3,RTD,resistance,B,4,Pt100,0,100\nTE-4,RTD,resistance,A,2,Pt1000,0,100\n",
			want: []string{"error signal:TE-1 | 30.17 K | four wires"},
		},
		ruleCase{
			rule: "RTD-001", name: "two wires at home: more than the sensor's own tolerance",
			csv:  "tag,kind,form,place,wires,sensor,range_low,range_high\nTE-1,RTD,resistance,A,2,Pt100,0,100\n",
			toml: "[basis.circuit]\nrtd_error_k = 5\n",
			want: []string{"warning signal:TE-1 | 2.07 K | 0.80 K"},
		},
		ruleCase{rule: "RTD-001", name: "four wires", csv: "tag,kind,form,place,wires,sensor\nTE-3,RTD,resistance,B,4,Pt100\n"},
		ruleCase{
			// IEC 60751 class A at 100 degC, where platinum is weakest: 0.15 + 0.002 x 100 = 0.35 K
			rule: "RTD-001", name: "class A", csv: "tag,kind,form,place,wires,sensor,range_low,range_high,tolerance\nTE-1,RTD,resistance,A,2,Pt100,0,100,A\n",
			toml: "[basis.circuit]\nrtd_error_k = 5\n",
			want: []string{"warning signal:TE-1 | class A tolerance is 0.35 K"},
		},
		ruleCase{
			// class 2 of K at 50 degC: 2.5 K; class 1: 1.5 K; both with about 1 K of the module and 1 K of the cold junction
			rule: "SCL-004", name: "100 K of a type K; 1000 K; class 1 of 150 K",
			csv:  "tag,kind,form,place,sensor,range_low,range_high,tolerance\nTE-1,TC,millivolt,A,K,0,100,\nTE-2,TC,millivolt,A,K,0,1000,\nTE-3,TC,millivolt,A,K,0,150,1\n",
			want: []string{"warning signal:TE-1 | element 2.50 K (class taken as usual"},
		},
		ruleCase{rule: "SCL-004", name: "a resistance thermometer", csv: "tag,kind,form,place,wires,sensor,range_low,range_high\nTE-1,RTD,resistance,A,4,Pt100,0,100\n"},
		ruleCase{
			rule: "TCX-001", name: "an intrinsically safe one has extension cable too", csv: "tag,kind,form,place,sensor,ex_level,ex_zone,ex_gas\nTE-1,TC,millivolt,A,K,ib,1,IIB\n",
		},
		ruleCase{
			rule: "TCX-001", name: "copper by hand", csv: "tag,kind,form,place,sensor,cable\nTE-1,TC,millivolt,A,K,signal-2x0.75-screened\nTE-2,TC,millivolt,A,K,\n",
			want: []string{"error signal:TE-1 | type K on cable signal-2x0.75-screened | reads"},
		},
		ruleCase{rule: "TCX-001", name: "extension cable", csv: "tag,kind,form,place,sensor\nTE-1,TC,millivolt,A,K\nTE-2,TC,millivolt,A,J\n"},
		ruleCase{
			rule: "TCX-002", name: "not isolated", hw: "format = 1\ndrop = [\"tc4\"]\n", csv: "tag,kind,form,place,sensor\nTE-1,TC,millivolt,A,K\n",
			want: []string{"info station:A-S1 | TE-1"},
		},
		ruleCase{
			rule: "TCX-002", name: "an earthed junction on an isolated module: the plan takes it", csv: "tag,kind,form,place,sensor,junction\nTE-1,TC,millivolt,A,K,earthed\n",
		},
		ruleCase{
			rule: "TCX-002", name: "an earthed junction where no module is isolated; an insulated one", hw: "format = 1\ndrop = [\"tc4\"]\n", csv: "tag,kind,form,place,sensor,junction\nTE-1,TC,millivolt,A,K,earthed\nTE-2,TC,millivolt,A,K,insulated\n",
			want: []string{"warning signal:TE-1 | earth loop | insulated"},
		},
		ruleCase{rule: "TCX-002", name: "no thermocouple"},
		ruleCase{
			rule: "TCX-003", name: "a cold junction of 8 K", csv: "tag,kind,form,place,sensor,range_low,range_high\nTE-1,TC,millivolt,A,K,0,200\n",
			hw: badJunction, want: []string{"warning signal:TE-1 | 2.5 K"},
		},
		ruleCase{rule: "TCX-003", name: "an ordinary one", csv: "tag,kind,form,place,sensor,range_low,range_high\nTE-1,TC,millivolt,A,K,0,200\nTE-2,TC,millivolt,A,R,0,1400\n"},
		ruleCase{
			rule: "SCL-001", name: "one without", csv: "tag,kind,form,place,range_low,range_high\nPT-1,AI,4-20ma,A,,\nPT-2,AI,4-20ma,A,0,10\n",
			want: []string{"warning station:A-S1 | PT-1"},
		},
		ruleCase{rule: "SCL-001", name: "all with", csv: "tag,kind,form,place,range_low,range_high\nPT-2,AI,4-20ma,A,0,10\n"},
		ruleCase{
			// 2^8 = 256 steps: 400 / 256 = 1.56
			rule: "SCL-002", name: "eight bits", csv: "tag,kind,form,place,range_low,range_high,unit\nPT-2,AI,0-10v,A,0,400,bar\n", hw: lowInput,
			want: []string{"warning signal:PT-2 | 1.56 bar (8 bits)"},
		},
		ruleCase{rule: "SCL-002", name: "fifteen bits", csv: "tag,kind,form,place,range_low,range_high\nPT-2,AI,0-10v,A,0,400\n"},
		ruleCase{
			rule: "SCR-001", name: "a thermometer without a screen", csv: "tag,kind,form,place,wires,sensor,screen\nTE-1,RTD,resistance,A,4,Pt100,no\nTE-2,RTD,resistance,A,4,Pt100,\nXS-3,DI,contact,A,,,no\n",
			want: []string{"warning signal:TE-1 | no screen"},
		},
		ruleCase{rule: "SCR-001", name: "contacts need none", csv: "tag,kind,form,place\nXS-3,DI,contact,B\n"},
	)
}

// lowInput is a voltage input of 10 kohm and 8 bits in place of the built-in ones; badJunction a
// thermocouple module whose cold junction is 8 K off.
const (
	lowInput = `format = 1
source = "case"
drop = ["ai8-voltage"]
[[module]]
code = "ai4-voltage"
constructions = ["rail"]
width_mm = 15
logic_ma = 76
supply_ma = 35
supply_kind = "24vdc"
in_bytes = 8
pattern = "row-8x4"
heat_w = 1
ambient_max_c = 60
price = 100
[[module.channels]]
kind = "AI"
forms = ["0-10v", "10v-bipolar"]
count = 4
first = 0
bits = 16
image = "in"
terminals = { "supply+" = "a{i+1}", "signal+" = "b{i+1}", "signal-" = "c{i+1}", "supply-" = "c{i+1}" }
impedance_ohm = 10000
resolution_bits = 8
accuracy_percent = 0.1
`
	badJunction = `format = 1
source = "case"
drop = ["tc4"]
[[module]]
code = "tc8"
constructions = ["rail"]
width_mm = 15
logic_ma = 76
supply_ma = 35
supply_kind = "24vdc"
in_bytes = 16
pattern = "row-8x4"
heat_w = 1
ambient_max_c = 60
price = 100
[[module.channels]]
kind = "TC"
forms = ["millivolt"]
sensors = ["K", "J", "T", "E", "N", "R", "S", "B"]
count = 8
first = 0
bits = 16
image = "in"
terminals = { "signal+" = "a{i+1}", "signal-" = "b{i+1}" }
resolution_bits = 15
accuracy_k = 1
cold_junction_k = 8
`
)
