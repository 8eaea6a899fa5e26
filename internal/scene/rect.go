package scene

// Right returns the x of the right side.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom returns the y of the lower side.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// MidX returns the x of the middle.
func (r Rect) MidX() float64 { return r.X + r.W/2 }

// MidY returns the y of the middle.
func (r Rect) MidY() float64 { return r.Y + r.H/2 }

// Top returns the upper part of the given height.
func (r Rect) Top(h float64) Rect { return Rect{r.X, r.Y, r.W, h} }

// Below returns what is left under the upper part of the given height.
func (r Rect) Below(h float64) Rect { return Rect{r.X, r.Y + h, r.W, max(r.H-h, 0)} }

// Text reports every text of the sheet, in painting order.
func (s *Sheet) Text(see func(layer string, i *Item)) {
	s.Each(func(layer string, i *Item) {
		if i.Text != nil {
			see(layer, i)
		}
	})
}

// Each reports every item of the sheet, in painting order.
func (s *Sheet) Each(see func(layer string, i *Item)) {
	for l := range s.Layers {
		for i := range s.Layers[l].Items {
			see(s.Layers[l].Name, &s.Layers[l].Items[i])
		}
	}
}

// Bounds returns the box that an item's middle lines or ink lie in.
func (i *Item) Bounds() Rect {
	switch {
	case i.Path != nil:
		return pathBounds(i.Path.Points)
	case i.Circle != nil:
		return square(i.Circle.Center, i.Circle.Radius)
	case i.Arc != nil:
		return square(i.Arc.Center, i.Arc.Radius)
	case i.Text != nil:
		return i.Text.Bounds()
	}
	return Rect{}
}

func square(c Point, radius float64) Rect {
	return Rect{c.X - radius, c.Y - radius, 2 * radius, 2 * radius}
}

func pathBounds(points []Point) Rect {
	if len(points) == 0 {
		return Rect{}
	}
	x1, y1 := points[0].X, points[0].Y
	x2, y2 := x1, y1
	for _, p := range points[1:] {
		x1, y1, x2, y2 = min(x1, p.X), min(y1, p.Y), max(x2, p.X), max(y2, p.Y)
	}
	return Rect{x1, y1, x2 - x1, y2 - y1}
}
