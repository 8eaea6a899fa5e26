package drawing

import (
	"railwright/internal/design"
)

// stationSheets draws a station: its rail, its enclosure and the connections of each module.
func (b *book) stationSheets(st *design.Station) {
	b.railSheets(st)
	b.enclosureSheets(st)
	b.moduleSheets(st)
}
