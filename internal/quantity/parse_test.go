package quantity_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/quantity"
)

// reader is one quantity's Parse and String without its type.
type reader struct {
	parse  func(string, string) (float64, error)
	format func(float64) string
}

func of[T ~float64](parse func(string, string) (T, error), format func(T) string) reader {
	return reader{
		parse:  func(s, unit string) (float64, error) { v, err := parse(s, unit); return float64(v), err },
		format: func(v float64) string { return format(T(v)) },
	}
}

var readers = map[string]reader{
	"voltage":               of(quantity.ParseVoltage, quantity.Voltage.String),
	"current":               of(quantity.ParseCurrent, quantity.Current.String),
	"resistance":            of(quantity.ParseResistance, quantity.Resistance.String),
	"resistance per length": of(quantity.ParseResistancePerLength, quantity.ResistancePerLength.String),
	"power":                 of(quantity.ParsePower, quantity.Power.String),
	"energy":                of(quantity.ParseEnergy, quantity.Energy.String),
	"length":                of(quantity.ParseLength, quantity.Length.String),
	"area":                  of(quantity.ParseArea, quantity.Area.String),
	"cross-section":         of(quantity.ParseCrossSection, quantity.CrossSection.String),
	"temperature":           of(quantity.ParseTemperature, quantity.Temperature.String),
	"rise":                  of(quantity.ParseTemperatureRise, quantity.TemperatureRise.String),
	"time":                  of(quantity.ParseDuration, quantity.Duration.String),
	"frequency":             of(quantity.ParseFrequency, quantity.Frequency.String),
	"capacitance":           of(quantity.ParseCapacitance, quantity.Capacitance.String),
	"inductance":            of(quantity.ParseInductance, quantity.Inductance.String),
	"charge":                of(quantity.ParseCharge, quantity.Charge.String),
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		kind, text string
		want       float64
	}{
		{"current", "22 mA", 0.022},
		{"current", "22mA", 0.022},
		{"current", " 0,5 A ", 0.5},
		{"current", "350 µA", 0.00035},
		{"current", "1e-3 A", 0.001},
		{"current", "1e3 mA", 1},
		{"voltage", "-24 V", -24},
		{"voltage", "0.4 kV", 400},
		{"voltage", "+5V", 5},
		{"resistance", "250 Ω", 250},
		{"resistance", "1.2 kOhm", 1200},
		{"resistance per length", "7.98 ohm/km", 0.00798},
		{"resistance per length", "8 mΩ/m", 0.008},
		{"cross-section", "2,5 mm²", 2.5},
		{"cross-section", "1.5 mm^2", 1.5},
		{"temperature", "-40 °C", -40},
		{"temperature", "55 C", 55},
		{"time", "5 min", 300},
		{"time", "2 h", 7200},
		{"charge", "7 Ah", 25200},
		{"energy", "1 kWh", 3.6e6},
		{"capacitance", "200 pF", 200e-12},
		{"inductance", "4.2 mH", 0.0042},
		{"length", "80 mm", 0.08},
		{"length", "1.2 km", 1200},
	} {
		got, err := readers[c.kind].parse(c.text, "")
		if err != nil || got != c.want {
			t.Errorf("%s %q: %v, %v, want %v", c.kind, c.text, got, err, c.want)
		}
	}
	if v, err := quantity.ParseCurrent("120", "mA"); err != nil || v != 0.12 {
		t.Errorf("bare 120 as mA: %v, %v", v, err)
	}
}

func TestParseSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ kind, text, bare, want string }{
		{"current", "12O mA", "", `current "12O mA": is not a number with a unit; did you mean 120 mA?`},
		{"current", "l2", "mA", `current "l2": is not a number with a unit; did you mean 12 mA?`},
		{"current", "", "", `current "": is empty; write it like 1.5 A`},
		{"current", "4", "", `current "4": has no unit; did you mean 4 A?`},
		{"current", "mA", "", `current "mA": has no number; write it like 1.5 A`},
		{"voltage", "24 A", "", `voltage "24 A": "A" is no unit of a voltage; known are V, mV, uV, kV`},
		{"voltage", "1.234,5 V", "", `voltage "1.234,5 V": "1.234,5" is not a number; write it without thousands separators`},
		{"voltage", "1.2.3 V", "", `voltage "1.2.3 V": "1.2.3" is not a number; write it like 1.5 V`},
		{"voltage", "1e999 V", "", `voltage "1e999 V": "1e999" is not a number; write it like 1.5 V`},
		{"voltage", "NaN V", "", `voltage "NaN V": has no number; write it like 1.5 V`},
		{"voltage", "--1 V", "", `voltage "--1 V": "--1" is not a number; write it like 1.5 V`},
	} {
		v, err := readers[c.kind].parse(c.text, c.bare)
		if !errors.Is(err, quantity.ErrSyntax) || err.Error() != c.want || v != 0 {
			t.Errorf("%s %q: %v, %q, want %q", c.kind, c.text, v, err, c.want)
		}
	}
}

func TestString(t *testing.T) {
	for want, got := range map[string]string{
		"22 mA": quantity.Current(0.022).String(), "1.5 A": quantity.Current(1.5).String(), "350 uA": quantity.Current(0.00035).String(), "0 A": quantity.Current(0).String(),
		"24 V": quantity.Voltage(24).String(), "-12.5 mV": quantity.Voltage(-0.0125).String(), "1500 V": quantity.Voltage(1500).String(), "0.5 uV": quantity.Voltage(5e-7).String(),
		"7.98 ohm/km": quantity.ResistancePerLength(0.00798).String(), "2.5 mm2": quantity.CrossSection(2.5).String(), "0.5 m": quantity.Length(0.5).String(),
		"-40 degC": quantity.Temperature(-40).String(), "83 nF": quantity.Capacitance(83e-9).String(), "4.2 mH": quantity.Inductance(4.2e-3).String(), "20 ms": quantity.Duration(0.02).String(),
		"NaN V": quantity.Voltage(math.NaN()).String(),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestStringReadsBack(t *testing.T) {
	names := make([]string, 0, len(readers))
	for name := range readers {
		names = append(names, name)
	}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Float64Range(-1e-3, 1e-3), rapid.Float64()).Draw(t, "v")
		for _, name := range names {
			r := readers[name]
			s := r.format(v)
			if back, err := r.parse(s, ""); err != nil || back != v {
				t.Fatalf("%s: %v prints %q, reads back %v, %v", name, v, s, back, err)
			}
		}
	})
}

// Whatever a stranger writes into a cell, Parse returns a finite value or a SyntaxError, and what it
// takes prints and reads back.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"22 mA", "2,5 mm²", "12O mA", "", "-", "1e", "1e5", "°C", "1.5e+3 V", "0x10 V", "1_000 V", "٣ V", "5\x00V", "Infinity V", "1e-400 V", "9e400 V", "1,2,3 m"} {
		f.Add(s, "mA")
	}
	f.Fuzz(func(t *testing.T, text, bare string) {
		for name, r := range readers {
			v, err := r.parse(text, bare)
			if err != nil {
				if !errors.Is(err, quantity.ErrSyntax) || err.Error() == "" {
					t.Fatalf("%s %q: %v", name, text, err)
				}
				continue
			}
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%s %q: %v", name, text, v)
			}
			if back, err := r.parse(r.format(v), ""); err != nil || back != v {
				t.Fatalf("%s %q: %v prints %q, reads back %v, %v", name, text, v, r.format(v), back, err)
			}
		}
	})
}
