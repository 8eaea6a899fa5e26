package schedule

import (
	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/project"
	"railwright/internal/words"
)

// The ways to show the size of conductors.
const (
	MM2 = "mm2" // square millimetres only
	AWG = "awg" // a column with American wire gauges beside the square millimetres
)

// Input is what schedules are made from.
type Input struct {
	Design   *design.Design
	Project  *project.Project // the one that the design was made from
	Hardware *hardware.List   // nil: what it would say (diameters, settings, clamps) stays empty
	Previous *design.Design   // the design accepted before; nil: there is none
	Wire     string           // MM2 (also "") or AWG
}

// All is Make without hardware list and without a design to compare with.
func All(d *design.Design, p *project.Project) []Table { return Make(Input{Design: d, Project: p}) }

// Make returns every schedule of a design, always the same ones in the same order, also where one
// has no rows. The project gives the columns of the issued signal list that a design does not repeat.
func Make(in Input) []Table {
	b := &builder{Input: in, index: newIndex(in.Design, in.Hardware)}
	b.cut()
	tables := b.ofDesign()
	b.changes(&tables)
	if in.Wire == AWG {
		for i := range tables {
			tables[i].gauges()
		}
	}
	return tables
}

// builder makes the tables of one input.
type builder struct {
	Input
	*index
	drums    []drum           // all, in the order of type and number
	spool    map[string]place // cable id -> where it is cut from
	pulls    map[string]int   // cable id -> order of pulling
	points   map[string]bool  // endpoints that are terminals of channels
	groupsOf map[string]bool  // ids of supply groups
}

// ofDesign makes the tables; that of the changes stays empty.
func (b *builder) ofDesign() []Table {
	d := b.Design
	pulling := b.pulling()
	return []Table{
		b.overview(),
		b.signals(),
		b.holds(),
		stations(d),
		slots(d),
		channels(b.index),
		b.terminals(),
		b.infeedTerminals(),
		b.boxTerminals(),
		b.addresses(),
		b.settings(),
		b.stationSettings(),
		groups(d),
		supplies(d),
		feeders(d),
		protections(d),
		b.cableList(),
		b.drumList(),
		b.cuts(),
		pulling,
		b.sections(),
		b.wires(),
		b.spareCores(),
		b.ferrules(),
		b.glands(),
		b.glandPlates(),
		boxes(d),
		segments(d),
		nodes(d),
		parts(d),
		partsFor(d),
		labour(d),
		cost(d),
		b.labelsTerminals(),
		b.labelsWires(),
		b.labelsCables(),
		b.labelsModules(),
		b.labelsStations(),
		findings(d),
		unplaced(d),
		table("changes", "of", "id", "change", "column", "before", "now"),
	}
}

func table(key string, heads ...string) Table {
	return Table{Key: key, Title: words.Text("schedule." + key), Heads: heads}
}
