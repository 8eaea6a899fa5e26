package hardware

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"railwright/internal/finding"
	q "railwright/internal/quantity"
	"railwright/internal/tomltree"
)

// field describes one key of an entry's TOML form: how it is read into the entry, what is allowed,
// and how it is written. The tables of fields are the one place that Parse, Encode and Keys share.
type field[T any] struct {
	key   string
	note  string // what it means
	limit string // unit and limits, for Keys
	need  bool   // has no default
	zero  string // how a needed key with the value zero is written
	read  func(t tomltree.Table, f *field[T], e *T)
	write func(e *T) string // the value in TOML; "" leaves the key out
}

// must makes a key one that has to be given.
func must[T any](f field[T]) field[T] {
	f.need = true
	return f
}

// text is a free text.
func text[T any](key, note string, at func(*T) *string) field[T] {
	return field[T]{
		key: key, note: note, limit: "text",
		read: func(t tomltree.Table, f *field[T], e *T) {
			if f.need {
				*at(e) = t.NeedString(f.key)
				return
			}
			*at(e) = t.String(f.key, "")
		},
		write: func(e *T) string { return quoted(*at(e)) },
	}
}

var codeForm = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._+-]{0,59}$`)

// code is the code of an entry.
func code[T any](at func(*T) *string) field[T] {
	return field[T]{
		key: "code", note: "unique name of the entry over the whole list", need: true,
		limit: "1 to 60 letters, digits, points, hyphens, plus signs or underscores",
		read: func(t tomltree.Table, f *field[T], e *T) {
			c := t.NeedString(f.key)
			if c != "" && !codeForm.MatchString(c) {
				t.Report("HWL-010", finding.Error, f.key, fmt.Sprintf("code %q; allowed are %s, and the first is a letter or digit", clip(c), f.limit),
					"Write a plain code such as di16.")
			}
			*at(e) = c
		},
		write: func(e *T) string { return quoted(*at(e)) },
	}
}

// word is one of a few words.
func word[T any, S ~string](key, note string, at func(*T) *S, allowed ...string) field[T] {
	return field[T]{
		key: key, note: note, limit: strings.Join(allowed, ", "),
		read: func(t tomltree.Table, f *field[T], e *T) {
			if f.need && !t.Has(f.key) {
				t.NeedString(f.key)
				return
			}
			*at(e) = S(t.OneOf(f.key, "", allowed...))
		},
		write: func(e *T) string { return quoted(string(*at(e))) },
	}
}

// flag is true or false, false by default.
func flag[T any](key, note string, at func(*T) *bool) field[T] {
	return field[T]{
		key: key, note: note, limit: "true or false (default)",
		read: func(t tomltree.Table, f *field[T], e *T) { *at(e) = t.Bool(f.key, false) },
		write: func(e *T) string {
			if *at(e) {
				return "true"
			}
			return ""
		},
	}
}

// words is a list of texts, of any kind if none are allowed by name.
func words[T any](key, note string, at func(*T) *[]string, allowed ...string) field[T] {
	limit := "list of texts"
	if len(allowed) > 0 {
		limit = "list of " + strings.Join(allowed, ", ")
	}
	return field[T]{
		key: key, note: note, limit: limit,
		read: func(t tomltree.Table, f *field[T], e *T) {
			if f.need && !t.Has(f.key) {
				t.Report("HWL-003", finding.Error, "", "the key "+f.key+" is missing", "Add "+f.key+" = [ … ].")
			}
			if len(allowed) == 0 {
				*at(e) = t.Strings(f.key)
				return
			}
			*at(e) = t.StringsOf(f.key, allowed...)
		},
		write: func(e *T) string {
			if len(*at(e)) == 0 {
				return ""
			}
			parts := make([]string, len(*at(e)))
			for i, s := range *at(e) {
				parts[i] = strconv.Quote(s)
			}
			return "[" + strings.Join(parts, ", ") + "]"
		},
	}
}

// wholes is a list of whole numbers.
func wholes[T any](key, note string, least, most int64, at func(*T) *[]int) field[T] {
	return field[T]{
		key: key, note: note, limit: fmt.Sprintf("list of whole numbers, %d to %d", least, most),
		read: func(t tomltree.Table, f *field[T], e *T) {
			for _, v := range t.Ints(f.key, least, most) {
				*at(e) = append(*at(e), int(v))
			}
		},
		write: func(e *T) string {
			if len(*at(e)) == 0 {
				return ""
			}
			parts := make([]string, len(*at(e)))
			for i, n := range *at(e) {
				parts[i] = strconv.Itoa(n)
			}
			return "[" + strings.Join(parts, ", ") + "]"
		},
	}
}

// count is a number kept as a whole count of steps, of which one unit of the key holds scale: a key
// in milliamperes kept in microamperes has scale 1000. A finer number is a fault.
func count[T any, N ~int | ~int64](key, note, unit string, scale int64, least, most float64, at func(*T) *N) field[T] {
	return field[T]{
		zero: "0",
		key:  key, note: note, limit: limits(unit, least, most) + steps(scale),
		read: func(t tomltree.Table, f *field[T], e *T) {
			v := number(t, f.key, f.need, least, most)
			n := math.Round(v * float64(scale))
			if math.Abs(v*float64(scale)-n) > 1e-6 {
				step := q.Short(1 / float64(scale))
				t.Report("HWL-012", finding.Error, f.key, fmt.Sprintf("%s is %s; allowed are multiples of %s", f.key, q.Short(v), step),
					fmt.Sprintf("Write %s = %s.", f.key, decimal(int64(n), scale)))
			}
			*at(e) = N(n)
		},
		write: func(e *T) string {
			if *at(e) == 0 {
				return ""
			}
			return decimal(int64(*at(e)), scale)
		},
	}
}

// coarser makes a count one that is kept in finer steps than the file may use: money is kept in
// 1/10,000, and a price in the file is a multiple of 0.01.
func coarser[T any, N ~int64](f field[T], steps int64, step string, at func(*T) *N) field[T] {
	read := f.read
	f.limit = f.limit[:strings.LastIndex(f.limit, " ")+1] + step
	f.read = func(t tomltree.Table, f *field[T], e *T) {
		read(t, f, e)
		if n := int64(*at(e)); n%steps != 0 {
			t.Report("HWL-012", finding.Error, f.key, fmt.Sprintf("%s is finer than %s", f.key, step), "Round it to a multiple of "+step+".")
		}
	}
	return f
}

// figure is a physical quantity kept in SI units, of which the key's unit is one part in per: a key
// in milliseconds has per 1000.
func figure[T any, N ~float64](key, note, unit string, per, least, most float64, at func(*T) *N) field[T] {
	return field[T]{
		zero: "0",
		key:  key, note: note, limit: limits(unit, least, most),
		read: func(t tomltree.Table, f *field[T], e *T) { *at(e) = N(number(t, f.key, f.need, least, most) / per) },
		write: func(e *T) string {
			if *at(e) == 0 {
				return ""
			}
			return fewest(float64(*at(e)), per)
		},
	}
}

func number(t tomltree.Table, key string, need bool, least, most float64) float64 {
	if need {
		return t.NeedFloat(key, least, most)
	}
	return t.Float(key, 0, least, most)
}

func steps(scale int64) string {
	if scale == 1 {
		return ", whole"
	}
	return ", steps of " + q.Short(1/float64(scale))
}

func limits(unit string, least, most float64) string {
	s := q.Short(least) + " to " + q.Short(most)
	if unit != "" {
		s += " " + unit
	}
	return s
}

// decimal writes n/scale, scale a power of ten, exactly.
func decimal(n, scale int64) string {
	digits := 0
	for s := scale; s > 1; s /= 10 {
		digits++
	}
	s := strconv.FormatFloat(float64(n)/float64(scale), 'f', digits, 64)
	if digits > 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// fewest writes v x per with the fewest digits that read back to v.
func fewest(v, per float64) string {
	for digits := 1; digits < 17; digits++ {
		s := strconv.FormatFloat(v*per, 'g', digits, 64)
		back, err := strconv.ParseFloat(s, 64)
		if err == nil && back/per == v {
			return q.Short(back)
		}
	}
	return q.Short(v * per)
}

func quoted(s string) string {
	if s == "" {
		return ""
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
