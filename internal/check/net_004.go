package check

import (
	"fmt"
	"math"
	"strings"

	"railwright/internal/calc/bus"
	"railwright/internal/finding"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "NET-004", Title: "Bus needs segments",
	Why:     "The length of a bus counts from end to end, not from station to station, and a segment carries 32 unit loads: beyond either it needs repeaters.",
	Example: "Nine stations over 2300 m of RS-485 at 93.75 kbit/s: two segments and a repeater.",
	Source:  "iec-61158#type-3", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		p, ok := f.List.Network(f.Design.Network.Profile)
		if !ok || p.Medium != "rs485" && p.Medium != "can" {
			return nil
		}
		length := 0.0
		for _, s := range f.Design.Network.Segments {
			length += s.LengthM
		}
		most := p.MaxSegment.Metres()
		if r := segmentLimit(p.Medium, float64(p.BitRate)); r > 0 {
			most = math.Min(most, r)
		}
		n := len(f.Design.Stations)
		if length <= most && n+1 <= 32 || most == 0 {
			return nil
		}
		text := "Take a lower bit rate, fibre between two parts of the bus, or Ethernet."
		if prof, err := bus.ProfileNamed("rs485-type-3-cable-a"); err == nil && p.Medium == "rs485" {
			if s, err := prof.Segments(float64(p.BitRate), q.Length(length), n); err == nil {
				text = fmt.Sprintf("It needs %d segments and %d repeaters.", s.Segments, s.Repeaters)
				if !s.OK {
					text += " That is not allowed: " + s.Why + "."
				}
				text += " Or take a lower bit rate, or Ethernet."
			}
		}
		return finding.List{{
			Severity: finding.Error, Subject: "project",
			Message: fmt.Sprintf("the %s bus is %.0f m long with %s; one segment may be %.0f m with 31 at %s kbit/s.", strings.ToUpper(p.Medium), length, counted(n, "station"), most, num(float64(p.BitRate)/1000, 2)),
			Figures: figures("length_m", length, "m", "max_length_m", most, "m", "stations", float64(n), "1"), Remedy: finding.Remedy{Text: text}, Calculation: figureIn(f, "network.length"),
		}}
	},
})

// segmentLimit is the handbook's length of one segment at a bit rate.
func segmentLimit(medium string, bps float64) float64 {
	name := map[string]string{"rs485": "rs485-type-3-cable-a", "can": "can"}[medium]
	p, err := bus.ProfileNamed(name)
	if err != nil {
		return 0
	}
	r, err := p.At(bps)
	if err != nil {
		return 0
	}
	return float64(r.MaxLength)
}
