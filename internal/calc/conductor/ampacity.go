package conductor

import (
	"fmt"
	"math"
	"strings"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Method is a way of laying, named as the standards name it.
type Method string

// The methods that the tables know. IEC 60204-1 has B1, B2, C and E only.
const (
	MethodA1 Method = "A1" // single cores in conduit in an insulated wall
	MethodA2 Method = "A2" // multicore cable in conduit in an insulated wall
	MethodB1 Method = "B1" // single cores in conduit or trunking
	MethodB2 Method = "B2" // multicore cable in conduit or trunking
	MethodC  Method = "C"  // cable on a wall
	MethodE  Method = "E"  // cable on a perforated tray or in free air
)

// Laying says how a conductor lies. The zero values of Circuits and LoadedCores mean "alone" and
// "no multicore factor".
type Laying struct {
	Method      Method
	Ambient     quantity.Temperature // air round the cable
	Circuits    int                  // loaded circuits lying together, this one included; 0 and 1: alone
	LoadedCores int                  // loaded cores within one multicore cable; up to 3 need no factor
}

// Rating is an ampacity with the factors it came from.
type Rating struct {
	Base        quantity.Current // table value before factors
	Ambient     float64
	Grouping    float64
	Multicore   float64
	Ampacity    quantity.Current // Base * Ambient * Grouping * Multicore
	TableArea   quantity.CrossSection
	BaseSource  string // cite references
	GroupSource string
}

// FormulaAmpacity gives what a conductor may carry as laid.
var FormulaAmpacity = &formula.Formula{
	Name: "conductor.ampacity",
	Text: "base * ambient * grouping * multicore",
	Inputs: []formula.Input{
		{Name: "base", Unit: "A", Doc: "table value for size and method of laying"},
		{Name: "ambient", Unit: "1", Doc: "factor for the ambient temperature"},
		{Name: "grouping", Unit: "1", Doc: "factor for loaded circuits together"},
		{Name: "multicore", Unit: "1", Doc: "factor for loaded cores in one cable"},
	},
	Result: formula.Input{Name: "iz", Unit: "A", Doc: "current-carrying capacity"},
	Source: "iec-60204-1#12.4",
	Eval:   func(x []float64) float64 { return x[0] * x[1] * x[2] * x[3] },
}

// table6 is IEC 60204-1:2016 table 6 (same in :2005): copper, PVC, 40 degC, three loaded
// conductors; amperes for B1, B2, C, E. B2, C and E were seen in two independent manuals, B1 is
// from memory (1.5 to 35 mm2 equal IEC 60364-5-52 table B.52.4 times 0.87). The three first rows
// are the table's lines for electronics in pairs, from memory, and have no B1.
var table6 = []struct {
	mm2, b1, b2, c, e float64
	source            string
}{
	{0.2, 0, 4.3, 4.4, 4.4, "from-memory#iec-60204-1-table-6-pairs"},
	{0.5, 0, 7.5, 7.5, 7.8, "from-memory#iec-60204-1-table-6-pairs"},
	{0.75, 8.6, 8.5, 9.8, 10.4, "iec-60204-1#table-6"},
	{1, 10.3, 10.1, 11.7, 12.4, "iec-60204-1#table-6"},
	{1.5, 13.5, 13.1, 15.2, 16.1, "iec-60204-1#table-6"},
	{2.5, 18.3, 17.4, 21, 22, "iec-60204-1#table-6"},
	{4, 24, 23, 28, 30, "iec-60204-1#table-6"},
	{6, 31, 30, 36, 37, "iec-60204-1#table-6"},
	{10, 44, 40, 50, 52, "iec-60204-1#table-6"},
	{16, 59, 54, 66, 70, "iec-60204-1#table-6"},
	{25, 77, 70, 84, 88, "iec-60204-1#table-6"},
	{35, 96, 86, 104, 110, "iec-60204-1#table-6"},
	{50, 117, 103, 125, 133, "iec-60204-1#table-6"},
	{70, 149, 130, 160, 171, "iec-60204-1#table-6"},
	{95, 180, 156, 194, 207, "iec-60204-1#table-6"},
	{120, 208, 179, 225, 240, "iec-60204-1#table-6"},
}

type point struct{ x, y float64 }

// tableD1 is IEC 60204-1 table D.1: factor on the 40 degC values, PVC.
var tableD1 = []point{{30, 1.15}, {35, 1.08}, {40, 1.0}, {45, 0.91}, {50, 0.82}, {55, 0.71}, {60, 0.58}}

// tableD3 is IEC 60204-1 table D.3, loaded conductors in one multicore cable up to 10 mm2. From memory.
var tableD3 = []struct {
	cores  int
	factor float64
}{{3, 1}, {5, 0.75}, {7, 0.65}, {10, 0.55}, {24, 0.40}}

// between interpolates linearly. Left of the first point it returns the first value: a cooler
// ambient than the table's earns nothing. Both ambient tables are concave, so the chord between
// two rows is never above the true curve.
func between(table []point, x float64) float64 {
	if x <= table[0].x {
		return table[0].y
	}
	for i := 1; i < len(table); i++ {
		if a, b := table[i-1], table[i]; x <= b.x {
			return a.y + (b.y-a.y)*(x-a.x)/(b.x-a.x)
		}
	}
	return table[len(table)-1].y
}

// AmbientFactor returns IEC 60204-1's factor on its 40 degC ampacities, PVC insulation.
//
// Between rows it interpolates linearly, below 30 degC it stays at 1.15. It returns a
// calc.RangeError above 60 degC, where PVC has no rating left in that table, and below -50 degC.
//
// Source: IEC 60204-1 annex D table D.1.
func AmbientFactor(ambient quantity.Temperature) (float64, error) {
	if err := calc.Within("ambient temperature (IEC 60204-1 table D.1)", ambient, -50, 60, "degC"); err != nil {
		return 0, err
	}
	return between(tableD1, float64(ambient)), nil
}

// MulticoreFactor returns IEC 60204-1's factor for loaded cores within one multicore cable. A
// count between rows takes the next larger row; above 24 it falls with the square root of the count.
//
// Source: IEC 60204-1 annex D table D.3, from memory; above 24 common practice.
func MulticoreFactor(loaded int) (float64, error) {
	if err := calc.Count("loaded cores", loaded, 0, 1000); err != nil {
		return 0, err
	}
	for _, r := range tableD3 {
		if loaded <= r.cores {
			return r.factor, nil
		}
	}
	return 0.40 * math.Sqrt(24/float64(loaded)), nil
}

// grouping is IEC 60364-5-52 table B.52.17: item 1 (bunched), 2 (single layer on a wall), 4
// (single layer on a perforated tray). IEC 60204-1 table D.2 has the rows 2, 4, 6 and 9 of it for
// B1/B2, C and E. Item 1 was seen, items 2 and 4 are from memory.
var grouping = []struct {
	circuits              int
	bunched, wall, onTray float64
}{
	{1, 1, 1, 1},
	{2, 0.8, 0.85, 0.88},
	{3, 0.7, 0.79, 0.82},
	{4, 0.65, 0.75, 0.77},
	{5, 0.6, 0.73, 0.75},
	{6, 0.57, 0.72, 0.73},
	{7, 0.54, 0.72, 0.73},
	{8, 0.52, 0.71, 0.72},
	{9, 0.5, 0.7, 0.72},
	{12, 0.45, 0.7, 0.72},
	{16, 0.41, 0.7, 0.72},
	{20, 0.38, 0.7, 0.72},
}

// GroupingFactor returns the factor for loaded circuits that lie together: bunched for A1, A2, B1
// and B2, single layer on a wall for C, single layer on a perforated tray for E.
//
// A count between rows takes the next larger row. In a single layer nine circuits and more have
// one factor. More than 20 bunched circuits take 1/sqrt(n), the standard's rule for mixed groups.
//
// Source: IEC 60204-1 annex D table D.2, whose rows are those of IEC 60364-5-52 table B.52.17;
// counts between its rows are read there. Bunched seen, the two others from memory.
func GroupingFactor(m Method, circuits int) (float64, error) {
	if err := calc.Count("circuits together", circuits, 0, 1000); err != nil {
		return 0, err
	}
	for _, r := range grouping {
		if circuits > r.circuits && r.circuits != 20 {
			continue
		}
		switch m {
		case MethodC:
			return r.wall, nil
		case MethodE:
			return r.onTray, nil
		case MethodA1, MethodA2, MethodB1, MethodB2:
			if circuits > 20 {
				return 1 / math.Sqrt(float64(circuits)), nil
			}
			return r.bunched, nil
		}
		break
	}
	return 0, unknownMethod(m, "A1, A2, B1, B2, C, E")
}

func unknownMethod(m Method, allowed string) error {
	return &calc.ChoiceError{Name: "method of laying", Seen: fmt.Sprintf("%q", string(m)), Allowed: allowed}
}

// Rate returns the ampacity of a copper conductor with PVC insulation in or at a machine, with the
// factors it came from.
//
// A size between rows takes the next smaller row. The table is for three loaded conductors, which
// is on the safe side for the two of a DC circuit. Errors: a calc.RangeError for a size below 0.2
// or above 120 mm2 or an ambient above 60 degC, a calc.ChoiceError for a method the table lacks.
//
// Source: IEC 60204-1:2016 12.4 and table 6, annex D tables D.1 to D.3 (D.3, B1 and sizes
// below 0.75 mm2 from memory).
func Rate(area quantity.CrossSection, l Laying) (Rating, error) {
	if err := calc.Within("cross-section (IEC 60204-1 table 6)", area, table6[0].mm2, table6[len(table6)-1].mm2, "mm2"); err != nil {
		return Rating{}, err
	}
	var r Rating
	for _, row := range table6 {
		if row.mm2 > float64(area)*(1+1e-9) {
			break
		}
		base := map[Method]float64{MethodB1: row.b1, MethodB2: row.b2, MethodC: row.c, MethodE: row.e}[l.Method]
		r.Base, r.TableArea, r.BaseSource = quantity.Current(base), quantity.CrossSection(row.mm2), row.source
	}
	if r.Base == 0 {
		if l.Method == MethodB1 {
			return Rating{}, &calc.RangeError{Name: "cross-section laid as B1", Value: float64(area), Unit: "mm2", Min: 0.75, Max: 120}
		}
		return Rating{}, unknownMethod(l.Method, "B1, B2, C, E (IEC 60204-1)")
	}
	return r.finish(l, AmbientFactor)
}

func (r Rating) finish(l Laying, ambient func(quantity.Temperature) (float64, error)) (Rating, error) {
	var err error
	if r.Ambient, err = ambient(l.Ambient); err != nil {
		return Rating{}, err
	}
	if r.Grouping, err = GroupingFactor(l.Method, l.Circuits); err != nil {
		return Rating{}, err
	}
	if r.Multicore, err = MulticoreFactor(l.LoadedCores); err != nil {
		return Rating{}, err
	}
	r.GroupSource = "iec-60364-5-52#table-B.52.17"
	r.Ampacity = quantity.Current(FormulaAmpacity.Eval([]float64{float64(r.Base), r.Ambient, r.Grouping, r.Multicore}))
	return r, nil
}

// Ampacity returns what Rate finds: the current-carrying capacity by IEC 60204-1.
func Ampacity(area quantity.CrossSection, l Laying) (quantity.Current, error) {
	r, err := Rate(area, l)
	return r.Ampacity, err
}

// SmallestFor returns the smallest size of a class that may carry i as laid, with its rating by IEC
// 60204-1. It returns a calc.RangeError if even the largest may not.
func SmallestFor(i quantity.Current, class Class, l Laying) (quantity.CrossSection, Rating, error) {
	if err := calc.Current("current", i); err != nil {
		return 0, Rating{}, err
	}
	var last Rating
	for _, area := range Sizes(class) {
		if float64(area) < 0.2 || float64(area) < 0.75 && l.Method == MethodB1 {
			continue
		}
		r, err := Rate(area, l)
		if err != nil {
			return 0, Rating{}, err
		}
		if r.Ampacity >= i {
			return area, r, nil
		}
		last = r
	}
	return 0, Rating{}, &calc.RangeError{Name: "current as laid", Value: float64(i), Unit: "A", Max: float64(last.Ampacity)}
}

// building is IEC 60364-5-52:2009 tables B.52.2, B.52.4 and B.52.10: copper, PVC 70 degC, 30 degC
// air; for each method two, then three loaded conductors; 0: no value. A2, B2 and C were seen,
// the rest is from memory.
var building = []struct {
	mm2                    float64
	a1, a2, b1, b2, cc, ee [2]float64
}{
	{1, [2]float64{}, [2]float64{11, 10}, [2]float64{}, [2]float64{13, 11.5}, [2]float64{15, 13.5}, [2]float64{}},
	{1.5, [2]float64{14.5, 13.5}, [2]float64{14, 13}, [2]float64{17.5, 15.5}, [2]float64{16.5, 15}, [2]float64{19.5, 17.5}, [2]float64{22, 18.5}},
	{2.5, [2]float64{19.5, 18}, [2]float64{18.5, 17.5}, [2]float64{24, 21}, [2]float64{23, 20}, [2]float64{27, 24}, [2]float64{30, 25}},
	{4, [2]float64{26, 24}, [2]float64{25, 23}, [2]float64{32, 28}, [2]float64{30, 27}, [2]float64{36, 32}, [2]float64{40, 34}},
	{6, [2]float64{34, 31}, [2]float64{32, 29}, [2]float64{41, 36}, [2]float64{38, 34}, [2]float64{46, 41}, [2]float64{51, 43}},
	{10, [2]float64{46, 42}, [2]float64{43, 39}, [2]float64{57, 50}, [2]float64{52, 46}, [2]float64{63, 57}, [2]float64{70, 60}},
	{16, [2]float64{61, 56}, [2]float64{57, 52}, [2]float64{76, 68}, [2]float64{69, 62}, [2]float64{85, 76}, [2]float64{94, 80}},
	{25, [2]float64{80, 73}, [2]float64{75, 68}, [2]float64{101, 89}, [2]float64{90, 80}, [2]float64{112, 96}, [2]float64{119, 101}},
	{35, [2]float64{99, 89}, [2]float64{92, 83}, [2]float64{125, 110}, [2]float64{111, 99}, [2]float64{138, 119}, [2]float64{148, 126}},
}

// tableB5214 is IEC 60364-5-52 table B.52.14 for PVC in air.
var tableB5214 = []point{{10, 1.22}, {15, 1.17}, {20, 1.12}, {25, 1.06}, {30, 1}, {35, 0.94}, {40, 0.87}, {45, 0.79}, {50, 0.71}, {55, 0.61}, {60, 0.5}}

// BuildingAmbientFactor returns IEC 60364-5-52's factor on its 30 degC ampacities, PVC insulation:
// linear between rows, 1.22 below 10 degC, a calc.RangeError above 60 degC.
//
// Source: IEC 60364-5-52:2009 table B.52.14.
func BuildingAmbientFactor(ambient quantity.Temperature) (float64, error) {
	if err := calc.Within("ambient temperature (IEC 60364-5-52 table B.52.14)", ambient, -50, 60, "degC"); err != nil {
		return 0, err
	}
	return between(tableB5214, float64(ambient)), nil
}

// RateBuilding returns the ampacity of a copper conductor with PVC insulation as part of a fixed
// building installation, for two or three loaded conductors. Sizes 1 to 35 mm2; a size between rows
// takes the next smaller row.
//
// Source: IEC 60364-5-52:2009 tables B.52.2, B.52.4, B.52.10, B.52.14, B.52.17 (A1, B1 and E from memory).
func RateBuilding(area quantity.CrossSection, loaded int, l Laying) (Rating, error) {
	if err := calc.Count("loaded conductors", loaded, 2, 3); err != nil {
		return Rating{}, err
	}
	if err := calc.Within("cross-section (IEC 60364-5-52)", area, building[0].mm2, building[len(building)-1].mm2, "mm2"); err != nil {
		return Rating{}, err
	}
	var r Rating
	for _, row := range building {
		if row.mm2 > float64(area)*(1+1e-9) {
			break
		}
		base := map[Method][2]float64{MethodA1: row.a1, MethodA2: row.a2, MethodB1: row.b1, MethodB2: row.b2, MethodC: row.cc, MethodE: row.ee}[l.Method]
		r.Base, r.TableArea, r.BaseSource = quantity.Current(base[loaded-2]), quantity.CrossSection(row.mm2), "iec-60364-5-52#tables-B.52.2-4-10"
	}
	if r.Base == 0 {
		if strings.Contains("A1 B1 E", string(l.Method)) && l.Method != "" {
			return Rating{}, &calc.RangeError{Name: "cross-section laid as " + string(l.Method), Value: float64(area), Unit: "mm2", Min: 1.5, Max: 35}
		}
		return Rating{}, unknownMethod(l.Method, "A1, A2, B1, B2, C, E")
	}
	return r.finish(l, BuildingAmbientFactor)
}
