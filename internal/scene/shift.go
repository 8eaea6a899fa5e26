package scene

// Shift returns copies of items moved to the right and down, for placing a small drawing on a sheet.
func Shift(items []Item, dx, dy float64) []Item {
	out := make([]Item, len(items))
	move := func(p Point) Point { return Point{round(p.X + dx), round(p.Y + dy)} }
	for i, it := range items {
		switch {
		case it.Path != nil:
			p := *it.Path
			p.Points = make([]Point, len(it.Path.Points))
			for k, q := range it.Path.Points {
				p.Points[k] = move(q)
			}
			it.Path = &p
		case it.Circle != nil:
			c := *it.Circle
			c.Center = move(c.Center)
			it.Circle = &c
		case it.Arc != nil:
			a := *it.Arc
			a.Center = move(a.Center)
			it.Arc = &a
		case it.Text != nil:
			t := *it.Text
			t.At = move(t.At)
			if t.Box != nil {
				b := roundRect(Rect{t.Box.X + dx, t.Box.Y + dy, t.Box.W, t.Box.H})
				t.Box = &b
			}
			it.Text = &t
		}
		out[i] = it
	}
	return out
}

// Items returns every item of the sheet in painting order, layers forgotten.
func (s *Sheet) Items() []Item {
	var out []Item
	for i := range s.Layers {
		out = append(out, s.Layers[i].Items...)
	}
	return out
}
