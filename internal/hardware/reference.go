package hardware

import (
	"fmt"
	"strings"
)

// Reference returns the tables of keys and of faults as Markdown: the generated part of
// docs/hardware.md.
func Reference() string {
	var b strings.Builder
	b.WriteString("## Keys\n\nAbove the first entry: `format = 1` (needed), `source` (text), `drop` (list of codes). Keys marked * must be\ngiven; every other is 0, false or empty where it is left out.\n")
	for _, e := range Entries() {
		fmt.Fprintf(&b, "\n### [[%s]]\n\n| key | meaning | allowed |\n|---|---|---|\n", e.Name)
		for _, k := range e.Keys {
			star := ""
			if k.Need {
				star = " *"
			}
			fmt.Fprintf(&b, "| `%s`%s | %s | %s |\n", k.Name, star, k.Note, k.Limits)
		}
		if e.Name == "module.channels" {
			b.WriteString("| `terminal_min_mm2` | smallest conductor that a terminal clamps; default 0.2 | 0.01 to 300 mm2 |\n")
			b.WriteString("| `terminal_max_mm2` | largest conductor that a terminal clamps; default 2.5 | 0.01 to 300 mm2 |\n")
		}
	}
	b.WriteString("\n## Faults\n\n| code | fault | |\n|---|---|---|\n")
	for _, r := range Rules {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", r.Code, r.Title, r.Text)
	}
	return b.String()
}
