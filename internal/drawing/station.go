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

// chapterOf is the chapter of all sheets of a station, from its supplies to its modules.
func (b *book) chapterOf(st *design.Station) string {
	return b.Setting.Say("drawing.chapter.station", st.ID)
}
