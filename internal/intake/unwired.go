package intake

import (
	"fmt"
	"regexp"
	"strings"
)

// unwired says why a row is no signal with a wire of its own; "" where it is one, or where nothing
// speaks against it.
func (rec *record) unwired(st *tableState) (why string, i int, sure float64) {
	if t, i := rec.get(roleSource); i >= 0 && isLinked(fold(t)) {
		return fmt.Sprintf("no wire of its own (%s)", quoted(t)), i, 0.85
	}
	a, i := rec.get(roleAddress)
	switch {
	case i < 0:
	case st.registers:
		return fmt.Sprintf("register %s is read over a serial or network link, which is a signal of kind SER itself", quoted(a)), i, 0.8
	case st.located && reMemory.MatchString(a):
		return fmt.Sprintf("%s is in the controller's memory", quoted(a)), i, 0.85
	}
	return rec.local(st)
}

// reMemory are addresses of flags and data of a controller.
var reMemory = regexp.MustCompile(`(?i)^%?\s*(?:M[XBWDL]?\s*\d+(?:\.\d+)?|DB\d+[.,]\s*DB[XBWD]\s*\d+(?:\.\d+)?)$`)

// local finds instruments that are read on the spot: in a list that states kinds, a row without one
// whose tag or type is that of a gauge or a mechanical device.
func (rec *record) local(st *tableState) (why string, i int, sure float64) {
	if !st.stated {
		return "", -1, 0
	}
	for _, ro := range []role{"kind", "form", roleNature, roleDirection, roleElectrical, roleAddress, roleSlot, roleChannel} {
		if t, i := rec.get(ro); i >= 0 && !isPlaceholder(t) && !inList(fold(t), wLocal) {
			return "", -1, 0
		}
	}
	tag, _ := rec.get("tag")
	if m := isaLetters.FindStringSubmatch(strings.ToUpper(tag)); m != nil && mechanical[m[1]] {
		return fmt.Sprintf("no kind is stated, and %s is read or works on the spot", m[1]), -1, 0.8
	}
	for i := range rec.texts {
		if t := fold(rec.texts[i]); t == "local" || hasAny(t, wMechanical) {
			return fmt.Sprintf("no kind is stated, and the row says %s", quoted(rec.texts[i])), i, 0.75
		}
	}
	return "", -1, 0
}

var (
	// mechanical are function letters of devices without a signal. Source: ANSI/ISA-5.1, from memory.
	mechanical  = map[string]bool{"LG": true, "PG": true, "TG": true, "FG": true, "PSV": true, "PRV": true, "TSV": true, "RO": true, "FO": true, "FE": true, "TW": true, "PSE": true, "FSE": true, "PCV": true, "BDV": true, "HCV": false}
	wMechanical = phrases("gauge, pressure gauge, level gauge, sight glass, sight gauge, temperature gauge, thermowell, orifice, orifice plate, restriction orifice, relief valve, safety valve, safety relief valve, rupture disc, bursting disc, manual valve, check valve, rotameter, strainer, manometer, thermometer, schauglas, sicherheitsventil, berstscheibe, handventil, messblende, schutzrohr, manometre, thermometre, soupape de securite, disque de rupture, doigt de gant, vanne manuelle, valvula de seguridad, disco de ruptura, valvula manual, termopozo, mirilla, local indicator, local indication")
)

// learnRows finds out what a table's columns say together, before its rows are read.
func (r *reader) learnRows(s *Sheet, t *table, st *tableState) {
	located, registers, n := 0, 0, 0
	for _, i := range st.by[roleAddress] {
		c := t.columns[i]
		for row := t.first; row <= t.last && row < t.first+2000; row++ {
			text := s.cell(row, c.index)
			switch {
			case text == "":
				continue
			case reRegister.MatchString(text):
				registers++
			case reInOut.MatchString(text):
				located++
			}
			n++
		}
		if hasAny(fold(c.heading), wRegisters) {
			registers = n
		}
	}
	st.located = located > 0
	st.registers = n > 0 && registers*10 >= n*9 && !t.wired() && (n > 2 || hasAny(fold(t.headings()), wRegisters))
	for _, i := range st.by["kind"] {
		p := t.columns[i].prof
		st.stated = st.stated || p.n*2 >= p.rows && p.share(p.kind) >= 0.6
	}
	st.tagged = r.tagsInTexts(s, t, st, false)
	st.atEnd = !st.tagged && r.tagsInTexts(s, t, st, true)
	st.letters = lettersOf(s, t, st)
	st.mute = commonLetters(s, t, st)
	r.namesAbove(s, t, st)
	st.swap = r.swaps(s, t, st)
}

var (
	reRegister = regexp.MustCompile(`^(?:[0134]\d{4,5}|0x[0-9A-Fa-f]{2,4}|[0-4]x\d{3,5})$`)
	reInOut    = regexp.MustCompile(`(?i)^%?\s*p?[ieaqo][xbwd]?\s*\d|^[IOio]:`)
	wRegisters = phrases("register, modbus register, modbus address, modbus adresse, adresse modbus, registre, registro, holding register, coil, registers, mb address, modbus reg")
)

// wired reports whether a table has columns that only signals with a wire of their own have.
func (t *table) wired() bool {
	for _, c := range t.columns {
		switch c.role {
		case "kind", "form", roleElectrical, roleSlot, roleChannel, "contact", "wires", roleBox:
			if c.prof.n > 0 {
				return true
			}
		}
		if _, ok := c.role.count(); ok {
			return true
		}
	}
	return false
}

func (t *table) headings() string {
	var b strings.Builder
	for _, c := range t.columns {
		b.WriteString(c.heading + " / ")
	}
	return b.String()
}

// tagsInTexts reports whether the descriptions of a table without tags begin, or end, with tags as a
// rule.
func (r *reader) tagsInTexts(s *Sheet, t *table, st *tableState, end bool) bool {
	if len(st.by["tag"])+len(st.by[roleTagPart]) > 0 || len(st.by["description"]) == 0 {
		return false
	}
	n, hits := 0, 0
	col := t.columns[st.by["description"][0]].index
	for row := t.first; row <= t.last && row < t.first+500; row++ {
		text := s.cell(row, col)
		if text == "" {
			continue
		}
		n++
		first, _, ok := strings.Cut(text, " ")
		if end {
			first = strings.Trim(text[strings.LastIndexByte(text, ' ')+1:], "()[]")
		}
		if ok && r.features(strings.TrimRight(first, ":,;")).tag && strings.ToUpper(first) == first {
			hits++
		}
	}
	return hits*2 > n
}

// swaps reports whether From and To change places with the direction of a signal: the station then
// stands in both columns.
func (r *reader) swaps(s *Sheet, t *table, st *tableState) *[2]int {
	from, to := -1, -1
	for i, c := range t.columns {
		switch {
		case c.role == "device" && inList(firstOf(fold(c.heading)), wFrom):
			from = i
		case c.role == roleBox && inList(firstOf(fold(c.heading)), wTo):
			to = i
		}
	}
	if from < 0 || to < 0 {
		return nil
	}
	first := map[string]bool{}
	for row := t.first; row <= t.last && row < t.first+2000; row++ {
		first[s.cell(row, t.columns[from].index)] = true
	}
	for row := t.first; row <= t.last && row < t.first+2000; row++ {
		if text := s.cell(row, t.columns[to].index); text != "" && first[text] {
			return &[2]int{from, to}
		}
	}
	return nil
}

var (
	wFrom = phrases("from, von, desde, depuis, source")
	wTo   = phrases("to, nach, bis, hasta, hacia, destination")
)

// swapEnds puts the device of an output, which stands under To, under From like that of an input.
func (rec *record) swapEnds(st *tableState) {
	if st.swap == nil {
		return
	}
	out := directionWord(rec.text(roleDirection)) == "out"
	if k, ok := kindWord(rec.text("kind"), st.remote); ok {
		out = k.Output()
	}
	if out {
		a, b := st.swap[0], st.swap[1]
		rec.texts[a], rec.texts[b] = rec.texts[b], rec.texts[a]
	}
}

// lettersOf finds out what single letters in a column of kinds mean: beside E or I, A is an output;
// beside D or B it is analogue.
func lettersOf(s *Sheet, t *table, st *tableState) string {
	for _, i := range st.by["kind"] {
		for row := t.first; row <= t.last && row < t.first+500; row++ {
			switch strings.ToUpper(s.cell(row, t.columns[i].index)) {
			case "E", "I":
				return "dir"
			case "D", "B":
				return "nature"
			}
		}
	}
	return ""
}

// commonLetters returns function letters that nearly all tags of a table have although their rows
// state different kinds: they name the list, not the signals.
func commonLetters(s *Sheet, t *table, st *tableState) string {
	if !st.stated || len(st.by["tag"]) == 0 || len(st.by["kind"]) == 0 {
		return ""
	}
	count, kinds, n := map[string]int{}, map[string]map[string]bool{}, 0
	for row := t.first; row <= t.last && row < t.first+500; row++ {
		tag, kind := s.cell(row, t.columns[st.by["tag"][0]].index), s.cell(row, t.columns[st.by["kind"][0]].index)
		m := isaLetters.FindStringSubmatch(strings.ToUpper(tag))
		if m == nil {
			continue
		}
		n++
		if count[m[1]]++; kinds[m[1]] == nil {
			kinds[m[1]] = map[string]bool{}
		}
		if k, ok := kindWord(kind, false); ok {
			nature, _ := split(k)
			kinds[m[1]][nature] = true
		}
	}
	for letters, c := range count {
		if n >= 5 && c*10 >= n*7 && len(kinds[letters]) > 1 { // at most one can be
			return letters
		}
	}
	return ""
}

// namesAbove finds lists that name a device once and its signals in the rows below: the tag is filled
// in the same few rows as other names, and all other rows have a description or direction of their own.
func (r *reader) namesAbove(s *Sheet, t *table, st *tableState) {
	for _, tag := range st.by["tag"] {
		p := t.columns[tag].prof
		if t.canonical || p.n == 0 || p.rows < 4 || p.n*3 > p.rows*2 || s.cell(t.first, t.columns[tag].index) == "" {
			continue
		}
		with, own := 0, false
		var beside []int
		for i, c := range t.columns {
			if i == tag || c.prof.n == 0 {
				continue
			}
			same, always := true, true
			for row := t.first; row <= t.last && row < t.first+500; row++ {
				if _, _, n := single(s, row); n < 2 || spareRow(s, row) {
					continue
				}
				named, filled := s.cell(row, t.columns[tag].index) != "", s.cell(row, c.index) != ""
				same, always = same && named == filled, always && filled
			}
			switch {
			case same && !always:
				with++
				beside = append(beside, i)
			case always && (c.role == "description" || c.role == roleFunction):
				own = true
			}
		}
		if with == 0 || !own {
			continue
		}
		st.fill[tag] = true
		for _, i := range beside {
			switch t.columns[i].role {
			case "description", "equipment", "device", "place", rolePanel, roleBox, "station", roleRating, roleMaker, roleLoop:
				st.fill[i] = true
			}
		}
		r.note("IMP-037", t.sheet, address(t.first, t.columns[tag].index), 0.75, "a tag that stands once over several rows is that of all of them")
	}
}
