package checker

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// origin checks where an input comes from: the thing exists and has that number. A stated value is
// compared by its digits (up to a power of ten and the 60 or 3600 of times), as its unit in the
// file and in the record may differ.
func (r *run) origin(subject string, v docValue) {
	kind, rest, _ := strings.Cut(v.From, ":")
	switch kind {
	case "calc":
		rec, ok := r.d.Calculations[rest]
		if !ok {
			r.bad("TRC", subject, "a calculation of the design", "from %q", v.From)
		} else if !sameDigits(v.Value, rec.Result.Value) && !rounded(v.Value, rec.Result.Value) {
			r.bad("TRC", subject, fmt.Sprintf("%v of %s", rec.Result.Value, v.From), "%v", v.Value)
		}
	case "project":
		r.stated(subject, v, resolve(reflect.ValueOf(*r.p), strings.Split(rest, ".")))
	case "signal":
		i := strings.LastIndex(rest, ".")
		if i < 0 || r.sig[rest[:i]] == nil {
			r.bad("TRC", subject, "signal:ID.COLUMN", "from %q", v.From)
			return
		}
		r.stated(subject, v, resolve(reflect.ValueOf(r.sig[rest[:i]].Signal), []string{rest[i+1:]}))
	case "hardware":
		r.fromHardware(subject, v, rest)
	case "cite":
		if rest == "" || !r.knownCite(rest) {
			r.bad("TRC", subject, "a known source", "from %q", v.From)
		}
	case "rule":
		if rest == "" || r.opt.KnownRule != nil && !r.opt.KnownRule(rest) {
			r.bad("TRC", subject, "a known rule", "from %q", v.From)
		}
	default:
		r.bad("TRC", subject, "project, signal, hardware, calc, cite or rule", "from %q", v.From)
	}
}

// fromHardware looks up CODE.KEY; a code may hold dots itself.
func (r *run) fromHardware(subject string, v docValue, rest string) {
	list := reflect.ValueOf(*r.hw)
	segs := strings.Split(rest, ".")
	for n := len(segs) - 1; n >= 1; n-- {
		code := strings.Join(segs[:n], ".")
		for i := range list.NumField() {
			if list.Field(i).Kind() != reflect.Slice || !list.Type().Field(i).IsExported() {
				continue
			}
			for k := range list.Field(i).Len() {
				if part := list.Field(i).Index(k); part.FieldByName("Code").String() == code {
					r.stated(subject, v, resolve(part, segs[n:]))
					return
				}
			}
		}
	}
	r.bad("TRC", subject, "hardware:CODE.KEY", "from %q", v.From)
}

// stated reports an origin that leads nowhere, to no number, or to another number.
func (r *run) stated(subject string, v docValue, leaves []reflect.Value) {
	if len(leaves) == 0 {
		r.bad("TRC", subject, "an origin that exists", "from %q", v.From)
		return
	}
	numbers := 0
	for _, leaf := range leaves {
		x, known, isLeaf := leafNumber(leaf)
		if isLeaf && (!known || sameDigits(v.Value, x)) {
			return
		}
		if isLeaf {
			numbers++
		}
	}
	if numbers == 0 {
		r.bad("TRC", subject, "one value", "from %q leads to many", v.From)
		return
	}
	x, _, _ := leafNumber(leaves[0])
	r.bad("TRC", subject, fmt.Sprintf("%v of %s", x, v.From), "%v", v.Value)
}

// leafNumber reads a value at the end of a path: known is false for one that is no number (a text,
// a cell left empty); isLeaf is false for something with parts of its own.
func leafNumber(v reflect.Value) (x float64, known, isLeaf bool) {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		return v.Float(), true, true
	case reflect.Int, reflect.Int64, reflect.Int32:
		return float64(v.Int()), true, true
	case reflect.String, reflect.Bool:
		return 0, false, true
	case reflect.Struct:
		if set := v.FieldByName("Set"); set.IsValid() && set.Kind() == reflect.Bool {
			if !set.Bool() {
				return 0, false, true
			}
			return leafNumber(v.FieldByName("Value"))
		}
	}
	return 0, false, false
}

func sameDigits(a, b float64) bool {
	if a == b || a == 0 || b == 0 {
		return a == b
	}
	for _, unit := range []float64{1, 60, 3600} {
		for _, q := range []float64{a / b / unit, a / b * unit} {
			e := math.Round(math.Log10(math.Abs(q)))
			if q > 0 && math.Abs(q/math.Pow(10, e)-1) < 1e-9 {
				return true
			}
		}
	}
	return false
}

// rounded reports whether a is b rounded to the decimals that a has, up to a power of ten between
// their units: at the border to counts a result loses its last digits. Four digits must be left.
func rounded(a, b float64) bool {
	text := strconv.FormatFloat(math.Abs(a), 'f', -1, 64)
	whole, decimals, _ := strings.Cut(text, ".")
	if a*b <= 0 || len(strings.TrimLeft(whole+decimals, "0")) < 4 {
		return false
	}
	last := math.Pow(10, -float64(len(decimals)))
	for e := -6; e <= 6; e += 3 {
		if math.Abs(b*math.Pow(10, float64(e))-a) <= last*(1+1e-9) {
			return true
		}
	}
	return false
}

// resolve follows a path of file keys through plain data: keys are compared without case,
// underscores and a unit at their end; elements of a list are named by id, code, kind or number,
// and left unnamed stand for all. It returns every value that the path can mean.
func resolve(v reflect.Value, path []string) []reflect.Value {
	if len(path) == 0 {
		return []reflect.Value{v}
	}
	var out []reflect.Value
	switch v.Kind() {
	case reflect.Struct:
		if set := v.FieldByName("Set"); set.IsValid() && v.FieldByName("Value").IsValid() {
			return nil
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() && namesField(path[0], v.Type().Field(i).Name) {
				out = append(out, resolve(v.Field(i), path[1:])...)
			}
		}
		if len(out) == 0 { // a key may stand in a table that the file does not name
			for i := range v.NumField() {
				if f := v.Field(i); (f.Kind() == reflect.Struct || f.Kind() == reflect.Slice) && v.Type().Field(i).IsExported() {
					out = append(out, resolve(f, path)...)
				}
			}
		}
	case reflect.Map:
		for n := len(path); n >= 1; n-- {
			key := strings.Join(path[:n], ".")
			for _, k := range v.MapKeys() {
				if strings.EqualFold(k.String(), key) || plain(k.String()) == plain(key) {
					out = append(out, resolve(v.MapIndex(k), path[n:])...)
				}
			}
		}
	case reflect.Slice:
		out = resolveList(v, path)
	}
	return out
}

func resolveList(v reflect.Value, path []string) []reflect.Value {
	var out []reflect.Value
	number, err := strconv.Atoi(path[0])
	for i := range v.Len() {
		e := v.Index(i)
		if err == nil && (number == i || number == i+1) {
			out = append(out, resolve(e, path[1:])...)
			continue
		}
		if e.Kind() != reflect.Struct {
			continue
		}
		for n := len(path); n >= 1; n-- {
			key, named := strings.Join(path[:n], "."), false
			for _, f := range []string{"ID", "Code", "Kind", "Function"} {
				named = named || e.FieldByName(f).IsValid() && e.FieldByName(f).String() == key
			}
			if named {
				out = append(out, resolve(e, path[n:])...)
			}
		}
	}
	if len(out) == 0 {
		for i := range v.Len() {
			if e := v.Index(i); e.Kind() == reflect.Struct {
				out = append(out, resolve(e, path)...)
			}
		}
	}
	return out
}

func plain(s string) string {
	return strings.ToLower(strings.Map(func(c rune) rune {
		if c == '_' || c == '-' || c == ' ' {
			return -1
		}
		return c
	}, s))
}

// namesField: "max_current_a" names MaxCurrent, "place" names Places.
func namesField(key, field string) bool {
	f := strings.ToLower(field)
	k := plain(key)
	if k == f || k+"s" == f || k+"es" == f {
		return true
	}
	if strings.EqualFold(alias[key], field) {
		return true
	}
	if i := strings.Index(key, "_per_"); i > 0 { // "price_per_m", "capacitance_pf_per_m"
		key = key[:i]
		if plain(key) == f {
			return true
		}
	}
	if i := strings.LastIndex(key, "_"); i > 0 {
		k = plain(key[:i])
		return k == f || k+"s" == f
	}
	return false
}

// alias holds the keys of project.toml and hardware.toml whose fields have another name.
var alias = map[string]string{
	"labour_per_h": "Rate", "pull_min_per_m": "PullPerMetre", "station_h": "StationMount", "module_min": "ModuleMount",
	"group_min": "GroupWire", "group_off_h": "GroupOff", "station_off_h": "StationOff", "check_min": "SignalCheck", "split_equipment": "SplitByPart", "first_input_byte": "FirstIn",
	"first_output_byte": "FirstOut", "infeed_length_m": "InfeedLen", "current_ma": "DefaultCurrent", "address_prefix": "Prefix",
	"first_node": "First", "bases": "HasBases", "interference_free": "Safe", "voltage_drop_v": "Drop", "resolution_bits": "Bit",
	"max_frequency_hz": "MaxFreq", "measuring_current_ma": "Measuring", "life_operations": "Operations",
	"derate_percent_per_k": "DeratePerK", "diameter_mm": "DiameterUM", "terminal_min_mm2": "MinArea", "terminal_max_mm2": "MaxArea",
	"supply_unit": "Supplies", "switch_ports": "SwitchPorts",
}
