package exchange

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
)

// typeBits are the sizes of the elementary types that points have (IEC 61131-3, elementary data types).
var typeBits = map[string]int{"BOOL": 1, "SINT": 8, "BYTE": 8, "INT": 16, "UINT": 16, "WORD": 16, "DINT": 32, "UDINT": 32, "DWORD": 32}

// Check proves the located addresses: each reads back, in the basis's convention, to the bits that the
// slot and the hardware list give it; its size is its type's; no two of one area share a bit. Compilers
// let some of these through. Each fault is an EXC-003 error.
func Check(points []Point, convention string) finding.List {
	var found finding.List
	add := func(p Point, format string, args ...any) {
		found = append(found, finding.Finding{
			Rule: "EXC-003", Severity: finding.Error, Subject: subject(p), Message: fmt.Sprintf(format, args...), Source: "arithmetic",
			Remedy: finding.Remedy{Text: "Plan again; where it stays, the addresses of the accepted design do not fit its hardware."},
		})
	}
	for _, p := range points {
		area, span, err := ParseAddress(p.Address, convention)
		switch {
		case err != nil:
			add(p, "%v", err)
		case area != p.Area || span != p.Span:
			add(p, "address %s means %s, but the channel is at %s", p.Address, place(area, span), place(p.Area, p.Span))
		case typeBits[p.Type] != span.Bits:
			add(p, "address %s holds %d bits, type %s has %d", p.Address, span.Bits, p.Type, typeBits[p.Type])
		}
	}
	sorted := slices.Clone(points)
	slices.SortStableFunc(sorted, func(a, b Point) int {
		return cmp.Or(cmp.Compare(a.Area, b.Area), cmp.Compare(a.Span.From, b.Span.From))
	})
	for i := 1; i < len(sorted); i++ {
		a, b := sorted[i-1], sorted[i]
		if a.Area == b.Area && b.Span.From < a.Span.past() {
			add(b, "address %s overlaps %s of %s", b.Address, a.Address, name(a))
			if a.Span.past() > b.Span.past() {
				sorted[i] = a // the wider one may reach over the next as well
			}
		}
	}
	return found
}

func place(area byte, s Span) string {
	side := "input"
	if area == 'Q' {
		side = "output"
	}
	if s.Bits == 1 {
		return fmt.Sprintf("%s byte %d bit %d", side, s.Byte(), s.Bit())
	}
	return fmt.Sprintf("%s byte %d, %d bits", side, s.Byte(), s.Bits)
}

func name(p Point) string {
	if p.Spare {
		return fmt.Sprintf("spare channel %d of slot %d, %s", p.Channel, p.Slot, p.Station)
	}
	return p.Tag
}

func subject(p Point) string {
	if p.Spare {
		return "station:" + p.Station
	}
	return "signal:" + p.ID
}

// Left reports what an export leaves out or cannot know: unplaced signals (EXC-006), values on hold
// (EXC-007), analogue points without scaling (EXC-004 the list's range, EXC-005 the hardware's counts).
func Left(points []Point, d *design.Design) finding.List {
	var found finding.List
	tell := func(rule string, sev finding.Severity, tags []string, message, remedy string) {
		if len(tags) > 0 {
			found = append(found, finding.Finding{Rule: rule, Severity: sev, Subject: "project", Message: fmt.Sprintf(message, some(tags)), Remedy: finding.Remedy{Text: remedy}})
		}
	}
	var lost []string
	for _, u := range d.Unplaced {
		lost = append(lost, cmp.Or(u.Tag, u.Signal))
	}
	by := map[Missing][]string{}
	modules := map[string]bool{}
	var hold []string
	for _, p := range points {
		if p.Back || p.Spare {
			continue
		}
		if p.Hold != "" {
			hold = append(hold, p.Tag)
		}
		if p.Scale.Why == NoRaw {
			modules[p.Module] = true
		} else if p.Scale.Why != NotAnalogue {
			by[p.Scale.Why] = append(by[p.Scale.Why], p.Tag)
		}
	}
	tell("EXC-006", finding.Warning, lost, "signals without a channel are not in the export: %s", "See their reason under unplaced, then export again.")
	tell("EXC-007", finding.Info, hold, "values are still on hold: %s", "Export again once they are confirmed.")
	tell("EXC-004", finding.Info, by[NoRange], "no scaling, the list states no range: %s", "Fill in range_low and range_high.")
	tell("EXC-004", finding.Info, by[NoUnit], "no scaling, a temperature is wanted in degC, K or degF: %s", "Mend the unit.")
	tell("EXC-004", finding.Info, by[NoSignal], "no scaling, the list does not hold the signal any more: %s", "Plan again.")
	codes := make([]string, 0, len(modules))
	for m := range modules {
		codes = append(codes, m)
	}
	slices.Sort(codes)
	tell("EXC-005", finding.Warning, codes, "no scaling, the hardware list states no raw counts of these modules: %s", "Add raw_low and raw_high, or raw_step_k, from the module's manual.")
	return found
}

// some names up to six of a list and says how many more there are.
func some(all []string) string {
	const most = 6
	if len(all) <= most {
		return strings.Join(all, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(all[:most], ", "), len(all)-most)
}
