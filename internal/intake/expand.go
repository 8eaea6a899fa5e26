package intake

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"railwright/internal/project"
)

// merge takes over what t does not say yet from o.
func (t *traits) merge(o traits) {
	if o.said == 0 && len(o.ranges) == 0 && !o.discrete && !o.analogue {
		return
	}
	if t.kind == "" && !(t.form != "" && o.kind == project.CNT) {
		t.kind = o.kind
		if t.form == "" && (o.kind == project.CNT || o.kind == project.SER) {
			t.form = o.form
		}
	}
	if t.form == "" {
		t.form = o.form
	}
	if t.wires == 0 {
		t.wires = o.wires
	}
	if t.active == "" {
		t.active = o.active
	}
	if t.sensor == "" {
		t.sensor = o.sensor
	}
	if t.contact == "" {
		t.contact = o.contact
	}
	if t.voltage == 0 {
		t.voltage, t.ac = o.voltage, o.ac
	}
	if t.current == 0 {
		t.current = o.current
	}
	if t.power == 0 {
		t.power = o.power
	}
	for _, p := range []struct{ to, from *string }{{&t.exLevel, &o.exLevel}, {&t.exZone, &o.exZone}, {&t.exGas, &o.exGas}, {&t.level, &o.level}} {
		if *p.to == "" {
			*p.to = *p.from
		}
	}
	t.hart = t.hart || o.hart
	t.analogue = t.analogue || o.analogue
	t.discrete = t.discrete || o.discrete
	t.relay = t.relay || o.relay
	t.network = t.network || o.network
	t.said += o.said
	if len(t.process) == 0 {
		t.process = o.process
	}
	t.why = append(t.why[:len(t.why):len(t.why)], o.why...)
}

// electrics reads all electrical cells of a row into one, and weighs them as evidence.
func (rec *record) electrics(d *draft, ev *evidence) traits {
	var t traits
	for _, src := range []struct {
		ro     role
		weight int
	}{{"form", 6}, {"sensor", 6}, {roleElectrical, 4}, {"current_ma", 4}, {"active", 2}, {"wires", 2}, {"voltage_v", 2}, {roleEx, 0}, {roleRange, 5}, {"hart", 0}} {
		for _, i := range rec.by[src.ro] {
			text := rec.texts[i]
			if text == "" || isPlaceholder(text) {
				continue
			}
			o := rec.r.cachedTraits(text)
			switch src.ro {
			case "sensor":
				if s, ok := sensorCell(text); ok && o.sensor == "" {
					o.sensor, o.said = s, 1
					if len(s) == 1 {
						o.kind = project.TC
					}
				}
				if o.kind != project.RTD && o.kind != project.TC {
					continue
				}
			case "wires":
				o = traits{wires: o.wires}
				if n, ok := parseNumber(text, styleUnknown); ok && n >= 2 && n <= 8 {
					o.wires = int(n)
				}
				o.said = 1
				t.merge(o)
				continue
			case roleRange:
				o.voltage, o.current, o.power, o.wires, o.contact, o.network = 0, 0, 0, 0, "", false
				if o.kind != project.RTD && o.kind != project.TC {
					o.kind = ""
				}
			case "current_ma":
				if f, ok := loopRange(text, rec.t.columns[i].unit); ok {
					o = traits{form: f, analogue: true, said: 1, why: []string{text}}
				} else {
					continue
				}
			case "voltage_v":
				if n, ok := parseNumber(text, rec.r.style); ok {
					o = traits{voltage: n, ac: n >= 100, said: 1}
				}
				if o.voltage > 0 && t.voltage > 0 && o.voltage != t.voltage {
					rec.doubt(d, i, "IMP-035", fmt.Sprintf("the column for the voltage says %s V, another cell of the row %s V; the column's is taken", short(o.voltage), short(t.voltage)), "Make them agree.")
					t.voltage, t.ac = o.voltage, o.ac
				}
			case roleEx:
				o.kind, o.form, o.network = "", "", false
			}
			if src.weight > 0 {
				ev.fromTraits(o, src.weight)
				if src.ro == "form" || src.ro == roleElectrical {
					ev.leading(text)
				}
			}
			t.merge(o)
			if src.ro == "form" || src.ro == roleElectrical {
				rec.tellTraits(d, i, text, o)
			}
		}
	}
	rec.fromMaker(d, ev, &t)
	rec.fromRemarks(d, ev, &t)
	return t
}

// words says what was understood.
func (t *traits) words() string {
	var w []string
	add := func(yes bool, format string, args ...any) {
		if yes {
			w = append(w, fmt.Sprintf(format, args...))
		}
	}
	add(t.kind != "", "%s", t.kind)
	add(t.form != "", "form %s", t.form)
	add(t.relay, "relay")
	add(t.level != "", "level %s", t.level)
	add(t.sensor != "", "sensor %s", t.sensor)
	add(t.wires > 0, "%d wires", t.wires)
	add(t.active != "", "%s", t.active)
	add(t.hart, "HART")
	add(t.contact != "", "contact %s", t.contact)
	add(t.voltage > 0, "%s V", short(t.voltage))
	add(t.current > 0, "%s mA", short(t.current))
	add(t.power > 0, "%s W", short(t.power))
	add(t.exLevel != "", "Ex %s", t.exLevel)
	add(t.exGas != "", "gas group %s", t.exGas)
	add(t.exZone != "", "zone %s", t.exZone)
	add(t.network, "no wired signal")
	add(len(w) == 0 && t.analogue, "analogue")
	add(len(w) == 0 && t.discrete, "discrete")
	if len(w) == 0 {
		return "nothing electrical"
	}
	return strings.Join(w, ", ")
}

// stated collects what the row states about its kind: the kind column, or nature and direction.
func (rec *record) stated(d *draft, st *tableState, ev *evidence, tr *traits) (kinds []project.Kind, i int) {
	i = -1
	for _, at := range rec.by["kind"] {
		text := rec.texts[at]
		if text == "" || isPlaceholder(text) {
			continue
		}
		i = at
		if k, ok := kindWord(text, st.remote); ok {
			n, dir := split(k)
			ev.add(n, dir, 10, "")
			o := rec.r.cachedTraits(text)
			if o.network = false; k == project.CNT || k == project.SER || o.kind == project.SER {
				o.kind = k
			}
			if !(k == project.DO && o.kind == project.TC) && k != project.TC {
				tr.merge(o)
			} else if o.sensor != "" {
				tr.merge(traits{sensor: o.sensor, said: 1})
			}
			return []project.Kind{k}, i
		}
		if many := manyKinds(text, st.remote); many != nil {
			return many, i
		}
		o := rec.r.cachedTraits(text)
		n, dir := natureWord(text), directionWord(text)
		if len(text) == 1 && n != "" && dir != "" {
			if st.letters == "dir" {
				n = ""
			} else {
				dir = ""
			}
		}
		if n == "" && dir == "" {
			for w := range strings.SplitSeq(fold(text), " ") { // "analog output 4-20mA", "entrée ana"
				if n == "" {
					n = natureWord(w)
				}
				if dir == "" && len(w) > 1 {
					dir = directionWord(w)
				}
			}
		}
		switch {
		case n != "" || dir != "":
			ev.add(n, dir, 8, "type says "+quoted(text))
		case o.said > 0:
			ev.fromTraits(o, 8)
		default:
			ev.fromDescription(text)
		}
		tr.merge(o)
	}
	if t, at := rec.get(roleNature); at >= 0 && !isPlaceholder(t) {
		if k, ok := kindWord(t, false); ok && natureWord(t) == "" {
			n, dir := split(k)
			ev.add(n, dir, 10, "")
		} else if n := natureWord(t); n != "" {
			ev.add(n, "", 8, quoted(t))
		} else {
			ev.fromTraits(rec.r.cachedTraits(t), 8)
		}
		i = at
	}
	if t, at := rec.get(roleDirection); at >= 0 && !isPlaceholder(t) {
		if dir := directionWord(t); dir != "" {
			ev.add("", dir, 8, quoted(t))
		}
		if i < 0 {
			i = at
		}
	}
	return nil, i
}

var reKindSplit = regexp.MustCompile(`\s*(?:/|\+|&|,|;|\band\b|\bund\b|\bet\b|\by\b)\s*`)

// manyKinds reads "DI/DO" or "AI + AO".
func manyKinds(text string, remote bool) []project.Kind {
	parts := reKindSplit.Split(text, -1)
	if len(parts) < 2 || len(parts) > 4 {
		return nil
	}
	var out []project.Kind
	for _, p := range parts {
		k, ok := kindWord(p, remote)
		if !ok || len(p) < 2 {
			return nil
		}
		out = append(out, k)
	}
	return out
}

// expand turns a row into one draft per channel it asks for.
func (rec *record) expand(d *draft, st *tableState) []kinded {
	ev := newEvidence()
	tr := rec.electrics(d, ev)
	kinds, ki := rec.stated(d, st, ev, &tr)
	var want []wanted
	for _, k := range kinds {
		want = append(want, wanted{kind: k, col: ki})
	}
	if forms := rec.manyForms(kinds); forms != nil {
		want, tr = forms, tr.shared()
	}
	counted, total := rec.counts(d)
	if len(want) == 0 && total > 0 {
		want = counted
	}
	if rec.ctx.dir != "" && len(kinds) == 0 {
		ev.add("", rec.ctx.dir, 8, "section of "+rec.ctx.dir+"puts")
	}
	if rec.ctx.form != "" && tr.form == "" && tr.kind == "" && rec.ctx.kind != "" {
		tr.form = rec.ctx.form
	}
	if k := rec.ctx.kind; k != "" && ki < 0 && len(want) == 0 {
		n, dir := split(k)
		ev.add(n, dir, 9, "section says "+string(k))
		want = []wanted{{kind: k, col: -1}}
	}
	if len(want) == 0 && len(counted) == 0 && rec.hasCounts() && ev.noNature() {
		rec.r.assume("IMP-027", rec.where(-1), 0.7, "left out: no mark or count in any of the columns of kinds")
		rec.r.rows[rowKey{d.sheet, d.row}].leftOut = true
		rec.r.res.LeftOut++
		return nil
	}
	if f, i := rec.get("form"); i >= 0 && len(want) == 0 && inList(fold(f), wLocal) {
		rec.r.assume("IMP-027", rec.where(i), 0.8, "left out: no wired signal (%s)", quoted(f))
		rec.r.rows[rowKey{d.sheet, d.row}].leftOut = true
		rec.r.res.LeftOut++
		return nil
	}
	if t, i := rec.get("kind"); i >= 0 && len(want) == 0 && (tr.said == 0 && inList(fold(t), wLocal) || inList(fold(t), wSoftKinds)) {
		rec.r.assume("IMP-027", rec.where(i), 0.8, "left out: no wired signal (%s)", quoted(t))
		rec.r.rows[rowKey{d.sheet, d.row}].leftOut = true
		rec.r.res.LeftOut++
		return nil
	}
	if tr.network && len(want) == 0 && ev.weight("A")+ev.weight("D") < 8 && tr.kind == "" || tr.network && rec.softKind() {
		rec.r.assume("IMP-027", rec.where(ki), 0.8, "left out: no wired signal (%s)", strings.Join(tr.why, ", "))
		rec.r.rows[rowKey{d.sheet, d.row}].leftOut = true
		rec.r.res.LeftOut++
		return nil
	}
	if len(want) == 0 {
		want = []wanted{{col: ki}}
	}
	if n := rec.quantity(); n > 1 && len(want) == 1 && len(splitTag(d.get("tag"))) != n {
		one := want[0]
		for range n - 1 {
			want = append(want, one)
		}
	}
	return rec.spread(d, want, ev, tr)
}

var wLocal = phrases("local, local indication, local indicator, local only, none, no signal, mechanical, vor ort, ortliche anzeige, lokal, vor ort anzeige, sans, aucun, indication locale, ninguna, indicacion local, field only")

// wSoftKinds are objects of building automation that no wire goes to.
var wSoftKinds = phrases("av, bv, msv, analog value, analogue value, binary value, multistate value, multi state value, avo, bvo, virtual point, software point, soft point")

// softKind reports whether the kind or form column itself says that no wire is meant.
func (rec *record) softKind() bool {
	for _, ro := range []role{"kind", "form", roleNature} {
		for _, t := range rec.all(ro) {
			if _, ok := kindWord(t, false); ok {
				continue
			}
			if o := rec.r.cachedTraits(t); o.network && o.form == "" && o.kind == "" {
				return true
			}
		}
	}
	return false
}

func (rec *record) hasCounts() bool {
	for ro := range rec.by {
		if _, ok := ro.count(); ok {
			return true
		}
	}
	return false
}

// counts reads the columns of marks or counts, in the order of the columns.
func (rec *record) counts(d *draft) ([]wanted, int) {
	var out []wanted
	total := 0
	for i, c := range rec.t.columns {
		kind, ok := c.role.count()
		if !ok || rec.texts[i] == "" {
			continue
		}
		n, ok := countIn(rec.texts[i])
		if !ok {
			if _, isKind := kindWord(rec.texts[i], false); isKind || rec.r.cachedTraits(rec.texts[i]).said > 0 {
				n = 1 // "4-20mA" in the AI column is a mark that says more
			} else {
				rec.doubt(d, i, "IMP-024", fmt.Sprintf("%s in the column %s is no mark and no count; one signal is taken", quoted(rec.texts[i]), quoted(c.heading)), "Write a count.")
				n = 1
			}
		}
		if n > 256 {
			rec.fault(d, i, "IMP-026", fmt.Sprintf("%d signals of one row are more than a device has", n), "Mend the count.")
			continue
		}
		form := rec.r.cachedTraits(c.heading)
		form.merge(rec.r.cachedTraits(rec.texts[i]))
		for range n {
			out = append(out, wanted{kind: project.Kind(kind), fn: c.fn, form: form, col: i})
		}
		total += n
	}
	return out, total
}

func (rec *record) quantity() int {
	t := rec.text(roleQuantity)
	if n, err := strconv.Atoi(t); err == nil && n > 1 && n <= 64 {
		return n
	}
	return 1
}

// spread makes a draft for each wanted channel, with a tag and description of its own.
func (rec *record) spread(d *draft, want []wanted, ev *evidence, tr traits) []kinded {
	base := d.get("tag")
	if len(want) == 1 {
		if tags := splitTag(base); len(tags) > 1 {
			return rec.splitByTag(d, tags, want[0], ev, tr)
		}
		one := tr
		one.merge(want[0].form)
		if fn := want[0].fn; fn != "" {
			d.named(base, suffixFrom(fn), fn)
		}
		return []kinded{{d, want[0].kind, ev, one}}
	}
	tags := splitTag(base)
	texts := splitDescription(d.get("description"), len(want))
	number := map[project.Kind]int{}
	of := map[project.Kind]int{}
	for _, w := range want {
		of[w.kind]++
	}
	var out []kinded
	for n, w := range want {
		c := d.clone()
		number[w.kind]++
		mark := string(w.kind)
		if of[w.kind] > 1 || mark == "" {
			mark += strconv.Itoa(number[w.kind])
		}
		if base != "" {
			tag := base + "-" + mark
			if len(tags) == len(want) {
				tag = tags[n]
			}
			c.set("tag", tag, max(d.tagCol, 0))
			c.fill("device", base, max(d.tagCol, 0))
		} else {
			c.fn = mark
		}
		switch {
		case w.fn != "":
			c = d.clone()
			c.named(base, suffixFrom(w.fn), w.fn)
		case texts != nil:
			c.set("description", texts[n], d.fromOf("description"))
		case d.get("description") != "":
			c.set("description", fmt.Sprintf("%s (%s)", d.get("description"), mark), d.fromOf("description"))
		}
		if n > 0 {
			c.channel, c.address = "", "" // one position cannot be that of all
		}
		own := tr
		own.merge(w.form)
		c.noRange = w.kind == project.CNT && of[project.AI] > 0 // the range is that of the measured value
		out = append(out, kinded{c, w.kind, ev, own})
	}
	rec.r.res.Findings = append(rec.r.res.Findings, info("IMP-026", rec.where(want[0].col), "project", 0.85,
		fmt.Sprintf("the row asks for %d channels; signals %s to %s are made of it", len(want), out[0].d.label(), out[len(out)-1].d.label())))
	return out
}

// named gives a signal of a device the tag and description of one of its functions.
func (d *draft) named(base, suffix, fn string) {
	if base != "" {
		d.set("tag", base+"-"+suffix, max(d.tagCol, 0))
		d.fill("device", base, max(d.tagCol, 0))
	} else {
		d.fn = suffix
	}
	desc := fn
	if old := d.get("description"); old != "" {
		desc = old + " " + fn
		if strings.ToUpper(fn) != fn {
			desc = old + " " + strings.ToLower(fn)
		}
	}
	d.set("description", desc, max(d.fromOf("description"), 0))
}

func (d *draft) label() string {
	if t := d.get("tag"); t != "" {
		return t
	}
	if d.fn != "" {
		return d.fn + " of row " + strconv.Itoa(d.row+1)
	}
	return "of row " + strconv.Itoa(d.row+1)
}

func (rec *record) splitByTag(d *draft, tags []string, w wanted, ev *evidence, tr traits) []kinded {
	texts := splitDescription(d.get("description"), len(tags))
	var out []kinded
	for n, tag := range tags {
		c := d.clone()
		c.set("tag", tag, max(d.tagCol, 0))
		c.fill("device", d.get("tag"), max(d.tagCol, 0))
		if texts != nil {
			c.set("description", texts[n], d.fromOf("description"))
		}
		if n > 0 {
			c.channel, c.address = "", ""
		}
		own := tr
		own.merge(w.form)
		out = append(out, kinded{c, w.kind, ev, own})
	}
	rec.r.res.Findings = append(rec.r.res.Findings, info("IMP-026", rec.where(-1), "project", 0.75,
		fmt.Sprintf("tag %s stands for %d signals: %s", quoted(d.get("tag")), len(tags), strings.Join(tags, ", "))))
	return out
}
