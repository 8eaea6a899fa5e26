package drawing

import (
	"fmt"
	"testing"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene/scenetest"
)

// wired is the example with its stations joined another way.
func wired(in Input, topology string) Input {
	d := *in.Design
	node := func(i int) string {
		if i == 0 {
			return "controller"
		}
		return "station:" + d.Stations[i-1].ID
	}
	d.Network.Topology, d.Network.Segments = topology, nil
	join := func(a, b int) {
		d.Network.Segments = append(d.Network.Segments, design.Segment{Cable: fmt.Sprintf("N-%d", len(d.Network.Segments)+1), From: node(a), To: node(b), LengthM: 50, LimitM: 90})
	}
	n := len(d.Stations)
	for i := 1; i <= n; i++ {
		switch topology {
		case "star":
			join(0, i)
		case "tree":
			join((i-1)/2, i)
		default:
			join(i-1, i)
		}
	}
	if topology == "ring" {
		join(n, 0)
	}
	in.Design = &d
	return in
}

// TestNetwork: in every topology each network cable and each node is drawn once, and the sheets keep the laws.
func TestNetwork(t *testing.T) {
	for _, topology := range []string{"star", "line", "ring", "tree"} {
		t.Run(topology, func(t *testing.T) {
			in := wired(sites["rail"](), topology)
			b := newBook(in)
			b.network()
			sheets := b.done()
			paper.Finish(in.Setting, sheets)
			scenetest.Check(t, sheets)
			labels, nodes := map[string]int{}, map[string]int{}
			for _, s := range sheets {
				for _, i := range read(t, &s).items {
					switch {
					case i.Text != nil && i.Role == "cable":
						labels[i.Subject]++
					case i.Path != nil && i.Role == "node":
						nodes[i.Subject]++
					}
				}
			}
			for _, s := range in.Design.Network.Segments {
				closing := topology == "ring" && s.To == "controller"
				if n := labels["cable:"+s.Cable]; n != 1 && !(closing && n >= 1) {
					t.Errorf("%s is named %d times", s.Cable, n)
				}
			}
			for _, st := range in.Design.Stations {
				if nodes["station:"+st.ID] != 1 {
					t.Errorf("%s is drawn %d times", st.ID, nodes["station:"+st.ID])
				}
			}
			if len(nodes) != len(in.Design.Stations)+1 {
				t.Errorf("%d nodes", len(nodes))
			}
		})
	}
}
