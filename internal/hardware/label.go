package hardware

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Label returns what is printed at terminal t of channel i (from 0) of the set. A label is text in
// which {n} stands for the channel's printed number and {ki+c} for the number k x i + c: {i}, {i+1},
// {2i}, {3i+2}, {8-i}, {12}. So "a{i+1}" prints a1, a2, a3 … and "{2i+1}" prints 1, 3, 5 …
func (s *ChannelSet) Label(t Terminal, i int) string {
	if !strings.Contains(t.Label, "{") {
		return t.Label
	}
	return braces.ReplaceAllStringFunc(t.Label, func(m string) string {
		k, c, _ := linear(m[1:len(m)-1], s, i)
		return strconv.Itoa(k*i + c)
	})
}

// Number returns the number printed on channel i (from 0) of the set.
func (s *ChannelSet) Number(i int) int { return s.First + i*max(1, s.Step) }

// Terminal returns the set's terminal for a function.
func (s *ChannelSet) Terminal(function string) (Terminal, bool) {
	for _, t := range s.Terminals {
		if t.Function == function {
			return t, true
		}
	}
	return Terminal{}, false
}

var (
	braces  = regexp.MustCompile(`\{[^{}]*\}`)
	rising  = regexp.MustCompile(`^([0-9]{0,4})i(?:\+([0-9]{1,5}))?$`)
	falling = regexp.MustCompile(`^([0-9]{1,5})-([0-9]{0,4})i$`)
	plain   = regexp.MustCompile(`^[0-9]{1,5}$`)
)

// linear reads the expression between braces as k x i + c.
func linear(expr string, s *ChannelSet, i int) (k, c int, ok bool) {
	atoi := func(digits string, def int) int {
		if v, err := strconv.Atoi(digits); err == nil {
			return v
		}
		return def
	}
	if expr == "n" {
		return 0, s.Number(i), true
	}
	if m := rising.FindStringSubmatch(expr); m != nil {
		return atoi(m[1], 1), atoi(m[2], 0), true
	}
	if m := falling.FindStringSubmatch(expr); m != nil {
		return -atoi(m[2], 1), atoi(m[1], 0), true
	}
	if plain.MatchString(expr) {
		return 0, atoi(expr, 0), true
	}
	return 0, 0, false
}

// checkLabel reports what is wrong with a label template.
func checkLabel(label string) error {
	if len([]rune(label)) > 40 {
		return fmt.Errorf("has more than 40 characters")
	}
	for _, r := range label {
		if r < 0x20 || r == 0x7f || r == '/' {
			return fmt.Errorf("holds %q, which no terminal bears", r)
		}
	}
	for _, m := range braces.FindAllString(label, -1) {
		if _, _, ok := linear(m[1:len(m)-1], &ChannelSet{}, 0); !ok {
			return fmt.Errorf("%s is no expression of i", m)
		}
	}
	if rest := braces.ReplaceAllString(label, ""); strings.ContainsAny(rest, "{}") {
		return fmt.Errorf("braces do not match")
	}
	return nil
}
