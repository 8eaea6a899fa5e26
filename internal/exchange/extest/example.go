package extest

import (
	"sync"

	"railwright/internal/demo"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/plan"
)

// Example is the built-in example, planned once for all tests of a package.
var Example = sync.OnceValue(func() World {
	files := folder.Files{}
	for _, f := range demo.Files() {
		files[f.Name] = f.Data
	}
	f := folder.Parse(files)
	list := hardware.Builtin()
	d, err := plan.Run(f.Project, list, plan.Options{Unplaced: f.LeftOut})
	if err != nil {
		panic(err)
	}
	return World{Design: d, Project: f.Project, Hardware: list}
})
