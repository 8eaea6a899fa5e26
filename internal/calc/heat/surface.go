package heat

import (
	"errors"
	"fmt"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Mounting says which faces of an enclosure are covered.
type Mounting string

// The kinds of mounting that IEC TR 60890 distinguishes.
const (
	SingleFree       Mounting = "single, free"
	SingleWall       Mounting = "single, wall"
	EndFree          Mounting = "end of row, free"
	EndWall          Mounting = "end of row, wall"
	MiddleFree       Mounting = "middle of row, free"
	MiddleWall       Mounting = "middle of row, wall"
	MiddleWallRoofed Mounting = "middle of row, wall, top covered"
)

// Mountings returns all kinds in the order of the standard.
func Mountings() []Mounting {
	return []Mounting{SingleFree, SingleWall, EndFree, EndWall, MiddleFree, MiddleWall, MiddleWallRoofed}
}

// faces are the factors of rear, left, right and top. Front is always 0.9, the floor 0.
var faces = map[Mounting][4]float64{
	SingleFree:       {0.9, 0.9, 0.9, 1.4},
	SingleWall:       {0.5, 0.9, 0.9, 1.4},
	EndFree:          {0.9, 0.5, 0.9, 1.4},
	EndWall:          {0.5, 0.5, 0.9, 1.4},
	MiddleFree:       {0.9, 0.5, 0.5, 1.4},
	MiddleWall:       {0.5, 0.5, 0.5, 1.4},
	MiddleWallRoofed: {0.5, 0.5, 0.5, 0.7},
}

// Box is an enclosure's outer size.
type Box struct{ Height, Width, Depth quantity.Length }

func (b Box) check() error {
	return errors.Join(calc.Positive("enclosure height", b.Height, 20, "m"), calc.Positive("enclosure width", b.Width, 20, "m"), calc.Positive("enclosure depth", b.Depth, 20, "m"))
}

// FormulaSurface gives the effective cooling surface.
var FormulaSurface = &formula.Formula{
	Name: "heat.surface",
	Text: "height * width * (0.9 + rear) + height * depth * (left + right) + width * depth * top",
	Inputs: []formula.Input{
		{Name: "height", Unit: "m"},
		{Name: "width", Unit: "m"},
		{Name: "depth", Unit: "m"},
		{Name: "rear", Unit: "1", Doc: "0.9 exposed, 0.5 covered"},
		{Name: "left", Unit: "1", Doc: "0.9 exposed, 0.5 covered"},
		{Name: "right", Unit: "1", Doc: "0.9 exposed, 0.5 covered"},
		{Name: "top", Unit: "1", Doc: "1.4 exposed, 0.7 covered"},
	},
	Result: formula.Input{Name: "area", Unit: "m2"},
	Source: "iec-tr-60890#table-3",
	Eval: func(x []float64) float64 {
		return x[0]*x[1]*(0.9+x[3]) + x[0]*x[2]*(x[4]+x[5]) + x[1]*x[2]*x[6]
	},
}

// Factors returns the factors of rear, left, right and top of a kind of mounting, as FormulaSurface
// takes them.
func Factors(m Mounting) (rear, left, right, top float64, err error) {
	f, ok := faces[m]
	if !ok {
		return 0, 0, 0, 0, &calc.ChoiceError{Name: "mounting", Seen: fmt.Sprintf("%q", string(m)), Allowed: fmt.Sprint(Mountings())}
	}
	return f[0], f[1], f[2], f[3], nil
}

// Surface returns the effective cooling surface of an enclosure: each face times a factor for how
// well it cools, the floor counting nothing.
//
// Source: IEC TR 60890 table 3 (exposed top 1.4, exposed sides 0.9, covered sides 0.5, covered top 0.7).
func Surface(b Box, m Mounting) (quantity.Area, error) {
	rear, left, right, top, err := Factors(m)
	if err = errors.Join(err, b.check()); err != nil {
		return 0, err
	}
	return quantity.Area(FormulaSurface.Eval([]float64{float64(b.Height), float64(b.Width), float64(b.Depth), rear, left, right, top})), nil
}

// Material is what an enclosure is made of, with its heat transfer coefficient.
type Material struct {
	Name   string
	K      float64 // W/m2K
	Source string
}

// Materials returns the materials that handbooks list. Stainless steel is also given as 3.7.
//
// Source: common practice of enclosure handbooks; plastic from memory.
func Materials() []Material {
	return []Material{
		{"painted steel", 5.5, "common-practice#k-enclosure"},
		{"stainless steel", 4.5, "common-practice#k-enclosure"},
		{"aluminium", 12, "common-practice#k-enclosure"},
		{"aluminium, double wall", 4.5, "common-practice#k-enclosure"},
		{"plastic", 3.5, "from-memory#k-enclosure"},
	}
}

// MaterialNamed returns the material of a name that Materials lists.
func MaterialNamed(name string) (Material, error) {
	allowed := ""
	for _, m := range Materials() {
		if m.Name == name {
			return m, nil
		}
		allowed += ", " + m.Name
	}
	return Material{}, &calc.ChoiceError{Name: "enclosure material", Seen: fmt.Sprintf("%q", name), Allowed: allowed[2:]}
}
