package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "NET-009", Title: "Network address that cannot be",
	Why:     "Two stations with one address answer together; an address beyond the network's range is never asked.",
	Example: "The first node set to 250 with ten stations: the sixth would be 255; begin at 11.",
	Source:  "arithmetic", Mend: ByBasis,
	Run: func(f *Facts) finding.List {
		p, ok := f.List.Network(f.Design.Network.Profile)
		if !ok {
			return nil
		}
		most := map[string]int{"rs485": 126, "can": 127}[p.Medium]
		if most == 0 {
			most = 254
		}
		var out finding.List
		seen := map[int]string{}
		for _, a := range f.Design.Network.Addresses {
			first, twice := seen[a.Node]
			seen[a.Node] = a.Station
			switch {
			case twice:
				out = append(out, finding.Finding{
					Severity: finding.Error, Subject: "station:" + a.Station, Message: fmt.Sprintf("%s and %s have the same node number %d.", first, a.Station, a.Node),
					Remedy: finding.Remedy{Text: "Plan again, or release the fixed addresses."},
				})
			case a.Node < 1 || a.Node > most:
				out = append(out, finding.Finding{
					Severity: finding.Error, Subject: "station:" + a.Station, Message: fmt.Sprintf("%s would be node %d; nodes go from 1 to %d on %s.", a.Station, a.Node, most, p.Medium),
					Figures: figures("node", float64(a.Node), "1", "max_node", float64(most), "1"), Remedy: finding.Remedy{Text: "Begin at a lower first_node."},
				})
			}
		}
		return out
	},
})
