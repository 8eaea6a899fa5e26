package drawing

import (
	"strings"

	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// glyphs are the symbols of devices by name, each drawn into an upright rectangle.
var glyphs = map[string]func(p scene.Pen, r scene.Rect){
	"make":        contact(false),
	"break":       contact(true),
	"proximity":   proximity,
	"source":      source,
	"coil":        coil,
	"relay":       load,
	"transmitter": lettered("mA"),
	"volt":        lettered("V"),
	"actuator":    actuator,
	"rtd":         rtd,
	"tc":          tc,
	"pulse":       pulse,
	"serial":      serial,
}

// glyphOrder is the order in which legends list them.
var glyphOrder = []string{"make", "break", "proximity", "source", "coil", "relay", "transmitter", "volt", "actuator", "rtd", "tc", "pulse", "serial"}

// glyphOf names the symbol of a signal's device.
func glyphOf(s *project.Signal) string {
	if s == nil {
		return ""
	}
	switch s.Kind {
	case project.DI:
		switch {
		case s.Form == "contact" && s.Contact == "NC":
			return "break"
		case s.Form == "contact":
			return "make"
		case strings.HasSuffix(s.Form, "vac"), s.Form == "24v":
			return "source"
		}
		return "proximity"
	case project.DO:
		if s.Form == "relay" {
			return "relay"
		}
		return "coil"
	case project.AI:
		if strings.HasSuffix(s.Form, "ma") {
			return "transmitter"
		}
		return "volt"
	case project.AO:
		return "actuator"
	case project.RTD:
		return "rtd"
	case project.TC:
		return "tc"
	case project.CNT:
		return "pulse"
	}
	return "serial"
}

// contact is a make or break contact between two leads (IEC 60617-7).
func contact(normallyClosed bool) func(p scene.Pen, r scene.Rect) {
	return func(p scene.Pen, r scene.Rect) {
		x, y := r.MidX(), r.MidY()
		p.Line(x-4, y, x-2, y)
		p.Line(x+2, y, x+4, y)
		if normallyClosed {
			p.Line(x-2, y, x+2.6, y+1.2)
			p.Line(x+2, y, x+2, y+1.5)
			return
		}
		p.Line(x-2, y, x+1.8, y-1.6)
	}
}

// proximity is a sensor that closes by nearness: a diamond before a make contact.
func proximity(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Polygon(scene.Point{X: x - 3.5, Y: y}, scene.Point{X: x - 1.8, Y: y - 1.7}, scene.Point{X: x - 0.1, Y: y}, scene.Point{X: x - 1.8, Y: y + 1.7})
	p.Line(x+0.6, y, x+1.4, y)
	p.Line(x+1.4, y, x+3.2, y-1.4)
	p.Line(x+3, y, x+4, y)
}

// source is a voltage that the device gives.
func source(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Circle(x, y, 1.8)
	p.Line(x-3.8, y, x-1.8, y)
	p.Line(x+1.8, y, x+3.8, y)
	p.Line(x-1, y, x+1, y)
}

// coil is an operating coil or solenoid (IEC 60617-7).
func coil(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Rect(scene.Rect{X: x - 2.2, Y: y - 1.4, W: 4.4, H: 2.8})
	p.Line(x-4, y, x-2.2, y)
	p.Line(x+2.2, y, x+4, y)
}

// load is a circuit that a relay contact of the station switches, fed from elsewhere.
func load(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Rect(scene.Rect{X: x - 1, Y: y - 1.4, W: 3.2, H: 2.8})
	p.Line(x-1.6, y, x-1, y)
	p.Line(x+2.2, y, x+4, y)
	p.Circle(x-2.8, y, 1.2)
	p.Line(x-3.4, y, x-2.2, y)
}

// lettered is a converter with what it gives.
func lettered(letters string) func(p scene.Pen, r scene.Rect) {
	return func(p scene.Pen, r scene.Rect) {
		x, y := r.MidX(), r.MidY()
		box := scene.Rect{X: x - 3.2, Y: y - 2, W: 6.4, H: 4}
		p.Rect(box)
		p.Role("symbol").Font(typeface.Regular, 2.5).TextIn(box.Inset(0.4), scene.Middle, 2, letters)
	}
}

// actuator is a converter that is driven: an arrow into a box with a diagonal.
func actuator(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Rect(scene.Rect{X: x - 2.5, Y: y - 2, W: 5, H: 4})
	p.Line(x-2.5, y+2, x+2.5, y-2)
	p.Arrow(x+4.5, y, x+2.5, y, 1.4)
}

// rtd is a resistor that changes with temperature.
func rtd(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Rect(scene.Rect{X: x - 2.5, Y: y - 1, W: 5, H: 2})
	p.Line(x-4, y, x-2.5, y)
	p.Line(x+2.5, y, x+4, y)
	p.Polyline(scene.Point{X: x - 3.2, Y: y + 2}, scene.Point{X: x - 2, Y: y + 2}, scene.Point{X: x + 2.4, Y: y - 2})
}

// tc is a thermocouple: two metals that meet.
func tc(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Line(x+3.8, y-1.6, x-2.6, y)
	p.Wide(scene.Thick).Line(x+3.8, y+1.6, x-2.6, y)
	p.Dot(x-2.6, y, 0.6)
}

// pulse is a transmitter of pulses.
func pulse(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Rect(scene.Rect{X: x - 3.6, Y: y - 2, W: 7.2, H: 4})
	pt := func(dx, dy float64) scene.Point { return scene.Point{X: x + dx, Y: y + dy} }
	p.Polyline(pt(-2.8, 1), pt(-1.6, 1), pt(-1.6, -1), pt(-0.2, -1), pt(-0.2, 1), pt(1.2, 1), pt(1.2, -1), pt(2.6, -1), pt(2.6, 1), pt(2.9, 1))
}

// serial is a device that talks.
func serial(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Rect(scene.Rect{X: x - 3.6, Y: y - 2, W: 7.2, H: 4})
	p.Arrow(x-2.6, y-0.8, x+2.6, y-0.8, 1.2)
	p.Arrow(x+2.6, y+0.8, x-2.6, y+0.8, 1.2)
}
