package schedule

import (
	"slices"
	"strconv"
	"strings"

	"railwright/internal/calc/conductor"
	"railwright/internal/design"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// tip is how a wire's ends are made.
type tip struct {
	ferrule bool
	size    float64 // of the ferrule, mm2
	colour  string  // of its collar; "" where the standard has none
	sleeve  float64 // mm
	strip   float64 // mm
}

// tipOf says how the ends of a conductor are made. Solid conductors take no ferrule, and neither does a
// wire of unknown make.
func tipOf(mm2 float64, stranded, twin bool) tip {
	if !stranded {
		return tip{}
	}
	f, err := conductor.FerruleFor(q.CrossSection(mm2), twin)
	if err != nil {
		return tip{}
	}
	return tip{true, float64(f.Area), f.Colour, round(float64(f.Sleeve)*1000, 10), round(float64(f.Strip)*1000, 10)}
}

// cells are the columns ferrule_mm2, ferrule_colour, sleeve_mm and strip_mm.
func (t tip) cells() []Cell {
	if !t.ferrule {
		return make([]Cell, 4)
	}
	return []Cell{number(t.size), text(t.colour), number(t.sleeve), number(t.strip)}
}

// stranded reports whether the cores of a cable are many wires: classes 2, 5 and 6 of IEC 60228. A wire
// without a cable is a conductor inside an enclosure, which is flexible.
func stranded(c *design.Cable, k *hardware.Cable) bool {
	if c == nil {
		return true
	}
	return k != nil && (k.Class == 2 || k.Class == 5 || k.Class == 6)
}

// legs are the colours of the + core of extension and compensating cables; the - core is white.
// Source: IEC 60584-3:2007, from memory.
var legs = map[string]string{
	"K": "green", "J": "black", "T": "brown", "E": "violet", "N": "pink", "R": "orange", "S": "orange", "B": "grey",
}

// mark is what an electrician sees on a core: the colour code of IEC 60757 where the hardware list says
// the colours of the type's cores; of extension cables the colour of the thermocouple, with the number of
// the pair before it where there are several; else the core's number.
func mark(core string, k *hardware.Cable) string {
	if k == nil {
		return core
	}
	if n, err := strconv.Atoi(core); err == nil && n >= 1 && n <= len(k.Colours) {
		return k.Colours[n-1]
	}
	leg, ok := legs[strings.TrimPrefix(k.Family, "thermocouple-")]
	n, err := strconv.Atoi(core)
	if !ok || err != nil || !strings.HasPrefix(k.Family, "thermocouple-") {
		return core
	}
	if n%2 == 0 {
		leg = "white"
	}
	code, err := conductor.ColourCode(leg)
	if err != nil {
		return core
	}
	if k.Cores > 2 {
		return strconv.Itoa((n+1)/2) + " " + code
	}
	return code
}

// gauge is the American wire gauge of an area: "14", "1/0".
func gauge(mm2 float64) string {
	n, err := conductor.SoldAWG(q.CrossSection(mm2))
	if err != nil {
		return ""
	}
	return n.String()
}

// gauges adds a column of gauges for the first column of areas, for those who buy by gauge.
func (t *Table) gauges() {
	at := -1
	for i, h := range t.Heads {
		if strings.HasSuffix(h, "_mm2") && !strings.HasPrefix(h, "m") {
			at = i
			break
		}
	}
	if at < 0 {
		return
	}
	t.Heads = append(t.Heads[:len(t.Heads):len(t.Heads)], "awg")
	if i := slices.Index(t.Paper, t.Heads[at]); i >= 0 {
		t.Paper = slices.Insert(slices.Clone(t.Paper), i+1, "awg")
	}
	for i, row := range t.Rows {
		c := Cell{}
		if row[at].Kind == Number && !(t.Total && i == len(t.Rows)-1) {
			c = text(gauge(row[at].Number))
		}
		t.Rows[i] = append(row[:len(row):len(row)], c)
	}
}
