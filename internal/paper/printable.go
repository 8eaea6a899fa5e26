package paper

import (
	"strings"

	"railwright/internal/typeface"
)

// printable replaces each sign that the fonts lack by a box, so that nothing vanishes from a sheet
// without a trace.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		if !typeface.Has(r) {
			return '□'
		}
		return r
	}, text)
}
