package intake

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"railwright/internal/project"
)

// candidate is a meaning that a heading may have, with how likely the words alone make it.
type candidate struct {
	role   role
	prior  float64
	factor bool // the heading may as well name a factor: "Scaling"
}

// headingTable looks headings up by their folded phrase.
type headingTable struct {
	exact   map[string][]candidate
	byFirst map[string][]string // phrases by first word, for headings that hold more words
	long    []string            // phrases of five letters or more, for slips of the pen
}

var headings = buildHeadings()

func buildHeadings() *headingTable {
	t := &headingTable{exact: map[string][]candidate{}, byFirst: map[string][]string{}}
	for _, line := range headingLines {
		roles := strings.Split(line.roles, ",")
		for _, p := range phrases(line.list) {
			if t.exact[p] == nil {
				first, _, _ := strings.Cut(p, " ")
				t.byFirst[first] = append(t.byFirst[first], p)
				if len(p) >= 5 {
					t.long = append(t.long, p)
				}
			}
			for i, r := range roles {
				prior := 1 - 0.06*float64(i) - 0.03*float64(len(t.exact[p]))
				if last, ok := strings.CutSuffix(r, "?"); ok {
					r, prior = last, 0.5
				}
				if !slices.ContainsFunc(t.exact[p], func(c candidate) bool { return c.role == role(r) }) {
					t.exact[p] = append(t.exact[p], candidate{role: role(r), prior: prior})
				}
			}
		}
	}
	for _, c := range project.Columns() {
		t.exact[fold(c.Name)] = canonicalFirst(t.exact[fold(c.Name)], role(c.Name))
	}
	return t
}

// canonicalFirst puts the canonical column of that very name before other meanings.
func canonicalFirst(list []candidate, r role) []candidate {
	out := []candidate{{role: r, prior: 1}}
	for _, c := range list {
		if c.role != r {
			out = append(out, candidate{role: c.role, prior: min(c.prior, 0.94)})
		}
	}
	return out
}

// headed is what a heading text gave.
type headed struct {
	cands []candidate
	unit  string // named in the heading: "Current (mA)"
	exact bool   // the whole heading stands in the table
}

var (
	reBracket  = regexp.MustCompile(`[\(\[]([^\)\]]*)[\)\]]`)
	reUnitLike = regexp.MustCompile(`^[A-Za-zµΩ°%]{1,4}(?:/[A-Za-z]{1,3})?$`)
	reInUnit   = regexp.MustCompile(`(?i)(?:\bin|\ben|,|/)\s*(mA|A|V|W|VA|Hz|ms|s|ohm|Ω|mV|kHz|nF|mH|mW)\s*$`)
)

// lookup finds the meanings of a heading.
func (t *headingTable) lookup(text string) (h headed) {
	text = tidy(text)
	if text == "" || len(text) > 120 || isPlaceholder(text) {
		return headed{}
	}
	bare := text
	if m := reBracket.FindStringSubmatch(text); m != nil {
		if u, known := parseUnit(m[1]); known && u != "" {
			h.unit = u
		} else if reUnitLike.MatchString(m[1]) {
			h.unit = m[1] // not known: better a doubt than a number in a wrong unit
		}
		bare = reBracket.ReplaceAllString(text, " ")
	} else if m := reInUnit.FindStringSubmatchIndex(text); m != nil && m[0] >= 3 {
		h.unit, _ = parseUnit(text[m[2]:m[3]])
		bare = text[:m[0]]
	}
	if u, ok := unitExact[text]; ok && h.unit == "" && u != "in" {
		h.unit = u
	}
	defer func() {
		if f := fold(text); hasAny(f, wFactors) {
			h.cands = slices.Clone(h.cands)
			for i := range h.cands {
				h.cands[i].factor = true
			}
		}
	}()
	for _, try := range []string{fold(text), fold(bare)} {
		if c := t.exact[try]; c != nil {
			h.cands, h.exact = weighUnit(c, h.unit), true
			return h
		}
	}
	f := fold(bare)
	if f == "" {
		f = fold(text)
	}
	if long := unabbreviated(f); long != f {
		if c := t.exact[long]; c != nil {
			h.cands, h.exact = weighUnit(c, h.unit), true
			return h
		}
	}
	if h.cands = t.partial(f); h.cands == nil {
		h.cands = t.slip(f)
	}
	h.cands = weighUnit(h.cands, h.unit)
	return h
}

var wFactors = phrases("scaling, scale factor, factor, gain, skalierung, faktor, facteur, factor de escala, multiplier")

// unabbreviated writes the words of a folded heading out: "scale lo" is "scale low".
func unabbreviated(f string) string {
	words := strings.Split(f, " ")
	for i, w := range words {
		if long := headingWords[w]; long != "" {
			words[i] = long
		}
	}
	return strings.Join(words, " ")
}

var headingWords = map[string]string{
	"lo": "low", "hi": "high", "mini": "min", "maxi": "max", "minimum": "min", "maximum": "max", "pwr": "power", "desc": "description", "descr": "description", "descrip": "description",
	"sig": "signal", "loc": "location", "locn": "location", "inst": "instrument", "instr": "instrument", "eng": "engineering", "engg": "engineering", "num": "number", "nbr": "number", "alm": "alarm", "alrm": "alarm",
	"eqpt": "equipment", "equip": "equipment", "eqp": "equipment", "pos": "position", "qty": "quantity", "chan": "channel", "chn": "channel", "addr": "address", "rng": "range", "cal": "calibrated", "meas": "measuring",
	"volt": "voltage", "volts": "voltage", "amp": "current", "amps": "current", "pnl": "panel", "cab": "cabinet", "comm": "comment", "rmk": "remark", "rmks": "remarks", "typ": "type", "func": "function",
	"bez": "bezeichnung", "beschr": "beschreibung", "messber": "messbereich", "einh": "einheit", "adr": "adresse", "bem": "bemerkung", "nr": "nr", "kennz": "kennzeichen", "spg": "spannung", "norm": "normal", "steckpl": "steckplatz", "kan": "kanal",
	"desig": "designation", "rep": "repere", "obs": "observations", "ubic": "ubicacion", "serv": "servicio", "unid": "unidad", "alim": "alimentation",
}

// weighUnit lets the unit of a heading speak: Pi in W is a power, no pulse input.
func weighUnit(cands []candidate, unit string) []candidate {
	if unit == "" || len(cands) < 2 {
		return cands
	}
	out := slices.Clone(cands)
	for i := range out {
		_, counted := out[i].role.count()
		units := factors[string(out[i].role)]
		switch {
		case counted || units != nil && units[unit] == 0:
			out[i].prior *= 0.6
		case units != nil:
			out[i].prior += 0.05
		}
	}
	slices.SortStableFunc(out, func(a, b candidate) int { return cmp.Compare(b.prior, a.prior) })
	return out
}

// partial finds phrases inside a longer heading.
func (t *headingTable) partial(f string) []candidate {
	if len(f) < 3 {
		return nil
	}
	type hit struct {
		phrase string
		at     int
	}
	var hits []hit
	for rest, at := f, 0; rest != ""; {
		w, tail, _ := strings.Cut(rest, " ")
		for _, p := range t.byFirst[w] {
			short := len(p) == 2 && tail == "" && strings.Count(f, " ") <= 2 && strings.Contains(" ui ii pi ci li hh ll ", " "+p+" ")
			if (len(p) >= 3 || short) && strings.HasPrefix(rest, p) && (len(rest) == len(p) || rest[len(p)] == ' ') {
				hits = append(hits, hit{p, at})
			}
		}
		at += len(w) + 1
		rest = tail
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return len(b.phrase) - len(a.phrase) })
	var out []candidate
	penalty := 0.0
	if hasAny(f, notARange) {
		penalty = 0.25
	}
	for _, h := range hits {
		share := float64(len(h.phrase)) / float64(len(f))
		for _, c := range t.exact[h.phrase] {
			if c.prior <= 0.5 && c.role != "description" {
				continue // a last resort: "From" alone, not "Inputs from MCC"
			}
			if !slices.ContainsFunc(out, func(o candidate) bool { return o.role == c.role }) {
				out = append(out, candidate{role: c.role, prior: c.prior * (0.5 + 0.45*share) * (1 - penalty)})
			}
		}
	}
	return out
}

// notARange are words that make a range one of the process and not of the instrument.
var notARange = phrases("operating, normal, design, raw, betrieb, auslegung, service normal, operation, nominal, previous, old, alt, ancien")

// slip finds a phrase that differs by a letter or two.
func (t *headingTable) slip(f string) []candidate {
	if len(f) < 6 || len(f) > 30 || strings.ContainsAny(f, "0123456789") {
		return nil
	}
	limit := 1
	if len(f) >= 9 {
		limit = 2
	}
	for _, p := range t.long {
		if d := len(p) - len(f); d > limit || -d > limit || p[0] != f[0] && p[len(p)-1] != f[len(f)-1] {
			continue
		}
		if distance(p, f, limit) <= limit {
			out := slices.Clone(t.exact[p])
			for i := range out {
				out[i].prior *= 0.8
			}
			return out
		}
	}
	return nil
}

// plausible reports whether a cell reads like a heading: one of the table, or one that holds words
// of it and no digits, which data cells have.
func (h headed) plausible(text string) bool {
	return len(h.cands) > 0 && h.cands[0].prior >= 0.62 && (h.exact || h.cands[0].prior > 1 || !strings.ContainsAny(text, "0123456789"))
}

// combine finds the meanings of a heading over two or three rows, the uppermost first: "Range" over
// "min", "Signal" over "DI".
func (t *headingTable) combine(parts []string) headed {
	var filled []string
	for _, p := range parts {
		if p = tidy(p); p != "" && (len(filled) == 0 || filled[len(filled)-1] != p) {
			filled = append(filled, p)
		}
	}
	switch len(filled) {
	case 0:
		return headed{}
	case 1:
		return t.lookup(filled[0])
	}
	last := filled[len(filled)-1]
	whole := t.lookup(strings.Join(filled, " "))
	child := t.lookup(last)
	above := t.lookup(filled[len(filled)-2] + " " + last)
	isUnit := func(s string) (string, bool) {
		u, known := parseUnit(s)
		return u, known && u != "" && t.exact[fold(s)] == nil
	}
	if u, ok := isUnit(last); ok { // a row of units under the headings
		h := t.combine(filled[:len(filled)-1])
		if h.unit == "" {
			h.unit = u
		}
		return h
	}
	h := whole
	for _, o := range []headed{above, child} {
		unit := h.unit
		switch {
		case len(h.cands) == 0 || len(o.cands) > 0 && o.cands[0].prior > h.cands[0].prior+0.02:
			if h = o; h.unit == "" {
				h.unit = unit
			}
		case o.exact: // both have a meaning: the content decides
			h.cands = slices.Clone(h.cands)
			for _, c := range o.cands {
				if !slices.ContainsFunc(h.cands, func(k candidate) bool { return k.role == c.role }) {
					h.cands = append(h.cands, candidate{role: c.role, prior: c.prior - 0.03})
				}
			}
		}
	}
	if len(h.cands) == 0 {
		return t.combine(filled[:len(filled)-1])
	}
	return h
}
