package drawing

import (
	"testing"

	"railwright/internal/design"
	"railwright/internal/design/designtest"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
)

// handMade is the design made by hand, with the hardware and the signals that it names: small enough to read
// its drawings as data, and untouched by any change of the planner.
func handMade() Input {
	d := designtest.Sample()
	d.Wires = append(d.Wires,
		design.Wire{ID: "PUMP-1/G1/+", From: "protection:PUMP-1/E1/out", To: "station:PUMP-1/1/infeed+", AreaMM2: 1.5},
		design.Wire{ID: "PUMP-1/G1/-", From: "supply_bar:PUMP-1/24vdc normal in/-", To: "station:PUMP-1/1/infeed-", AreaMM2: 1.5})
	terminals := func(labels ...string) (out []hardware.Terminal) {
		for i := 0; i < len(labels); i += 2 {
			out = append(out, hardware.Terminal{Function: labels[i], Label: labels[i+1]})
		}
		return out
	}
	set := func(kind project.Kind, first, n int, t []hardware.Terminal) []hardware.ChannelSet {
		return []hardware.ChannelSet{{Kind: kind, Count: n, First: first, Terminals: t}}
	}
	l := &hardware.List{
		Couplers: []hardware.Coupler{{Code: "coupler-a", Width: 50}},
		Modules: []hardware.Module{
			{Code: "di4", Title: "4 digital inputs", Width: 30, Channels: set(project.DI, 1, 4, terminals("supply+", "A{n}", "signal", "B{n}"))},
			{Code: "do2", Title: "2 digital outputs", Width: 30, Channels: set(project.DO, 1, 2, terminals("signal", "A{n}", "supply-", "C{n}"))},
			{Code: "ai2", Title: "2 analogue inputs", Width: 42, Channels: set(project.AI, 0, 2, terminals("supply+", "{4i+1}", "signal+", "{4i+2}"))},
		},
		Bases:       []hardware.Base{{Code: "base-infeed", Infeed: true}},
		Supplies:    []hardware.SupplyUnit{{Code: "psu-2a5", Width: 40}},
		Protections: []hardware.Protection{{Code: "ecb-2", Type: "electronic", DC: true, Width: 6}, {Code: "mcb-ac-6", Type: "B", AC: true, Width: 18}},
		Enclosures:  []hardware.Enclosure{{Code: "box-400", Title: "enclosure 400 x 400 x 200 mm", IP: "IP55", Rail: 600, Row: 300, Width: 400, Height: 400, Depth: 200}},
		Cables: []hardware.Cable{
			{Code: "sig-2x15", DiameterUM: 8000},
			{Code: "sig-4x075", DiameterUM: 8500},
			{Code: "scr-2x075", DiameterUM: 7000, Screened: true},
			{Code: "pow-3x25", DiameterUM: 11000},
			{Code: "eth", DiameterUM: 6500},
		},
		Parts: []hardware.Part{
			{Code: "end-a", Use: "end-piece", Width: 18},
			{Code: "gland-a", Use: "gland", MinDiameterUM: 5000, MaxDiameterUM: 9000, Price: 10000},
			{Code: "gland-b", Use: "gland", MinDiameterUM: 8000, MaxDiameterUM: 13000, Price: 20000},
		},
	}
	l.Sort()
	signal := func(id, tag, device, text string, kind project.Kind, form string) project.Signal {
		return project.Signal{ID: id, Tag: tag, Device: device, Description: text, Kind: kind, Form: form, Place: "P"}
	}
	p := &project.Project{Name: "Sample yard", Signals: []project.Signal{
		signal("s1", "LS-1", "LS-1", "sump level high", project.DI, "contact"), signal("s2", "=A1-LS-2", "LS-1", "sump level low", project.DI, "contact"),
		signal("s3", "P-1", "P-1", "sump pump", project.DO, "24v"), signal("s4", "LT-1", "LT-1", "tank level", project.AI, "4-20ma"),
	}}
	return Input{Design: d, Project: p, List: l, Setting: paper.Setting{Size: paper.A4, Wire: paper.MM2, Project: "Sample yard", Controller: "K1", Revision: "A", Design: "0f1e2d3c"}}
}

// TestGoldenStation: a pair of scene and SVG for each kind of a station's sheets.
func TestGoldenStation(t *testing.T) {
	sheets := pack(handMade())
	byID := map[string]*scene.Sheet{}
	for i := range sheets {
		byID[sheets[i].ID] = &sheets[i]
	}
	for _, id := range []string{"rail/PUMP-1", "rail/TANK-1", "enclosure/PUMP-1", "enclosure/PUMP-1#2", "module/PUMP-1/1", "module/TANK-1/1"} {
		s := byID[id]
		if s == nil {
			t.Errorf("no sheet %s", id)
			continue
		}
		scenetest.Golden(t, id, s)
	}
	scenetest.Golden(t, "steps/PUMP-1", stepSheet(handMade(), "PUMP-1"))
}

// stepSheet puts all pictures of a station's assembly on one sheet.
func stepSheet(in Input, station string) *scene.Sheet {
	s := scene.Sheet{ID: "steps/" + station, Kind: "steps", Width: 190, Height: 297, Frame: scene.Rect{X: 5, Y: 5, W: 180, H: 287}}
	steps := NewSteps(in)
	for i, stage := range Stages {
		items := scene.Shift(steps.Picture(station, stage, 170), 10, 7+float64(i)*(StepHeight+1))
		if items != nil {
			s.Layers = append(s.Layers, scene.Layer{Name: string(stage), Items: items})
		}
	}
	return &s
}
