package schedule

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/calc/conductor"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
	"railwright/internal/words"
)

// gland seals one cable where it enters an enclosure.
type gland struct {
	name     string // code in the hardware list, or the thread where the list has none that fits; "" = not known
	title    string
	thread   string
	min, max float64 // diameters that it seals, mm
	price    q.Money
	listed   bool
}

var thread = regexp.MustCompile(`(?i)(?:^|[^a-z])(m[0-9]{2})(?:[^0-9]|$)`)

// glandFor chooses the smallest gland of the hardware list that seals the cable, of equal ones the
// cheapest; where the list has none, the metric thread by the usual ranges.
func (b *builder) glandFor(k *hardware.Cable) gland {
	if k == nil || k.DiameterUM <= 0 {
		return gland{}
	}
	var best *hardware.Part
	for i := range b.Hardware.Parts {
		p := &b.Hardware.Parts[i]
		if p.Use != "gland" || k.DiameterUM < p.MinDiameterUM || k.DiameterUM > p.MaxDiameterUM {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(p.MaxDiameterUM, best.MaxDiameterUM), cmp.Compare(p.Price, best.Price)) < 0 {
			best = p
		}
	}
	if best != nil {
		g := gland{name: best.Code, title: best.Title, min: float64(best.MinDiameterUM) / 1000, max: float64(best.MaxDiameterUM) / 1000, price: best.Price, listed: true}
		for _, s := range []string{best.Title, best.Code} {
			if m := thread.FindStringSubmatch(s); m != nil && g.thread == "" {
				g.thread = strings.ToUpper(m[1])
			}
		}
		return g
	}
	g, err := conductor.GlandFor(q.Length(float64(k.DiameterUM) / 1e6))
	if err != nil {
		return gland{}
	}
	return gland{name: g.Thread, thread: g.Thread, min: round(float64(g.Min)*1000, 10), max: round(float64(g.Max)*1000, 10)}
}

// entry is a gland at one end of a cable.
type entry struct {
	gland
	at string // subject of what the cable enters
}

// entries are the glands at both ends of every cable whose diameter is known.
func (b *builder) entries() []entry {
	var out []entry
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		g := b.glandFor(b.typeOf(c))
		if g.name == "" {
			continue
		}
		out = append(out, entry{g, c.From}, entry{g, c.To})
	}
	slices.SortStableFunc(out, func(x, y entry) int { return cmp.Or(cmp.Compare(x.max, y.max), cmp.Compare(x.name, y.name)) })
	return out
}

// glands counts the glands to buy, by where they go. Glands of devices are listed apart, since a device
// may bring its own or have another thread. Their price is in no total of the design.
func (b *builder) glands() Table {
	t := table("glands", "code", "title", "thread", "min_mm", "max_mm", "stations", "junction_boxes", "devices", "boards", "count", "price", "sum")
	columns := []string{"station", "junction_box", "device"}
	var totals [4]int
	total := q.Money(0)
	all := b.entries()
	for len(all) > 0 {
		var n [4]int
		first := all[0]
		for len(all) > 0 && all[0].gland == first.gland {
			kind, _, _ := strings.Cut(all[0].at, ":")
			at := slices.Index(columns, kind)
			if at < 0 {
				at = 3
			}
			n[at]++
			totals[at]++
			all = all[1:]
		}
		count := n[0] + n[1] + n[2] + n[3]
		price, cost := Cell{}, Cell{}
		if first.listed {
			price, cost = number(first.price.Units()), number((first.price * q.Money(count)).Units())
			total += first.price * q.Money(count)
		}
		t.add(text(first.name), text(first.title), text(first.thread), number(first.min), number(first.max),
			whole(n[0]), whole(n[1]), whole(n[2]), whole(n[3]), whole(count), price, cost)
	}
	if len(t.Rows) > 0 {
		t.add(text(words.Text("schedule.total")), Cell{}, Cell{}, Cell{}, Cell{}, whole(totals[0]), whole(totals[1]), whole(totals[2]), whole(totals[3]),
			whole(totals[0]+totals[1]+totals[2]+totals[3]), Cell{}, number(total.Units()))
		t.Total = true
	}
	return t
}

// glandPlates lists what is drilled into each enclosure: the holes by thread, 0.3 mm wider than the
// thread (common practice; IEC 62444 leaves the hole to the maker).
func (b *builder) glandPlates() Table {
	t := table("gland_plates", "at", "name", "code", "thread", "hole_mm", "count")
	t.Paper = []string{"name", "code", "thread", "hole_mm", "count"}
	all := slices.DeleteFunc(b.entries(), func(e entry) bool {
		return !strings.HasPrefix(e.at, "station:") && !strings.HasPrefix(e.at, "junction_box:")
	})
	slices.SortStableFunc(all, func(x, y entry) int { return cmp.Compare(x.at, y.at) })
	for i := 0; i < len(all); {
		n := i
		for n < len(all) && all[n] == all[i] {
			n++
		}
		hole := Cell{}
		if d, err := strconv.Atoi(strings.TrimPrefix(all[i].thread, "M")); err == nil {
			hole = number(round(float64(d)+0.3, 10))
		}
		t.add(text(all[i].at), text(b.thing(all[i].at)), text(all[i].name), text(all[i].thread), hole, whole(n-i))
		i = n
	}
	return t
}
