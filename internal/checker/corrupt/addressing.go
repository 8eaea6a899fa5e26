package corrupt

import "math/rand"

func has(key string) func(Object) bool { return func(o Object) bool { return num(o, key) > 0 } }

var addressing = []Corruption{
	{"shift an address", "ADDR", func(d Object, rng *rand.Rand) bool {
		return swapped(rng, channels(d), "address", used)
	}},
	{"overlap input bytes", "ADDR", func(d Object, rng *rand.Rand) bool {
		return swapped(rng, inSlots(d), "input_byte", nil)
	}},
	{"shift a slot's outputs", "ADDR", func(d Object, rng *rand.Rand) bool {
		return change(rng, slots(d), has("output_bytes"), scale("output_byte", 1, 2))
	}},
	{"widen a slot's inputs", "ADDR", func(d Object, rng *rand.Rand) bool {
		return change(rng, slots(d), has("input_bytes"), scale("input_bytes", 1, 1))
	}},
	{"forget a station's gap or header", "ADDR", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), has("input_bytes"), scale("input_bytes", 1, -1))
	}},
	{"begin a station elsewhere", "ADDR", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), nil, scale("first_input_byte", 1, 64))
	}},
	{"state the other convention", "ADDR", func(d Object, rng *rand.Rand) bool {
		p := object(d, "project")
		if p == nil {
			return false
		}
		if p["address_convention"] == "word" {
			p["address_convention"] = "byte"
		} else {
			p["address_convention"] = "word"
		}
		return true
	}},
	{"one node address twice", "NET", func(d Object, rng *rand.Rand) bool {
		return swapped(rng, list(object(d, "network"), "addresses"), "address", nil)
	}},
	{"drop a node address", "NET", func(d Object, rng *rand.Rand) bool {
		return drop(rng, object(d, "network"), "addresses", nil)
	}},
}

func inSlots(d Object) []Object {
	var out []Object
	for _, s := range slots(d) {
		if num(s, "input_bytes") > 0 {
			out = append(out, s)
		}
	}
	return out
}
