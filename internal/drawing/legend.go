package drawing

import (
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// mark is one entry of a legend: a sample drawn into a rectangle of sampleW x sampleH, and what it means.
type mark struct {
	words string // key in the catalogue
	draw  func(p scene.Pen, r scene.Rect)
}

const (
	sampleW, sampleH = 10.0, 4.5
	legendRow        = 5.5
	legendGap        = 5.0
)

// legendSpot is where one entry stands.
type legendSpot struct {
	sample scene.Rect
	text   scene.Rect
	words  string
}

// legendSpots lays the entries from left to right in rows, from the top of free downwards; it returns the
// height they take.
func (b *book) legendSpots(free scene.Rect, marks []mark) (spots []legendSpot, height float64) {
	if len(marks) == 0 {
		return nil, 0
	}
	x, y := free.X, free.Y
	for _, m := range marks {
		words := typeface.Printable(b.legendWords(m.words))
		w := min(typeface.Width(typeface.Regular, words, paper.Small)+0.2, free.W-sampleW-2)
		if total := sampleW + 1.5 + w; x > free.X && x+total > free.X+free.W {
			x, y = free.X, y+legendRow
		}
		spots = append(spots, legendSpot{
			scene.Rect{X: x, Y: y + (legendRow-sampleH)/2, W: sampleW, H: sampleH},
			scene.Rect{X: x + sampleW + 1.5, Y: y, W: w, H: legendRow},
			words,
		})
		x += sampleW + 1.5 + w + legendGap
	}
	return spots, y + legendRow - free.Y
}

func (b *book) legendWords(key string) string { return b.Setting.Say("drawing.legend." + key) }

// legendHeight is the height that legend takes from the bottom of free.
func (b *book) legendHeight(free scene.Rect, marks []mark) float64 {
	if len(marks) == 0 {
		return 0
	}
	_, h := b.legendSpots(free, marks)
	return h + 3
}

// legend draws the entries along the bottom of free and returns the height taken from it.
func (b *book) legend(p scene.Pen, free scene.Rect, marks []mark) float64 {
	if len(marks) == 0 {
		return 0
	}
	h := b.legendHeight(free, marks)
	top := free.Y + free.H - h
	spots, _ := b.legendSpots(scene.Rect{X: free.X, Y: top + 2, W: free.W, H: h}, marks)
	p = p.On("legend").For("", "legend").Font(typeface.Regular, paper.Small)
	p.Wide(scene.Hair).Line(free.X, top+1, free.X+free.W, top+1)
	for i, s := range spots {
		marks[i].draw(p, s.sample)
		p.TextIn(s.text, scene.Left, paper.Small*0.8, s.words)
	}
	return h
}
