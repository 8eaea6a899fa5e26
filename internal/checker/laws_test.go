package checker

import (
	"encoding/json"
	"strings"
	"testing"

	"railwright/internal/project"
	q "railwright/internal/quantity"
)

type object = map[string]any

// reported plans nothing: it checks the fixture's design after the project and the text were edited.
func reported(t *testing.T, edit func(p *project.Project, d object)) []Violation {
	t.Helper()
	p := fixtureProject()
	var d object
	if err := json.Unmarshal(valid(t, "two-stations-byte.json"), &d); err != nil {
		t.Fatal(err)
	}
	edit(p, d)
	text, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	return Check(p, fixtureHardware(), text, Options{})
}

func decide(subject, property, value string, s project.Strength) func(*project.Project, object) {
	return func(p *project.Project, _ object) {
		p.Choices = append(p.Choices, project.Decision{Subject: subject, Property: property, Value: value, Strength: s, Origin: project.FromHand})
	}
}

func edit(change func(*project.Project)) func(*project.Project, object) {
	return func(p *project.Project, _ object) { change(p) }
}

func signalOf(p *project.Project, id string) *project.Signal {
	for i := range p.Signals {
		if p.Signals[i].ID == id {
			return &p.Signals[i]
		}
	}
	return nil
}

func errorFinding(subject string) object {
	return object{
		"rule": "X-001", "severity": "error", "subject": subject, "message": "m", "figures": object{},
		"remedy": object{"text": "r", "change": []any{}}, "source": "", "calculation": "",
	}
}

// Each row breaks one thing in the project (own arithmetic: the design in testdata then no longer
// keeps the law) and names the law and a word of the report; "" wants no report of the law.
func TestLaws(t *testing.T) {
	for _, c := range []struct {
		name, law, word string
		edit            func(*project.Project, object)
	}{
		{"decision kept: station at place", "DEC", "", decide("station:ST-1", "place", "P1", project.Fixed)},
		{"decision broken: station at place", "DEC", "station:ST-1", decide("station:ST-1", "place", "P2", project.Fixed)},
		{"decision kept: channel", "DEC", "", decide("signal:S01", "channel", "ST-1/1/1", project.Fixed)},
		{"decision broken: channel", "DEC", "signal:S01", decide("signal:S01", "channel", "ST-1/1/3", project.Fixed)},
		{"decision broken: module", "SUIT", "decision on the module", decide("signal:S01", "module", "di8", project.Fixed)},
		{"decision broken: address", "DEC", "%IX9.0", decide("signal:S01", "address", "%IX9.0", project.Fixed)},
		{"decision kept: address", "DEC", "", decide("signal:S01", "address", "%IX2.0", project.Fixed)},
		{"decision broken: cable", "DEC", "f12", decide("signal:S06", "cable", "f12", project.Fixed)},
		{"decision broken: forbidden place", "DEC", "place:P1", decide("place:P1", "station", "yes", project.Forbidden)},
		{"decision broken: no station", "DEC", "place:P1", decide("place:P1", "station", "no", project.Fixed)},
		{"decision broken: slot", "DEC", "slot.2", decide("station:ST-1", "slot.2", "di4", project.Fixed)},
		{"decision kept: infeed", "DEC", "", decide("station:ST-1", "infeed.2", "yes", project.Fixed)},
		{"decision broken: first byte", "DEC", "input_byte", decide("station:ST-2", "input_byte", "40", project.Fixed)},
		{"decision broken: part not to be used", "DEC", "di4", decide("part:di4", "use", "no", project.Fixed)},
		{"decision refused by a finding", "DEC", "", func(p *project.Project, d object) {
			decide("station:ST-2", "input_byte", "40", project.Fixed)(p, d)
			d["findings"] = append([]any{errorFinding("station:ST-2")}, d["findings"].([]any)...)
		}},
		{"preferred and not followed costs", "COST", "cost.changes", func(p *project.Project, _ object) {
			p.Choices = append(p.Choices, project.Decision{Subject: "signal:S01", Property: "place", Value: "P2", Strength: project.Preferred, ChangeCost: 70_000})
		}},
		{"voltage too low for any core", "VOLT", "S06", edit(func(p *project.Project) { signalOf(p, "S06").MinVoltage = q.Some(q.Voltage(23.4)) })},
		{"voltage low enough for the thin core", "CAB", "f4", edit(func(p *project.Project) { signalOf(p, "S11").MinVoltage = q.Some(q.Voltage(20)) })},
		{"cable too long for the basis", "LIM", "length", edit(func(p *project.Project) { p.Basis.MaxCable[project.AI] = 20_000 })},
		{"too long, but a finding says so", "LIM", "", func(p *project.Project, d object) {
			p.Basis.MaxCable[project.AI] = 20_000
			d["findings"] = append([]any{errorFinding("cable:C05")}, d["findings"].([]any)...)
		}},
		{"free slots", "LIM", "slots", edit(func(p *project.Project) { p.Basis.FreeSlots = 1 })},
		{"group's most current", "LIM", "ST-2-G3", edit(func(p *project.Project) { p.Basis.Group.MaxCurrent = 450_000 })},
		{"ambient beyond the parts", "LIM", "coupler", edit(func(p *project.Project) { p.Places[1].AmbientMax = q.Some(q.Temperature(65)) })},
		{"frost", "LIM", "coupler from", edit(func(p *project.Project) { p.Places[1].AmbientMin = q.Some(q.Temperature(-5)) })},
		{"spare of a third", "SPAR", "spare DI", edit(func(p *project.Project) { p.Basis.Spare[project.DI] = 1667 })},
		{"partners in one group", "APRT", "supply group", edit(func(p *project.Project) { p.Basis.Redundancy = project.LevelGroup })},
		{"partners in one station", "APRT", "a station", edit(func(p *project.Project) {
			p.Basis.Redundancy = project.LevelStation
			signalOf(p, "S05").RedundantWith = []string{"S07"}
		})},
		{"partners in one module", "APRT", "a module", edit(func(p *project.Project) { signalOf(p, "S05").RedundantWith = []string{"S08"} })},
		{"segregated from the station", "APRT", "segregation class", edit(func(p *project.Project) { signalOf(p, "S04").Segregate = "A" })},
		{"segregated from the module", "APRT", "module key", edit(func(p *project.Project) { signalOf(p, "S02").Segregate = "B" })},
		{"segregated from the group (no level stated)", "GRP", "seg:C", edit(func(p *project.Project) { signalOf(p, "S02").Segregate = "C" })},
		{"segregated from nothing", "GRP", "", edit(func(p *project.Project) {
			p.Basis.Segregation["C"] = project.LevelNone
			signalOf(p, "S02").Segregate = "C"
		})},
		{"groups by equipment", "GRP", "part:E2", edit(func(p *project.Project) {
			p.Basis.Group.SplitByPart = true
			signalOf(p, "S02").Equipment = "E2"
		})},
		{"active and passive", "SUIT", "", edit(func(p *project.Project) { signalOf(p, "S04").Active = "active" })},
		{"active needs other terminals", "WIRE", "signal-", edit(func(p *project.Project) { signalOf(p, "S04").Active = "active" })},
		{"HART on a module without", "SUIT", "HART", edit(func(p *project.Project) { signalOf(p, "S04").HART = true })},
		{"Ex i on a plain module", "SUIT", "Ex level", edit(func(p *project.Project) { signalOf(p, "S04").ExLevel = "ib" })},
		{"too much for a channel", "SUIT", "channel current", edit(func(p *project.Project) { signalOf(p, "S06").Current = q.Some(q.Current(0.6)) })},
		{"48 V on a 24 V module", "SUIT", "voltage kind", edit(func(p *project.Project) { signalOf(p, "S06").Voltage = q.Some(q.Voltage(48)) })},
		{"safety class on a module not for it", "SUIT", "interference-free", edit(func(p *project.Project) { signalOf(p, "S05").SupplyClass = "safety:X" })},
		{"line is shorter than star", "NET", "a line", edit(func(p *project.Project) { p.Network.Topology = "line" })},
		{"a shorter way", "CAB", "shortest", edit(func(p *project.Project) {
			p.Routes = append(p.Routes, project.Route{ID: "R5", From: "P2", To: "P3", Length: 15_000})
		})},
		{"margin of the supply unit", "POW", "need", edit(func(p *project.Project) { p.Basis.Supply.Margin = 300 })},
		{"hot place: two units or a larger one", "POW", "ps-5", edit(func(p *project.Project) { p.Places[2].AmbientMax = q.Some(q.Temperature(57)) })},
		{"outdoor enclosure", "POW", "enclosure", edit(func(p *project.Project) { p.Places[1].Outdoor = true })},
		{"feeder core", "POW", "feeder", edit(func(p *project.Project) { p.Power.UPSPlace = "P3" })},
		{"labour rate", "LAB", "price", edit(func(p *project.Project) { p.Basis.Prices.Rate += 10_000 })},
		{"waste", "CAB", "order_m", edit(func(p *project.Project) { p.Basis.Cable.Waste = 100 })},
		{"first byte", "ADDR", "first input byte", edit(func(p *project.Project) { p.Basis.Address.FirstIn = 10 })},
		{"reserve", "ADDR", "ST-2", edit(func(p *project.Project) { p.Basis.Address.Reserve = 1500 })},
		{"place forbidden", "SITE", "P1", edit(func(p *project.Project) { p.Places[1].Forbidden = true })},
		{"fixed cost moves the bound", "CERT", "lower_bound", edit(func(p *project.Project) { p.Places[1].FixedCost += 10_000 })},
		{"less pull moves the bound", "CERT", "lower_bound", edit(func(p *project.Project) { p.Basis.Prices.PullPerMetre-- })},
		{"spare moves the bound", "CERT", "lower_bound", edit(func(p *project.Project) { p.Basis.Spare[project.AI] = 0 })},
		{"a fixed place moves the bound", "CERT", "lower_bound", decide("signal:S01", "place", "P1", project.Fixed)},
	} {
		t.Run(c.name, func(t *testing.T) {
			var hits []string
			for _, v := range reported(t, c.edit) {
				if _, ok := Laws[v.Law]; !ok {
					t.Errorf("law %s is not in Laws", v.Law)
				}
				if v.Law == c.law {
					hits = append(hits, v.String())
				}
			}
			text := strings.Join(hits, "\n")
			if c.word == "" && text != "" || c.word != "" && !strings.Contains(text, c.word) {
				t.Errorf("want %s with %q, got:\n%s", c.law, c.word, text)
			}
		})
	}
}
