package intake

import (
	"regexp"
	"strings"

	"railwright/internal/project"
)

// fromMaker takes from the maker's or model's text, and from columns without a meaning of their own,
// what no other column says: a thermocouple, a form.
func (rec *record) fromMaker(d *draft, ev *evidence, t *traits) {
	var at []int
	for _, ro := range []role{roleMaker, roleNote, "device", ""} {
		at = append(at, rec.by[ro]...)
	}
	for _, i := range at {
		text := rec.texts[i]
		if text == "" || len(text) > 80 || isPlaceholder(text) || t.form != "" || t.kind != "" || t.sensor != "" {
			continue
		}
		o := rec.r.cachedTraits(text)
		o.network, o.current, o.power = false, 0, 0
		said := o.form != "" && o.form != "contact" || rec.t.columns[i].role == roleNote && (o.relay || o.form == "contact")
		if o.kind != project.RTD && o.kind != project.TC && !o.analogue && !said {
			continue
		}
		if o.form != "" && (o.kind == project.RTD || o.kind == project.TC) {
			o.kind, o.sensor = "", "" // a transmitter on a sensor: what it gives counts
		}
		ev.fromTraits(o, 4)
		t.merge(o)
		rec.say(d, i, "IMP-023", 0.8, "%s is read as %s", quoted(text), o.words())
	}
}

// loopRange reads "4-20" in a column of currents as the form that it is.
func loopRange(text, unit string) (string, bool) {
	v, ok := rangeOrValue(text, styleUnknown)
	if !ok || v.single {
		return "", false
	}
	if v.unit == "" {
		v.unit = unit
	}
	return v.electrical()
}

// leading weighs a kind that stands at the beginning of an electrical text: "AO 4...20 mA, max. 500 ohm".
func (e *evidence) leading(text string) {
	first, _, _ := strings.Cut(fold(text), " ")
	switch first {
	case "ai", "ao", "di", "do":
		n, dir := split(kindIndex[first])
		e.add(n, dir, 9, "text says "+strings.ToUpper(first))
	}
}

// fromRemarks takes from the remarks what no other column says: "Pt1000", "0-10V", "NC".
func (rec *record) fromRemarks(d *draft, ev *evidence, t *traits) {
	for _, i := range rec.by["remarks"] {
		text := rec.texts[i]
		if text == "" || len(text) > 60 || isPlaceholder(text) {
			continue
		}
		o := rec.r.cachedTraits(text)
		if o.network = false; o.said == 0 {
			continue
		}
		if o.kind == project.SER {
			o.kind, o.form = "", ""
		}
		before := t.words()
		if t.form != "" || t.kind != "" {
			o.kind = ""
		} else {
			ev.fromTraits(o, 2)
		}
		o.current, o.power = 0, 0
		t.merge(o)
		if t.words() != before {
			rec.r.assume("IMP-023", rec.where(i), 0.85, "remark %s is read as %s", quoted(text), o.words())
		}
	}
}

// tellTraits reports how a text was understood, or that it was not.
func (rec *record) tellTraits(d *draft, i int, text string, o traits) {
	if o.said == 0 && !o.discrete && !o.analogue {
		if _, ok := kindWord(text, false); ok || natureWord(text) != "" || directionWord(text) != "" || isNo(text) || isYes(text) {
			return
		}
		rec.r.assume("IMP-024", rec.where(i), 0.5, "%s is not understood and kept as a remark", quoted(text))
		d.remark(text)
		return
	}
	rec.r.assume("IMP-023", rec.where(i), 0.92, "%s is read as %s", quoted(text), o.words())
}

var reFormSplit = regexp.MustCompile(`\s+(?:and|und|et|y|plus)\s+|\s*[+&]\s*`)

// manyForms reads "pulse + 4-20 mA" as two channels: an electrical cell whose parts name forms of
// different natures. stated are the kinds that the row states; one of them must fit a part.
func (rec *record) manyForms(stated []project.Kind) []wanted {
	if len(stated) > 1 {
		return nil
	}
	for _, ro := range []role{"kind", "form", roleElectrical} {
		for _, i := range rec.by[ro] {
			parts := reFormSplit.Split(rec.texts[i], -1)
			if len(parts) < 2 || len(parts) > 4 {
				continue
			}
			var out []wanted
			seen := map[project.Kind]bool{}
			for _, p := range parts {
				o := rec.r.cachedTraits(p)
				k := o.inputKind()
				if k == "" || seen[k] {
					out = nil
					break
				}
				seen[k] = true
				out = append(out, wanted{kind: k, form: o, col: i})
			}
			if len(out) > 1 && (len(stated) == 0 || seen[stated[0]]) {
				return out
			}
		}
	}
	return nil
}

// inputKind is the kind of input that a text speaks of if it names a form in so many words.
func (t *traits) inputKind() project.Kind {
	switch {
	case t.kind != "":
		return t.kind
	case t.form == "4-20ma" || t.form == "0-20ma" || t.form == "0-10v" || t.form == "10v-bipolar":
		return project.AI
	case t.relay || t.form == "contact" || t.form == "namur" || t.form == "pnp" || t.form == "npn":
		return project.DI
	}
	return ""
}

// shared is what a text says of all channels that it names.
func (t traits) shared() traits {
	return traits{exLevel: t.exLevel, exZone: t.exZone, exGas: t.exGas, process: t.process, ranges: t.ranges, said: t.said}
}

// wanted is one channel that a row asks for.
type wanted struct {
	kind project.Kind // "" = to be concluded
	fn   string       // what the column of the mark is headed, where that names the signal: "Running"
	form traits       // from the heading of a count column
	col  int          // where the mark or count stands, -1
}
