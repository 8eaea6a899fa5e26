package cite

import (
	"fmt"
	"sort"
	"strings"
)

// Key names a source.
type Key string

// Source is one published (or stated) origin of numbers.
type Source struct {
	Key   Key
	Title string // document, edition
	Note  string // how the value was seen, or what it is not
}

// The sources that are no document. Every other one is registered in sources.go.
const (
	CommonPractice Key = "common-practice" // no standard fixes it; the basis can change it
	FromMemory     Key = "from-memory"     // to be checked against the document before it is relied on
	Arithmetic     Key = "arithmetic"      // follows from the stated data by counting or adding
)

var registry = map[Key]Source{
	CommonPractice: {CommonPractice, "Common practice", "no standard fixes this; the design basis can change it"},
	FromMemory:     {FromMemory, "From memory", "check against the document before relying on it"},
	Arithmetic:     {Arithmetic, "Arithmetic on stated data", "counting and adding"},
}

// Lookup returns the source that a reference KEY or KEY#row names.
func Lookup(ref string) (Source, error) {
	key, _, _ := strings.Cut(ref, "#")
	s, ok := registry[Key(key)]
	if !ok {
		return Source{}, fmt.Errorf("cite %q: no such source", ref)
	}
	return s, nil
}

// All returns every source, by key.
func All() []Source {
	all := make([]Source, 0, len(registry))
	for _, s := range registry {
		all = append(all, s)
	}
	sort.Slice(all, func(i, j int) bool { return all[i].Key < all[j].Key })
	return all
}
