package corrupt

import (
	"encoding/json"
	"fmt"
	"math/rand"
)

// Object is a JSON object.
type Object = map[string]any

// Corruption is one way of spoiling a design. Apply changes the design at a spot that rng chooses
// and returns false if the design has no such spot. Laws names the laws of which at least one must
// be reported.
type Corruption struct {
	Name  string
	Laws  string
	Apply func(d Object, rng *rand.Rand) bool
}

// All returns all corruptions, in a fixed order.
func All() []Corruption {
	var all []Corruption
	for _, list := range [][]Corruption{placing, hardware, groups, addressing, cabling, money, proof} {
		all = append(all, list...)
	}
	return all
}

// Missed applies each corruption with the seed and returns those that laws (the codes of the laws
// reported for a spoiled design) did not show, and the names of those that found no spot.
func Missed(design []byte, seed int64, laws func(spoiled []byte) map[string]bool) (missed, skipped []string, err error) {
	for i, c := range All() {
		var d Object
		if err := json.Unmarshal(design, &d); err != nil {
			return nil, nil, fmt.Errorf("read design: %w", err)
		}
		if !c.Apply(d, rand.New(rand.NewSource(seed+int64(i)))) {
			skipped = append(skipped, c.Name)
			continue
		}
		spoiled, err := json.Marshal(d)
		if err != nil {
			return nil, nil, fmt.Errorf("write spoiled design: %w", err)
		}
		if !anyOf(c.Laws, laws(spoiled)) {
			missed = append(missed, c.Name)
		}
	}
	return missed, skipped, nil
}
