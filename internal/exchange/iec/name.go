package iec

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Legal makes an identifier of a tag (IEC 61131-3, identifiers: letters, digits and single underscores,
// not beginning with a digit; here also none at either end, since compilers differ). Umlauts and accented
// letters become their Latin letters, other letters U and their code, everything else an underscore. A name that would
// begin with a digit or is reserved gets S_ before it. The result is not yet unique: see Names.
func Legal(tag string) string {
	var b strings.Builder
	gap := false
	put := func(s string) {
		if gap && b.Len() > 0 {
			b.WriteByte('_')
		}
		gap = false
		b.WriteString(s)
	}
	for _, r := range tag {
		if s := spell(r); s != "" {
			put(s)
		} else if !unicode.Is(unicode.Mn, r) {
			gap = true
		}
	}
	name := b.String()
	switch {
	case name == "":
		return "SIGNAL"
	case name[0] >= '0' && name[0] <= '9' || Reserved(name):
		return "S_" + name
	}
	return name
}

// latin are the letters that people write with two, and those that do not decompose.
var latin = map[rune]string{
	'ä': "ae", 'ö': "oe", 'ü': "ue", 'Ä': "AE", 'Ö': "OE", 'Ü': "UE", 'ß': "ss", 'ẞ': "SS", 'æ': "ae", 'Æ': "AE", 'ø': "oe", 'Ø': "OE",
	'œ': "oe", 'Œ': "OE", 'å': "aa", 'Å': "AA", 'ł': "l", 'Ł': "L", 'đ': "d", 'Đ': "D", 'þ': "th", 'Þ': "TH", 'ð': "d", 'ı': "i",
}

// spell writes one character in letters and digits; "" where it has none.
func spell(r rune) string {
	if r < 0x80 {
		if r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' {
			return string(r)
		}
		return ""
	}
	if s, ok := latin[r]; ok {
		return s
	}
	if base := []rune(norm.NFKD.String(string(r)))[0]; base < 0x80 {
		return spell(base)
	}
	if unicode.IsLetter(r) || unicode.IsDigit(r) {
		return fmt.Sprintf("U%04X", r)
	}
	return ""
}

// Names gives out identifiers that differ in more than their case and collide with no reserved word.
// The zero value is not ready; see NewNames.
type Names struct{ taken map[string]bool }

// NewNames knows the given names as taken.
func NewNames(taken ...string) *Names {
	n := &Names{taken: map[string]bool{}}
	for _, t := range taken {
		n.taken[strings.ToUpper(t)] = true
	}
	return n
}

// Unique returns the name, or the name with the first free number from 2 on.
func (n *Names) Unique(name string) string {
	free := name
	for i := 2; n.taken[strings.ToUpper(free)] || Reserved(free); i++ {
		free = fmt.Sprintf("%s_%d", name, i)
	}
	n.taken[strings.ToUpper(free)] = true
	return free
}

// named is a tag with the id that breaks ties.
type named struct{ id, tag string }

// assign gives each tag its name, in the order given: first those that are legal as they stand, so that a mended name
// never takes one from a good one, then the others by id.
func (n *Names) assign(all []named) []string {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	changed := func(i int) int {
		if Legal(all[i].tag) == all[i].tag {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(changed(a), changed(b)), cmp.Compare(all[a].id, all[b].id), cmp.Compare(all[a].tag, all[b].tag))
	})
	out := make([]string, len(all))
	for _, i := range order {
		out[i] = n.Unique(Legal(all[i].tag))
	}
	return out
}
