package document

import (
	"strconv"

	"railwright/internal/design"
	"railwright/internal/drawing"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// GuideID is the ID of the first sheet of a station's assembly guide.
func GuideID(station string) string { return "guide/" + station }

// step is one step of the assembly: what to do, how to see that it is right, with what, and what to beware
// of.
type step struct {
	do, check, tool, caution string
	table                    *paper.Table
	stage                    drawing.Stage // its picture; "" = none
}

// Guides are the assembly guides of all stations.
func Guides(in Input) []scene.Sheet { return look(in).guides() }

func (v *view) guides() []scene.Sheet {
	var out []scene.Sheet
	v.pictures = drawing.NewSteps(drawing.Input{Design: v.Design, Project: v.Project, List: v.Hardware, Setting: v.Setting})
	for i := range v.Design.Stations {
		out = append(out, v.guide(&v.Design.Stations[i])...)
	}
	return out
}

func (v *view) guide(st *design.Station) []scene.Sheet {
	f := paper.NewFlow(v.Setting, paper.Block{
		ID: GuideID(st.ID), Kind: "assembly guide", Chapter: v.Say("doc.guides"), Title: v.Say("doc.guide_of", st.ID),
	})
	f.Heading(1, v.Say("doc.guide_title", st.ID, st.Name))
	f.Caution(v.Say("doc.caution_workshop"))
	v.stationFields(f, st)
	for i, s := range v.steps(st) {
		v.step(f, st, i+1, &s)
	}
	f.Heading(3, v.Say("doc.done"))
	f.Fields(4, paper.Field{Caption: v.Say("doc.built_by")}, paper.Field{Caption: v.Say("doc.built_on")}, paper.Field{Caption: v.Say("doc.checked_by")}, paper.Field{Caption: v.Say("doc.checked_on")})
	return f.Sheets()
}

func (v *view) stationFields(f *paper.Flow, st *design.Station) {
	n := v.node(st.ID)
	f.Fields(4,
		paper.Field{Caption: v.Say("doc.station"), Value: st.ID, Style: typeface.Bold, Subject: "station:" + st.ID}, paper.Field{Caption: v.Say("doc.place"), Value: v.place(st.Place)},
		paper.Field{Caption: v.Say("doc.construction"), Value: v.constructionOf(st)}, paper.Field{Caption: v.Say("doc.enclosure"), Value: v.titleOf(st.Enclosure)},
		paper.Field{Caption: v.Say("doc.coupler"), Value: v.titleOf(st.Coupler)}, paper.Field{Caption: v.Say("doc.rail"), Value: strconv.FormatInt(st.RailMM, 10) + " mm"},
		paper.Field{Caption: v.Say("doc.slots_groups"), Value: v.Say("doc.slots_groups_are", len(st.Slots), len(st.SupplyGroups))},
		paper.Field{Caption: v.Say("doc.network_address"), Value: n.Address, Style: typeface.Mono})
}

func (v *view) constructionOf(st *design.Station) string {
	if k, ok := v.Hardware.Construction(st.Construction); ok {
		return k.Title
	}
	return st.Construction
}

func (v *view) node(station string) design.NodeAddress {
	for _, n := range v.Design.Network.Addresses {
		if n.Station == station {
			return n
		}
	}
	return design.NodeAddress{}
}

// step writes one step; its picture and its table follow below it.
func (v *view) step(f *paper.Flow, st *design.Station, n int, s *step) {
	t := paper.Table{Size: 3, Columns: []paper.Column{{Head: strconv.Itoa(n), Width: 20, Style: typeface.Bold}, {Head: s.do, Grow: true}, {Head: "", Width: 27}}}
	row := func(name, words string, tick bool) {
		if words != "" {
			c := paper.Cell{}
			if tick {
				c = paper.Cell{Tick: true, Text: v.Say("doc.done_tick")}
			}
			t.Rows = append(t.Rows, []paper.Cell{{Text: name}, {Text: words}, c})
		}
	}
	row(v.Say("doc.tool"), s.tool, false)
	row(v.Say("doc.caution"), s.caution, false)
	row(v.Say("doc.check"), s.check, true)
	picture := v.pictures.Picture(st.ID, s.stage, f.Width())
	if picture != nil {
		f.Keep(40 + drawing.StepHeight)
	}
	f.Keep(40)
	f.Table(t)
	if picture != nil {
		f.Space(2)
		r, put := f.Place(drawing.StepHeight)
		put(scene.Shift(picture, r.X, r.Y)...)
		f.Space(3)
	}
	if s.table != nil {
		f.Table(*s.table)
	}
}

// steps are the steps for a station, as its construction asks.
func (v *view) steps(st *design.Station) []step {
	k, _ := v.Hardware.Construction(st.Construction)
	if k == nil {
		k = &hardware.Construction{}
	}
	out := []step{
		{do: v.Say("doc.step_parts"), check: v.Say("doc.step_parts_check"), table: v.stationParts(st)},
		{do: v.Say("doc.step_rail", strconv.FormatInt(st.RailMM, 10)), tool: v.Say("doc.step_rail_tool"), check: v.Say("doc.step_rail_check"), caution: v.Say("doc.step_rail_caution"), stage: drawing.StageRail},
		{do: v.Say("doc.step_coupler", v.titleOf(st.Coupler)), check: v.Say("doc.step_coupler_check"), stage: drawing.StageCoupler},
	}
	switch {
	case k.HasBases:
		out = append(out,
			step{do: v.Say("doc.step_bases"), check: v.Say("doc.step_bases_check"), caution: v.Say("doc.step_bases_caution"), table: v.slotTable(st, true), stage: drawing.StageBases},
			step{do: v.Say("doc.step_modules"), check: v.Say("doc.step_modules_check"), caution: v.Say("doc.step_esd"), stage: drawing.StageModules})
	default:
		out = append(out, step{do: v.Say("doc.step_plain_modules"), check: v.Say("doc.step_plain_modules_check"), caution: v.Say("doc.step_esd"), table: v.slotTable(st, false), stage: drawing.StageModules})
	}
	if st.EndPiece != "" {
		out = append(out, step{do: v.Say("doc.step_end", v.titleOf(st.EndPiece)), check: v.Say("doc.step_end_check"), stage: drawing.StageEndPiece})
	}
	out = append(out, step{do: v.Say("doc.step_supplies"), check: v.Say("doc.step_supplies_check"), tool: v.Say("doc.screwdriver"), table: v.supplyTable(st)})
	if t := v.infeedTable(st); len(t.Rows) > 0 {
		caution := ""
		if v.anySafety(st) {
			caution = v.Say("doc.step_infeed_safety")
		}
		out = append(out, step{do: v.Say("doc.step_infeed"), tool: v.Say("doc.crimp_tool"), check: v.Say("doc.step_infeed_check"), caution: caution, table: t, stage: drawing.StageInfeed})
	}
	out = append(out, step{do: v.Say("doc.step_labels"), check: v.Say("doc.step_labels_check")})
	if t := v.fieldTable(st); len(t.Rows) > 0 {
		out = append(out, step{do: v.Say("doc.step_field"), tool: v.Say("doc.crimp_tool"), check: v.Say("doc.step_field_check"), caution: v.Say("doc.step_field_caution"), table: t, stage: drawing.StageField})
	}
	if t := v.screenTable(st); len(t.Rows) > 0 {
		out = append(out, step{do: v.Say("doc.step_screens"), check: v.Say("doc.step_screens_check"), table: t, stage: drawing.StageScreens})
	}
	if t := v.feederTable(st); len(t.Rows) > 0 {
		out = append(out, step{do: v.Say("doc.step_feeder"), check: v.Say("doc.step_feeder_check"), caution: v.Say("doc.step_feeder_caution"), table: t})
	}
	n := v.node(st.ID)
	return append(out, step{do: v.Say("doc.step_network", n.Name, n.Address), check: v.Say("doc.step_network_check"), caution: v.Say("doc.step_network_caution"), table: v.networkTable(st), stage: drawing.StageNetwork})
}

func (v *view) anySafety(st *design.Station) bool {
	for _, s := range st.Slots {
		for _, c := range s.Channels {
			if sig := v.signals[c.SignalID]; c.Signal != nil && sig != nil && len(sig.SupplyClass) > 7 && sig.SupplyClass[:7] == "safety:" {
				return true
			}
		}
	}
	return false
}
