package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "PWR-016", Title: "Field cables not protected against overload",
	Why:     "Behind outputs that no short spares, and behind sensors that are fed straight from a group, the group's device is all that protects the field cables: Ib <= In <= Iz and I2 <= 1.45 Iz for their cores too.",
	Example: "A device of 10 A before sensors on 0.5 mm2, which bear 4 A in a bundle; take a device of 3 A, or fuse terminals.",
	Source:  "iec-60364-4-43#433.1", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		weak := thinnest(f)
		return groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			w, ok := weak[g.ID]
			d, ok2 := f.List.Protection(g.Protection)
			if !ok || !ok2 {
				return finding.Finding{}, false
			}
			m, ok := figure.MultiplesOf(d, figure.DC(g))
			in, i2 := amps(d.Rating.Current()), m.Conventional*amps(d.Rating.Current())
			const slack = 1 + 1e-9
			if !ok || in <= w.iz*slack && i2 <= 1.45*w.iz*slack {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Warning, Calculation: "signal:" + w.signal + ".ampacity",
				Message: fmt.Sprintf("%s before group %d of %s lets %s A through and surely trips at %.1f A in the conventional time; the cable of %s (%s mm2) bears %.1f A as laid.", d.Code, g.Group, st.ID, num(in, 2), i2, w.tag, num(w.area, 2), w.iz),
				Figures: figures("in_a", in, "A", "iz_a", w.iz, "A", "i2_a", i2, "A", "i2_max_a", 1.45*w.iz, "A"),
				Remedy:  finding.Remedy{Text: "Take a device of a lower rating or fewer signals in the group, fuse terminals for the field cables, or a larger conductor. A cable that no overload can reach (a sensor with a limited current) may be left to the device's short-circuit protection by a competent person (433.3.1)."},
			}
			return x, true
		})
	},
})

// weakField is the cable of least ampacity behind a group's device.
type weakField struct {
	signal, tag string
	iz, area    float64
}

// thinnest finds, of each group by id, the field cable behind its device that bears least.
func thinnest(f *Facts) map[string]weakField {
	out := map[string]weakField{}
	for _, id := range f.Placed {
		s, at := f.Signals[id], f.Seats[id]
		if s == nil || at.Group == nil || at.Cable == nil {
			continue
		}
		iz, ok := figureOf(f, s, "ampacity")
		if have, seen := out[at.Group.ID]; ok && (!seen || iz < have.iz) {
			out[at.Group.ID] = weakField{id, s.Tag, iz, at.Cable.AreaMM2}
		}
	}
	return out
}
