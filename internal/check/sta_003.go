package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "STA-003", Title: "Station longer than its limits",
	Why:     "Modules beyond the last slot are not addressed, and a rail longer than the enclosure cannot be built.",
	Example: "A hand-fixed slot 34 on a construction of 32 slots; move the module to a second station.",
	Source:  "arithmetic", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			con, ok1 := f.List.Construction(st.Construction)
			c, ok2 := f.List.Coupler(st.Coupler)
			if !ok1 || !ok2 {
				continue
			}
			slots, rail := min(con.MaxSlots, c.MaxSlots), int64(con.MaxRail)
			if p := f.Places[st.Place]; p != nil {
				if p.MaxSlots > 0 {
					slots = min(slots, p.MaxSlots)
				}
				if p.MaxRail > 0 {
					rail = min(rail, int64(p.MaxRail))
				}
			}
			if len(st.Slots) <= slots && st.RailMM <= rail && len(st.SupplyGroups) <= con.MaxGroups {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "station:" + st.ID,
				Message: fmt.Sprintf("%s has %d slots on %d mm of rail with %d supply groups; %d slots, %d mm and %d groups allowed.",
					st.ID, len(st.Slots), st.RailMM, len(st.SupplyGroups), slots, rail, con.MaxGroups),
				Figures: figures("slots", float64(len(st.Slots)), "1", "max_slots", float64(slots), "1", "rail_mm", float64(st.RailMM), "mm", "max_rail_mm", float64(rail), "mm"),
				Remedy:  finding.Remedy{Text: "Release fixed slots, or allow a second station at the place (max_stations)."},
			})
		}
		return out
	},
})
