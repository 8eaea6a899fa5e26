package tomltree

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/quantity"
)

// String returns a text, trimmed of blanks around it.
func (t Table) String(key, def string) string {
	c := t.get(key)
	if c == nil {
		return def
	}
	if c.kind != text {
		t.wrong(c, text)
		return def
	}
	return strings.TrimSpace(c.text)
}

// NeedString returns a text that must be there and not be empty.
func (t Table) NeedString(key string) string {
	s := t.String(key, "")
	if c := t.node.byKey[key]; c == nil {
		t.missing(key)
	} else if c.kind == text && s == "" {
		t.doc.report(3, finding.Error, t.node.subject, c.at, fmt.Sprintf("%s is empty", key), fmt.Sprintf("Write %s = \"…\".", key))
	}
	return s
}

// OneOf returns a text that must be one of the allowed ones; case matters only for the message.
func (t Table) OneOf(key, def string, allowed ...string) string {
	s := t.String(key, def)
	c := t.node.byKey[key]
	if c == nil || c.kind != text || slices.Contains(allowed, s) {
		return s
	}
	t.notAllowed(c, s, allowed)
	return def
}

func (t Table) notAllowed(c *node, s string, allowed []string) {
	msg := fmt.Sprintf("%s is %q; allowed are %s", c.key, clip(s), quoteAll(allowed))
	remedy := "Write one of them."
	if near, ok := finding.Nearest(s, allowed); ok {
		msg += fmt.Sprintf("; did you mean %q?", near)
		remedy = fmt.Sprintf("Write %s = %q.", c.key, near)
	}
	t.doc.report(6, finding.Error, t.node.subject, c.at, msg, remedy)
}

func quoteAll(words []string) string {
	q := make([]string, len(words))
	for i, w := range words {
		q[i] = strconv.Quote(w)
	}
	return strings.Join(q, ", ")
}

// Bool returns true or false.
func (t Table) Bool(key string, def bool) bool {
	c := t.get(key)
	if c == nil {
		return def
	}
	if c.kind != boolean {
		t.wrong(c, boolean)
		return def
	}
	return c.text == "true"
}

// Int returns a whole number from least to most.
func (t Table) Int(key string, def, least, most int64) int64 {
	if c := t.get(key); c != nil {
		if v, ok := t.integer(c, least, most); ok {
			return v
		}
	}
	return def
}

// NeedInt returns a whole number that must be there; 0 where it is not.
func (t Table) NeedInt(key string, least, most int64) int64 {
	if t.get(key) == nil {
		t.missing(key)
		return 0
	}
	return t.Int(key, 0, least, most)
}

// Float returns a number from least to most, written with or without a point.
func (t Table) Float(key string, def, least, most float64) float64 {
	if c := t.get(key); c != nil {
		if v, ok := t.number(c, least, most); ok {
			return v
		}
	}
	return def
}

// NeedFloat returns a number that must be there; 0 where it is not.
func (t Table) NeedFloat(key string, least, most float64) float64 {
	if t.get(key) == nil {
		t.missing(key)
		return 0
	}
	return t.Float(key, 0, least, most)
}

// Strings returns a list of texts; nil where there is none.
func (t Table) Strings(key string) []string {
	var out []string
	for _, c := range t.list(key) {
		if c.kind != text {
			t.wrong(c, text)
			continue
		}
		out = append(out, strings.TrimSpace(c.text))
	}
	return out
}

// StringsOf returns a list of texts, each of which must be one of the allowed ones.
func (t Table) StringsOf(key string, allowed ...string) []string {
	var out []string
	for _, c := range t.list(key) {
		switch s := strings.TrimSpace(c.text); {
		case c.kind != text:
			t.wrong(c, text)
		case !slices.Contains(allowed, s):
			t.notAllowed(c, s, allowed)
		default:
			out = append(out, s)
		}
	}
	return out
}

// Ints returns a list of whole numbers, each from least to most.
func (t Table) Ints(key string, least, most int64) []int64 {
	var out []int64
	for _, c := range t.list(key) {
		if v, ok := t.integer(c, least, most); ok {
			out = append(out, v)
		}
	}
	return out
}

// list returns the items of a list, each bearing the list's key for messages.
func (t Table) list(key string) []*node {
	c := t.get(key)
	if c == nil {
		return nil
	}
	if c.kind != array {
		t.wrong(c, array)
		return nil
	}
	for _, item := range c.items {
		item.key = key
	}
	return c.items
}

func (t Table) integer(c *node, least, most int64) (int64, bool) {
	if c.kind != integer {
		t.wrong(c, integer)
		return 0, false
	}
	v, err := strconv.ParseInt(strings.ReplaceAll(strings.TrimPrefix(c.text, "+"), "_", ""), 0, 64)
	if err != nil || v < least || v > most {
		t.outside(c, strconv.FormatInt(least, 10), strconv.FormatInt(most, 10))
		return 0, false
	}
	return v, true
}

func (t Table) number(c *node, least, most float64) (float64, bool) {
	if c.kind != integer && c.kind != decimal {
		t.wrong(c, decimal)
		return 0, false
	}
	s := strings.ReplaceAll(c.text, "_", "")
	v, err := strconv.ParseFloat(s, 64)
	if err != nil && c.kind == integer { // 0x10, 0o7, 0b1
		var n int64
		n, err = strconv.ParseInt(s, 0, 64)
		v = float64(n)
	}
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || v < least || v > most {
		t.outside(c, quantity.Short(least), quantity.Short(most))
		return 0, false
	}
	if v == 0 {
		return 0, true // no negative zero
	}
	return v, true
}

func (t Table) outside(c *node, least, most string) {
	t.doc.report(5, finding.Error, t.node.subject, c.at,
		fmt.Sprintf("%s is %s; allowed is %s to %s", c.key, clip(c.text), least, most), fmt.Sprintf("Write a value from %s to %s.", least, most))
}
