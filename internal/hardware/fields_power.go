package hardware

import (
	q "railwright/internal/quantity"
)

var supplyFields = []field[SupplyUnit]{
	code(func(e *SupplyUnit) *string { return &e.Code }),
	text("title", "what it is", func(e *SupplyUnit) *string { return &e.Title }),
	must(count("output_ma", "rated output current", "mA", 1000, 1, 1e6, func(e *SupplyUnit) *q.Microamps { return &e.Output })),
	must(figure("voltage_v", "rated output voltage", "V", 1, 5, 250, func(e *SupplyUnit) *q.Voltage { return &e.Voltage })),
	must(figure("derate_from_c", "full output up to this ambient", "degC", 1, coldestC, hottestC, func(e *SupplyUnit) *q.Temperature { return &e.DerateFrom })),
	count("derate_percent_per_k", "part of the output lost for each kelvin above", "%/K", 10, 0, 100, func(e *SupplyUnit) *int64 { return &e.DeratePerK }),
	must(figure("ambient_max_c", "highest ambient", "degC", 1, coldestC, hottestC, func(e *SupplyUnit) *q.Temperature { return &e.AmbientMax })),
	must(count("efficiency_percent", "efficiency at full load", "%", 10, 30, 99.9, func(e *SupplyUnit) *int64 { return &e.Efficiency })),
	figure("inrush_a", "inrush current", "A", 1, 0, 1000, func(e *SupplyUnit) *q.Current { return &e.Inrush }),
	figure("short_current_a", "current that it gives into a short circuit", "A", 1, 0, 10_000, func(e *SupplyUnit) *q.Current { return &e.ShortCurrent }),
	figure("hold_up_ms", "hold-up time at full load", "ms", 1000, 0, 10_000, func(e *SupplyUnit) *q.Duration { return &e.HoldUp }),
	flag("safe_separation", "safe separation from the mains: its output is SELV or, earthed, PELV", func(e *SupplyUnit) *bool { return &e.Safe }),
	flag("decoupled", "its output is decoupled: units in parallel survive the short of one", func(e *SupplyUnit) *bool { return &e.Decoupled }),
	figure("battery_ah", "rated capacity of a battery at its output, 20 h; 0 = none", "Ah", 1, 0, 10_000, func(e *SupplyUnit) *float64 { return &e.Battery }),
	must(count("width_mm", "width on the enclosure's rail", "mm", 1, 1, maxWidthMM, func(e *SupplyUnit) *q.Millimetres { return &e.Width })),
	pieces(func(e *SupplyUnit) *q.Money { return &e.Price }),
	text("source", "origin of the figures", func(e *SupplyUnit) *string { return &e.Source }),
}

var protectionFields = []field[Protection]{
	code(func(e *Protection) *string { return &e.Code }),
	text("title", "what it is", func(e *Protection) *string { return &e.Title }),
	must(word("type", "how it trips", func(e *Protection) *string { return &e.Type }, "electronic", "B", "C", "Z", "fuse")),
	flag("dc", "made for 24 and 48 V DC", func(e *Protection) *bool { return &e.DC }),
	flag("ac", "made for mains AC", func(e *Protection) *bool { return &e.AC }),
	must(count("rating_ma", "rated current", "mA", 1000, 1, maxAmpsMA, func(e *Protection) *q.Microamps { return &e.Rating })),
	figure("breaking_a", "breaking capacity", "A", 1, 0, 1e6, func(e *Protection) *q.Current { return &e.Breaking }),
	must(count("width_mm", "width on the enclosure's rail", "mm", 1, 1, maxWidthMM, func(e *Protection) *q.Millimetres { return &e.Width })),
	count("heat_w", "losses at rated current", "W", 1000, 0, 1000, func(e *Protection) *int64 { return &e.Heat }),
	pieces(func(e *Protection) *q.Money { return &e.Price }),
	text("source", "origin of the figures", func(e *Protection) *string { return &e.Source }),
}

var boxFields = []field[JunctionBox]{
	code(func(e *JunctionBox) *string { return &e.Code }),
	text("title", "what it is", func(e *JunctionBox) *string { return &e.Title }),
	must(count("terminals", "terminals", "", 1, 1, 10_000, func(e *JunctionBox) *int { return &e.Terminals })),
	text("ip", "degree of protection", func(e *JunctionBox) *string { return &e.IP }),
	pieces(func(e *JunctionBox) *q.Money { return &e.Price }),
	text("source", "origin of the figures", func(e *JunctionBox) *string { return &e.Source }),
}

var enclosureFields = []field[Enclosure]{
	code(func(e *Enclosure) *string { return &e.Code }),
	text("title", "what it is", func(e *Enclosure) *string { return &e.Title }),
	must(count("rail_mm", "usable rail, all rows together", "mm", 1, 1, 100_000, func(e *Enclosure) *q.Millimetres { return &e.Rail })),
	must(count("row_mm", "usable rail of one row", "mm", 1, 1, maxWidthMM, func(e *Enclosure) *q.Millimetres { return &e.Row })),
	must(count("height_mm", "outer height", "mm", 1, 1, maxWidthMM, func(e *Enclosure) *q.Millimetres { return &e.Height })),
	must(count("width_mm", "outer width", "mm", 1, 1, maxWidthMM, func(e *Enclosure) *q.Millimetres { return &e.Width })),
	must(count("depth_mm", "outer depth", "mm", 1, 1, maxWidthMM, func(e *Enclosure) *q.Millimetres { return &e.Depth })),
	count("max_heat_w", "losses allowed at the maker's stated rise; 0 = by calculation", "W", 1000, 0, 100_000, func(e *Enclosure) *int64 { return &e.MaxHeat }),
	flag("outdoor", "may stand outdoors", func(e *Enclosure) *bool { return &e.Outdoor }),
	text("ip", "degree of protection", func(e *Enclosure) *string { return &e.IP }),
	pieces(func(e *Enclosure) *q.Money { return &e.Price }),
	text("source", "origin of the figures", func(e *Enclosure) *string { return &e.Source }),
}
