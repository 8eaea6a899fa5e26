package drawing

// gauges are the even American wire gauges and their areas in mm², thin to thick.
// Source: ASTM B258, diameter = 0.127 mm x 92^((36 - n)/39).
var gauges = []struct {
	name string
	mm2  float64
}{
	{"26", 0.129}, {"24", 0.205}, {"22", 0.326}, {"20", 0.519}, {"18", 0.823}, {"16", 1.309}, {"14", 2.082}, {"12", 3.310}, {"10", 5.263},
	{"8", 8.368}, {"6", 13.30}, {"4", 21.15}, {"2", 33.63}, {"1/0", 53.49}, {"2/0", 67.44}, {"3/0", 85.03}, {"4/0", 107.2},
}

// awgOf is the thinnest gauge that has at least the area; false above the thickest.
func awgOf(mm2 float64) (string, bool) {
	for _, g := range gauges {
		if g.mm2 >= mm2 {
			return g.name, true
		}
	}
	return "", false
}
