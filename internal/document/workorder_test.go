package document

import (
	"fmt"
	"strings"
	"testing"

	"railwright/internal/modification"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
)

// Every step of a work order is on paper once, with a box to tick, and nothing lies outside its frame.
func TestWorkOrder(t *testing.T) {
	m := &modification.Modification{Peak: 3, Cores: 4, Buy: []modification.PartCount{{Code: "di8", Title: "8 inputs", Unit: "pc", Count: 1}}}
	m.Outages = []modification.Outage{{Number: 1, Unit: "group:P1-S1-G1", First: 41, Last: 80, Signals: []string{"A", "B", "C"}, Trips: []string{"A: 0"}, Permissions: []string{"operations of the plant"}}}
	for n := 1; n <= 120; n++ {
		s := modification.Step{Number: n, Kind: modification.Land, Text: fmt.Sprintf("Land core %d-%s of a cable with a long name on its terminal.", n, strings.Repeat("x", n%40)), Back: "Take these cores off again."}
		if n > 40 && n <= 80 {
			s.Outage = 1
		}
		m.Steps = append(m.Steps, s)
	}
	m.Signals = []modification.SignalChange{{Signal: "A", Tag: "A", What: []string{"moved"}, Sheet: true}}
	for _, size := range []paper.Size{paper.A4, paper.Letter} {
		sheets := WorkOrder(m, paper.Setting{Size: size, Project: "p", Draft: true})
		scenetest.Check(t, sheets)
		for n := 1; n <= 120; n++ {
			if got := count(sheets, fmt.Sprintf("core %d-", n)); got != 1 {
				t.Errorf("step %d is on paper %d times", n, got)
			}
		}
	}
}

func count(sheets []scene.Sheet, words string) int {
	n := 0
	for _, s := range sheets {
		for _, l := range s.Layers {
			for _, it := range l.Items {
				if it.Text != nil && strings.Contains(it.Text.Words, words) {
					n++
				}
			}
		}
	}
	return n
}
