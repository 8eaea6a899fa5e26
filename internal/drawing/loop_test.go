package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/design"
	"railwright/internal/scene"
)

// reader finds things on one sheet by where they stand and what they say, never by their subject.
type reader struct {
	t     *testing.T
	sheet *scene.Sheet
	items []*scene.Item
}

func read(t *testing.T, s *scene.Sheet) *reader {
	r := &reader{t: t, sheet: s}
	s.Each(func(layer string, i *scene.Item) {
		if layer == "drawing" {
			r.items = append(r.items, i)
		}
	})
	return r
}

func (r *reader) texts(role string) (out []*scene.Item) {
	for _, i := range r.items {
		if i.Text != nil && i.Role == role {
			out = append(out, i)
		}
	}
	return out
}

func (r *reader) paths(role string) (out []*scene.Path) {
	for _, i := range r.items {
		if i.Path != nil && i.Role == role {
			out = append(out, i.Path)
		}
	}
	return out
}

// within are the words of the one text of a role that lies in a rectangle.
func (r *reader) within(role string, box scene.Rect) string {
	var found []string
	for _, i := range r.texts(role) {
		if b := i.Text.Bounds(); b.Within(box) {
			found = append(found, i.Text.Words)
		}
	}
	if len(found) != 1 {
		r.t.Errorf("%s: %d texts %q in %v: %q", r.sheet.ID, len(found), role, box, found)
		return ""
	}
	return found[0]
}

func bounds(p *scene.Path) scene.Rect { i := scene.Item{Path: p}; return i.Bounds() }

// around is the one rectangle of a role that touches a point.
func (r *reader) around(role string, at scene.Point) (scene.Rect, bool) {
	for _, p := range r.paths(role) {
		b := bounds(p)
		if at.X >= b.X-0.01 && at.X <= b.Right()+0.01 && at.Y >= b.Y && at.Y <= b.Bottom() {
			return b, true
		}
	}
	return scene.Rect{}, false
}

// rim is the terminal whose circle a line's end touches.
func (r *reader) rim(at scene.Point) (scene.Point, bool) {
	for _, i := range r.items {
		if i.Circle != nil && i.Role == "terminal" && math.Abs(math.Hypot(at.X-i.Circle.Center.X, at.Y-i.Circle.Center.Y)-i.Circle.Radius) < 0.01 {
			return i.Circle.Center, true
		}
	}
	return scene.Point{}, false
}

// hop is a wire as it stands on the sheet.
type hop struct {
	core, cable string
	from, to    scene.Point
}

func (r *reader) hops() (out []hop) {
	for _, p := range r.paths("wire") {
		a, b := p.Points[0], p.Points[1]
		from, ok1 := r.rim(a)
		to, ok2 := r.rim(b)
		if !ok1 || !ok2 {
			r.t.Errorf("%s: a wire from %v to %v ends at no terminal", r.sheet.ID, a, b)
			continue
		}
		out = append(out, hop{
			core:  r.within("core", scene.Rect{X: a.X, Y: a.Y - 4, W: b.X - a.X, H: 4}),
			cable: r.cable(a, b), from: from, to: to,
		})
	}
	return out
}

// cable reads the name above the sheath that a wire runs through.
func (r *reader) cable(a, b scene.Point) string {
	for _, role := range []string{"sheath", "screen"} {
		for _, p := range r.paths(role) {
			s := bounds(p)
			if s.W > 0.01 || s.X < a.X || s.X > b.X || a.Y < s.Y-0.01 || a.Y > s.Bottom()+0.01 {
				continue
			}
			return r.nearestAbove("cable", a.X, b.X, s.Y)
		}
	}
	r.t.Errorf("%s: no sheath round the wire at %v", r.sheet.ID, a)
	return ""
}

func (r *reader) nearestAbove(role string, x1, x2, y float64) string {
	best, words := math.Inf(-1), ""
	for _, i := range r.texts(role) {
		if b := i.Text.Bounds(); b.X >= x1 && b.X <= x2 && b.Bottom() <= y && b.Y > best {
			best, words = b.Y, i.Text.Words
		}
	}
	return words
}

// follow walks from a device's terminal through junction boxes to the station's terminal.
func (r *reader) follow(start hop, all []hop) (way []string, end scene.Point) {
	at := start
	for {
		way = append(way, at.cable+" core "+at.core)
		next, ok := r.linked(at.to)
		if !ok {
			return way, at.to
		}
		box, _ := r.around("box", at.to)
		way = append(way, "box "+r.within("box", scene.Rect{X: box.X, Y: box.Y - 4.5, W: box.W, H: 4.5})+" terminal "+
			r.within("terminal", scene.Rect{X: at.to.X, Y: at.to.Y - 4, W: next.X - at.to.X, H: 4}))
		found := false
		for _, h := range all {
			if h.from == next {
				at, found = h, true
			}
		}
		if !found {
			r.t.Fatalf("%s: no wire leaves the terminal at %v", r.sheet.ID, next)
		}
	}
}

// linked is the other side of a junction box's terminal.
func (r *reader) linked(at scene.Point) (scene.Point, bool) {
	for _, p := range r.paths("link") {
		if from, ok := r.rim(p.Points[0]); ok && from == at {
			to, _ := r.rim(p.Points[1])
			return to, true
		}
	}
	return scene.Point{}, false
}

// feeds reads the rows of supply groups: station and group to unit and protective device.
func (r *reader) feeds() map[string]string {
	out := map[string]string{}
	for _, i := range r.texts("supply unit") {
		y := i.Text.At.Y
		row := scene.Rect{X: r.sheet.Frame.X, Y: y - 7, W: r.sheet.Frame.W, H: 11}
		var data string
		for _, g := range r.texts("group data") {
			if math.Abs(g.Text.At.Y-y) < 3 && strings.Count(g.Text.Words, " · ") >= 2 && data == "" {
				data = g.Text.Words
			}
		}
		station, _, _ := strings.Cut(data, " · ")
		line := scene.Rect{X: row.X, Y: y - 4, W: row.W, H: 6}
		out[station+" "+r.within("group", line)] = i.Text.Words + " " + r.within("protection", row)
	}
	return out
}

// conductors reads every conductor of a loop diagram.
func (r *reader) conductors() (out []string) {
	all := r.hops()
	feeds := r.feeds()
	outline := bounds(r.paths("device")[0])
	device := r.within("device", outline)
	for _, h := range all {
		if math.Abs(h.from.X-outline.Right()) > 0.01 {
			continue // begins in a junction box
		}
		function := r.within("function", scene.Rect{X: outline.X, Y: h.from.Y - 4, W: h.from.X - outline.X, H: 4})
		way, end := r.follow(h, all)
		module, ok := r.around("module", end)
		if !ok {
			r.t.Errorf("%s: the terminal at %v is on no module", r.sheet.ID, end)
			continue
		}
		slot := r.within("slot", module)
		station, _, _ := strings.Cut(slot, " ")
		group := r.within("group", module)
		address, tag := r.controller(module)
		out = append(out, fmt.Sprintf("%s: %s %s | %s | %s terminal %s, %s | %s | %s fed by %s", tag, device, function, strings.Join(way, ", "),
			slot, r.within("terminal", scene.Rect{X: end.X, Y: end.Y - 2, W: 14, H: 4}), r.within("channel", module), address, group, feeds[station+" "+group]))
	}
	return out
}

// controller reads address and tag at the arrow that leaves a module or enters it.
func (r *reader) controller(module scene.Rect) (address, tag string) {
	for _, p := range r.paths("address") {
		b := bounds(p)
		if b.Y >= module.Y-0.01 && b.Bottom() <= module.Bottom() {
			return r.within("address", b), r.within("tag", scene.Rect{X: b.Right(), Y: b.Y, W: r.sheet.Frame.Right() - b.Right(), H: b.H})
		}
	}
	return "", ""
}

// wanted lists every conductor of the design in the same words.
func wanted(in Input) []string {
	d := in.Design
	cables, boxes := map[string]string{}, map[string]string{}
	for _, c := range d.Cables {
		cables[c.ID] = c.Name
	}
	for _, b := range d.JunctionBoxes {
		boxes[b.ID] = b.Name
	}
	var out []string
	for _, w := range d.Wires {
		device, ok := strings.CutPrefix(w.From, "device:")
		if !ok {
			continue
		}
		device, function := cut(device)
		device, _ = cut(device)
		way := []string{cables[w.Cable] + " core " + w.Core}
		for strings.HasPrefix(w.To, "junction_box:") {
			box, terminal := cut(strings.TrimPrefix(w.To, "junction_box:"))
			way = append(way, "box "+boxes[box]+" terminal "+terminal)
			i := slices.IndexFunc(d.Wires, func(n design.Wire) bool { return n.From == w.To })
			w = d.Wires[i]
			way = append(way, cables[w.Cable]+" core "+w.Core)
		}
		out = append(out, seat(in, w, device, function, way))
	}
	slices.Sort(out)
	return out
}

// cut splits a text at its last slash.
func cut(s string) (before, after string) {
	i := strings.LastIndex(s, "/")
	return s[:i], s[i+1:]
}

func seat(in Input, w design.Wire, device, function string, way []string) string {
	d := in.Design
	for _, st := range d.Stations {
		for _, sl := range st.Slots {
			for _, ch := range sl.Channels {
				if ch.Signal == nil || ch.SignalID != w.Signal {
					continue
				}
				_, terminal := cut(w.To)
				g := slices.IndexFunc(st.SupplyGroups, func(g design.SupplyGroup) bool { return g.ID == sl.SupplyGroup })
				return fmt.Sprintf("%s: %s %s | %s | %s slot %d terminal %s, %s channel %d | %s | %s fed by %s", *ch.Signal, device, function, strings.Join(way, ", "),
					st.ID, sl.Slot, terminal, ch.Kind, ch.Channel, ch.Address, short(sl.SupplyGroup, st.ID), feed(in, &st, &st.SupplyGroups[g]))
			}
		}
	}
	return "no channel for " + w.ID
}

// feed finds a group's unit and device on a way of its own: by the parts that name the group, and the
// voltage of the class.
func feed(in Input, st *design.Station, g *design.SupplyGroup) string {
	source := "own source"
	for _, f := range in.Design.Feeders {
		if f.Station == st.ID && strings.Contains(g.Class, "vac") && (f.Class == "ups") == strings.Contains(g.Class, " ups") {
			source = f.ID
		}
	}
	units := 0
	for _, s := range in.Design.Supplies {
		unit, _ := in.List.Supply(s.Type)
		if s.Station == st.ID && strings.HasPrefix(g.Class, fmt.Sprintf("%.0fvdc ", float64(unit.Voltage))) && (s.Class == "ups") == strings.Contains(g.Class, " ups") {
			units++
			if source = s.ID; units > 1 { // like units side by side: the first and the last
				source = st.ID + "-U1…" + short(s.ID, st.ID)
			}
		}
	}
	for _, p := range in.Design.Protections {
		if p.Protects == "group:"+g.ID {
			return source + " " + short(p.ID, st.ID) + " " + num(p.RatingA, 2) + " A"
		}
	}
	return source
}

// TestLoopsRebuilt: from the loop diagrams alone, by where lines end and what stands beside them, come every
// conductor of the design, from device through cable, junction boxes and terminal to channel and tag,
// with supply group, unit and protective device.
func TestLoopsRebuilt(t *testing.T) {
	for _, name := range append(sortedKeys(sites), "boxes") {
		t.Run(name, func(t *testing.T) {
			var in Input
			var sheets []scene.Sheet
			if name == "boxes" {
				in = boxed(sites["one"]())
				sheets = pack(in)
			} else {
				in, sheets = sites[name](), packs[name]()
			}
			var got []string
			for i, s := range sheets {
				if s.Kind == "loop" {
					got = append(got, read(t, &sheets[i]).conductors()...)
				}
			}
			slices.Sort(got)
			if diff := cmp.Diff(wanted(in), got); diff != "" {
				t.Errorf("loops of the design (-) and of the sheets (+):\n%.4000s", diff)
			}
		})
	}
}
