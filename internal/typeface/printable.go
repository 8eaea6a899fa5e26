package typeface

import "strings"

// Printable returns the text as the fonts can show it on one line: a sign that some style lacks becomes
// "□", a control sign or line end a space. What it replaced, Missing tells.
func Printable(text string) string {
	if plain(text) {
		return text
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r < ' ' || r == 0x7f || r == 0xa0:
			return ' '
		case !Has(r):
			return '□'
		}
		return r
	}, text)
}

// plain reports whether a text holds nothing but the printing signs of ASCII.
func plain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}
