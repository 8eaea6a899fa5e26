package schedule

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"railwright/internal/design"
	q "railwright/internal/quantity"
	"railwright/internal/words"
)

// round takes the noise of a sum of decimal numbers off: steps is 10 for 0.1.
func round(v, steps float64) float64 { return math.Round(v*steps) / steps }

// sum returns count x price; both are multiples of 0.1 and 0.001 or coarser, so it is exact.
func sum(p design.Part) q.Money { return q.ToMoney(p.Count * p.Price) }

func bought(t *Table, rows []design.Part, with func(p design.Part) []Cell) {
	total, width := q.Money(0), len(t.Heads)
	for _, p := range rows {
		t.add(with(p)...)
		total += sum(p)
	}
	if len(rows) == 0 {
		return
	}
	last := make([]Cell, width)
	last[0] = text(words.Text("schedule.total"))
	last[slices.Index(t.Heads, "sum")] = number(total.Cents())
	t.add(last...)
	t.Total = true
}

// parts is the parts list as bought: one row a code, spare pieces for the store room beside it (they
// are not in the sum).
func parts(d *design.Design) Table {
	t := table("parts", "class", "code", "title", "count", "unit", "price", "sum", "spare", "currency", "spare_sum")
	type key struct{ class, code string }
	byCode := map[key]*design.Part{}
	for _, p := range d.Parts {
		k := key{p.Class, p.Code}
		if byCode[k] == nil {
			byCode[k] = &design.Part{Class: p.Class, Code: p.Code, Title: p.Title, Unit: p.Unit, Price: p.Price}
		}
		byCode[k].Count = round(byCode[k].Count+p.Count, 1000)
		byCode[k].Spare += p.Spare
	}
	var rows []design.Part
	for _, p := range byCode {
		rows = append(rows, *p)
	}
	slices.SortFunc(rows, func(a, b design.Part) int { return cmp.Or(cmp.Compare(a.Class, b.Class), cmp.Compare(a.Code, b.Code)) })
	bought(&t, rows, func(p design.Part) []Cell {
		return []Cell{
			text(p.Class), text(p.Code), text(p.Title), number(p.Count), text(p.Unit), number(p.Price), number(sum(p).Units()),
			whole(p.Spare), text(d.Cost.Currency), number((q.ToMoney(p.Price) * q.Money(p.Spare)).Units()),
		}
	})
	if t.Total {
		spares := q.Money(0)
		for _, p := range rows {
			spares += q.ToMoney(p.Price) * q.Money(p.Spare)
		}
		t.Rows[len(t.Rows)-1][len(t.Heads)-1] = number(spares.Cents())
	}
	return t
}

// partsFor is the parts list by what each part is for.
func partsFor(d *design.Design) Table {
	t := table("parts_for", "for", "class", "code", "title", "count", "unit", "price", "sum", "spare")
	rows := slices.Clone(d.Parts)
	slices.SortStableFunc(rows, func(a, b design.Part) int {
		return cmp.Or(cmp.Compare(a.For, b.For), cmp.Compare(a.Class, b.Class), cmp.Compare(a.Code, b.Code))
	})
	bought(&t, rows, func(p design.Part) []Cell {
		return []Cell{
			text(p.For), text(p.Class), text(p.Code), text(p.Title), number(p.Count), text(p.Unit), number(p.Price), number(sum(p).Units()), whole(p.Spare),
		}
	})
	return t
}

func labour(d *design.Design) Table {
	t := table("labour", "task", "for", "count", "seconds_each", "hours", "price", "constant")
	seconds, price := 0.0, q.Money(0)
	for _, l := range d.Labour {
		t.add(text(l.Task), text(l.For), number(l.Count), number(l.Seconds), number(round(l.Count*l.Seconds/3600, 100)), number(l.Price), yes(l.Constant))
		seconds += l.Count * l.Seconds
		price += q.ToMoney(l.Price)
	}
	if len(d.Labour) > 0 {
		t.add(text(words.Text("schedule.total")), Cell{}, Cell{}, Cell{}, number(round(seconds/3600, 100)), number(price.Cents()), Cell{})
		t.Total = true
	}
	return t
}

// cost is the sum by class, its total, and what it is compared with.
func cost(d *design.Design) Table {
	t := table("cost", "item", "amount", "currency", "remark")
	c := d.Cost.Currency
	for _, class := range slices.Sorted(maps.Keys(d.Cost.Parts)) {
		t.add(text(class), number(d.Cost.Parts[class]), text(c), Cell{})
	}
	remark := func(name string, amount float64, why string) { t.add(text(name), number(amount), text(c), text(why)) }
	remark("total", d.Cost.Total, "parts, labour and fixed costs of places")
	remark("constant", d.Cost.Constant, "part of the total that no choice of places changes")
	remark("installed", d.Cost.Installed, "stands already and is not bought again")
	remark("changes", d.Cost.Changes, "of doing otherwise than preferred")
	remark("objective", d.Siting.Objective, "total - constant - installed + changes")
	remark("lower bound", d.Siting.LowerBound, "proven: no design that keeps every rule has a smaller objective")
	remark("home run", d.HomeRun.Cost, "the same signals without stations, on the same prices")
	return t
}
