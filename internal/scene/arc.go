package scene

import "math"

// Ends returns the first and the last point of an arc.
func (a *Arc) Ends() (from, to Point) { return a.at(a.Start), a.at(a.Start + a.Sweep) }

// Points returns points along the arc, at most 10 degrees apart, both ends among them.
func (a *Arc) Points() []Point {
	n := int(math.Ceil(math.Abs(a.Sweep) / 10))
	if n < 1 {
		n = 1
	}
	out := make([]Point, n+1)
	for i := range out {
		out[i] = a.at(a.Start + a.Sweep*float64(i)/float64(n))
	}
	return out
}

func (a *Arc) at(deg float64) Point {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return Point{round(a.Center.X + a.Radius*cos), round(a.Center.Y + a.Radius*sin)}
}
