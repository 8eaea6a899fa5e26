package checker

import (
	"fmt"
	"maps"
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

// label prints the terminal of channel index i of a set: {n} is the printed channel number, {n+K}
// that number plus K, {i:A} the i-th letter from A on, {i:1} the i-th number from 1 on.
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

func placeholder(field string, set *hardware.ChannelSet, i int) string {
	switch {
	case field == "n":
		return strconv.Itoa(printed(set, i))
	case strings.HasPrefix(field, "n+"):
		if k, err := strconv.Atoi(field[2:]); err == nil {
			return strconv.Itoa(printed(set, i) + k)
		}
	case strings.HasPrefix(field, "i:"):
		if k, err := strconv.Atoi(field[2:]); err == nil {
			return strconv.Itoa(k + i)
		}
		if len(field) == 3 {
			return string(rune(field[2]) + rune(i))
		}
	}
	return "{" + field + "}"
}
