package corrupt

import "math/rand"

// add shifts a number of an object within the design.
func add(key, field string, by float64) func(Object, *rand.Rand) bool {
	return func(d Object, _ *rand.Rand) bool {
		o := object(d, key)
		if _, ok := o[field].(float64); !ok {
			return false
		}
		o[field] = num(o, field) + by
		return true
	}
}

var money = []Corruption{
	{"wrong total", "COST", add("cost", "total", 0.02)},
	{"wrong constant", "COST", add("cost", "constant", -1)},
	{"installed out of thin air", "COST", add("cost", "installed", 10)},
	{"changes out of thin air", "COST", add("cost", "changes", 10)},
	{"wrong objective", "COST", add("siting", "objective", -5)},
	{"raised lower bound", "CERT COST", add("siting", "lower_bound", 0.02)},
	{"wrong gap", "COST", add("siting", "gap", -0.01)},
	{"changed multiplier", "CERT", func(d Object, rng *rand.Rand) bool {
		c := object(object(d, "siting"), "certificate")
		least := ""
		for id := range c {
			if least == "" || id < least {
				least = id
			}
		}
		if least == "" {
			return false
		}
		c[least] = num(c, least) - 5_000_000
		return true
	}},
	{"multiplier for no bundle", "CERT", func(d Object, _ *rand.Rand) bool {
		c := object(object(d, "siting"), "certificate")
		if c == nil {
			return false
		}
		c["no-such/bundle"] = 0.0
		return true
	}},
	{"lower bound above the objective", "COST", func(d Object, _ *rand.Rand) bool {
		s := object(d, "siting")
		s["lower_bound"] = num(s, "objective") + 1
		return true
	}},
	{"wrong price of a part", "PART", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "parts"), nil, scale("price", 1, 0.05))
	}},
	{"wrong count of a part", "PART", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "parts"), nil, scale("count", 1, 1))
	}},
	{"drop a part", "PART", func(d Object, rng *rand.Rand) bool { return drop(rng, d, "parts", nil) }},
	{"list a part twice", "PART", func(d Object, rng *rand.Rand) bool {
		raw, _ := d["parts"].([]any)
		if len(raw) == 0 {
			return false
		}
		d["parts"] = append(raw, raw[rng.Intn(len(raw))])
		return true
	}},
	{"wrong labour count", "LAB", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "labour"), nil, scale("count", 1, 1))
	}},
	{"wrong labour price", "LAB", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "labour"), nil, scale("price", 1, 1))
	}},
	{"wrong sum by class", "COST", func(d Object, rng *rand.Rand) bool {
		p := object(object(d, "cost"), "parts")
		for class := range p {
			p[class] = num(p, class) + 1
		}
		return len(p) > 0
	}},
}
