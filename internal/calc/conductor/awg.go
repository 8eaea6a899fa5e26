package conductor

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// AWG is an American wire gauge: 24 for AWG 24, 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0.
type AWG int

// The gauges that this package takes.
const (
	ThickestAWG AWG = -3 // 4/0
	ThinnestAWG AWG = 40
)

// FormulaAWGDiameter gives a gauge's diameter.
var FormulaAWGDiameter = &formula.Formula{
	Name:   "conductor.awg_diameter",
	Text:   "0.127 * 92 ^ ((36 - awg) / 39)",
	Inputs: []formula.Input{{Name: "awg", Unit: "1", Doc: "gauge number, 0 for 1/0, -1 for 2/0"}},
	Result: formula.Input{Name: "d", Unit: "mm"},
	Source: "astm-b258#diameter",
	Eval:   func(x []float64) float64 { return 0.127 * math.Pow(92, (36-x[0])/39) },
}

// FormulaAWGArea gives a gauge's cross-section.
var FormulaAWGArea = &formula.Formula{
	Name:   "conductor.awg_area",
	Text:   "0.785398163397448 * (0.127 * 92 ^ ((36 - awg) / 39)) ^ 2",
	Inputs: []formula.Input{{Name: "awg", Unit: "1", Doc: "gauge number, 0 for 1/0, -1 for 2/0"}},
	Result: formula.Input{Name: "area", Unit: "mm2"},
	Source: "astm-b258#diameter",
	Eval: func(x []float64) float64 {
		d := 0.127 * math.Pow(92, (36-x[0])/39)
		return math.Pi / 4 * d * d
	},
}

// DiameterMM returns the gauge's diameter in millimetres: 0.127 * 92^((36-n)/39).
//
// Source: ASTM B258. Valid for 4/0 to 40; a calc.RangeError otherwise.
func (n AWG) DiameterMM() (float64, error) {
	if err := calc.Count("AWG", int(n), int(ThickestAWG), int(ThinnestAWG)); err != nil {
		return 0, err
	}
	return FormulaAWGDiameter.Eval([]float64{float64(n)}), nil
}

// Area returns the gauge's cross-section as a solid wire.
//
// Source: ASTM B258. Valid for 4/0 to 40; a calc.RangeError otherwise.
func (n AWG) Area() (quantity.CrossSection, error) {
	if err := calc.Count("AWG", int(n), int(ThickestAWG), int(ThinnestAWG)); err != nil {
		return 0, err
	}
	return quantity.CrossSection(FormulaAWGArea.Eval([]float64{float64(n)})), nil
}

// exactAWG is the gauge number, with its fraction, that has the area.
func exactAWG(area quantity.CrossSection) float64 {
	d := math.Sqrt(4 * float64(area) / math.Pi)
	return 36 - 39*math.Log(d/0.127)/math.Log(92)
}

// NearestAWG returns the gauge whose diameter is nearest to the area's, by ratio.
//
// It returns a calc.RangeError for an area beyond half a gauge outside 4/0 to 40.
func NearestAWG(area quantity.CrossSection) (AWG, error) {
	return gaugeOf(area, math.Round)
}

// AWGAtLeast returns the thinnest gauge that has at least the area.
//
// It returns a calc.RangeError for an area thicker than 4/0 or thinner than gauge 40.
func AWGAtLeast(area quantity.CrossSection) (AWG, error) {
	// The nudge keeps a gauge's own printed area from asking for the next thicker one.
	return gaugeOf(area, func(n float64) float64 { return math.Floor(n + 1e-9) })
}

// SoldAWG returns the thinnest gauge that is sold (even numbers, 1/0 and thicker) and has the area, give
// or take 3 %: AWG 20 with its 0.519 mm2 stands for 0.5 mm2, AWG 6 for 13.3 mm2.
//
// It returns a calc.RangeError for an area thicker than 4/0 or thinner than gauge 40.
//
// Source: areas ASTM B258; that odd gauges are hardly sold, and the 3 %, common practice.
func SoldAWG(area quantity.CrossSection) (AWG, error) {
	n, err := AWGAtLeast(area * 0.97)
	if err != nil {
		return 0, err
	}
	if n > 0 && n%2 == 1 {
		n--
	}
	return n, nil
}

func gaugeOf(area quantity.CrossSection, whole func(float64) float64) (AWG, error) {
	if err := calc.Section("cross-section", area); err != nil {
		return 0, err
	}
	n := whole(exactAWG(area))
	if n < float64(ThickestAWG) || n > float64(ThinnestAWG) {
		thin, _ := ThinnestAWG.Area()
		thick, _ := ThickestAWG.Area()
		return 0, &calc.RangeError{Name: "cross-section as AWG", Value: float64(area), Unit: "mm2", Min: float64(thin), Max: float64(thick)}
	}
	return AWG(n), nil
}

// String prints the gauge as the trade writes it: "24", "1/0", "4/0".
func (n AWG) String() string {
	if n <= 0 {
		return strconv.Itoa(1-int(n)) + "/0"
	}
	return strconv.Itoa(int(n))
}

// ParseAWG reads "24", "AWG 24", "AWG24", "1/0", "2/0" or "00".
func ParseAWG(s string) (AWG, error) {
	t := strings.TrimSpace(s)
	if len(t) >= 3 && strings.EqualFold(t[:3], "awg") {
		t = strings.TrimSpace(t[3:])
	}
	n, err := 0, error(nil)
	switch zeros, isOught := strings.CutSuffix(t, "/0"); {
	case isOught:
		n, err = strconv.Atoi(zeros)
		if err == nil && n < 1 {
			err = strconv.ErrRange
		}
		n = 1 - n
	case t != "" && strings.Trim(t, "0") == "":
		n = 1 - len(t)
	default:
		n, err = strconv.Atoi(t)
		if err == nil && n < 1 {
			err = strconv.ErrRange
		}
	}
	if err != nil || n < int(ThickestAWG) || n > int(ThinnestAWG) {
		return 0, &calc.ChoiceError{Name: "gauge", Seen: fmt.Sprintf("%q", s), Allowed: "AWG 4/0 to 1/0 and 1 to 40"}
	}
	return AWG(n), nil
}
