package checker

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/hardware"
)

// terminalLaw: terminals are printed as the module's template says, each serves one conductor of
// one channel, and all functions that a signal needs are there.
func terminalLaw(r *run) {
	for _, st := range r.stations {
		for _, sl := range st.slots {
			taken := map[string]int{}
			for n, ch := range sl.channels {
				r.channelTerminals(st, sl, ch)
				if ch.signal == nil {
					continue
				}
				for _, f := range ch.signal.needs {
					label := ch.Terminals[f]
					if other, twice := taken[label]; twice && label != "" {
						r.bad("TERM", st.subject, "each terminal once", "slot %d terminal %s at channels %d and %d", sl.Slot, label, sl.channels[other].Channel, ch.Channel)
					}
					taken[label] = n
				}
			}
		}
	}
}

func (r *run) channelTerminals(st *station, sl *slot, ch *channel) {
	where := fmt.Sprintf("slot %d channel %d", sl.Slot, ch.Channel)
	want := map[string]string{}
	for _, t := range ch.set.Terminals {
		want[t.Function] = label(t, ch.set, ch.index)
	}
	for _, f := range slices.Sorted(maps.Keys(ch.Terminals)) {
		if ch.Terminals[f] != want[f] {
			r.bad("TERM", st.subject, fmt.Sprintf("%s on %q", f, want[f]), "%s has %s on %q", where, f, ch.Terminals[f])
		}
	}
	if ch.signal == nil {
		return
	}
	for _, f := range ch.signal.needs {
		if ch.Terminals[f] == "" {
			r.bad("TERM", st.subject, "a terminal for "+f, "%s: none for %s", where, ch.SignalID)
		}
	}
}

// label prints the terminal of channel index i of a set: {n} is the printed channel number, {ki+c}
// the number k x i + c (docs/hardware.md, "Terminal labels").
func label(t hardware.Terminal, set *hardware.ChannelSet, i int) string {
	var b strings.Builder
	text := t.Label
	for {
		before, rest, found := strings.Cut(text, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		field, after, closed := strings.Cut(rest, "}")
		if !closed {
			b.WriteString("{" + rest)
			return b.String()
		}
		b.WriteString(placeholder(field, set, i))
		text = after
	}
}

// linear is k x i + c with either part left out: "i", "i+1", "2i+1", "8-i", "12".
var linear = regexp.MustCompile(`^(?:(\d*)i(?:([+-]\d+))?|(\d+)(?:([+-]\d*)i)?)$`)

func placeholder(field string, set *hardware.ChannelSet, i int) string {
	if field == "n" {
		return strconv.Itoa(printed(set, i))
	}
	m := linear.FindStringSubmatch(field)
	if m == nil {
		return "{" + field + "}"
	}
	if m[3] != "" { // a number first
		return strconv.Itoa(integer(m[3], 0) + integer(m[4], 0)*i)
	}
	return strconv.Itoa(integer(m[1], 1)*i + integer(m[2], 0))
}

// integer reads digits with a sign; a sign alone stands for one, nothing for none.
func integer(s string, none int) int {
	switch s {
	case "":
		return none
	case "+":
		return 1
	case "-":
		return -1
	}
	n, _ := strconv.Atoi(s)
	return n
}
