package plan

import (
	"math"

	"railwright/internal/calc/heat"
	"railwright/internal/hardware"
	"railwright/internal/packing"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// enclose chooses the enclosure of a complete station (docs/plan-rules.md, section 9): the cheapest that
// holds it, keeps it cool and lets its supply units give what they must; where none does that, the cheapest
// that keeps it cool, else the cheapest that holds it; false where none does. One that a choice fixes stays.
func (pr *problem) enclose(s *site, st *packing.Station, id string) bool {
	width := st.Rail
	for i := range st.Groups {
		width += st.Groups[i].Protection.Width
	}
	for _, p := range st.Supplies {
		width += p.Unit.Width * q.Millimetres(p.Count)
	}
	if !pr.installed(id) {
		width = q.Millimetres(q.CeilDiv(int64(width)*(1000+s.prices.Reserve), 1000))
	}
	fixed := pr.g.choices.enclosure[id]
	warm := pr.warmth(s, st)
	var holds, cool *hardware.Enclosure
	for _, e := range s.prices.Enclosures {
		if e.Row < st.Rail || e.Rail < width || fixed != "" && e.Code != fixed {
			continue
		}
		if holds == nil {
			holds = e
		}
		inside, ok := warm.inside(e)
		if ok && cool == nil {
			cool = e
		}
		if ok && warm.fed(inside) {
			cool = e
			break
		}
	}
	if cool != nil {
		holds = cool
	}
	if holds == nil {
		return false
	}
	st.Cost.Total += holds.Price - st.Enclosure.Price
	st.Enclosure = holds
	return true
}

// installed reports whether a slot of the station is fixed because it is installed: then it may be filled up.
func (pr *problem) installed(id string) bool {
	for n := range pr.g.choices.slots[id] {
		if pr.g.choices.built(id, n) {
			return true
		}
	}
	return false
}

// warmth is what heats a station and what its parts bear.
type warmth struct {
	losses  float64 // W, all loads on
	ambient float64 // degC, highest
	limit   float64 // degC, of the most delicate part at the site's altitude
	k       float64 // W/m2K
	faces   [4]float64
	known   bool
	units   []tariff.SupplyPick
}

func (pr *problem) warmth(s *site, st *packing.Station) warmth {
	basis := &pr.g.p.Basis
	w := warmth{units: st.Supplies, ambient: float64(s.prices.Site.Ambient), k: basis.Climate.K}
	rear, left, right, top, err := heat.Factors(heat.Mounting(basis.Climate.Mounting))
	w.faces, w.known = [4]float64{rear, left, right, top}, err == nil && w.k > 0
	most, milliwatts := st.Coupler.AmbientMax, st.Coupler.Heat
	for i := range st.Slots {
		milliwatts += st.Slots[i].Module.Heat
		most = min(most, st.Slots[i].Module.AmbientMax)
	}
	for i := range st.Groups {
		milliwatts += st.Groups[i].Protection.Heat
	}
	w.losses = float64(milliwatts) / 1000
	for _, p := range st.Supplies {
		w.losses += loss(p)
		most = min(most, p.Unit.AmbientMax)
	}
	w.limit = heat.FormulaAltitudeLimit.Eval([]float64{float64(most), float64(basis.Altitude)})
	return w
}

// inside is the air in an enclosure, and whether it stays within what the parts bear, in whole hundredths of
// a kelvin, and the losses within what its maker allows.
func (w *warmth) inside(e *hardware.Enclosure) (degC float64, ok bool) {
	if !w.known {
		return w.ambient, true
	}
	if e.MaxHeat > 0 && math.Round(1000*w.losses) > float64(e.MaxHeat) {
		return 0, false
	}
	area := heat.FormulaSurface.Eval([]float64{e.Height.Metres(), e.Width.Metres(), e.Depth.Metres(), w.faces[0], w.faces[1], w.faces[2], w.faces[3]})
	degC = heat.FormulaInside.Eval([]float64{w.ambient, w.losses, w.k, area})
	return degC, math.Round(100*degC) <= math.Round(100*w.limit)
}

// fed reports whether the supply units give what they must in air of a temperature.
func (w *warmth) fed(degC float64) bool {
	if !w.known {
		return true
	}
	for _, p := range w.units {
		if tariff.Derated(p.Unit, q.Temperature(degC))*q.Microamps(p.Count-p.Spare) < p.Need {
			return false
		}
	}
	return true
}
