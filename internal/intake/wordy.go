package intake

import (
	"regexp"
	"strings"
)

// describedTraits reads electrical words out of a description. Most descriptions hold none, and each
// is different, so a cheap look at the words comes first and nothing is remembered.
func (r *reader) describedTraits(text string) traits {
	if text == "" || !mayBeElectrical(text) {
		return traits{}
	}
	t := parseTraits(text, r.style)
	if t.contact != "" {
		t.contact = describedContact(text)
	}
	return t
}

// reDescribedContact is narrower than what an electrical column may say: "Pump No. 3" has no contact.
var reDescribedContact = regexp.MustCompile(`(?:^|[\s(,;/\[-])(?:(N/?C|N\.C\.|NF|N/?O|N\.O\.)(?:[\s),;\]]*$|[),;\]])|(?i:(normally[- ]?(?:open|closed?)|schlie(?:ß|ss)er|öffner|oeffner|ruhestrom|arbeitsstrom|normalement (?:ouvert|ferm[ée]e?)|normalmente (?:abierto|cerrado))))`)

// describedContact finds a normal position that a description states in so many words.
func describedContact(text string) string {
	m := reDescribedContact.FindStringSubmatch(text)
	if m == nil {
		return ""
	}
	c, _ := contactWord(m[1] + m[2])
	return c
}

// mayBeElectrical reports whether a text could hold anything that parseTraits finds: a word that it
// looks for, a number with letters at it ("24VDC", "Pt100"), or two numbers next to one another.
func mayBeElectrical(text string) bool {
	f := fold(text)
	number := false // the word before was one
	for rest := f; rest != ""; {
		w, tail, _ := strings.Cut(rest, " ")
		if electricalWords[w] {
			return true
		}
		first, last := w[0] >= '0' && w[0] <= '9', w[len(w)-1] >= '0' && w[len(w)-1] <= '9'
		switch {
		case first && !last, number && (first || joining[w] || unitTable[w] != ""):
			return true
		case last && !first && strings.HasPrefix(w, "pt"), last && !first && strings.HasPrefix(w, "ni"), last && !first && strings.HasPrefix(w, "rs"), last && strings.HasPrefix(w, "+"):
			return true
		}
		number = first && last
		rest = tail
	}
	return false
}

// joining are words between the two ends of a range.
var joining = newWordSet(phrases("to, bis, a, al, hasta, until, and, et, und, y"))

// electricalWords hold a word of everything electrical that parseTraits looks for: of a phrase the
// longest one, which is the rarest as a rule ("powered" of "system powered").
var electricalWords = func() wordSet {
	m := wordSet{}
	for _, list := range [][]string{wPassive, wActive, wLoopAlone, wRTD, wTC, wDry, wNamur, wPNP, wNPN, wRelay, wWet, wProx, wThermistor} {
		for _, p := range list {
			longest := ""
			for w := range strings.SplitSeq(p, " ") {
				if len(w) > len(longest) && w != "temperature" {
					longest = w
				}
			}
			m[longest] = true
		}
	}
	for _, p := range thermoPairs {
		for _, w := range p.words {
			m[firstOf(w)] = true
		}
	}
	for w := range linkWords {
		m[w] = true
	}
	for _, w := range phrases(`hart, type, typ, tipo, nc, nf, no, n o, n c, normally, norm, schliesser, offner, ruhestrom, arbeitsstrom, normalement, normalmente, ex, exi, eex, ii, iia, iib, iic, iiia, iiib, iiic, zone, zona, zonen,
		intrinsically, intrinsic, eigensicher, eigensichere, eigensicherer, securite, seguridad, vdc, vac, vcc, vca, volt, volts, watt, ma, two, three, four, zwei, drei, vier, wire, wires, leiter, draht, fils, hilos, ac, dc, pt, ni, ir`) {
		m[firstOf(w)] = true
	}
	return m
}()
