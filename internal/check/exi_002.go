package check

import (
	"fmt"
	"strings"

	"railwright/internal/calc/exi"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "EXI-002", Title: "Intrinsically safe circuit does not fit by its stated data",
	Why:     "Source, device and cable must fit by their certificates: voltage, current and power of the source within what the device takes, and what device and cable store within what the source allows.",
	Example: "A transmitter with Ui 28 V on a channel with Uo 30 V; only a competent person decides what to do.",
	Source:  "iec-60079-14#16.2.2", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			r, ok := entity(f, s, at)
			if !ok {
				return finding.Finding{}, false
			}
			var bad []string
			shown := map[string]finding.Figure{}
			for _, l := range r.Lines {
				if l.OK || l.Missing != "" {
					continue
				}
				bad = append(bad, entityLine(l))
				if l.Unit != "" {
					shown[l.Name] = finding.Figure{Value: l.Seen, Unit: l.Unit}
				}
			}
			if len(bad) == 0 {
				return finding.Finding{}, false
			}
			text := "Have a competent person decide with the certificates of the parts that are built in (IEC 60079-14)."
			if r.MaxLength > 0 && float64(r.MaxLength) < laid(at) {
				text += fmt.Sprintf(" By the stated data at most %.0f m of cable.", float64(r.MaxLength))
			}
			x := finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s on module %s does not hold: %s.", s.Tag, at.Module.Code, strings.Join(bad, "; ")),
				Figures: shown, Remedy: finding.Remedy{Text: text},
			}
			if _, ok := figureOf(f, s, "exi_c"); ok {
				x.Calculation = calc(s, "exi_c")
			}
			return x, true
		})
	},
})

// entityLine writes a line that does not hold with its two figures in the units of certificates.
func entityLine(l exi.Line) string {
	if l.Unit == "" {
		return l.Name + ": " + l.Note
	}
	per, unit := map[string]float64{"V": 1, "A": 1000, "W": 1000, "F": 1e9, "H": 1000}[l.Unit], map[string]string{"V": "V", "A": "mA", "W": "mW", "F": "nF", "H": "mH"}[l.Unit]
	if per == 0 {
		return fmt.Sprintf("%s (%.4g, %.4g allowed)", l.Name, l.Seen, l.Allowed)
	}
	text := fmt.Sprintf("%s (%s %s, %s %s allowed)", l.Name, num(l.Seen*per, 2), unit, num(l.Allowed*per, 2), unit)
	if l.Note != "" {
		text += ", " + l.Note
	}
	return text
}

// entity compares the stated data of a signal's circuit; ok is false where it is not intrinsically
// safe or the figures make no sense.
func entity(f *Facts, s *project.Signal, at Seat) (exi.Report, bool) {
	if s.ExLevel == "" || at.Type == nil {
		return exi.Report{}, false
	}
	stated := func(v float64) exi.Stated { return exi.Stated{Value: v, Set: v > 0} }
	set := at.Set
	src := exi.Source{
		Name: at.Module.Code, Uo: stated(float64(set.Uo)), Io: stated(float64(set.Io)), Po: stated(float64(set.Po)), Linear: true,
		Co: stated(float64(set.CoIIC)), Lo: stated(float64(set.LoIIC)), Level: exi.Level(set.ExLevel), Group: exi.GroupIIC,
	}
	gas := s.ExGas
	if gas == "IIA" || gas == "IIB" {
		src.Co, src.Lo, src.Group = stated(float64(set.CoIIB)), stated(float64(set.LoIIB)), exi.GroupIIB
	}
	dev := exi.Device{
		Name: s.Tag, Ui: exi.Stated{Value: float64(s.Ui.Value), Set: s.Ui.Set}, Ii: exi.Stated{Value: float64(s.Ii.Value), Set: s.Ii.Set},
		Pi: exi.Stated{Value: float64(s.Pi.Value), Set: s.Pi.Set}, Ci: exi.Stated{Value: float64(s.Ci.Value), Set: s.Ci.Set}, Li: exi.Stated{Value: float64(s.Li.Value), Set: s.Li.Set},
		Level: exi.Level(s.ExLevel), Simple: figure.Simple(s),
	}
	c := exi.Circuit{
		Source: src, Devices: []exi.Device{dev}, Zone: s.ExZone,
		Cable: exi.Cable{Length: q.Length(at.Cable.LengthM), Capacitance: at.Type.Capacitance, Inductance: at.Type.Inductance},
	}
	switch gas {
	case "IIA", "IIB", "IIC":
		c.Group, c.Devices[0].Group = exi.Group(gas), exi.Group(gas)
	}
	r, err := exi.Compare(c)
	return r, err == nil
}
