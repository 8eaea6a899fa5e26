package drawing

import (
	"cmp"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/project"
)

// loop is what one loop diagram shows: a device with all its signals. (The signal list does not state control
// loops; what shares a device is looked for, wired and tested together.)
type loop struct {
	device  string
	place   string
	strands []strand
	pitch   float64 // between wires; set by split
}

// strand is one signal from its device to the controller.
type strand struct {
	id, tag string
	signal  *project.Signal // nil where the project lacks it
	at      spot
	lines   []line
	facts   []string
	hold    string
}

// line is one conductor's way from the device to the station: one wire, or several joined in junction boxes.
type line []*design.Wire

// cable is the id of the cable at the device.
func (s *strand) cable() string {
	if len(s.lines) == 0 {
		return ""
	}
	return s.lines[0][0].Cable
}

// hops is the number of cables that follow each other.
func (s *strand) hops() int {
	n := 1
	for _, l := range s.lines {
		n = max(n, len(l))
	}
	return n
}

// allLoops collects the loops of the design by device.
func (b *book) allLoops() []loop {
	byDevice := map[string][]strand{}
	for id, at := range b.ix.spots {
		s := strand{id: id, tag: *at.channel.Signal, signal: b.ix.signals[id], at: at, lines: b.lines(id)}
		byDevice[b.ix.devices[id]] = append(byDevice[b.ix.devices[id]], s)
	}
	var loops []loop
	for _, device := range sortedKeys(byDevice) {
		l := loop{device: device, strands: byDevice[device]}
		slices.SortFunc(l.strands, func(x, y strand) int {
			return cmp.Or(cmp.Compare(x.cable(), y.cable()), cmp.Compare(x.firstCore(), y.firstCore()), cmp.Compare(x.id, y.id))
		})
		for i := range l.strands {
			if s := l.strands[i].signal; s != nil && l.place == "" {
				l.place = s.Place
			}
		}
		loops = append(loops, l)
	}
	return loops
}

func (s *strand) firstCore() int {
	if len(s.lines) == 0 {
		return 0
	}
	return coreNumber(s.lines[0][0].Core)
}

// lines follows a signal's wires from the device to the station.
func (b *book) lines(id string) []line {
	var out []line
	for _, w := range b.ix.wires[id] {
		if !strings.HasPrefix(w.From, "device:") {
			continue
		}
		l := line{w}
		for at := w; len(l) < 9; {
			next := b.next(at, id)
			if next == nil {
				break
			}
			l = append(l, next)
			at = next
		}
		out = append(out, l)
	}
	slices.SortFunc(out, func(x, y line) int {
		return cmp.Or(cmp.Compare(x[0].Cable, y[0].Cable), cmp.Compare(coreNumber(x[0].Core), coreNumber(y[0].Core)), cmp.Compare(x[0].ID, y[0].ID))
	})
	return out
}

// next is the signal's wire that goes on where another ends.
func (b *book) next(w *design.Wire, signal string) *design.Wire {
	for _, n := range b.ix.from[w.To] {
		if n.Signal == signal && n != w {
			return n
		}
	}
	return nil
}

// LoopSheets returns the ID of the loop diagram that shows each signal, by signal id.
func LoopSheets(in Input) map[string]string {
	return newBook(in).loopSheets()
}

func (b *book) loopSheets() map[string]string {
	out := map[string]string{}
	for _, l := range b.allLoops() {
		for n, part := range b.split(&l) {
			for _, s := range part.strands {
				out[s.id] = more("loop/"+l.device, n+1)
			}
		}
	}
	return out
}

// endpoint is a wire's end taken apart.
type endpoint struct {
	kind     string // "device", "station", "junction_box", ...
	owner    string // device, station, box
	slot     string // stations only
	terminal string
}

func endOf(text string) endpoint {
	kind, rest, _ := strings.Cut(text, ":")
	i := strings.LastIndex(rest, "/")
	if i < 0 {
		return endpoint{kind: kind, owner: rest}
	}
	e := endpoint{kind: kind, owner: rest[:i], terminal: rest[i+1:]}
	if kind == "station" || kind == "device" { // STATION/SLOT/TERMINAL, DEVICE/SIGNAL/FUNCTION
		if j := strings.LastIndex(e.owner, "/"); j >= 0 {
			e.owner, e.slot = e.owner[:j], e.owner[j+1:]
		}
	}
	return e
}
