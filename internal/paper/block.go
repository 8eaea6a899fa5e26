package paper

import (
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// titleBlock draws the strip along the bottom of the frame and returns its height: whose and what, the
// revisions, and the status above the sheet's number.
func titleBlock(p *pen, set Setting, b Block, frame scene.Rect) float64 {
	const row = 4.5
	wide := frame.W >= 230
	rows := 4
	right, revisions := 40.0, 70.0
	if wide {
		right, revisions = 46, 84
	}
	h := float64(rows) * row
	strip := scene.Rect{X: frame.X, Y: frame.Y + frame.H - h, W: frame.W, H: h}
	p.line(strip.X, strip.Y, strip.X+strip.W, strip.Y, scene.Thick)

	left := strip.W - right - revisions
	project := scene.Rect{X: strip.X, Y: strip.Y, W: left, H: h / 2}
	title := scene.Rect{X: strip.X, Y: strip.Y + h/2, W: left, H: h / 2}
	if wide {
		project = scene.Rect{X: strip.X, Y: strip.Y, W: left * 0.45, H: h}
		title = scene.Rect{X: strip.X + left*0.45, Y: strip.Y, W: left * 0.55, H: h}
		p.line(title.X, strip.Y, title.X, strip.Y+h, scene.Thin)
	} else {
		p.line(strip.X, title.Y, strip.X+left, title.Y, scene.Thin)
	}
	projectCell(p, set, project)
	titleCell(p, b, title)
	revisionCell(p, set, scene.Rect{X: strip.X + left, Y: strip.Y, W: revisions, H: h}, rows)
	numberCell(p, set, scene.Rect{X: strip.X + left + revisions, Y: strip.Y, W: right, H: h})
	return h
}

func projectCell(p *pen, set Setting, r scene.Rect) {
	half := r.H / 2
	p.fitted("project", scene.Rect{X: r.X, Y: r.Y, W: r.W, H: half}, typeface.Bold, Normal, printable(set.Project), scene.Left)
	second := printable(set.Controller)
	if set.Design != "" {
		if second != "" {
			second += " · "
		}
		second += set.Say("paper.design", set.Design)
	}
	p.fitted("design", scene.Rect{X: r.X, Y: r.Y + half, W: r.W, H: half}, typeface.Regular, Small, second, scene.Left)
}

func titleCell(p *pen, b Block, r scene.Rect) {
	half := r.H / 2
	p.fitted("title", scene.Rect{X: r.X, Y: r.Y, W: r.W, H: half}, typeface.Bold, Normal, printable(b.Title), scene.Left)
	p.fitted("chapter", scene.Rect{X: r.X, Y: r.Y + half, W: r.W, H: half}, typeface.Regular, Small, printable(b.Chapter), scene.Left)
}

// revisionCell is a table of the revision with room for one more and for the names.
func revisionCell(p *pen, set Setting, r scene.Rect, rows int) {
	parts := []float64{0.14, 0.26, 0.2, 0.2, 0.2}
	heads := []string{set.Say("paper.rev"), set.Say("paper.date"), set.Say("paper.made"), set.Say("paper.checked"), set.Say("paper.approved")}
	row := r.H / float64(rows)
	for i := 1; i < rows; i++ {
		p.line(r.X, r.Y+float64(i)*row, r.X+r.W, r.Y+float64(i)*row, scene.Hair)
	}
	x := r.X
	for i, part := range parts {
		w := part * r.W
		if i == 0 {
			p.line(x, r.Y, x, r.Y+r.H, scene.Thin)
		} else {
			p.line(x, r.Y, x, r.Y+r.H, scene.Hair)
		}
		p.fitted("caption", scene.Rect{X: x, Y: r.Y, W: w, H: row}, typeface.Regular, Small, heads[i], scene.Left)
		switch {
		case i == 0:
			p.fitted("revision", scene.Rect{X: x, Y: r.Y + row, W: w, H: row}, typeface.Bold, Small, printable(set.Revision), scene.Left)
		case i == 1:
			p.fitted("date", scene.Rect{X: x, Y: r.Y + row, W: w, H: row}, typeface.Regular, Small, printable(set.Date), scene.Left)
		}
		x += w
	}
}

// numberCell has the status above and the number of the sheet below.
func numberCell(p *pen, set Setting, r scene.Rect) {
	p.line(r.X, r.Y, r.X, r.Y+r.H, scene.Thin)
	half := r.H / 2
	status := scene.Rect{X: r.X, Y: r.Y, W: r.W, H: half}
	p.line(r.X, r.Y+half, r.X+r.W, r.Y+half, scene.Thin)
	if set.Draft {
		p.area(status.Inset(0.8), scene.Stroke{Width: scene.Thick, Ink: scene.Warn}, scene.None)
		box := status.Inset(1.6)
		p.fitted("status", box, typeface.Bold, Normal, set.Say("paper.draft"), scene.Middle)
	} else {
		p.fitted("caption", scene.Rect{X: r.X, Y: r.Y, W: r.W, H: half / 2}, typeface.Regular, Small, set.Say("paper.for_construction"), scene.Left)
	}
	number := scene.Rect{X: r.X, Y: r.Y + half, W: r.W * 0.45, H: half}
	p.text(RoleNumber, number, scene.Text{At: scene.Point{X: number.X + 1.5, Y: number.Y + half/2 + typeface.CapHeight*Heading/2}, Size: Heading, Style: typeface.Bold})
	page := scene.Rect{X: r.X + r.W*0.45, Y: r.Y + half, W: r.W * 0.55, H: half}
	p.text(RolePage, page, scene.Text{At: scene.Point{X: page.X + page.W - 1, Y: page.Y + half/2 + typeface.CapHeight*Small/2}, Size: Small, Anchor: scene.Right, Style: typeface.Regular})
}
