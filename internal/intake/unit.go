package intake

import "strings"

// unitNames lists each unit as it is written here, followed by ways in which lists write it.
// Comparison ignores case, blanks and the form of raised digits, except where two units differ by
// case only.
var unitNames = []string{
	"degC °C deg° grdC °Celsius Celsius gradC ℃ ºC oC C° grad.C",
	"degF °F ℉ ºF oF",
	"K Kelvin",
	"bar bars",
	"barg bar(g) bar-g barü bar_g bargauge",
	"bara bar(a) bar-a barabs bar_a",
	"mbar millibar",
	"mbarg mbar(g)",
	"mbara mbar(a)",
	"Pa Pascal",
	"kPa", "kPag kPa(g)", "kPaa kPa(a)", "hPa", "MPa", "MPag MPa(g)",
	"psi lb/in2 lbf/in2", "psig psi(g)", "psia psi(a)",
	"mmH2O mmWC mmWG mmWS mmCE mmca mmcA",
	"mH2O mWC mWS mWG mCE mca",
	"inH2O inWC inWG",
	"mmHg", "kgf/cm2 kg/cm2 kg/cm2g kg/cm2(g)", "Torr",
	"mm millimeter millimetre", "cm", "m meter metre metres mètre metros Meter", "km", "in inch inches", "ft feet", "um µm micron",
	"% percent prozent pct porcent pourcent", "%RH %rH %r.F. %rF %HR %r.h.", "%LEL %UEG %LIE", "%O2", "%vol Vol% vol.%",
	"ppm ppmv", "ppb",
	"m3/h m3/hr m3/hour cbm/h cum/h m3ph m3h m^3/h m3/heure m3/Std m3/hora",
	"m3/d m3/day", "m3/s", "m3/min",
	"l/s lps L/sec l/sec ltr/s", "l/min lpm LPM l/mn ltr/min", "l/h lph l/hr ltr/h",
	"kg/h kg/hr kgph kg/hour", "kg/s kg/sec", "kg/min", "t/h t/hr tph to/h", "t/d",
	"Nm3/h Nm3/hr Ncbm/h Nm3h", "Sm3/h Sm3/hr", "Nl/min", "Am3/h",
	"gpm usgpm", "cfm", "scfm",
	"kg Kg kilogram", "t ton tonne tonnes to", "g gram", "kN", "N", "Nm",
	"kW", "W Watt Watts", "MW", "mW", "kWh", "MWh", "kvar kVAr", "kVA", "VA", "kJ/h",
	"A Amp Amps Ampere amperes", "mA milliamp", "V Volt Volts VDC VAC Vdc Vac", "mV", "kV",
	"Hz Hertz", "kHz", "rpm 1/min U/min tr/min min-1 r/min rev/min RPM upm", "1/h",
	"mm/s mm/sec", "m/s m/sec", "m/s2", "m/min",
	"pH ph-Wert", "uS/cm µS/cm us/cm", "mS/cm", "NTU", "FNU", "FTU", "TE/F",
	"mg/l mg/L mg/ltr", "g/l g/L", "ug/l µg/l", "kg/m3 kg/cbm", "g/cm3", "kg/l", "mg/m3", "mg/Nm3",
	"cP", "mPas mPa.s mPa·s", "cSt",
	"s sec second seconds sek", "ms msec", "min minutes mins", "h hr hrs hour hours std heures horas", "d days",
	"lx lux", "W/m2", "dB", "dB(A) dBA",
	"ohm Ω Ohms", "kohm kΩ kOhm", "uS µS", "l ltr litre litres liter L litros", "m3 cbm m^3 cum", "hl", "ml",
	"pcs pc stk pieces", "deg degree degrees ° grad", "Imp pulses", "J/kg", "kJ/kg", "g/kg", "MJ/m3", "m2", "mm2",
	"uA µA", "uF µF", "nF", "pF", "mH", "uH µH", "m3/pulse", "l/pulse l/Imp", "ppm CO2", "ppmCO2", "cd/m2",
}

// stateUnits are units that say that the signal has two states.
var stateUnits = phrases("bool, boolean, booleen, booleano, binary, binar, bit, on/off, off/on, 0/1, 0-1, ein/aus, aus/ein, auf/zu, open/close, open/closed, closed/open, 0 / 1, true/false, digital, discrete, tor, logic, on off, run/stop, marche/arret, state, status, contact")

var unitTable, unitExact = buildUnits()

func buildUnits() (table, exact map[string]string) {
	table, exact = map[string]string{}, map[string]string{}
	for _, line := range unitNames {
		words := strings.Fields(line)
		for _, w := range words {
			exact[w] = words[0]
			if _, taken := table[unitKey(w)]; !taken {
				table[unitKey(w)] = words[0]
			}
		}
	}
	delete(table, "of") // "13 of the" is no temperature; oF is found as it is written
	return table, exact
}

var unitDirt = strings.NewReplacer("³", "3", "²", "2", "^", "", " ", "", "\u00a0", "", "℃", "°c", "℉", "°f", "º", "°", "˚", "°", "μ", "µ", "u", "µ", "[", "", "]", "", "{", "", "}", "", "Ω", "ω", "Ω", "ω", "⁻¹", "-1", "*", "", "·", ".", "–", "-", "−", "-")

func unitKey(s string) string {
	k := unitDirt.Replace(strings.ToLower(s))
	for strings.HasPrefix(k, "(") && strings.HasSuffix(k, ")") && len(k) > 2 {
		k = k[1 : len(k)-1]
	}
	return k
}

// parseUnit brings a unit into the form used here. known says that it is a unit at all; "" with
// known true is a dash that stands for no unit.
func parseUnit(s string) (unit string, known bool) {
	s = strings.TrimSpace(s)
	if isDash(s) {
		return "", true
	}
	t := strings.Trim(s, "[]{} .,;:")
	if strings.HasPrefix(t, "(") && strings.HasSuffix(t, ")") {
		t = strings.Trim(t, "()")
	}
	if u, ok := unitExact[t]; ok {
		return u, true
	}
	if u, ok := unitTable[unitKey(t)]; ok && (len(t) > 1 || strings.ContainsAny(t, "%°")) {
		return u, true
	}
	if u, ok := unitTable[unitKey(t)]; ok && t != "a" && t != "C" && t != "F" {
		return u, true
	}
	switch t {
	case "C":
		return "degC", true
	case "F":
		return "degF", true
	}
	return s, false
}

// isState reports whether a unit says that the signal has two states.
func isState(unit string) bool {
	f := fold(unit)
	for _, u := range stateUnits {
		if f == u {
			return true
		}
	}
	return false
}

// isDash reports whether a cell holds only strokes, which people write for "none".
func isDash(s string) bool {
	if s == "" {
		return false
	}
	return strings.Trim(s, "-–—−‐‑_./\\ ") == ""
}
