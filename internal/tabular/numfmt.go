package tabular

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"time"
)

// numFormat is what matters of a spreadsheet's number format.
type numFormat struct {
	date, clock    bool // shows a date, a time of day
	percent        bool
	pad            int // digits that a format of zeros fills up to
	prefix, suffix string
}

// builtinFormat gives the formats that files name by number only.
//
// Source: ECMA-376 part 1, 18.8.30 (numFmtId), the identifiers implied without a format code.
func builtinFormat(id int) numFormat {
	switch {
	case id == 9 || id == 10:
		return numFormat{percent: true}
	case id >= 14 && id <= 17, id >= 27 && id <= 31, id == 36, id >= 50 && id <= 58:
		return numFormat{date: true}
	case id >= 18 && id <= 21, id >= 32 && id <= 35, id >= 45 && id <= 47:
		return numFormat{clock: true}
	case id == 22:
		return numFormat{date: true, clock: true}
	}
	return numFormat{}
}

// parseFormat reads the first section of a format code: date and time letters, percent, zeros that
// pad, and literal text before and behind the digits.
func parseFormat(code string) numFormat {
	var f numFormat
	var lit strings.Builder
	digits, zeros, seen := "", true, false
	flush := func() {
		if seen {
			f.suffix += lit.String()
		} else {
			f.prefix += lit.String()
		}
		lit.Reset()
	}
	lower := strings.ToLower(code)
	if strings.Contains(lower, "general") || lower == "@" {
		code = strings.NewReplacer("General", "0.#", "general", "0.#", "GENERAL", "0.#", "@", "").Replace(code)
		zeros = false
	}
scan:
	for i := 0; i < len(code); i++ {
		switch c := code[i]; c {
		case ';':
			break scan
		case '"':
			end := strings.IndexByte(code[i+1:], '"')
			if end < 0 {
				break scan
			}
			lit.WriteString(code[i+1 : i+1+end])
			i += end + 1
		case '\\':
			if i++; i < len(code) {
				lit.WriteByte(code[i])
			}
		case '_', '*':
			i++
		case '[':
			end := strings.IndexByte(code[i:], ']')
			if end < 0 {
				break scan
			}
			if in := strings.ToLower(code[i+1 : i+end]); in == "h" || in == "hh" || in == "m" || in == "mm" || in == "s" || in == "ss" {
				f.clock = true
			}
			i += end
		case '%':
			f.percent = true
		case 'y', 'Y', 'd', 'D':
			f.date = true
		case 'h', 'H', 's', 'S':
			f.clock = true
		case 'm', 'M':
			if !f.clock {
				f.date = f.date || !strings.ContainsAny(lower[i:], "s") || strings.ContainsAny(lower, "yd")
			}
		case '0', '#', '?', '.', ',':
			flush()
			seen = true
			digits += string(c)
			zeros = zeros && c == '0'
		case 'E', 'e':
			zeros = false
		case ' ', '-', '/', ':', '(', ')', '+':
			if c == ' ' {
				lit.WriteByte(c)
			}
		}
	}
	flush()
	if zeros && len(digits) > 1 {
		f.pad = len(digits)
	}
	if !seen || f.date || f.clock {
		f.prefix, f.suffix = "", ""
	}
	if strings.TrimSpace(f.prefix) == "" {
		f.prefix = ""
	}
	if strings.TrimSpace(f.suffix) == "" {
		f.suffix = ""
	}
	return f
}

// number returns a stored number as the package comment says.
func (f numFormat) number(raw []byte, date1904 bool) (string, Kind) {
	raw = bytes.TrimSpace(raw)
	v, err := strconv.ParseFloat(string(raw), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return string(raw), Text
	}
	if f.date || f.clock {
		if t, ok := serialDate(v, f, date1904); ok {
			return t, Date
		}
	}
	if f.percent {
		return fewest(v*100) + "%", Number
	}
	s := fewest(v)
	if f.pad > 0 && v >= 0 && v == math.Trunc(v) && len(s) < f.pad {
		s = strings.Repeat("0", f.pad-len(s)) + s
	}
	if f.prefix != "" || f.suffix != "" {
		return f.prefix + s + f.suffix, Text
	}
	return s, Number
}

// fewest prints a number with the fewest digits that read back to the same value. Where those are
// sixteen or seventeen because binary fractions are inexact, and rounding to fifteen (what
// spreadsheets hold and show) leaves twelve or fewer, the short form is the one that was meant.
func fewest(v float64) string {
	if v == 0 {
		return "0"
	}
	e := strconv.FormatFloat(v, 'e', -1, 64)
	if mantissaDigits(e) > 15 {
		if s := strconv.FormatFloat(v, 'e', 14, 64); mantissaDigits(s) <= 12 {
			if w, err := strconv.ParseFloat(s, 64); err == nil {
				v = w
			}
		}
	}
	if a := math.Abs(v); a >= 1e21 || a < 1e-9 {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// mantissaDigits counts the digits of "1.2300e+00" without trailing zeros: 3.
func mantissaDigits(e string) int {
	m, _, _ := strings.Cut(e, "e")
	m = strings.TrimLeft(strings.Replace(m, ".", "", 1), "-")
	return len(strings.TrimRight(m, "0"))
}

// serialDate turns a day number into ISO 8601. Day 60 of the 1900 calendar is the 29 February 1900
// that never was; days before it are one further on.
//
// Source: ECMA-376 part 1, 18.17.4 (dates and times).
func serialDate(v float64, f numFormat, date1904 bool) (string, bool) {
	if v < 0 || v >= 2958466 {
		return "", false
	}
	base := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	days := math.Floor(v)
	switch {
	case date1904:
		base = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	case days < 60:
		base = time.Date(1899, 12, 31, 0, 0, 0, 0, time.UTC)
	}
	seconds := math.Round((v - days) * 86400)
	t := base.AddDate(0, 0, int(days)).Add(time.Duration(seconds) * time.Second)
	switch {
	case f.clock && (days == 0 && !date1904 || !f.date):
		return t.Format("15:04:05"), true
	case f.clock && seconds != 0:
		return t.Format("2006-01-02T15:04:05"), true
	}
	return t.Format("2006-01-02"), true
}
