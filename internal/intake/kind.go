package intake

import (
	"slices"
	"strings"

	"railwright/internal/project"
)

// evidence is what speaks for a signal's nature and direction.
type evidence struct {
	nature [len(natures)]int
	dir    [len(directions)]int
	why    []string
	quiet  bool // the reasons are not asked for
	// description side alone, to compare with what the list states
	said string // nature+direction that the description speaks for, "" = none
}

var (
	natures    = [...]string{"A", "D", "RTD", "TC", "CNT", "SER"}
	directions = [...]string{"in", "out"}
)

func newEvidence() *evidence { return &evidence{} }

func (e *evidence) add(nature, dir string, weight int, why string) {
	if i := slices.Index(natures[:], nature); i >= 0 {
		e.nature[i] += weight
	}
	if i := slices.Index(directions[:], dir); i >= 0 {
		e.dir[i] += weight
	}
	if why != "" && len(e.why) < 4 && !e.quiet {
		e.why = append(e.why, why)
	}
}

// weight is what speaks for a nature or a direction.
func (e *evidence) weight(name string) int {
	if i := slices.Index(natures[:], name); i >= 0 {
		return e.nature[i]
	}
	if i := slices.Index(directions[:], name); i >= 0 {
		return e.dir[i]
	}
	return 0
}

func (e *evidence) noNature() bool { return e.nature == [len(natures)]int{} }

// best returns the heaviest name and its share of all weight; ties go to the earlier name.
func best(weights []int, names []string) (string, float64) {
	total, top, name := 0, 0, ""
	for i, w := range weights {
		total += w
		if w > top {
			top, name = w, names[i]
		}
	}
	if total == 0 {
		return "", 0
	}
	return name, float64(top) / float64(total)
}

// kind concludes; sure is from 0 to 1.
func (e *evidence) kind() (k project.Kind, sure float64) {
	nature, sn := best(e.nature[:], natures[:])
	dir, sd := best(e.dir[:], directions[:])
	weight := e.weight(nature)
	switch nature {
	case "RTD", "TC", "CNT", "SER":
		return project.Kind(nature), sn * strength(weight)
	case "A", "D":
		if dir == "" {
			dir, sd = "in", 0.4
		}
		s := min(sn*strength(weight), sd*strength(max(e.weight(dir), 3)))
		return kindFrom(nature, dir), s
	}
	return "", 0
}

// strength turns a weight into a confidence: one word is a hint, a stated kind is near certain.
func strength(weight int) float64 {
	switch {
	case weight >= 10:
		return 0.99
	case weight >= 8:
		return 0.95
	case weight >= 6:
		return 0.9
	case weight >= 4:
		return 0.8
	case weight >= 3:
		return 0.7
	case weight >= 2:
		return 0.6
	}
	return 0.4
}

func kindFrom(nature, dir string) project.Kind {
	switch nature + dir {
	case "Ain":
		return project.AI
	case "Aout":
		return project.AO
	case "Dout":
		return project.DO
	}
	return project.DI
}

// split gives the nature and direction of a kind.
func split(k project.Kind) (nature, dir string) {
	switch k {
	case project.AI:
		return "A", "in"
	case project.AO:
		return "A", "out"
	case project.DI:
		return "D", "in"
	case project.DO:
		return "D", "out"
	}
	return string(k), "in"
}

var kindIndex = buildKinds()

func buildKinds() map[string]project.Kind {
	m := map[string]project.Kind{}
	for _, k := range project.Kinds {
		for _, p := range kindWords[string(k)] {
			if _, taken := m[p]; !taken {
				m[p] = k
			}
		}
	}
	return m
}

// kindWord reads a cell as a stated kind: "AI", "Digital Input", "Entrée TOR". frenchBMS says that
// the column speaks of télésignalisations and their like, where TC is a command.
func kindWord(s string, remoteControl bool) (project.Kind, bool) {
	f := fold(s)
	if remoteControl {
		switch f {
		case "ts", "ta":
			return project.DI, true
		case "tc":
			return project.DO, true
		case "tm":
			return project.AI, true
		case "tr", "tvc":
			return project.AO, true
		}
	}
	if k, ok := kindIndex[f]; ok {
		return k, true
	}
	// "AI (4-20mA)", "DI-24V", "DO / relay": the kind stands first.
	first, _, more := strings.Cut(f, " ")
	if k, ok := kindIndex[first]; ok && more && len(first) <= 3 && first != "i" && !strings.HasPrefix(f, "d i") && first != "be" && first != "ed" && first != "de" && first != "da" && first != "sa" && first != "ea" {
		return k, true
	}
	// "DI16 24V", "AI4 4-20mA": the type of a card
	if t := strings.TrimRight(first, "0123456789"); t != first && (t == "di" || t == "do" || t == "ai" || t == "ao") && more {
		return kindIndex[t], true
	}
	// "digital input 24 V", "analog input module"
	for _, k := range project.Kinds {
		for _, p := range kindWords[string(k)] {
			if len(p) >= 8 && strings.HasPrefix(f, p+" ") {
				return k, true
			}
		}
	}
	// "Ex AI", "8ch DI", "24VDC DI": one short kind among a few words
	if words := strings.Fields(f); len(words) >= 2 && len(words) <= 5 {
		found := project.Kind("")
		for _, w := range words {
			if w == "di" || w == "do" || w == "ai" || w == "ao" || w == "rtd" {
				if found != "" {
					return "", false
				}
				found = kindIndex[w]
			}
		}
		if found != "" {
			return found, true
		}
	}
	// "1xDI", "DI1", "DI 2"
	t := strings.TrimLeft(f, "0123456789x ")
	t = strings.TrimRight(t, "0123456789 ")
	if k, ok := kindIndex[t]; ok && len(t) == 2 && t != f && (t == "di" || t == "do" || t == "ai" || t == "ao") {
		return k, true
	}
	return "", false
}

// kindOfGroup reads the kind out of a section or sheet name: "Digital inputs", "Analogeingänge 4-20 mA",
// "AI", "Slot 3 - DO 16 ch".
func kindOfGroup(text string) (project.Kind, bool) {
	f := fold(text)
	if k, ok := kindIndex[f]; ok && len(f) >= 2 && f != "in" && f != "de" && f != "da" && f != "sa" && f != "ea" && f != "be" && f != "ed" {
		return k, true
	}
	found := project.Kind("")
	for _, g := range kindGroups {
		if hasAny(f, g.words) {
			if found != "" && found != g.kind {
				return "", false
			}
			found = g.kind
		}
	}
	return found, found != ""
}

var kindGroups = []struct {
	kind  project.Kind
	words []string
}{
	{project.DI, phrases("di, dis, di module, digital inputs, digital input, binary inputs, discrete inputs, digitaleingange, digital eingange, binareingange, digitale eingange, entrees tor, entrees digitales, entrees logiques, entradas digitales, entradas discretas, status points, meldungen")},
	{project.DO, phrases("do module, dos, digital outputs, digital output, binary outputs, discrete outputs, relay outputs, digitalausgange, digital ausgange, binarausgange, digitale ausgange, sorties tor, sorties digitales, salidas digitales, salidas discretas, schaltbefehle, relaisausgange")},
	{project.AI, phrases("ai, ais, ai module, analog inputs, analogue inputs, analog input, analogue input, analogeingange, analog eingange, analoge eingange, entrees analogiques, entradas analogicas, messwerte")},
	{project.AO, phrases("ao, aos, ao module, analog outputs, analogue outputs, analog output, analogue output, analogausgange, analog ausgange, analoge ausgange, sorties analogiques, salidas analogicas, stellsignale")},
	{project.RTD, phrases("rtd, rtds, rtd inputs, pt100 inputs, pt100 eingange, entrees pt100, sondes pt100, widerstandsthermometer")},
	{project.TC, phrases("thermocouples, thermocouple inputs, tc inputs, thermoelemente, termopares")},
	{project.CNT, phrases("counters, pulse inputs, counter inputs, zahler, zahleingange, impulseingange, comptages, compteurs, contadores")},
}

func inList(f string, list []string) bool {
	for _, w := range list {
		if f == w {
			return true
		}
	}
	return false
}

// natureWord and directionWord read cells of the two columns that some lists have instead of a
// kind ("Analog" + "Input"; "Control" is a command).
func natureWord(s string) string {
	f := fold(s)
	switch {
	case inList(f, analogueWords) || strings.HasPrefix(f, "analog"):
		return "A"
	case inList(f, discreteWords) || strings.HasPrefix(f, "digital") || strings.HasPrefix(f, "discret") || strings.HasPrefix(f, "binar"):
		return "D"
	}
	return ""
}

func directionWord(s string) string {
	f := fold(s)
	switch {
	case inList(f, inWords):
		return "in"
	case inList(f, outWords):
		return "out"
	}
	for w := range strings.SplitSeq(f, " ") {
		switch w {
		case "input", "eingang", "entree", "entrada":
			return "in"
		case "output", "ausgang", "sortie", "salida":
			return "out"
		}
	}
	return ""
}

// fromDescription weighs the words of a description. The longest matching phrase of each list
// counts, so that "running feedback" beats "run" and "level switch" beats "level".
func (e *evidence) fromDescription(text string) {
	f := fold(text)
	if f == "" {
		return
	}
	bestLen, second := 0, 0
	var won *lexicon
	word := ""
	for _, l := range lexicons {
		n, w := l.longest(f)
		switch {
		case n > bestLen:
			second, bestLen, won, word = bestLen, n, l, w
		case n > second:
			second = n
		}
	}
	if won == nil {
		return
	}
	w := won.weight
	if second >= bestLen-1 {
		w--
	}
	e.said = won.nature + won.dir
	why := ""
	if !e.quiet {
		why = "description says " + quoted(word)
	}
	e.add(won.nature, won.dir, w, why)
}

// lexicon is a list of phrases that speak for one nature and direction, by their first word.
type lexicon struct {
	nature, dir string
	weight      int
	byWord      map[string][]string
	endings     []string // of German compounds: "Vorlauftemperatur"
}

func newLexicon(nature, dir string, weight int, list, endings []string) *lexicon {
	l := &lexicon{nature: nature, dir: dir, weight: weight, byWord: map[string][]string{}, endings: endings}
	for _, p := range list {
		first, _, _ := strings.Cut(p, " ")
		l.byWord[first] = append(l.byWord[first], p)
	}
	return l
}

// longest returns the longest phrase of the lexicon in a folded text, and its length.
func (l *lexicon) longest(f string) (int, string) {
	n, word := 0, ""
	for rest := f; rest != ""; {
		w, tail, _ := strings.Cut(rest, " ")
		for _, p := range l.byWord[w] {
			if len(p) > n && strings.HasPrefix(rest, p) && (len(rest) == len(p) || rest[len(p)] == ' ') {
				n, word = len(p), p
			}
		}
		for _, e := range l.endings {
			if len(w) > len(e) && len(e) > n && strings.HasSuffix(w, e) {
				n, word = len(e), w
			}
		}
		rest = tail
	}
	return n, word
}

var lexicons = []*lexicon{
	newLexicon("D", "in", 3, wordsDI, phrases("meldung, stormeldung, storung, schalter, wachter, kontakt, taster, ruckmeldung, alarm, melder, fault, endschalter")),
	newLexicon("D", "out", 3, wordsDO, phrases("befehl, anforderung, leuchte, lampe, magnetventil, hupe, ansteuerung, freigabe")),
	newLexicon("A", "out", 3, wordsAO, phrases("sollwert, stellsignal, regelventil, stellventil, stellwert")),
	newLexicon("A", "in", 2, wordsAI, phrases("temperatur, druck, durchfluss, fullstand, messung, istwert, fuhler, feuchte, niveau, drehzahl, leitfahigkeit, trubung, messwert, menge")),
	newLexicon("D", "out", 2, wFunctions, nil),
	newLexicon("CNT", "in", 3, wordsCNT, phrases("zahler, impuls, impulse")),
}

// fromTraits weighs what electrical text says.
func (e *evidence) fromTraits(t traits, weight int) {
	why := ""
	if len(t.why) > 0 {
		why = strings.Join(t.why, ", ")
	} else if t.form != "" {
		why = t.form
	}
	switch {
	case t.kind != "":
		e.add(string(t.kind), "in", weight+3, why)
	case t.relay:
		e.add("D", "out", 3, why)
	case t.form == "namur" || t.form == "pnp" || t.form == "npn" || t.form == "contact" || t.form == "2-wire":
		e.add("D", "in", weight, why)
	case t.analogue:
		e.add("A", "", weight, why)
		if t.active == "passive" || t.wires > 0 {
			e.add("", "in", 2, "")
		}
	case t.discrete:
		if t.contact != "" {
			weight += 2 // nothing analogue is normally open
			e.add("", "in", 3, "")
		}
		e.add("D", "", weight, why)
	case t.voltage > 0:
		e.add("D", "", 2, why)
		if t.current >= 100 || t.power > 0 {
			e.add("", "out", 3, "")
		}
	}
}
