package schedule

import (
	"cmp"
	"slices"

	"railwright/internal/design"
	q "railwright/internal/quantity"
	"railwright/internal/words"
)

// Drum is one drum of a cutting plan.
type Drum struct {
	Length q.Millimetres // as delivered
	Pieces []int         // indices of the pieces in the order in which they are cut
	Left   q.Millimetres
	Made   bool // no usual length is long enough: delivered to measure
}

// CutPlan lays pieces on drums of the given lengths so that little is bought and little is left over:
// first-fit decreasing for each length as the largest, each drum then exchanged for the shortest one that
// holds its pieces; the plan that buys least is taken, of equal ones that with fewer drums. A piece
// longer than every drum gets one made to measure. It returns nil for no pieces.
//
// First-fit decreasing never needs more than 11/9 of the fewest drums of one length and 6/9 of a drum
// (Dósa 2007).
func CutPlan(pieces, lengths []q.Millimetres) []Drum {
	lengths = slices.Sorted(slices.Values(lengths))
	order := make([]int, len(pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(pieces[b], pieces[a]) })
	if len(lengths) == 0 {
		return firstFit(pieces, order, nil, 0)
	}
	var best []Drum
	bought := q.Millimetres(0)
	for _, largest := range lengths {
		plan := firstFit(pieces, order, lengths, largest)
		total := q.Millimetres(0)
		for _, d := range plan {
			total += d.Length
		}
		if best == nil || total < bought || total == bought && len(plan) < len(best) {
			best, bought = plan, total
		}
	}
	return best
}

// firstFit puts each piece on the first drum with room; pieces longer than the wished largest drum begin
// one of the longest length.
func firstFit(pieces []q.Millimetres, order []int, lengths []q.Millimetres, largest q.Millimetres) []Drum {
	var drums []Drum
	for _, i := range order {
		p := pieces[i]
		at := slices.IndexFunc(drums, func(d Drum) bool { return d.Left >= p })
		if at < 0 {
			d := Drum{Length: largest}
			if p > largest && len(lengths) > 0 {
				d.Length = lengths[len(lengths)-1]
			}
			if p > d.Length {
				d.Length, d.Made = p, true
			}
			d.Left = d.Length
			drums, at = append(drums, d), len(drums)
		}
		drums[at].Pieces = append(drums[at].Pieces, i)
		drums[at].Left -= p
	}
	for i := range drums {
		d := &drums[i]
		used := d.Length - d.Left
		for _, l := range lengths {
			if l >= used && l <= d.Length {
				d.Length, d.Left = l, l-used
				break
			}
		}
	}
	return drums
}

// drum is a drum of one cable type.
type drum struct {
	Drum
	code   string
	number int             // among those of its type, from 1
	cables []*design.Cable // as cut
}

// place is where a cable is cut from.
type place struct{ drum, cut int }

func (d *drum) name() string { return d.code + " #" + q.Short(float64(d.number)) }

// cut plans the drums of every type.
func (b *builder) cut() {
	b.spool = map[string]place{}
	byType := map[string][]*design.Cable{}
	var codes []string
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		if byType[c.Type] == nil {
			codes = append(codes, c.Type)
		}
		byType[c.Type] = append(byType[c.Type], c)
	}
	slices.Sort(codes)
	for _, code := range codes {
		pieces := make([]q.Millimetres, len(byType[code]))
		for i, c := range byType[code] {
			pieces[i] = q.ToMillimetres(q.Length(c.OrderM))
		}
		for n, plan := range CutPlan(pieces, b.Project.Basis.Cable.Drums) {
			d := drum{Drum: plan, code: code, number: n + 1}
			for _, i := range plan.Pieces {
				d.cables = append(d.cables, byType[code][i])
				b.spool[byType[code][i].ID] = place{len(b.drums), len(d.cables)}
			}
			b.drums = append(b.drums, d)
		}
	}
}

// drumList is what to order: one row a drum, with what is cut off it and what is left.
func (b *builder) drumList() Table {
	t := table("drums", "drum", "type", "title", "drum_m", "made_to_length", "cuts", "used_m", "left_m", "mass_kg")
	length, used, left := q.Millimetres(0), q.Millimetres(0), q.Millimetres(0)
	cuts := 0
	for i := range b.drums {
		d := &b.drums[i]
		title, mass := "", Cell{}
		if k := b.typeOf(d.cables[0]); k != nil {
			title = k.Title
			if k.Mass > 0 {
				mass = number(round(float64(k.Mass)*d.Length.Metres()/1000, 10))
			}
		}
		t.add(text(d.name()), text(d.code), text(title), number(d.Length.Metres()), yes(d.Made), whole(len(d.cables)),
			number((d.Length - d.Left).Metres()), number(d.Left.Metres()), mass)
		length, used, left, cuts = length+d.Length, used+d.Length-d.Left, left+d.Left, cuts+len(d.cables)
	}
	if len(b.drums) > 0 {
		t.add(text(words.Text("schedule.total")), Cell{}, Cell{}, number(length.Metres()), Cell{}, whole(cuts), number(used.Metres()), number(left.Metres()), Cell{})
		t.Total = true
	}
	return t
}

// cuts is the cut list: each piece with where on its drum it begins and ends.
func (b *builder) cuts() Table {
	t := table("drum_cuts", "drum", "cut", "cable_id", "cable", "from_m", "to_m", "cut_m", "laid_m", "left_m")
	total := q.Millimetres(0)
	for i := range b.drums {
		d := &b.drums[i]
		at := q.Millimetres(0)
		for n, c := range d.cables {
			piece := q.ToMillimetres(q.Length(c.OrderM))
			t.add(text(d.name()), whole(n+1), text(c.ID), text(c.Name), number(at.Metres()), number((at + piece).Metres()), number(piece.Metres()),
				number(c.LengthM), number((d.Length - at - piece).Metres()))
			at += piece
			total += piece
		}
	}
	if len(b.drums) > 0 {
		t.add(text(words.Text("schedule.total")), Cell{}, Cell{}, Cell{}, Cell{}, Cell{}, number(total.Metres()), Cell{}, Cell{})
		t.Total = true
	}
	return t
}
