package hardware

import (
	"embed"
	"sync"

	"railwright/internal/finding"
)

//go:embed builtin/*.toml
var builtinFiles embed.FS

var builtin = sync.OnceValues(func() (*List, finding.List) {
	all := &List{}
	var found finding.List
	entries, err := builtinFiles.ReadDir("builtin")
	if err != nil {
		panic(err) // embedded at build time
	}
	for _, e := range entries {
		name := "builtin/" + e.Name()
		src, err := builtinFiles.ReadFile(name)
		if err != nil {
			panic(err)
		}
		l, f := Parse(name, src)
		found = append(found, f...)
		all, f = Merge(all, l)
		found = append(found, f...)
	}
	found = append(found, Check(all)...)
	found.Sort()
	return all, found
})

// Builtin returns the generic list that comes with the tool: parts of no maker, with figures that are
// typical of the trade. It is shared and must not be changed; Merge makes a list of one's own.
func Builtin() *List {
	l, _ := builtin()
	return l
}

// BuiltinFindings returns what Parse, Merge and Check say of the built-in list: nothing, as a test
// demands.
func BuiltinFindings() finding.List {
	_, f := builtin()
	return f
}
