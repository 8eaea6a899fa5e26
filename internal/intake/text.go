package intake

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// tidy trims a cell, turns odd blanks into plain ones and joins lines. Dashes and other characters
// stay as they are.
func tidy(s string) string {
	plain := true
	for i := range len(s) {
		if c := s[i]; c >= 0x80 || c < ' ' || c == ' ' && (i == 0 || i == len(s)-1 || s[i+1] == ' ') {
			plain = false
			break
		}
	}
	if plain {
		return s
	}
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\u200b' || r == '\u200c' || r == '\u200d' || r == '\ufeff' || r == '\u00ad':
			return -1
		case unicode.IsSpace(r) || r == '\u00a0' || r == '\u202f' || r == '\u2007' || r == '\u2009':
			return ' '
		case unicode.IsControl(r):
			return ' '
		}
		return r
	}, s)
	return mended(strings.Join(strings.Fields(s), " "))
}

// mended undoes the commonest double encoding: UTF-8 that was once read as Windows-1252 ("Â°C",
// "FÃ¼llstand"). It changes nothing where the text does not decode as a whole.
func mended(s string) string {
	if !strings.ContainsAny(s, "ÂÃâ") {
		return s
	}
	b := make([]byte, 0, len(s))
	for _, r := range s {
		switch {
		case r < 0x100:
			b = append(b, byte(r))
		default:
			c, ok := windows1252[r]
			if !ok {
				return s
			}
			b = append(b, c)
		}
	}
	t := string(b)
	if strings.ToValidUTF8(t, "\uFFFD") != t || len([]rune(t)) >= len([]rune(s)) {
		return s
	}
	return t
}

var windows1252 = map[rune]byte{
	'€': 0x80, '‚': 0x82, 'ƒ': 0x83, '„': 0x84, '…': 0x85, '†': 0x86, '‡': 0x87, 'ˆ': 0x88, '‰': 0x89, 'Š': 0x8A, '‹': 0x8B, 'Œ': 0x8C, 'Ž': 0x8E,
	'‘': 0x91, '’': 0x92, '“': 0x93, '”': 0x94, '•': 0x95, '–': 0x96, '—': 0x97, '˜': 0x98, '™': 0x99, 'š': 0x9A, '›': 0x9B, 'œ': 0x9C, 'ž': 0x9E, 'Ÿ': 0x9F,
}

// fold brings a text into the form in which words are compared: lower case, no accents, no
// punctuation, single blanks. "N.º de señal" and "Temp.-Fühler" become "n o de senal" and
// "temp fuhler"; % + and # stay, because they carry meaning.
func fold(s string) string { return squeeze(foldLetters(s)) }

// foldLetters folds without joining ae, oe and ue: what it returns may be shown.
func foldLetters(s string) string {
	ascii := true
	for i := range len(s) {
		if s[i] >= 0x80 {
			ascii = false
			break
		}
	}
	if !ascii {
		s = foldSpecial.Replace(s)
		s = norm.NFKD.String(s)
	}
	b := make([]byte, 0, len(s))
	blank := true
	for _, r := range s {
		switch {
		case unicode.Is(unicode.Mn, r):
			continue
		case r >= 'A' && r <= 'Z':
			b = append(b, byte(r-'A'+'a'))
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '%' || r == '+' || r == '#':
			b = append(b, byte(r))
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b = append(b, string(unicode.ToLower(r))...)
		default:
			if !blank {
				b = append(b, ' ')
			}
			blank = true
			continue
		}
		blank = false
	}
	return strings.TrimRight(string(b), " ")
}

// squeeze writes ae, oe and ue as the plain vowel, so that Füllstand, Fuellstand and Fullstand are
// one word. Only comparisons see the result. Words of two letters stay: AE is an analogue input, A an
// output.
func squeeze(s string) string {
	for i := 1; i < len(s); i++ {
		if !umlautAt(s, i) {
			continue
		}
		b := append(make([]byte, 0, len(s)), s[:i]...)
		for ; i < len(s); i++ {
			if !umlautAt(s, i) {
				b = append(b, s[i])
			}
		}
		return string(b)
	}
	return s
}

// umlautAt reports whether the letter at i is the e of an umlaut written out.
func umlautAt(s string, i int) bool {
	if s[i] != 'e' || i == 0 || s[i-1] != 'a' && s[i-1] != 'o' && s[i-1] != 'u' {
		return false
	}
	return i >= 2 && s[i-2] != ' ' || i+1 < len(s) && s[i+1] != ' '
}

// phrases folds a comma-separated list of phrases for comparison with folded texts.
func phrases(list string) []string {
	var out []string
	for p := range strings.SplitSeq(list, ",") {
		if f := fold(p); f != "" {
			out = append(out, f)
		}
	}
	return out
}

var foldSpecial = strings.NewReplacer("N°", "no ", "n°", "no ", "Nº", "no ", "nº", "no ", "ß", "ss", "æ", "ae", "Æ", "ae", "ø", "o", "Ø", "o", "œ", "oe", "Œ", "oe", "º", "o", "ª", "a", "№", "no", "°", " deg ", "Ω", "ohm", "Ω", "ohm", "µ", "u", "μ", "u", "±", "+-")

// hasWord reports whether the folded text holds the folded phrase as whole words.
func hasWord(text, phrase string) bool {
	for from := 0; ; {
		i := strings.Index(text[from:], phrase)
		if i < 0 {
			return false
		}
		i += from
		end := i + len(phrase)
		if (i == 0 || text[i-1] == ' ') && (end == len(text) || text[end] == ' ') {
			return true
		}
		from = i + 1
	}
}

// hasAny reports whether the folded text holds one of the folded phrases as whole words.
func hasAny(text string, folded []string) bool {
	for _, p := range folded {
		if hasWord(text, p) {
			return true
		}
	}
	return false
}

// quoted clips a cell's text for a message.
func quoted(s string) string {
	r := []rune(s)
	if len(r) > 50 {
		s = string(r[:49]) + "…"
	}
	return "\"" + s + "\""
}

// distance is the number of letters to change, add, drop or swap with a neighbour between two short
// texts, at most limit+1.
func distance(a, b string, limit int) int {
	ra, rb := []rune(a), []rune(b)
	if d := len(ra) - len(rb); d > limit || -d > limit {
		return limit + 1
	}
	rows := [3][]int{make([]int, len(rb)+1), make([]int, len(rb)+1), make([]int, len(rb)+1)}
	for j := range rows[1] {
		rows[1][j] = j
	}
	for i := 1; i <= len(ra); i++ {
		before, prev, cur := rows[0], rows[1], rows[2]
		cur[0] = i
		for j := 1; j <= len(rb); j++ {
			cost := 1
			if ra[i-1] == rb[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && ra[i-1] == rb[j-2] && ra[i-2] == rb[j-1] {
				cur[j] = min(cur[j], before[j-2]+1)
			}
		}
		rows[0], rows[1], rows[2] = prev, cur, before
	}
	return rows[1][len(rb)]
}
