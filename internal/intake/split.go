package intake

import (
	"regexp"
	"strings"
)

// splitDescription cuts a description into n parts where it has exactly that many.
func splitDescription(text string, n int) []string {
	for _, sep := range []string{" / ", "/", "; ", ", ", " + ", " & "} {
		head, tail := "", text
		if i := strings.LastIndexAny(text, ":-–"); i > 0 && i < len(text)-1 && strings.Contains(text[i:], sep) && !strings.Contains(text[:i], sep) {
			_, size := cutRune(text[i:])
			head, tail = strings.TrimSpace(text[:i])+" ", text[i+size:]
		}
		parts := strings.Split(tail, sep)
		if len(parts) != n {
			continue
		}
		ok := true
		for i, p := range parts {
			p = strings.TrimSpace(p)
			ok = ok && len(p) >= 2
			parts[i] = head + p
		}
		if ok {
			return shareHead(parts)
		}
	}
	return nil
}

func cutRune(s string) (rune, int) {
	for _, r := range s {
		return r, len(string(r))
	}
	return 0, 0
}

// shareHead gives parts after the first what stands before the first one's last word: "Valve open",
// "closed" become "Valve open", "Valve closed".
func shareHead(parts []string) []string {
	i := strings.LastIndex(parts[0], " ")
	if i < 0 {
		return parts
	}
	for n := 1; n < len(parts); n++ {
		if strings.Contains(parts[n], " ") {
			return parts
		}
	}
	for n := 1; n < len(parts); n++ {
		parts[n] = parts[0][:i+1] + parts[n]
	}
	return parts
}

// pairs are the last letters that stand for two signals of one device.
var pairs = map[string]bool{
	"O/C": true, "C/O": true, "H/L": true, "L/H": true, "HH/H": true, "H/HH": true, "L/LL": true, "LL/L": true, "A/B": true, "A/M": true, "R/L": true, "L/R": true, "O/S": true, "R/S": true, "S/O": true, "HH/LL": true, "LL/HH": true, "ON/OFF": true, "A/B/C": true, "H/HH/L": true,
}

// splitTag cuts a tag that names two signals: ZSC/O-101 is ZSC-101 and ZSO-101, P-101A/B is P-101A
// and P-101B. It returns nil for any other tag.
func splitTag(tag string) []string {
	if !strings.Contains(tag, "/") {
		return nil
	}
	if m := reTailPair.FindStringSubmatch(tag); m != nil {
		if m[4] != "" && pairs[m[2]+"/"+m[3]+"/"+m[4]] {
			return []string{m[1] + m[2], m[1] + m[3], m[1] + m[4]}
		}
		if m[4] == "" && pairs[m[2]+"/"+m[3]] {
			return []string{m[1] + m[2], m[1] + m[3]}
		}
		if m[4] == "" && len(m[2]) == len(m[3]) && len(m[2]) >= 2 && m[2][:len(m[2])-1] == m[3][:len(m[3])-1] {
			return []string{m[1] + m[2], m[1] + m[3]}
		}
		if m[4] == "" && len(m[2]) > len(m[3]) && pairs[m[2][len(m[2])-len(m[3]):]+"/"+m[3]] {
			return []string{m[1] + m[2], m[1] + m[2][:len(m[2])-len(m[3])] + m[3]}
		}
	}
	m := reLetterPair.FindStringSubmatch(tag)
	if m == nil {
		return nil
	}
	a, b := m[2], m[3]
	switch {
	case len(b) < len(a) && pairs[a[len(a)-len(b):]+"/"+b]:
		return []string{m[1] + a + m[4], m[1] + a[:len(a)-len(b)] + b + m[4]}
	case len(a) == len(b) && a[:1] == b[:1]:
		return []string{m[1] + a + m[4], m[1] + b + m[4]}
	}
	return nil
}

var (
	reLetterPair = regexp.MustCompile(`^(.*?)([A-Z]{2,5})/([A-Z]{1,5})([-_ .]?\d.*)$`)
	reTailPair   = regexp.MustCompile(`^(.*\d[-_ .]?)([A-Z]{1,3})/([A-Z]{1,3})(?:/([A-Z]))?$`)
)
