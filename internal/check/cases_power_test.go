package check_test

import (
	"fmt"
	"strings"

	"railwright/internal/check"
	"railwright/internal/design"
)

// refigure sets the result of a calculation of the planned design.
func refigure(f *check.Facts, id string, v float64) {
	r, ok := f.Design.Calculations[id]
	if !ok {
		panic("the case's design has no calculation " + id)
	}
	r.Result.Value = v
	f.Design.Calculations[id] = r
}

// fixedSlot fixes the module in slot 1 and the device of its group.
func fixedSlot(module, device string) string {
	return fmt.Sprintf("[[choice]]\nsubject = \"station:A-S1\"\nproperty = \"place\"\nvalue = \"A\"\n"+
		"[[choice]]\nsubject = \"station:A-S1\"\nproperty = \"slot.1\"\nvalue = %q\n[[choice]]\nsubject = \"station:A-S1\"\nproperty = \"infeed.1\"\nvalue = \"yes\"\n"+
		"[[choice]]\nsubject = \"station:A-S1\"\nproperty = \"protection.1\"\nvalue = %q\n", module, device)
}

// farPlace is a station place at the end of a feeder of some length; its only candidate.
func farPlace(metres int) string {
	return fmt.Sprintf("[[place]]\nid = \"A\"\ncontroller = true\npower_source = true\n[[place]]\nid = \"B\"\ncandidate = true\n[[route]]\nfrom = \"A\"\nto = \"B\"\nlength_m = %d\n", metres)
}

const weakBreaker = `format = 1
source = "case"
[[protection]]
code = "electronic-0a5"
type = "electronic"
dc = true
rating_ma = 500
breaking_a = 2
width_mm = 6
price = 1
`

const cheapBreaker = `format = 1
source = "case"
[[protection]]
code = "breaker-dc-c1"
type = "C"
dc = true
rating_ma = 1000
breaking_a = 6000
width_mm = 18
price = 1
`

// bigInrush is a supply unit whose inrush no breaker of the list holds; shortHold one that bridges 4 ms.
func unit(key string) string {
	return strings.Replace(`format = 1
source = "case"
[[supply_unit]]
code = "supply-24v-2a5"
output_ma = 2500
voltage_v = 24
derate_from_c = 50
derate_percent_per_k = 2.5
ambient_max_c = 70
efficiency_percent = 88
KEY
short_current_a = 3.5
width_mm = 32
price = 58
`, "KEY", key, 1)
}

const pulled = "tag,kind,form,place,current_ma,min_voltage_v,cable\n"

func init() {
	cases = append(
		cases,
		ruleCase{
			rule: "PWR-001", name: "a long infeed", toml: "[basis.supply]\ninfeed_length_m = 100\ninfeed_area_mm2 = 0.5\n", csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,1000\n",
			want: []string{"error group:A-S1-G1 | 20.4 V needed"},
		},
		ruleCase{rule: "PWR-001", name: "2 m"},
		ruleCase{
			// the device of 2 A wants 0.75 mm2: 2 x 23.5 V - 2 x 100 m x 31.109 mohm/m x 1.21 A = 39.47 V
			rule: "PWR-001", name: "48 V over 100 m of thin wire", toml: "[basis.supply]\ninfeed_length_m = 100\ninfeed_area_mm2 = 0.5\n", csv: "tag,kind,form,place,current_ma,voltage_v\nXY-1,DO,24v,A,400,48\nXY-2,DO,24v,A,400,48\nXY-3,DO,24v,A,400,48\n",
			want: []string{"error group:A-S1-G1 | 39.47 V | 40.8 V needed"},
		},
		ruleCase{rule: "PWR-001", name: "48 V over 2 m", csv: "tag,kind,form,place,current_ma,voltage_v\nXY-1,DO,24v,A,400,48\n"},
		ruleCase{
			// the plan takes a conductor that the device protects; 13.5 A of table 6 for 1.5 mm2 made 6.88 A, so 2.5 mm2 bear 18.3 x 0.51 = 9.3 A
			rule: "PWR-002", name: "6.9 A before 8 A", toml: fixedSlot("do8-2a", "electronic-8a"), csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,500\n",
			change: func(f *check.Facts) { refigure(f, "group:A-S1-G1.ampacity", 6.88) },
			want:   []string{"error group:A-S1-G1 | 1.5 mm2 | of 8 A | Use 2.5 mm2"},
		},
		ruleCase{rule: "PWR-002", name: "1.5 mm2 before 0.5 A"},
		ruleCase{
			rule: "PWR-002", name: "62 degC inside, beyond the table", change: func(f *check.Facts) { refigure(f, "station:A-S1.inside_max", 62) },
			want: []string{"error station:A-S1 | 62.0 degC inside | no current is stated"},
		},
		ruleCase{
			// DC band of C: 15 x 6 A = 90 A; the unit of 2.5 A gives 3.5 A; an electronic device of 0.5 A trips at 0.75 A
			rule: "PWR-003", name: "a breaker behind a supply that limits its current", toml: fixedSlot("do8-2a", "breaker-dc-c6"),
			csv:  "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,200\n",
			want: []string{"error group:A-S1-G1 | draws 3.5 A (its supply units limit their current) | from 90.0 A on | Use electronic-0a5: it trips from 0.8 A on"},
		},
		ruleCase{rule: "PWR-003", name: "what the plan takes", csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,200\nXS-2,DI,230vac,A,\n"},
		ruleCase{rule: "PWR-004", name: "a device that breaks 2 A", hw: weakBreaker, toml: fixedSlot("do8-2a", "electronic-0a5"), csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,200\n", want: []string{"error group:A-S1-G1 | up to 4 A | breaks 2 A"}},
		ruleCase{rule: "PWR-004", name: "the plan takes one that breaks 4 A", hw: weakBreaker},
		ruleCase{rule: "PWR-004", name: "a board of 10 kA", toml: "[basis.feeder]\nboard_fault_a = 10000\n", want: []string{"error feeder:A-S1-A1 | up to 10000 A | breaks 6000 A"}},
		ruleCase{rule: "PWR-004", name: "a board of 6 kA"},
		ruleCase{rule: "PWR-005", name: "no cable of the list keeps it", change: func(f *check.Facts) { refigure(f, "feeder:A-S1-A1.drop_percent", 7) }, want: []string{"error feeder:A-S1-A1 | loses 7.0 % of 230 V | 5 % allowed"}},
		ruleCase{rule: "PWR-005", name: "the plan takes a larger one", toml: farPlace(1000)},
		ruleCase{
			// IEC 60204-1 table 6, C: 2.5 mm2 21 A x 0.58 at 60 degC x 0.70 for nine circuits: 8.5 A; device 10 A
			rule: "PWR-006", name: "a warm place among many circuits", change: func(f *check.Facts) { refigure(f, "feeder:A-S1-A1.ampacity", 5) }, want: []string{"error feeder:A-S1-A1 | may carry 5.00 A as laid | of 6 A"},
		},
		ruleCase{rule: "PWR-006", name: "three circuits at 40 degC"},
		ruleCase{rule: "PWR-007", name: "a short that is too small", change: func(f *check.Facts) { refigure(f, "feeder:A-S1-A1.fault_min", 12) }, want: []string{"error feeder:A-S1-A1 | draws 12.0 A | from 30.0 A on"}},
		ruleCase{rule: "PWR-007", name: "near the board"},
		ruleCase{rule: "PWR-007", name: "the plan takes a larger conductor", toml: farPlace(1000)},
		ruleCase{rule: "PWR-008", name: "100 A", hw: unit("inrush_a = 100"), want: []string{"warning feeder:A-S1-A1 | 100 A"}},
		ruleCase{rule: "PWR-008", name: "the plan takes a device that holds 30 A", hw: unit("inrush_a = 30")},
		ruleCase{rule: "PWR-009", name: "a mains group", csv: "tag,kind,form,place\nXS-1,DI,230vac,A\n", want: []string{"info station:A-S1 | selective"}},
		ruleCase{rule: "PWR-009", name: "24 V only"},
		ruleCase{
			// own arithmetic: 23.49 V - 0.15 A x 12.69 ohm = 21.58 V on 0.75 mm2; on 1 mm2 9.52 ohm: 22.06 V
			rule: "PWR-010", name: "an encoder that wants 22 V", csv: pulled + "SE-1,CNT,encoder-24v,B,150,22,signal-5x0.75-screened\nSE-2,CNT,encoder-24v,B,150,,\n",
			want: []string{"error signal:SE-1 | 21.5 | 22 V needed | Use 1.5 mm2"},
		},
		ruleCase{
			// 23.49 V - 0.25 A x 12.69 ohm = 20.3 V
			rule: "PWR-010", name: "an encoder of which the list states no least voltage", csv: pulled + "SE-2,CNT,encoder-24v,B,250,,signal-5x0.75-screened\n",
			want: []string{"warning signal:SE-2 | 20.2 | 20.4 V needed by equipment for 24 V"},
		},
		ruleCase{rule: "PWR-010", name: "near", csv: "tag,kind,form,place,current_ma\nSE-1,CNT,encoder-24v,A,150\nZS-2,DI,pnp,B,15\n"},
		ruleCase{rule: "PWR-011", name: "a thin wire", change: func(f *check.Facts) { group(f).InfeedMM2 = 0.0001 }, want: []string{"error group:A-S1-G1 | mm2 needed"}},
		ruleCase{rule: "PWR-011", name: "1.5 mm2"},
		ruleCase{
			// C 1 A for DC trips from 15 A on, the unit of 2.5 A gives 3.5 A
			rule: "PWR-012", name: "a cheap breaker that never trips", hw: cheapBreaker, want: []string{"info group:A-S1-G1 | behind electronic-0a5 | breaker-dc-c1 costs less | draws 3.5 A | from 15.0 A on"},
		},
		ruleCase{rule: "PWR-012", name: "the cheapest trips"},
		ruleCase{rule: "PWR-012", name: "a breaker fixed by hand", toml: fixedSlot("do8-2a", "breaker-dc-c6"), csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,200\n"},
		ruleCase{
			// IEC 60204-1 table 6, B1, some 43 degC inside 0.94: 0.75 mm2 8.6 A x 0.94 = 8.1 A, but an electronic device surely trips at 12 A
			// only, more than 1.45 x 8.1 A = 11.7 A; 1 mm2 10.3 A x 0.94 = 9.7 A, 14.1 A
			rule: "PWR-013", name: "0.75 mm2 before 8 A", toml: "[basis.supply]\ninfeed_area_mm2 = 0.75\n" + fixedSlot("do8-2a", "electronic-8a"),
			csv:  "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,500\n",
			want: []string{"info group:A-S1-G1 | has 1 mm2 | the basis says 0.75 mm2 | of 8 A"},
		},
		ruleCase{rule: "PWR-013", name: "1.5 mm2 before 0.5 A"},
		ruleCase{rule: "PWR-014", name: "120 V modules on 230 V", csv: "tag,kind,form,place\nXS-1,DI,120vac,A\n", want: []string{"warning group:A-S1-G1 | is for 120 V AC | carries 230 V"}},
		ruleCase{rule: "PWR-014", name: "230 V modules on 120 V", toml: "[power]\nfeeder_voltage_v = 120\n", csv: "tag,kind,form,place\nXS-1,DI,230vac,A\n", want: []string{"warning group:A-S1-G1 | is for 230 V AC | carries 120 V"}},
		ruleCase{rule: "PWR-014", name: "230 V modules on 240 V", toml: "[power]\nfeeder_voltage_v = 240\n", csv: "tag,kind,form,place\nXS-1,DI,230vac,A\nXS-2,DI,contact,A\n"},
		ruleCase{
			// 207 V / (board 0.5 + 14 m of feeder 0.248 + infeed 0.064 + 2 x 434 m x 14.478 mohm 12.567 ohm) = 15.5 A; with 204 m 30.8 A
			rule: "PWR-015", name: "434 m of 1.5 mm2 behind B6", toml: strings.Replace(usualPlaces, "length_m = 200", "length_m = 430", 1),
			csv:  "tag,kind,form,place,current_ma,cable\nXA-1,DO,230vac,B,200,mains-2x1.5\n",
			want: []string{"error signal:XA-1 | draws 15.5 A | from 30.0 A on | Use 4 mm2"},
		},
		ruleCase{rule: "PWR-015", name: "204 m", csv: "tag,kind,form,place,current_ma,cable\nXA-1,DO,230vac,B,200,mains-2x1.5\nXS-2,DI,contact,B,,\n"},
		ruleCase{
			// 0.5 mm2 bears a few amperes; an electronic device of 8 A trips at 12 A in the conventional time
			rule: "PWR-016", name: "sensors behind 8 A", toml: fixedSlot("di16-type1", "electronic-8a"), csv: "tag,kind,form,place,current_ma,cable\nXS-1,DI,pnp,B,15,signal-3x0.75\n",
			want: []string{"warning group:A-S1-G1 | lets 8 A through"},
		},
		ruleCase{rule: "PWR-016", name: "sensors behind what the plan takes", csv: "tag,kind,form,place,current_ma\nXS-1,DI,pnp,B,15\n"},
		ruleCase{rule: "SUP-001", name: "overloaded", change: func(f *check.Facts) { f.Design.Supplies[0].NeedMA = 1e5 }, want: []string{"error supply:A-S1-U1"}},
		ruleCase{rule: "SUP-001", name: "as planned"},
		ruleCase{rule: "SUP-002", name: "warm inside", change: func(f *check.Facts) { refigure(f, "supply:A-S1-U1.output_inside", 1) }, want: []string{"error supply:A-S1-U1 | gives 1 mA"}},
		ruleCase{rule: "SUP-002", name: "as planned"},
		ruleCase{
			// 4 ms x 2500 mA / load of about 500 mA: 18 ms would do, 1 ms does not
			rule: "SUP-003", name: "a unit that bridges 1 ms", hw: unit("hold_up_ms = 1"), csv: "tag,kind,form,place,current_ma\nXY-1,DO,24v,A,450\n", want: []string{"warning supply:A-S1-U1 | 10 ms wanted"},
		},
		ruleCase{rule: "SUP-003", name: "20 ms", hw: unit("hold_up_ms = 20")},
		ruleCase{
			// load 12 A x 1.2 = 14.4 A: two units of 10 A, and a third that may fail
			rule: "SUP-004", name: "n+1, but one is taken out", toml: "[basis.supply]\nspare_units = 1\n", change: func(f *check.Facts) { f.Design.Supplies[0].Units-- },
			want: []string{"error supply:A-S1-U1 | 1 units may fail | 1 more must stand there"},
		},
		ruleCase{rule: "SUP-004", name: "n+1 as planned", toml: "[basis.supply]\nspare_units = 1\n"},
		ruleCase{rule: "SUP-004", name: "not asked"},
		ruleCase{
			// 20 h x (1.3 Ah x 0.8 / (P / 24 V x 20 h))^1.1 x 60; at some 12 W: 0.5 A, 103 minutes
			rule: "SUP-005", name: "a battery of 1.3 Ah; 600 minutes asked", toml: "[basis.supply]\nups_min = 600\n", hw: unit("battery_ah = 1.3"), csv: "tag,kind,form,place,current_ma,supply_class\nXY-1,DO,24v,A,200,ups\n",
			want: []string{"error supply:A-S1-U2 | minutes at its load, 600 asked | Ah or more"},
		},
		ruleCase{rule: "SUP-005", name: "no battery", toml: "[basis.supply]\nups_min = 30\n", csv: "tag,kind,form,place,current_ma,supply_class\nXY-1,DO,24v,A,200,ups\n", want: []string{"info supply:A-S1-U2 | no battery of its own | 30 minutes"}},
		ruleCase{rule: "SUP-005", name: "10 minutes", toml: "[basis.supply]\nups_min = 10\n", hw: unit("battery_ah = 7"), csv: "tag,kind,form,place,current_ma,supply_class\nXY-1,DO,24v,A,200,ups\n"},
		ruleCase{rule: "SUP-005", name: "not asked", csv: "tag,kind,form,place,current_ma,supply_class\nXY-1,DO,24v,A,200,ups\n"},
		ruleCase{rule: "ELV-001", name: "a unit that states nothing", hw: unit("inrush_a = 15"), want: []string{"error part:supply-24v-2a5 | A-S1"}},
		ruleCase{rule: "ELV-001", name: "the built-in ones"},
		ruleCase{rule: "NET-001", name: "too long", change: func(f *check.Facts) { f.Design.Network.Segments[0].LengthM = 3000 }, want: []string{"error cable:W-A-001 | 3000.0 m"}},
		ruleCase{rule: "NET-001", name: "as planned"},
		ruleCase{rule: "NET-002", name: "80 m of copper between places", toml: "[network]\nprofile = \"ethernet-copper\"\n" + farPlace(80), want: []string{"warning cable:W-B-001 | fibre"}},
		ruleCase{rule: "NET-002", name: "fibre", toml: farPlace(80)},
		ruleCase{rule: "NET-003", name: "a network for none", change: func(f *check.Facts) { n, _ := f.List.Network("ethernet-fibre"); n.MaxStations = -1 }, want: []string{"error project | 1 stations"}},
		ruleCase{rule: "NET-003", name: "one of sixty"},
		ruleCase{
			rule: "NET-004", name: "2.5 km of RS-485", toml: "[network]\nprofile = \"rs485-bus\"\ntopology = \"line\"\n",
			change: func(f *check.Facts) { f.Design.Network.Segments[0].LengthM = 2500 }, want: []string{"error project | 2500 m | 1200 m | 3 segments and 2 repeaters"},
		},
		ruleCase{rule: "NET-004", name: "one segment", toml: "[network]\nprofile = \"rs485-bus\"\ntopology = \"line\"\n"},
		ruleCase{rule: "NET-005", name: "40 %", change: func(f *check.Facts) { f.Design.Network.LoadPct = 40 }, want: []string{"warning project | 40 % | 20 ms"}},
		ruleCase{rule: "NET-005", name: "60 %", change: func(f *check.Facts) { f.Design.Network.LoadPct = 60 }, want: []string{"error project | 60 %"}},
		ruleCase{rule: "NET-005", name: "one station"},
		ruleCase{
			// 3 ms filter + 2 x 1 ms + 2 x 10 ms + 2 x 20 ms + 0 = 65 ms
			rule: "NET-006", name: "50 ms asked", csv: "tag,kind,form,place,response_ms\nXS-1,DI,contact,A,50\nXS-2,DI,contact,A,100\nXS-3,DI,contact,A,\n",
			want: []string{"error signal:XS-1 | within 50 ms | 65 ms | 2 x scan 20"},
		},
		ruleCase{rule: "NET-006", name: "100 ms asked", csv: "tag,kind,form,place,response_ms\nXS-2,DI,contact,A,100\n"},
		ruleCase{
			rule: "NET-007", name: "three in a line", change: func(f *check.Facts) {
				f.Design.Network.Topology = "line"
				f.Design.Network.Segments = []design.Segment{{Cable: "W-1", From: "controller", To: "station:S1"}, {Cable: "W-2", From: "station:S1", To: "station:S2"}, {Cable: "W-3", From: "station:S2", To: "station:S3"}}
				f.Design.Stations = append(f.Design.Stations, design.Station{ID: "S2"}, design.Station{ID: "S3"})
			},
			want: []string{"info cable:W-1 | 3 of 3 stations"},
		},
		ruleCase{rule: "NET-007", name: "a star"},
		ruleCase{rule: "NET-008", name: "a bus", toml: "[network]\nprofile = \"rs485-bus\"\ntopology = \"line\"\n", want: []string{"info project | ends at controller and at station:A-S1"}},
		ruleCase{rule: "NET-008", name: "Ethernet"},
		ruleCase{rule: "NET-009", name: "node 300", toml: "[network]\nprofile = \"ethernet-fibre\"\nfirst_node = 300\n", want: []string{"error station:A-S1 | node 300"}},
		ruleCase{
			rule: "NET-009", name: "one node twice", change: func(f *check.Facts) {
				f.Design.Network.Addresses = append(f.Design.Network.Addresses, design.NodeAddress{Station: "A-S2", Node: 11})
			},
			want: []string{"error station:A-S2 | same node number 11"},
		},
		ruleCase{rule: "NET-009", name: "node 11"},
	)
}
