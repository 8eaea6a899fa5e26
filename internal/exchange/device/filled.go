package device

// SampleFigures fill everything that the invented test devices leave open, so that their entries can be
// held against the hardware list's own rules. Test support; the figures are made up.
func SampleFigures() []Figure {
	var out []Figure
	for _, s := range []string{
		"opening=each", "max_slots=8", "max_groups=8", "max_rail_mm=600", "width_mm=20", "logic_limit_ma=1000", "logic_factor=0.3", "ambient_max_c=55", "price=50",
		"supply_kind=24vdc", "own_infeed=true", "bus_limit_ma=8000", "kind=CNT", "raw_high=30000", "network=ethernet-copper",
		`DI.forms=["contact", "pnp"]`, `DO.forms=["24v"]`, `AI.forms=["4-20ma"]`, `AO.forms=["4-20ma"]`, `CNT.forms=["pulse-24v"]`, `AI.loop=["feeds"]`,
		`DI.terminals={ "supply+" = "{n}.1", signal = "{n}.2", "supply-" = "{n}.3" }`, `DO.terminals={ signal = "{n}.1", "supply-" = "{n}.2" }`,
		`AI.terminals={ "supply+" = "{n}.1", "signal+" = "{n}.2", "signal-" = "{n}.3" }`, `AO.terminals={ "signal+" = "{n}.1", "signal-" = "{n}.2" }`,
	} {
		f, err := ParseFigure(s)
		if err != nil {
			panic(err)
		}
		out = append(out, f)
	}
	return out
}
