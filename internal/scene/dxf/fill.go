package dxf

import "railwright/internal/scene"

// triangles cuts a simple polygon into triangles by taking off one ear after the other. Of a polygon that
// crosses itself it returns what it could cut.
func triangles(points []scene.Point) [][3]scene.Point {
	rest := append([]scene.Point(nil), points...)
	if area(rest) < 0 {
		for i, j := 0, len(rest)-1; i < j; i, j = i+1, j-1 {
			rest[i], rest[j] = rest[j], rest[i]
		}
	}
	var out [][3]scene.Point
	for len(rest) >= 3 {
		i := ear(rest)
		if i < 0 {
			break
		}
		a, b, c := corner(rest, i)
		if cross(a, b, c) > 0 {
			out = append(out, [3]scene.Point{a, b, c})
		}
		rest = append(rest[:i], rest[i+1:]...)
	}
	return out
}

// ear finds a corner that can be cut off: not turned inwards, and no other corner inside; -1 if none.
func ear(p []scene.Point) int {
	for i := range p {
		a, b, c := corner(p, i)
		if cross(a, b, c) < 0 {
			continue
		}
		free := true
		for _, q := range p {
			if q != a && q != b && q != c && cross(a, b, q) > 0 && cross(b, c, q) > 0 && cross(c, a, q) > 0 {
				free = false
			}
		}
		if free {
			return i
		}
	}
	return -1
}

func corner(p []scene.Point, i int) (a, b, c scene.Point) {
	n := len(p)
	return p[(i+n-1)%n], p[i], p[(i+1)%n]
}

func cross(a, b, c scene.Point) float64 {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}

func area(p []scene.Point) float64 {
	sum := 0.0
	for i := range p {
		q := p[(i+1)%len(p)]
		sum += p[i].X*q.Y - q.X*p[i].Y
	}
	return sum / 2
}
