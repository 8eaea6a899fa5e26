package drawing

import (
	"fmt"
	"strconv"

	"railwright/internal/design"
	"railwright/internal/scene"
)

// groupList lists the supply groups that begin in a run of slots.
func (b *book) groupList(st *design.Station, slots []*design.Slot) *listing {
	set := b.Setting
	g := &listing{title: set.Say("drawing.rail.groups"), cols: []listCol{
		{set.Say("drawing.head.group"), 9, scene.Left},
		{set.Say("drawing.head.slots"), 12, scene.Left},
		{set.Say("drawing.head.infeed"), 13, scene.Left},
		{set.Say("drawing.head.supply"), 34, scene.Left},
		{set.Say("drawing.head.protection"), 15, scene.Left},
		{set.Say("drawing.head.conductor"), 14, scene.Left},
		{set.Say("drawing.head.load"), 33, scene.Left},
	}}
	for i := range st.SupplyGroups {
		sg := &st.SupplyGroups[i]
		if !groupBegins(sg, slots) {
			continue
		}
		sub := "group:" + sg.ID
		slot, coupler := infeedOf(sg)
		at := set.Say("drawing.rail.slot", slot)
		if coupler {
			at = set.Say("drawing.rail.coupler")
		}
		guard := ""
		if p := b.ix.guards[sub]; p != nil {
			guard = short(p.ID, st.ID) + " " + num(p.RatingA, 2) + " A"
		}
		g.rows = append(g.rows, []listCell{
			{words: short(sg.ID, st.ID), subject: sub, role: "group"},
			{words: slotRun(sg.FirstSlot, sg.LastSlot), subject: sub, role: "slots"},
			{words: at, subject: sub, role: "infeed point"},
			{words: supplyWords(sg), subject: sub, role: "supply"},
			{words: guard, subject: sub, role: "protection"},
			{words: b.sizeShort(sg.InfeedMM2), subject: sub, role: "conductor"},
			{subject: sub, role: "load", draw: func(p scene.Pen, r scene.Rect) {
				loadBar(p, scene.Rect{X: r.X + 0.8, Y: r.Y + 1.1, W: 10, H: r.H - 2.2}, sg.LoadMA, sg.LimitMA)
				p.TextIn(scene.Rect{X: r.X + 11.5, Y: r.Y, W: r.W - 12.3, H: r.H}, scene.Right, 1.8, num(sg.LoadMA, 0)+"/"+num(sg.LimitMA, 0)+" mA")
			}},
		})
	}
	return g
}

func groupBegins(g *design.SupplyGroup, slots []*design.Slot) bool {
	for _, s := range slots {
		if s.Slot == g.FirstSlot {
			return true
		}
	}
	return false
}

// slotRun prints a run of slots.
func slotRun(first, last int) string {
	if first == last {
		return strconv.Itoa(first)
	}
	return fmt.Sprintf("%d–%d", first, last)
}

// slotList lists slots, each with the sheet that shows its connections.
func (b *book) slotList(st *design.Station, slots []*design.Slot) *listing {
	set := b.Setting
	g := &listing{title: set.Say("drawing.rail.slots"), cols: []listCol{
		{set.Say("drawing.head.slot"), 8, scene.Left},
		{set.Say("drawing.head.module"), 25, scene.Left},
		{set.Say("drawing.head.base"), 27, scene.Left},
		{set.Say("drawing.head.group"), 9, scene.Left},
		{set.Say("drawing.head.bytes"), 24, scene.Left},
		{set.Say("drawing.head.used"), 11, scene.Left},
		{set.Say("drawing.head.sheet"), 20, scene.Left},
	}}
	if st.Construction != "" && !based(st) {
		g.cols[1].width += 8
		g.cols = append(g.cols[:2], g.cols[3:]...)
	}
	for _, s := range slots {
		sub := slotSubject(st, s)
		n, all := used(s)
		use := ""
		if all > 0 {
			use = fmt.Sprintf("%d/%d", n, all)
		}
		row := []listCell{
			{words: strconv.Itoa(s.Slot), subject: sub, role: "slot"},
			{words: s.Module, subject: sub, role: "module"},
			{words: s.Base, subject: sub, role: "base"},
			{words: short(s.SupplyGroup, st.ID), subject: "group:" + s.SupplyGroup, role: "group"},
			{words: bytesOf(s), subject: sub, role: "bytes", mono: true},
			{words: use, subject: sub, role: "used"},
			{link: b.moduleSheet(st, s)},
		}
		if len(g.cols) == len(row)-1 {
			row = append(row[:2], row[3:]...)
		}
		g.rows = append(g.rows, row)
	}
	return g
}

// based reports whether a station has bases.
func based(st *design.Station) bool {
	for i := range st.Slots {
		if st.Slots[i].Base != "" {
			return true
		}
	}
	return false
}

// bytesOf prints a slot's bytes of the process image: "I4-11 Q2-5".
func bytesOf(s *design.Slot) string {
	out := ""
	add := func(letter string, first, n int) {
		if n == 0 {
			return
		}
		if out != "" {
			out += " "
		}
		out += letter + strconv.Itoa(first)
		if n > 1 {
			out += "–" + strconv.Itoa(first+n-1)
		}
	}
	add("I", s.InputByte, s.InputBytes)
	add("Q", s.OutputByte, s.OutputBytes)
	return out
}
