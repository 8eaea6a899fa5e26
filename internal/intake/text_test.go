package intake

import (
	"testing"

	"railwright/internal/project"
)

func TestScanNumber(t *testing.T) {
	for _, tc := range []struct {
		text  string
		style numberStyle
		want  float64
		rest  string
	}{
		{"0", styleUnknown, 0, ""},
		{"12.5", styleUnknown, 12.5, ""},
		{"12,5", styleUnknown, 12.5, ""},
		{"2,500", styleUnknown, 2500, ""},
		{"2,500", stylePoint, 2500, ""},
		{"2,500", styleComma, 2.5, ""},
		{"2.500", styleUnknown, 2.5, ""},
		{"2.500", styleComma, 2500, ""},
		{"0,500", styleUnknown, 0.5, ""},
		{"1.234.567", styleUnknown, 1234567, ""},
		{"1,234.5", styleUnknown, 1234.5, ""},
		{"1.234,5", styleUnknown, 1234.5, ""},
		{"1 000", styleUnknown, 1000, ""},
		{"1'000", styleUnknown, 1000, ""},
		{"10 bar", styleUnknown, 10, " bar"},
		{"-5", styleUnknown, -5, ""},
		{"−5", styleUnknown, -5, ""},
		{"+80 °C", styleUnknown, 80, " °C"},
		{"1e-3", styleUnknown, 0.001, ""},
		{"10-20", styleUnknown, 10, "-20"},
		{"4..20", styleUnknown, 4, "..20"},
		{"1 2", styleUnknown, 1, " 2"},
	} {
		got, ok := scanNumber(tc.text, tc.style)
		if !ok || got.value != tc.want || got.rest != tc.rest {
			t.Errorf("%q: got %v %q %v, want %v %q", tc.text, got.value, got.rest, ok, tc.want, tc.rest)
		}
	}
	for _, bad := range []string{"", "-", "x", ".", "1,2,3.4.5", "+-1"} {
		if got, ok := scanNumber(bad, styleUnknown); ok && got.rest == "" {
			t.Errorf("%q reads as %v", bad, got.value)
		}
	}
}

func TestRanges(t *testing.T) {
	for _, tc := range []struct {
		text     string
		low, hi  float64
		unit     string
		single   bool
		electric string
	}{
		{"0..10 bar", 0, 10, "bar", false, ""},
		{"0-10bar", 0, 10, "bar", false, ""},
		{"0 to 10 bar", 0, 10, "bar", false, ""},
		{"0 bis 2,5 m", 0, 2.5, "m", false, ""},
		{"0 à 10 bar", 0, 10, "bar", false, ""},
		{"0 a 10 bar", 0, 10, "bar", false, ""},
		{"de 0 a 100 %", 0, 100, "%", false, ""},
		{"-20 ... +80 °C", -20, 80, "°C", false, ""},
		{"-20/+80°C", -20, 80, "°C", false, ""},
		{"-50--10 kPa", -50, -10, "kPa", false, ""},
		{"0 bar - 16 bar", 0, 16, "bar", false, ""},
		{"±5 mm", -5, 5, "mm", false, ""},
		{"+/- 10 V", -10, 10, "V", false, "10v-bipolar"},
		{"(0-100)%", 0, 100, "%", false, ""},
		{"0÷10 bar", 0, 10, "bar", false, ""},
		{"0–1,200 m3/h", 0, 1200, "m3/h", false, ""},
		{"4-20mA", 4, 20, "mA", false, "4-20ma"},
		{"4...20 mA", 4, 20, "mA", false, "4-20ma"},
		{"4/20 mA", 4, 20, "mA", false, "4-20ma"},
		{"0-10V", 0, 10, "V", false, "0-10v"},
		{"0-10 VDC", 0, 10, "VDC", false, "0-10v"},
		{"0 - 20 mA", 0, 20, "mA", false, "0-20ma"},
		{"10 bar", 0, 10, "bar", true, ""},
		{"0-10 bar(g)", 0, 10, "bar(g)", false, ""},
		{"0~6 Kg/cm2", 0, 6, "Kg/cm2", false, ""},
		{"0 - 1000 mmH2O", 0, 1000, "mmH2O", false, ""},
		{"range: 0-5 m", 0, 5, "m", false, ""},
	} {
		v, ok := rangeOrValue(tc.text, styleUnknown)
		if !ok && findRanges(tc.text, styleUnknown) != nil {
			v, ok = findRanges(tc.text, styleUnknown)[0], true
		}
		if !ok || v.low != tc.low || v.high != tc.hi || v.unit != tc.unit || v.single != tc.single {
			t.Errorf("%q: got %+v %v", tc.text, v, ok)
		}
		if f, _ := v.electrical(); f != tc.electric {
			t.Errorf("%q: form %q, want %q", tc.text, f, tc.electric)
		}
	}
	for _, none := range []string{"PT-100", "PT100", "P-101", "N/A", "see note 3", "2024-03-01", "A-1 to B-2"} {
		if _, ok := rangeOrValue(none, styleUnknown); ok {
			t.Errorf("%q is no range", none)
		}
	}
}

func TestUnits(t *testing.T) {
	for text, want := range map[string]string{
		"degC": "degC", "deg C": "degC", "℃": "degC", "ºC": "degC", "°C": "degC", "C": "degC", "mmH2O": "mmH2O", "mm H2O": "mmH2O", "kg/hr": "kg/h", "KG/HR": "kg/h",
		"m³/h": "m3/h", "M3/H": "m3/h", "cbm/h": "m3/h", "m^3/h": "m3/h", "bar(g)": "barg", "[bar]": "bar", "(mm)": "mm", "Kg/cm2": "kgf/cm2", "-": "", "–": "",
		"Ω": "ohm", "uS/cm": "uS/cm", "µS/cm": "uS/cm", "1/min": "rpm", "U/min": "rpm", "tr/min": "rpm", "mA": "mA", "MW": "MW", "mW": "mW",
	} {
		got, known := parseUnit(text)
		if got != want || !known {
			t.Errorf("%q: got %q %v, want %q", text, got, known, want)
		}
	}
}

func TestTraits(t *testing.T) {
	type w struct {
		form, sensor, active, contact, ex, gas string
		wires                                  int
		volt, cur                              float64
		hart, relay, net                       bool
		kind                                   project.Kind
	}
	for text, want := range map[string]w{
		"4-20mA 2-wire":                        {form: "4-20ma", wires: 2},
		"4...20 mA, 2-Leiter, HART":            {form: "4-20ma", wires: 2, hart: true},
		"4-20 mA 4 fils actif":                 {form: "4-20ma", wires: 4, active: "active"},
		"4-20 mA loop powered":                 {form: "4-20ma", active: "passive"},
		"NC":                                   {contact: "NC"},
		"N.O. dry contact":                     {form: "contact", contact: "NO"},
		"Öffner, potentialfrei":                {form: "contact", contact: "NC"},
		"contact sec NF":                       {form: "contact", contact: "NC"},
		"normalmente abierto":                  {contact: "NO"},
		"24VDC 120 mA":                         {volt: 24, cur: 120},
		"24 V DC, 0,5 A":                       {volt: 24, cur: 500},
		"230VAC relay":                         {volt: 230, relay: true},
		"NAMUR":                                {form: "namur"},
		"PNP 3-wire 24VDC":                     {form: "pnp", wires: 3, volt: 24},
		"Pt100 3-wire":                         {sensor: "Pt100", wires: 3, kind: project.RTD},
		"PT-1000":                              {sensor: "Pt1000", kind: project.RTD},
		"Thermocouple type K":                  {sensor: "K", kind: project.TC},
		"TC-J":                                 {sensor: "J", kind: project.TC},
		"Thermoelement Typ N":                  {sensor: "N", kind: project.TC},
		"Ex ia IIC T4":                         {ex: "ia", gas: "IIC"},
		"Modbus RTU":                           {form: "rs485", kind: project.SER},
		"RS-232":                               {form: "rs232", kind: project.SER},
		"Profibus PA":                          {net: true},
		"0-10V":                                {form: "0-10v"},
		"± 10 V":                               {form: "10v-bipolar"},
		"Impulse":                              {form: "pulse-24v", kind: project.CNT},
		"incremental encoder":                  {form: "encoder-24v", kind: project.CNT},
		"Pressure transmitter, discharge line": {},
	} {
		g := parseTraits(text, styleUnknown)
		got := w{g.form, g.sensor, g.active, g.contact, g.exLevel, g.exGas, g.wires, g.voltage, g.current, g.hart, g.relay, g.network, g.kind}
		if got != want {
			t.Errorf("%q:\n got %+v\nwant %+v", text, got, want)
		}
	}
}

func TestKindWords(t *testing.T) {
	for text, want := range map[string]project.Kind{
		"AI": "AI", "Analog Input": "AI", "Analogeingang": "AI", "AE": "AI", "Entrée analogique": "AI", "EA": "AI", "Entrada analógica": "AI", "AI (4-20mA)": "AI", "AI-HART": "AI",
		"DI": "DI", "Digital Input": "DI", "DE": "DI", "BE": "DI", "ETOR": "DI", "Entrée TOR": "DI", "Entrada digital": "DI", "Störmeldung": "DI", "Meldung": "DI", "DI 24VDC": "DI",
		"DO": "DO", "Digitalausgang": "DO", "DA": "DO", "STOR": "DO", "Sortie TOR": "DO", "Salida digital": "DO", "Schaltbefehl": "DO", "AO": "AO", "AA": "AO", "Sortie analogique": "AO",
		"RTD": "RTD", "Thermocouple": "TC", "PI": "CNT", "Zählwert": "CNT", "Modbus RTU": "SER", "d.i.": "DI",
	} {
		if got, ok := kindWord(text, false); !ok || got != want {
			t.Errorf("%q: got %q %v, want %q", text, got, ok, want)
		}
	}
	for _, none := range []string{"", "Pump", "Pressure", "4-20 mA", "I need a pump", "Date", "Dairy"} {
		if k, ok := kindWord(none, false); ok {
			t.Errorf("%q is no kind, got %s", none, k)
		}
	}
}

func TestSplitTag(t *testing.T) {
	for tag, want := range map[string][2]string{
		"ZSC/O-101": {"ZSC-101", "ZSO-101"}, "ZSO/ZSC-101": {"ZSO-101", "ZSC-101"}, "P-101A/B": {"P-101A", "P-101B"},
		"LSH/L-12": {"LSH-12", "LSL-12"}, "10-ZSO/C-7": {"10-ZSO-7", "10-ZSC-7"}, "XV-101-ZSO/ZSC": {"XV-101-ZSO", "XV-101-ZSC"},
	} {
		got := splitTag(tag)
		if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
			t.Errorf("%s: got %v", tag, got)
		}
	}
	for _, one := range []string{"10/PT/101", "A1/3", "PT-101", "PT/101", "UNIT/AREA-1"} {
		if got := splitTag(one); got != nil {
			t.Errorf("%s is one tag, got %v", one, got)
		}
	}
}

func TestLocated(t *testing.T) {
	for text, want := range map[string]string{"%IX4.0": "%IX4.0", "E 4.0": "%IX4.0", "A4.7": "%QX4.7", "EW 64": "%IW64", "PEW256": "%IW256", "QW 12": "%QW12", "I0.1": "%IX0.1", "AW80": "%QW80"} {
		if got, ok := located(text, false); !ok || got != want {
			t.Errorf("%q: got %q %v", text, got, ok)
		}
	}
	for _, none := range []string{"I4.9", "rack 1", "40001", "N7:0", ""} {
		if got, ok := located(none, false); ok {
			t.Errorf("%q is no located address, got %q", none, got)
		}
	}
}

func TestTagLetters(t *testing.T) {
	// Source: ANSI/ISA-5.1, identification letters, from memory.
	for tag, want := range map[string]project.Kind{
		"PT-101": "AI", "FIT-12": "AI", "10-LT-2001A": "AI", "PDT-5": "", "TT 101": "AI", "PSHH-101": "DI", "LSL-11": "DI", "ZSO-101": "DI", "HS-101": "DI", "XV-101": "DO", "SOV-101": "DO", "FCV-101": "AO", "FV-101": "AO", "P-101": "",
	} {
		e := newEvidence()
		e.fromTag(tag)
		got, _ := e.kind()
		if tag == "PDT-5" { // one digit is no loop number
			continue
		}
		if got != want {
			t.Errorf("%s: got %q, want %q", tag, got, want)
		}
	}
}

func TestFold(t *testing.T) {
	for a, b := range map[string]string{"Füllstand": "Fuellstand", "Größe": "groesse", "N° TAG": "no tag", "Señal": "senal", "Messbereich [bar]": "messbereich bar", "E/A-Typ": "e a typ"} {
		if fold(a) != fold(b) {
			t.Errorf("%q and %q fold to %q and %q", a, b, fold(a), fold(b))
		}
	}
	if got := tidy(" FÃ¼llstand\u00a0 1\n"); got != "Füllstand 1" {
		t.Errorf("got %q", got)
	}
}
