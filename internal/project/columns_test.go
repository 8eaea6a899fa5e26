package project

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"railwright/internal/finding"
)

// The order of the columns is the contract's; columns of our own stand behind them.
func TestColumnsStandInTheContractsOrder(t *testing.T) {
	const contract = `id, tag, description, kind, form, contact, active, place, device, equipment,
range_low, range_high, unit, alarm_low, alarm_high, wires, sensor, voltage_v,
current_ma, inrush_ma, load_ohm, min_voltage_v, leakage_ma, frequency_hz,
response_ms, safe_state, supply_class, segregate, redundant_with, station, hart,
ex_level, ex_zone, ex_gas, ui_v, ii_ma, pi_mw, ci_nf, li_mh, screen, cable, hold,
remarks`
	want := strings.Split(strings.ReplaceAll(contract, "\n", " "), ", ")
	want = append(want, "suppressor", "junction", "tolerance")
	if diff := cmp.Diff(want, ColumnNames()); diff != "" {
		t.Error(diff)
	}
}

func TestReadNumber(t *testing.T) {
	for _, c := range []struct {
		cell, unit string
		want       float64
		rule, says string
	}{
		{"120", "mA", 120, "", ""},
		{" -3.50 ", "", -3.5, "", ""},
		{"1e3", "", 1000, "", ""},
		{"-0", "", 0, "", ""},
		{".5", "", 0.5, "", ""},
		{"12,5", "mA", 12.5, "LST-005", "read as 12.5 mA"},
		{"0,500", "", 0.5, "LST-005", "read as 0.5"},
		{"1234,567", "", 1234.567, "LST-005", "read as 1234.567"},
		{"1,234", "", 0, "LST-002", "may mean 1.234 or 1234"},
		{"120 mA", "mA", 120, "LST-005", "read as 120 mA"},
		{"−20", "", -20, "LST-005", "read as -20"},
		{"12O mA", "mA", 0, "LST-002", "did you mean 120 mA?"},
		{"12O", "mA", 0, "LST-002", "did you mean 120 mA?"},
		{"l5", "V", 0, "LST-002", "did you mean 15 V?"},
		{"0.12 A", "mA", 0, "LST-002", "did you mean 120 mA?"},
		{"4,7 kΩ", "ohm", 0, "LST-002", "did you mean 4700 ohm?"},
		{"24 bar", "V", 0, "LST-002", "is not a number"},
		{"1 234", "", 0, "LST-002", "did you mean 1234?"},
		{"1'234.5", "", 0, "LST-002", "did you mean 1234.5?"},
		{"ca. 20", "mA", 0, "LST-002", "is not a number"},
		{"1e999", "", 0, "LST-003", "too large"},
		{"NaN", "", 0, "LST-002", "is not a number"},
		{"inf", "", 0, "LST-002", "is not a number"},
		{"0x10", "", 0, "LST-002", "is not a number"},
		{"4-20", "", 0, "LST-002", "is not a number"},
	} {
		v, f := ReadNumber("x", c.cell, c.unit)
		rule, msg := "", ""
		if f != nil {
			rule, msg = f.Rule, f.Message
		}
		if v != c.want || rule != c.rule || !strings.Contains(msg, c.says) {
			t.Errorf("%q in %q: %v, %s %s; want %v, %s %s", c.cell, c.unit, v, rule, msg, c.want, c.rule, c.says)
		}
	}
}

// row reads a row given as "column=cell" pairs; the file has these columns in order from A, row 7.
func row(pairs ...string) (Row, []string) {
	cells, letters := map[string]string{}, map[string]string{}
	for i, p := range pairs {
		c, v, _ := strings.Cut(p, "=")
		cells[c] = v
		letters[c] = string(rune('A' + i))
	}
	r, found := ReadRow(func(c string) string { return cells[c] }, At{File: "l.csv", Row: 7, Columns: letters})
	var out []string
	for _, f := range found {
		spot := f.Where.Cell
		if spot == "" {
			spot = fmt.Sprintf("line %d", f.Where.Line)
		}
		out = append(out, fmt.Sprintf("%s %s %s %s: %s", f.Rule, f.Severity, spot, f.Subject, f.Message))
	}
	return r, out
}

func TestRowRules(t *testing.T) {
	for _, c := range []struct {
		name  string
		cells string
		fault bool
		want  []string
	}{
		{"sound", "tag=A|kind=di|form=PNP|place=P|wires=3", false, nil},
		{"required", "tag=|kind=|place=", true, []string{
			"LST-001 error A7 row:7: tag is missing", "LST-001 error B7 row:7: kind is missing", "LST-001 error C7 row:7: place is missing",
		}},
		{"kind", "tag=A|kind=DX|place=P", true, []string{"LST-004 error B7 signal:A: kind \"DX\" is not known; allowed are DI, DO, AI, AO, RTD, TC, CNT, SER"}},
		{"form assumed", "tag=A|kind=DO|place=P", false, []string{"LST-008 info line 7 signal:A: form is empty; 24v is assumed for DO"}},
		{"form of another kind", "tag=A|kind=DI|form=relay|place=P", true, []string{"LST-007 error C7 signal:A: form relay belongs to DO, not to DI; allowed for DI are contact, pnp, npn, 2-wire, namur, 24v, 120vac, 230vac"}},
		{"form mistyped", "tag=A|kind=AI|form=4-20 mA|place=P|active=active", true, []string{"LST-004 error C7 signal:A: form \"4-20 mA\" is not known; allowed are contact, pnp, npn, 2-wire, namur, 24v, 120vac, 230vac, relay, 4-20ma, 0-20ma, 0-10v, 10v-bipolar, resistance, millivolt, pulse-24v, pulse-namur, encoder-24v, encoder-rs422, rs485, rs232, rs422; did you mean 4-20ma?"}},
		{"passive assumed", "tag=A|kind=AI|form=4-20ma|place=P|active=", false, []string{"LST-009 info E7 signal:A: active is empty; the device is taken as passive (the station powers the loop)"}},
		{"active assumed", "tag=A|kind=AI|form=4-20ma|place=P|wires=4", false, []string{"LST-009 info line 7 signal:A: active is empty; with 4 wires the device is taken as active (it powers the loop)"}},
		{"no source", "tag=A|kind=AI|form=4-20ma|place=P|wires=4|active=passive", true, []string{"LST-010 error E7 signal:A: active is passive with 4 wires: nothing would power the loop"}},
		{"two sources", "tag=A|kind=AI|form=4-20ma|place=P|wires=3|active=active", true, []string{"LST-010 error E7 signal:A: active is active with 3 wires: device and station would both power the loop"}},
		{"wires", "tag=A|kind=DI|form=contact|place=P|wires=4", true, []string{"LST-011 error E7 signal:A: wires is 4; DI contact has 2"}},
		{"wires broken", "tag=A|kind=DI|form=contact|place=P|wires=2.5", true, []string{"LST-002 error E7 signal:A: wires is 2.5; a whole number from 2 to 8 belongs here"}},
		{"Pt100 assumed", "tag=A|kind=RTD|place=P", false, []string{"LST-013 info line 7 signal:A: sensor is empty; Pt100 is assumed"}},
		{"TC without type", "tag=A|kind=TC|place=P", true, []string{"LST-012 error line 7 signal:A: sensor is missing; allowed for TC are K, J, T, E, N, R, S, B"}},
		{"wrong sensor", "tag=A|kind=TC|place=P|sensor=Pt100", true, []string{"LST-012 error D7 signal:A: sensor Pt100 does not belong to TC; allowed are K, J, T, E, N, R, S, B"}},
		{"range reversed", "tag=A|kind=AO|form=4-20ma|place=P|range_low=10|range_high=10", true, []string{"LST-014 error E7 signal:A: range_low 10 is not below range_high 10"}},
		{"half a range", "tag=A|kind=AO|form=4-20ma|place=P|range_low=10|range_high=", false, []string{"LST-014 warning F7 signal:A: range_high is missing, the other end is given"}},
		{"alarms", "tag=A|kind=AO|form=4-20ma|place=P|range_low=0|range_high=10|alarm_low=11|alarm_high=10", true, []string{
			"LST-015 error G7 signal:A: alarm_low 11 is outside the range 0 to 10", "LST-015 error G7 signal:A: alarm_low 11 is not below alarm_high 10",
		}},
		{"safe state of DO", "tag=A|kind=DO|form=24v|place=P|safe_state=off", true, []string{"LST-016 error E7 signal:A: safe_state \"off\" is not known for DO; allowed are 0, 1, hold"}},
		{"safe state of AO", "tag=A|kind=AO|form=4-20ma|place=P|safe_state=120|range_low=0|range_high=100", true, []string{"LST-016 error E7 signal:A: safe_state 120 is outside the range 0 to 100"}},
		{"safe state of DI", "tag=A|kind=DI|form=pnp|place=P|safe_state=0", false, []string{"LST-019 warning E7 signal:A: safe_state has no meaning for DI"}},
		{"how often a relay switches", "tag=A|kind=DO|form=relay|place=P|frequency_hz=0.1", false, nil},
		{"frequency of AI", "tag=A|kind=AI|form=0-10v|place=P|frequency_hz=10", false, []string{"LST-019 warning E7 signal:A: frequency_hz has no meaning for AI 0-10v"}},
		{"supply class", "tag=A|kind=DI|form=pnp|place=P|supply_class=UPS", false, nil},
		{"supply class mistyped", "tag=A|kind=DI|form=pnp|place=P|supply_class=safety", true, []string{"LST-017 error E7 signal:A: supply_class \"safety\" is not known; allowed are normal, ups, safety:NAME"}},
		{"voltage and form", "tag=A|kind=DI|form=230vac|place=P|voltage_v=24", true, []string{"LST-018 error E7 signal:A: voltage_v is 24; form 230vac means 200 to 250 V"}},
		{"48 V output", "tag=A|kind=DO|form=24v|place=P|voltage_v=48", false, nil},
		{"Ex without level", "tag=A|kind=DI|form=namur|place=P|ui_v=15", false, []string{"LST-020 warning line 7 signal:A: ex_level is empty, yet figures of an intrinsically safe circuit are given; the signal is planned on ordinary modules"}},
		{"itself", "tag=A|kind=DI|form=pnp|place=P|redundant_with=B; A", true, []string{"LST-021 error E7 signal:A: redundant_with names the signal itself"}},
		{"limit", "tag=A|kind=DO|form=24v|place=P|current_ma=50000", true, []string{"LST-003 error E7 signal:A: current_ma is 50000 mA; allowed is 0 to 20000 mA"}},
		{"comma in a tag", "tag=A,B|kind=DO|form=24v|place=P", true, []string{
			"LST-006 error A7 row:7: tag \"A,B\" holds a comma or semicolon, which part names in lists",
		}},
		{"all faults at once", "tag=A|kind=AI|form=4-20ma|place=|current_ma=x|active=maybe|range_low=9|range_high=1", true, []string{
			"LST-004 error F7 signal:A: active \"maybe\" is not known; allowed are active, passive", "LST-001 error D7 signal:A: place is missing",
			"LST-002 error E7 signal:A: current_ma \"x\" is not a number", "LST-014 error G7 signal:A: range_low 9 is not below range_high 1",
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, got := row(strings.Split(c.cells, "|")...)
			if diff := cmp.Diff(c.want, got); diff != "" || r.Faulty != c.fault {
				t.Errorf("faulty %v, want %v\n%s", r.Faulty, c.fault, diff)
			}
			if c.fault && (r.Why == "" || r.Cell == nil) {
				t.Error("no reason kept")
			}
		})
	}
}

// Every rule that tests or code name exists, in order and once.
func TestRulesAreInOrder(t *testing.T) {
	last := ""
	for _, r := range ListRules {
		if r.Code <= last || r.Title == "" || r.Text == "" {
			t.Errorf("rule %q after %q", r.Code, last)
		}
		last = r.Code
	}
}

// cell draws the text of a column as a careful person would write it.
func cell(t *rapid.T, c *Column) string {
	if rapid.Bool().Draw(t, "empty "+c.Name) {
		return ""
	}
	word := func(re string) string { return rapid.StringMatching(re).Draw(t, c.Name) }
	switch {
	case c.Name == "wires":
		return strconv.Itoa(rapid.IntRange(2, 8).Draw(t, c.Name))
	case c.Numeric:
		v := rapid.Float64Range(c.Min, c.Max).Draw(t, c.Name)
		digits := rapid.IntRange(1, 15).Draw(t, "digits")
		v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
		return strconv.FormatFloat(math.Max(c.Min, math.Min(c.Max, v)), 'f', -1, 64)
	case c.Allowed != nil:
		return rapid.SampledFrom(c.Allowed).Draw(t, c.Name)
	case c.Name == "supply_class":
		return rapid.SampledFrom([]string{"normal", "ups", "safety:ESD-1"}).Draw(t, c.Name)
	case c.Name == "redundant_with":
		return word(`[A-Z]{1,3}-[0-9]{1,4}(; [A-Z]{4}-[0-9]{1,4})?`)
	}
	return word(`[A-Za-z0-9=+/.äß-]([ A-Za-z0-9=+/.äß'"-]{0,12}[A-Za-z0-9])?`)
}

// Writing and reading a signal is the identity.
func TestColumnsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s, back Signal
		for _, c := range Columns() {
			if f := c.Parse(cell(t, c), &s); f != nil {
				t.Fatalf("%s: %s", c.Name, f)
			}
		}
		for _, c := range Columns() {
			text := c.Format(&s)
			if f := c.Parse(text, &back); f != nil {
				t.Fatalf("%s: own text %q: %s", c.Name, text, f)
			}
			if again := c.Format(&back); again != text {
				t.Fatalf("%s: %q becomes %q", c.Name, text, again)
			}
		}
		if diff := cmp.Diff(s, back); diff != "" {
			t.Fatal(diff)
		}
	})
}

// What a person wrote with few digits comes back with the same digits.
func TestNumbersKeepTheirDigits(t *testing.T) {
	for _, text := range []string{"0.1", "4.1", "20.5", "0.003", "123.456", "19999.9"} {
		for _, c := range Columns() {
			if !c.Numeric || c.Name == "wires" || c.Max < 20_000 {
				continue
			}
			var s Signal
			c.Parse(text, &s)
			if got := c.Format(&s); got != text {
				t.Errorf("%s: %s becomes %s", c.Name, text, got)
			}
		}
	}
}

func settled(rows []Row, p *Project) (left []string, found []string) {
	out, list := p.Settle(rows, []string{"S9"})
	for _, o := range out {
		left = append(left, fmt.Sprintf("%s %s %s", o.ID, o.Where.Cell, o.Why))
	}
	for _, f := range list {
		found = append(found, fmt.Sprintf("%s %s %s", f.Rule, f.Where.Cell, f.Message))
	}
	return left, found
}

func rowsOf(head string, lines ...string) []Row {
	letters := map[string]string{}
	names := strings.Split(head, ",")
	for i, n := range names {
		letters[n] = string(rune('A' + i))
	}
	var rows []Row
	for i, l := range lines {
		cells := strings.Split(l, ",")
		r, _ := ReadRow(func(c string) string {
			if n := slices.Index(names, c); n >= 0 && n < len(cells) {
				return cells[n]
			}
			return ""
		}, At{File: "l.csv", Row: i + 2, Columns: letters})
		rows = append(rows, r)
	}
	return rows
}

func TestListRules(t *testing.T) {
	p := &Project{Basis: DefaultBasis(), Places: []Place{{ID: "P1"}, {ID: "P2"}}}
	rows := rowsOf("id,tag,kind,form,place,redundant_with,device,segregate,station",
		",A,DI,pnp,P1,B,d1,x,S9",
		",B,DI,pnp,P2,,d1,x,",
		",C,DI,pnp,P3,,,,",
		",D,DI,pnp,P1,,,,Q1",
		",D,DI,pnp,P1,,,,",
		"7,E,DI,pnp,P1,,,,P1.1",
		"7,F,DI,pnp,P1,,,,",
		",G,DI,pnp,P1,ZZ,,,",
		",H,DI,pnp,P1,G;A,,,",
	)
	left, found := settled(rows, p)
	if diff := cmp.Diff([]string{
		"7 A7 id 7 stands in 2 rows: A7, A8; all of them are left out",
		"7 A8 id 7 stands in 2 rows: A7, A8; all of them are left out",
		"C E4 place P3 is not in project.toml; known are P1, P2",
		"D B5 tag D stands in 2 rows: B5, B6; all of them are left out",
		"D B6 tag D stands in 2 rows: B5, B6; all of them are left out",
		"G F9 redundant_with names ZZ, which the list does not have",
	}, left); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{
		"LST-030 B5 tag D stands in 2 rows: B5, B6; all of them are left out",
		"LST-030 B6 tag D stands in 2 rows: B5, B6; all of them are left out",
		"LST-031 A7 id 7 stands in 2 rows: A7, A8; all of them are left out",
		"LST-031 A8 id 7 stands in 2 rows: A7, A8; all of them are left out",
		"LST-035 E4 place P3 is not in project.toml; known are P1, P2",
		"LST-032 F9 redundant_with names ZZ, which the list does not have",
		"LST-033 F3 A names this signal as redundancy partner; the partnership is taken both ways",
		"LST-033 F2 H names this signal as redundancy partner; the partnership is taken both ways",
		"LST-034 F10 redundancy partner G is left out (its row is faulty); nothing is kept apart from it yet",
		"LST-036 E3 device d1 stands at P2 here and at P1 in row 2",
		"LST-037 H2 segregation class x has no level in [basis.segregation]; group is taken",
	}, found); diff != "" {
		t.Error(diff)
	}
	partners := map[string][]string{}
	for _, s := range p.Signals {
		partners[s.ID] = s.RedundantWith
	}
	if diff := cmp.Diff(map[string][]string{"A": {"B", "H"}, "B": {"A"}, "H": {"A"}}, partners); diff != "" {
		t.Error(diff)
	}
}

func TestPartnerNamedTwoWays(t *testing.T) {
	p := &Project{Basis: DefaultBasis(), Places: []Place{{ID: "P1"}}}
	rows := rowsOf("id,tag,kind,form,place,redundant_with", "1,A,DI,pnp,P1,", "A,B,DI,pnp,P1,", "3,C,DI,pnp,P1,A", "4,D,DI,pnp,P1,1")
	left, _ := settled(rows, p)
	if len(left) != 1 || !strings.HasPrefix(left[0], "3 F4 redundant_with names A, which is the tag of one signal and the id of another (B2, B3)") {
		t.Errorf("left out: %q", left)
	}
	for _, s := range p.Signals {
		if s.ID == "4" && !slices.Equal(s.RedundantWith, []string{"1"}) {
			t.Errorf("D: %v", s.RedundantWith)
		}
	}
}

// Whatever the row's texts, reading neither panics nor finds without saying where.
func FuzzReadRow(f *testing.F) {
	f.Add("A|AI|4-20ma|P|4|12O mA|2|B;C")
	f.Add("\xff|TC||||1e309|-|;;")
	f.Fuzz(func(t *testing.T, joined string) {
		cells := strings.Split(joined, "|")
		order := []string{"tag", "kind", "form", "place", "wires", "current_ma", "safe_state", "redundant_with"}
		_, found := ReadRow(func(c string) string {
			if i := slices.Index(order, c); i >= 0 && i < len(cells) {
				return cells[i]
			}
			return cells[len(cells)-1]
		}, At{File: "f", Row: 2})
		for _, x := range found {
			if x.Where == nil || x.Message == "" || x.Subject == "" || x.Severity == finding.Error && x.Remedy.Text == "" {
				t.Fatalf("%+v", x)
			}
		}
	})
}
