package corrupt

import (
	"math/rand"
	"slices"
)

// record picks a calculation.
func record(d Object, rng *rand.Rand, ok func(Object) bool) Object {
	c := object(d, "calculations")
	var names []string
	for id := range c {
		if ok == nil || ok(object(c, id)) {
			names = append(names, id)
		}
	}
	if len(names) == 0 {
		return nil
	}
	slices.Sort(names)
	return object(c, names[rng.Intn(len(names))])
}

// input changes an input of a calculation that has one whose origin begins with the prefix.
func input(prefix string, do func(Object)) func(Object, *rand.Rand) bool {
	return func(d Object, rng *rand.Rand) bool {
		found := func(in Object) string {
			var names []string
			for name := range in {
				from := text(object(in, name), "from")
				if len(from) >= len(prefix) && from[:len(prefix)] == prefix {
					names = append(names, name)
				}
			}
			slices.Sort(names)
			if len(names) == 0 {
				return ""
			}
			return names[0]
		}
		r := record(d, rng, func(o Object) bool { return found(object(o, "inputs")) != "" })
		if r == nil {
			return false
		}
		in := object(r, "inputs")
		do(object(in, found(in)))
		return true
	}
}

var proof = []Corruption{
	{"wrong result of a calculation", "CALC", func(d Object, rng *rand.Rand) bool {
		r := record(d, rng, nil)
		if r == nil {
			return false
		}
		scale("value", 1, 0.5)(object(r, "result"))
		return true
	}},
	{"wrong unit of a result", "CALC", func(d Object, rng *rand.Rand) bool {
		r := record(d, rng, nil)
		if r == nil {
			return false
		}
		object(r, "result")["unit"] = "furlong"
		return true
	}},
	{"formula that does not exist", "CALC", func(d Object, rng *rand.Rand) bool {
		r := record(d, rng, nil)
		if r == nil {
			return false
		}
		r["formula"] = "no.such.formula"
		return true
	}},
	{"dangling calculation", "TRC", input("calc:", set("from", "calc:no-such-calculation"))},
	{"dangling signal column", "TRC", input("signal:", set("from", "signal:no-such-signal.current_ma"))},
	{"dangling hardware key", "TRC", input("hardware:", set("from", "hardware:no-such-code.price"))},
	{"dangling project path", "TRC", input("project:", set("from", "project:basis.no_such_key"))},
	{"origin of no kind", "TRC", input("", set("from", "somewhere"))},
	{"stated value that is not the project's", "TRC CALC", input("project:", scale("value", 1.37, 0.011))},
	{"calculation that leans on itself", "TRC", func(d Object, rng *rand.Rand) bool {
		c := object(d, "calculations")
		for _, id := range sorted(c) {
			in := object(object(c, id), "inputs")
			for _, name := range sorted(in) {
				object(in, name)["from"] = "calc:" + id
				return true
			}
		}
		return false
	}},
	{"spoiled formula text", "CALC", func(d Object, rng *rand.Rand) bool {
		f := object(d, "formulas")
		names := sorted(f)
		if len(names) == 0 {
			return false
		}
		o := object(f, names[rng.Intn(len(names))])
		o["text"] = "1 + " + text(o, "text")
		return true
	}},
	{"drop a formula", "CALC", func(d Object, rng *rand.Rand) bool {
		f := object(d, "formulas")
		names := sorted(f)
		if len(names) == 0 {
			return false
		}
		delete(f, names[rng.Intn(len(names))])
		return true
	}},
	{"finding of no severity", "FIND", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "findings"), nil, set("severity", "fatal"))
	}},
	{"finding on no station", "FIND", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "findings"), nil, set("subject", "station:no-such-station"))
	}},
	{"another format", "FORM", func(d Object, _ *rand.Rand) bool { d["format"] = "railwright-design/2"; return true }},
	{"drop a section", "FORM", func(d Object, rng *rand.Rand) bool {
		names := sorted(d)
		for _, i := range rng.Perm(len(names)) {
			if !slices.Contains([]string{"labour", "project", "format", "ordinals", "circuits"}, names[i]) { // those are beyond the contract
				delete(d, names[i])
				return true
			}
		}
		return false
	}},
	{"unsort the stations", "FORM", func(d Object, _ *rand.Rand) bool {
		raw, _ := d["stations"].([]any)
		if len(raw) < 2 {
			return false
		}
		slices.Reverse(raw)
		return true
	}},
}

func sorted(o Object) []string {
	names := make([]string, 0, len(o))
	for name := range o {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
