package corrupt

import (
	"math/rand"
	"strings"
)

func anyOf(want string, have map[string]bool) bool {
	for _, law := range strings.Fields(want) {
		if have[law] {
			return true
		}
	}
	return false
}

// list returns the objects of a list.
func list(o Object, key string) []Object {
	raw, _ := o[key].([]any)
	out := make([]Object, 0, len(raw))
	for _, x := range raw {
		if m, ok := x.(Object); ok {
			out = append(out, m)
		}
	}
	return out
}

func object(o Object, key string) Object {
	m, _ := o[key].(Object)
	return m
}

func num(o Object, key string) float64 {
	v, _ := o[key].(float64)
	return v
}

func text(o Object, key string) string {
	v, _ := o[key].(string)
	return v
}

// pick returns one of the objects that ok allows, or nil.
func pick(rng *rand.Rand, all []Object, ok func(Object) bool) Object {
	var fit []Object
	for _, o := range all {
		if ok == nil || ok(o) {
			fit = append(fit, o)
		}
	}
	if len(fit) == 0 {
		return nil
	}
	return fit[rng.Intn(len(fit))]
}

func all(d Object, path ...string) []Object {
	out := []Object{d}
	for _, key := range path {
		var next []Object
		for _, o := range out {
			next = append(next, list(o, key)...)
		}
		out = next
	}
	return out
}

func slots(d Object) []Object    { return all(d, "stations", "slots") }
func channels(d Object) []Object { return all(d, "stations", "slots", "channels") }
func groupsOf(d Object) []Object { return all(d, "stations", "supply_groups") }

func used(ch Object) bool { return text(ch, "signal_id") != "" }

// change picks an object, changes it and reports whether there was one.
func change(rng *rand.Rand, from []Object, ok func(Object) bool, do func(Object)) bool {
	o := pick(rng, from, ok)
	if o == nil {
		return false
	}
	do(o)
	return true
}

// drop removes one element of a list.
func drop(rng *rand.Rand, o Object, key string, ok func(Object) bool) bool {
	raw, _ := o[key].([]any)
	var fit []int
	for i, x := range raw {
		if m, is := x.(Object); is && (ok == nil || ok(m)) {
			fit = append(fit, i)
		}
	}
	if len(fit) == 0 {
		return false
	}
	i := fit[rng.Intn(len(fit))]
	o[key] = append(append([]any{}, raw[:i]...), raw[i+1:]...)
	return true
}

// scale returns a change that multiplies a number and adds to it.
func scale(key string, factor, add float64) func(Object) {
	return func(o Object) { o[key] = num(o, key)*factor + add }
}

func set(key string, v any) func(Object) { return func(o Object) { o[key] = v } }

// other returns a value of key that another object of the list has, different from o's; nil if none.
func other(rng *rand.Rand, from []Object, o Object, key string) any {
	x := pick(rng, from, func(p Object) bool { return p[key] != o[key] && p[key] != nil && p[key] != "" })
	if x == nil {
		return nil
	}
	return x[key]
}

// swapped sets key to another object's value.
func swapped(rng *rand.Rand, from []Object, key string, ok func(Object) bool) bool {
	o := pick(rng, from, func(p Object) bool { return (ok == nil || ok(p)) && other(rng, from, p, key) != nil })
	if o == nil {
		return false
	}
	o[key] = other(rng, from, o, key)
	return true
}

// move puts the signal of one channel on another, leaving addresses and terminals where they are.
func move(from, to Object) {
	to["signal"], to["signal_id"] = from["signal"], from["signal_id"]
	from["signal"], from["signal_id"] = nil, ""
}
