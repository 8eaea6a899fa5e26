package plan

import (
	"railwright/internal/circuit"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/formula"
	"railwright/internal/hardware"
	"railwright/internal/network"
	"railwright/internal/power"
	"railwright/internal/project"
)

// figures computes what nothing is decided by: temperatures, fault currents, circuits, times. Their
// order matters, since each leans on the records of those before it.
func figures(d *design.Design, p *project.Project, list *hardware.List, book *formula.Book) {
	v := figure.Look(d, p, list)
	power.Figures(v, book)
	circuit.Figures(v, book)
	network.Figures(v, book)
}
