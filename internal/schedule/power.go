package schedule

import "railwright/internal/design"

func supplies(d *design.Design) Table {
	t := table("supplies", "id", "station", "class", "type", "units", "load_ma", "need_ma", "limit_ma", "feeder", "loss_w")
	for _, s := range d.Supplies {
		t.add(text(s.ID), text(s.Station), text(s.Class), text(s.Type), whole(s.Units), number(s.LoadMA), number(s.NeedMA), number(s.LimitMA), text(s.Feeder), number(s.LossW))
	}
	return t
}

func feeders(d *design.Design) Table {
	t := table("feeders", "id", "from", "station", "class", "cable", "protection", "voltage_v", "current_a", "drop_v")
	for _, f := range d.Feeders {
		t.add(text(f.ID), text(f.From), text(f.Station), text(f.Class), text(f.Cable), text(f.Protection), number(f.VoltageV), number(f.CurrentA), number(f.DropV))
	}
	return t
}

func protections(d *design.Design) Table {
	t := table("protections", "id", "type", "protects", "rating_a", "load_a")
	for _, p := range d.Protections {
		t.add(text(p.ID), text(p.Type), text(p.Protects), number(p.RatingA), number(p.LoadA))
	}
	return t
}
