package drawing

import (
	"strings"

	"railwright/internal/design"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

func direct(volts string) bool { return strings.HasSuffix(volts, "vdc") }

// safety is the name of the safety function that switches a group.
func safety(class string) (string, bool) { return strings.CutPrefix(class, "safety:") }

// infeedWords says where a group's supply wires land.
func infeedWords(b *book, g *design.SupplyGroup) string {
	if n, ok := g.InfeedAt.(int); ok {
		return b.say("drawing.loop.slot", n)
	}
	return b.say("drawing.group.coupler")
}

// slotsWords names the slots of a group.
func slotsWords(b *book, g *design.SupplyGroup) string {
	if g.FirstSlot == g.LastSlot {
		return b.say("drawing.loop.slot", g.FirstSlot)
	}
	return b.say("drawing.power.slots", g.FirstSlot, g.LastSlot)
}

// groupFigures are a group's load, volts and fault current in one line.
func (b *book) groupFigures(g *design.SupplyGroup) string {
	words := []string{b.say("drawing.group.load", num(g.LoadMA, 0), num(g.LimitMA, 0)), b.say("drawing.group.volts", num(g.VoltageMinV, 2))}
	if g.FaultMinA > 0 && g.TripA > 0 {
		words = append(words, b.say("drawing.group.fault", num(g.FaultMinA, 1), num(g.TripA, 2)))
	}
	return strings.Join(words, " · ")
}

const guardWidth = 8.0

// guard draws a protective device in a line at x, y: a breaker, a fuse or an electronic device.
func (b *book) guard(p scene.Pen, g *design.Protection, x, y float64) {
	guardGlyphs[b.guardGlyph(g)](p.For("protection:"+g.ID, "guard"), scene.Rect{X: x, Y: y - 2.25, W: guardWidth, H: 4.5})
}

// guardGlyphs are the signs of protective devices.
var guardGlyphs = map[string]func(p scene.Pen, r scene.Rect){"breaker": breaker, "fuse": fuse, "electronic": electronic}

func (b *book) guardGlyph(g *design.Protection) string {
	if t, ok := b.List.Protection(g.Type); ok && (t.Type == "fuse" || t.Type == "electronic") {
		return t.Type
	}
	return "breaker"
}

// breaker is a circuit breaker (IEC 60617-7): a contact with a cross.
func breaker(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Line(r.X, y, x-1.5, y)
	p.Line(x+2, y, r.Right(), y)
	p.Line(x-1.5, y, x+1.8, y-1.8)
	p.Line(x+1.4, y-0.6, x+2.6, y+0.6)
	p.Line(x+1.4, y+0.6, x+2.6, y-0.6)
}

// fuse is a fuse link (IEC 60617-7).
func fuse(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Line(r.X, y, r.Right(), y)
	p.Rect(scene.Rect{X: x - 2.5, Y: y - 1, W: 5, H: 2})
}

// electronic is a device that measures and switches off: current above its limit.
func electronic(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Line(r.X, y, x-2.6, y)
	p.Line(x+2.6, y, r.Right(), y)
	box := scene.Rect{X: x - 2.6, Y: y - 1.8, W: 5.2, H: 3.6}
	p.Rect(box)
	p.Font(typeface.Regular, 2.5).TextIn(box.Inset(0.3), scene.Middle, 1.8, "I>")
}
