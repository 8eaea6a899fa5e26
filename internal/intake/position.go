package intake

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var reLocated = regexp.MustCompile(`(?i)^%?\s*(p?)([ieaqo])\s*([wbdx]?)\s*(\d+)(?:[.:](\d+))?$`)

// located brings an address into IEC 61131-3 form: "E 4.0", "PEW256", "QW 12" become %IX4.0, %IW256,
// %QW12. It says false for addresses of other forms.
func located(t string, output bool) (string, bool) {
	m := reLocated.FindStringSubmatch(strings.ReplaceAll(t, ",", "."))
	if m == nil {
		return "", false
	}
	area := strings.ToUpper(m[2])
	switch area {
	case "E":
		area = "I"
	case "A", "O":
		area = "Q"
	}
	size := strings.ToUpper(m[3])
	if m[5] != "" && size != "" && size != "X" {
		return "", false // a word and its channel
	}
	if m[5] != "" {
		size = "X"
	} else if size == "" || size == "X" {
		if size == "X" {
			return "", false
		}
		size = "X"
		return "%" + area + size + m[4] + ".0", false
	}
	if bit, err := strconv.Atoi(m[5]); size == "X" && (err != nil || bit > 7) {
		return "", false
	}
	if size == "X" {
		return "%" + area + "X" + m[4] + "." + m[5], true
	}
	_ = output
	return "%" + area + size + m[4], true
}

// keepPositions turns racks, slots, channels and addresses into preferred decisions, except where
// two signals have the same.
func (r *reader) keepPositions() {
	at := map[string]*draft{}
	twice := map[string]bool{}
	zero := r.zeroBased()
	runs := r.downwards()
	var kept []*draft
	for _, d := range r.live() {
		if d.raw == "" {
			continue
		}
		for _, key := range d.positionKeys() {
			if at[key] != nil {
				twice[key] = true
				r.warn("IMP-067", r.at(d.sheet, address(d.row, max(d.posCol, 0))), fmt.Sprintf("%s has the position of %s in the list too; none of them is kept there", r.tagOf(d), r.tagOf(at[key])), "Mend the positions in the list.")
				continue
			}
			at[key] = d
		}
		kept = append(kept, d)
	}
	n := 0
	for _, d := range kept {
		n += r.decide(d, zero, twice)
	}
	if n > 0 {
		r.res.Findings = append(r.res.Findings, info("IMP-066", finding.Where{File: r.book.File}, "project", 0.85, fmt.Sprintf("%d positions and stations of the list are kept as preferred decisions; the plan may change them at a cost", n)))
	}
	if zero {
		r.res.Findings = append(r.res.Findings, info("IMP-066", finding.Where{File: r.book.File}, "project", 0.8, "the list counts channels from 0; they are counted from 1 here"))
	}
	if runs > 0 {
		r.res.Findings = append(r.res.Findings, info("IMP-066", finding.Where{File: r.book.File}, "project", 0.8, fmt.Sprintf("in %d places the list's channel numbers run downwards; they are kept as they are", runs)))
	}
}

func (d *draft) positionKeys() []string {
	var keys []string
	if d.channel != "" && (d.slot != "" || d.rack != "") {
		keys = append(keys, "c|"+d.station+"|"+d.rack+"|"+d.slot+"|"+d.channel+"|"+ioSide(d))
	}
	if d.address != "" {
		keys = append(keys, "a|"+d.station+"|"+d.rack+"|"+strings.ToUpper(d.address))
	}
	return keys
}

// ioSide tells inputs from outputs where a list gives racks and channels but no slots.
func ioSide(d *draft) string {
	if d.slot != "" {
		return ""
	}
	return d.kind
}

// tagOf is the tag of the signal that a draft has become.
func (r *reader) tagOf(d *draft) string { return r.res.Signals[r.byID[d.raw]].Tag }

// zeroBased reports whether some channel is 0.
func (r *reader) zeroBased() bool {
	for _, d := range r.live() {
		if n, ok := ordinal(d.channel); ok && n == 0 && (d.slot != "" || d.rack != "") {
			return true
		}
	}
	return false
}

// downwards counts neighbours in one slot whose channel numbers fall.
func (r *reader) downwards() int {
	n := 0
	var before *draft
	for _, d := range r.live() {
		if before != nil && before.slot == d.slot && before.rack == d.rack && d.slot != "" {
			a, ok1 := ordinal(before.channel)
			b, ok2 := ordinal(d.channel)
			if ok1 && ok2 && b == a-1 {
				n++
			}
		}
		before = d
	}
	return n
}

// ordinalWords may stand before the number of a rack, slot or channel.
var ordinalWords = newWordSet([]string{"ch", "chan", "channel", "kanal", "voie", "canal", "k", "slot", "card", "module", "s", "m", "rack", "r", "node", "steckplatz", "karte"})

// ordinal reads "3", "CH03", "Slot 4" as a number.
func ordinal(t string) (int, bool) {
	t = strings.TrimSpace(t)
	at := len(t)
	for at > 0 && t[at-1] >= '0' && t[at-1] <= '9' {
		at--
	}
	digits := strings.TrimLeft(t[at:], "0")
	if at == len(t) || len(digits) > 4 {
		return 0, false
	}
	if word := strings.TrimRight(t[:at], " \t.:#_-"); word != "" && !ordinalWords[strings.ToLower(word)] {
		return 0, false
	}
	n := 0
	for i := range len(digits) {
		n = 10*n + int(digits[i]-'0')
	}
	return n, true
}

// decide writes the decisions of one signal and returns how many.
func (r *reader) decide(d *draft, zero bool, twice map[string]bool) int {
	n := 0
	add := func(property, value string) {
		n++
		r.res.Decisions = append(r.res.Decisions, project.Decision{
			Subject: "signal:" + d.raw, Property: property, Value: value, Strength: project.Preferred, Origin: project.FromList,
			Reason: "position in the imported list", File: r.book.File, Line: d.row + 1,
		})
	}
	station := nameText(d.station)
	if station == "" {
		station = nameText(d.rack)
		if n, ok := ordinal(station); ok && d.panel != "" && n < 100 && station != d.panel {
			station = nameText(d.panel) + "-" + strconv.Itoa(n) // a bare rack number is none but in its panel
		}
	}
	keys := d.positionKeys()
	free := func(prefix string) bool {
		for _, k := range keys {
			if strings.HasPrefix(k, prefix) && twice[k] {
				return false
			}
		}
		return true
	}
	slot, slotOK := ordinal(d.slot)
	channel, chOK := ordinal(d.channel)
	switch {
	case station != "" && slotOK && chOK && free("c|"):
		if zero {
			channel++
		}
		name := station
		if d.station != "" && d.rack != "" && d.rack != d.station {
			name = station + "-" + nameText(d.rack)
		}
		add("channel", fmt.Sprintf("%s/%d/%d", name, slot, channel))
	case station != "":
		add("station", station)
	}
	if d.address != "" && free("a|") {
		if a, ok := located(d.address, project.Kind(d.kind).Output()); ok {
			add("address", a)
		} else {
			r.appendRemark(d.raw, "address in the list: "+d.address)
		}
	} else if d.slot != "" && !slotOK || d.channel != "" && !chOK && d.slot != "" {
		r.appendRemark(d.raw, "position in the list: "+strings.Join(strings.Fields(d.rack+" "+d.slot+" "+d.channel), " "))
	}
	return n
}

// appendRemark adds to a finished signal's remarks.
func (r *reader) appendRemark(id, text string) {
	i, ok := r.byID[id]
	if !ok {
		return
	}
	s := &r.res.Signals[i]
	if s.Remarks != "" {
		text = s.Remarks + "; " + text
	}
	s.Remarks = clipText(text)
}
