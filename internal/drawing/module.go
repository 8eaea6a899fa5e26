package drawing

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
)

// moduleRow is one terminal of a module with the conductor on it; or, for a spare channel, all its terminals.
type moduleRow struct {
	channel  *design.Channel // nil: an infeed terminal
	function string
	terminal string
	wire     *design.Wire // nil: nothing lands here
	spare    bool
}

// moduleBlock is the rows of one channel, or of the infeed point; a sheet never parts them.
type moduleBlock struct {
	channel *design.Channel
	rows    []moduleRow
}

const (
	modulePitch = 4.8  // between two terminals
	moduleHead  = 12.0 // the module's own data above its terminals
	moduleGap   = 1.2  // between two channels
)

// height is what a block takes on the sheet: three lines of text stand beside a channel in use.
func (m *moduleBlock) height() float64 {
	n := float64(len(m.rows))
	if m.channel != nil && m.channel.Signal != nil {
		n = max(n, 2)
	}
	return n*modulePitch + moduleGap
}

// moduleSheets draws what lands on each terminal of each module of a station.
func (b *book) moduleSheets(st *design.Station) {
	for i := range st.Slots {
		if s := &st.Slots[i]; b.moduleSheet(st, s) != "" {
			b.moduleOf(st, s)
		}
	}
}

// moduleSheet is the ID of the sheet that shows a slot's connections; "" for one without channels.
func (b *book) moduleSheet(st *design.Station, s *design.Slot) string {
	if len(s.Channels) == 0 {
		return ""
	}
	return "module/" + st.ID + "/" + strconv.Itoa(s.Slot)
}

func (b *book) moduleOf(st *design.Station, s *design.Slot) {
	marks := b.moduleMarks()
	room := b.free(marks).H - moduleHead - 5
	parts := splitBlocks(b.moduleBlocks(st, s), room)
	id := b.moduleSheet(st, s)
	for n, blocks := range parts {
		title := b.Setting.Say("drawing.module.title", s.Module, st.ID, s.Slot)
		pg := b.open(paper.Block{
			ID: more(id, n+1), Kind: "module", Number: numberOf("MC", st.ID+"-"+strconv.Itoa(s.Slot), n+1),
			Chapter: b.chapterOf(st), Title: titleOf(title, n+1),
		}, marks)
		d := &modulePage{b: b, page: pg, st: st, slot: s}
		d.draw(blocks)
		d.turn(id, n, len(parts))
	}
}

// splitBlocks cuts the blocks into sheets of a height.
func splitBlocks(blocks []moduleBlock, room float64) (parts [][]moduleBlock) {
	var now []moduleBlock
	used := 0.0
	for _, m := range blocks {
		if h := m.height(); len(now) > 0 && used+h > room {
			parts, now, used = append(parts, now), nil, 0
		}
		now, used = append(now, m), used+m.height()
	}
	return append(parts, now)
}

// moduleBlocks lists the terminals of a slot: the infeed point, then channel after channel.
func (b *book) moduleBlocks(st *design.Station, s *design.Slot) []moduleBlock {
	var out []moduleBlock
	landed := b.landed(st.ID + "/" + strconv.Itoa(s.Slot))
	var infeed []moduleRow
	for _, w := range landed {
		if e := endOf(w.To); w.Signal == "" {
			infeed = append(infeed, moduleRow{function: e.terminal, terminal: "", wire: w})
		}
	}
	if len(infeed) > 0 {
		out = append(out, moduleBlock{rows: infeed})
	}
	for i := range s.Channels {
		out = append(out, b.channelBlock(s, i, landed))
	}
	return out
}

// channelBlock lists a channel's terminals in the order in which its cores follow, or the spare ones in one row.
func (b *book) channelBlock(s *design.Slot, i int, landed []*design.Wire) moduleBlock {
	c := &s.Channels[i]
	m := moduleBlock{channel: c}
	if c.Signal == nil {
		m.rows = []moduleRow{{channel: c, terminal: strings.Join(b.spareTerminals(s, i), " "), spare: true}}
		return m
	}
	seen := map[string]bool{}
	for _, w := range landed {
		if w.Signal != c.SignalID {
			continue
		}
		label := endOf(w.To).terminal
		seen[label] = true
		m.rows = append(m.rows, moduleRow{channel: c, function: functionOf(c, label, w), terminal: label, wire: w})
	}
	for _, f := range sortedKeys(c.Terminals) {
		if label := c.Terminals[f]; !seen[label] {
			seen[label] = true
			m.rows = append(m.rows, moduleRow{channel: c, function: f, terminal: label})
		}
	}
	if len(m.rows) == 0 {
		m.rows = []moduleRow{{channel: c}}
	}
	return m
}

// functionOf is what a terminal does for the channel: the function of the wire's other end where it is one of
// the channel's, else the first that stands for the label.
func functionOf(c *design.Channel, label string, w *design.Wire) string {
	if f := endOf(w.From).terminal; c.Terminals[f] == label {
		return f
	}
	for _, f := range sortedKeys(c.Terminals) {
		if c.Terminals[f] == label {
			return f
		}
	}
	return ""
}

// landed returns the wires that end on a slot ("STATION/SLOT") in the order of their cables and cores.
func (b *book) landed(slot string) []*design.Wire {
	if b.memo.landed == nil {
		b.memo.landed = map[string][]*design.Wire{}
		for i := range b.Design.Wires {
			w := &b.Design.Wires[i]
			if e := endOf(w.To); e.kind == "station" {
				key := e.owner + "/" + e.slot
				b.memo.landed[key] = append(b.memo.landed[key], w)
			}
		}
		for _, ws := range b.memo.landed {
			slices.SortStableFunc(ws, func(x, y *design.Wire) int {
				return cmp.Or(cmp.Compare(x.Cable, y.Cable), cmp.Compare(coreNumber(x.Core), coreNumber(y.Core)), cmp.Compare(x.ID, y.ID))
			})
		}
	}
	return b.memo.landed[slot]
}

// spareTerminals names the terminals of a channel as the hardware list prints them.
func (b *book) spareTerminals(s *design.Slot, channel int) []string {
	m, ok := b.List.Module(s.Module)
	if !ok {
		return nil
	}
	for k := range m.Channels {
		set := &m.Channels[k]
		if channel >= set.Count {
			channel -= set.Count
			continue
		}
		var out []string
		for _, t := range set.Terminals {
			if label := set.Label(t, channel); !slices.Contains(out, label) {
				out = append(out, label)
			}
		}
		return out
	}
	return nil
}

// memo keeps what several sheets ask for.
type memo struct {
	landed map[string][]*design.Wire // "STATION/SLOT"
	loops  map[string]string         // signal id -> loop sheet
}

// loopOf is the ID of the loop diagram that shows a signal.
func (b *book) loopOf(signal string) string {
	if b.memo.loops == nil {
		b.memo.loops = map[string]string{}
		for _, l := range b.allLoops() {
			for n, part := range b.split(&l) {
				for _, s := range part.strands {
					b.memo.loops[s.id] = more("loop/"+l.device, n+1)
				}
			}
		}
	}
	return b.memo.loops[signal]
}

// modulePage is a module connection drawing being made.
type modulePage struct {
	b *book
	page
	st   *design.Station
	slot *design.Slot
	rows []laidRow
}

// laidRow is a wire that was drawn.
type laidRow struct {
	row moduleRow
	y   float64
}

// The columns of a module connection drawing, mm from its left.
type moduleCols struct {
	channel, terminal, wire, device, glyph, text scene.Rect
}

func (d *modulePage) cols() moduleCols {
	a := d.area
	at := func(x, w float64) scene.Rect { return scene.Rect{X: a.X + x, Y: a.Y, W: w, H: a.H} }
	wire := min(a.W-58-46-86, 110)
	text := min(a.W-58-wire-46, 100)
	return moduleCols{at(0, 28), at(28, 30), at(58, wire), at(58+wire, 30), at(58+wire+30, 13), at(58+wire+46, text)}
}
