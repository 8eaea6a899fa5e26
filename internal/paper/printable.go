package paper

import (
	"strings"

	"railwright/internal/typeface"
)

// printable is typeface.Printable that keeps line ends.
func printable(text string) string {
	if !strings.Contains(text, "\n") {
		return typeface.Printable(text)
	}
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = typeface.Printable(lines[i])
	}
	return strings.Join(lines, "\n")
}
