package hardware

import (
	q "railwright/internal/quantity"
)

// Words that keys of the list may hold.
var (
	voltageKinds = []string{"24vdc", "48vdc", "120vac", "230vac"}
	topologies   = []string{"star", "line", "ring", "tree"}
	media        = []string{"copper-ethernet", "fibre-ethernet", "rs485", "can"}
	partUses     = []string{"end-piece", "network", "gland", "terminal", "screen", "supply", "climate", "other"}
)

// least and most of figures that several entries have.
const (
	maxWidthMM = 10_000
	maxAmpsMA  = 200_000
	coldestC   = -60
	hottestC   = 120
)

// pieces is the price of something bought by the piece, in steps of 0.01.
func pieces[T any](at func(*T) *q.Money) field[T] {
	return must(coarser(count("price", "price of one piece", "of the basis's currency", int64(q.MoneyUnit), 0, 1e6, at), 100, "0.01", at))
}

var constructionFields = []field[Construction]{
	code(func(e *Construction) *string { return &e.Code }),
	text("title", "what it is", func(e *Construction) *string { return &e.Title }),
	must(word("opening", "what begins a supply group: an infeed base, an infeed module in a slot of its own, or every module", func(e *Construction) *Opening { return &e.Opening }, string(ByBase), string(ByModule), string(ByEach))),
	flag("coupler_feeds", "the coupler is the infeed point of the first group", func(e *Construction) *bool { return &e.CouplerFeeds }),
	count("coupler_limit_ma", "most load of the group that the coupler feeds", "mA", 1000, 0, maxAmpsMA, func(e *Construction) *q.Microamps { return &e.CouplerLimit }),
	flag("bases", "modules sit on bases", func(e *Construction) *bool { return &e.HasBases }),
	text("end_piece", "code of the part that closes the right end", func(e *Construction) *string { return &e.EndPiece }),
	word("first_slot", "infeed: slot 1 must open a group", func(e *Construction) *string { return &e.FirstSlot }, "infeed"),
	words("order", "ranks of modules from left to right", func(e *Construction) *[]string { return &e.Order }),
	must(count("max_slots", "slots of a station, infeed modules included", "", 1, 1, 1000, func(e *Construction) *int { return &e.MaxSlots })),
	must(count("max_groups", "supply groups of a station", "", 1, 1, 1000, func(e *Construction) *int { return &e.MaxGroups })),
	must(count("max_rail_mm", "rail length of a station", "mm", 1, 1, maxWidthMM, func(e *Construction) *q.Millimetres { return &e.MaxRail })),
	words("infeed_modules", "codes of the infeed modules (opening = \"module\")", func(e *Construction) *[]string { return &e.InfeedModules }),
	text("source", "origin of the figures", func(e *Construction) *string { return &e.Source }),
}

var couplerFields = []field[Coupler]{
	code(func(e *Coupler) *string { return &e.Code }),
	text("title", "what it is", func(e *Coupler) *string { return &e.Title }),
	must(text("construction", "code of its construction", func(e *Coupler) *string { return &e.Construction })),
	must(text("network", "code of the network profile that it joins", func(e *Coupler) *string { return &e.Network })),
	must(count("width_mm", "width on the rail", "mm", 1, 1, maxWidthMM, func(e *Coupler) *q.Millimetres { return &e.Width })),
	must(count("logic_limit_ma", "logic supply that it gives to the modules", "mA", 1000, 1, maxAmpsMA, func(e *Coupler) *q.Microamps { return &e.LogicLimit })),
	count("supply_ma", "current that it draws from its own 24 V supply, logic excluded", "mA", 1000, 0, maxAmpsMA, func(e *Coupler) *q.Microamps { return &e.Supply }),
	must(count("logic_factor", "current drawn at 24 V for each unit of logic current", "", 1000, 0.001, 10, func(e *Coupler) *int64 { return &e.LogicFactor })),
	must(count("max_slots", "slots that it can serve", "", 1, 1, 1000, func(e *Coupler) *int { return &e.MaxSlots })),
	must(count("max_in_bytes", "process image, inputs", "bytes", 1, 1, 65536, func(e *Coupler) *int { return &e.MaxIn })),
	must(count("max_out_bytes", "process image, outputs", "bytes", 1, 1, 65536, func(e *Coupler) *int { return &e.MaxOut })),
	count("header_in_bytes", "input bytes that stand before the first module's", "bytes", 1, 0, 1024, func(e *Coupler) *int { return &e.HeaderIn }),
	count("header_out_bytes", "output bytes that stand before the first module's", "bytes", 1, 0, 1024, func(e *Coupler) *int { return &e.HeaderOut }),
	count("heat_w", "losses", "W", 1000, 0, 1000, func(e *Coupler) *int64 { return &e.Heat }),
	figure("ambient_min_c", "lowest ambient", "degC", 1, coldestC, hottestC, func(e *Coupler) *q.Temperature { return &e.AmbientMin }),
	must(figure("ambient_max_c", "highest ambient", "degC", 1, coldestC, hottestC, func(e *Coupler) *q.Temperature { return &e.AmbientMax })),
	figure("cycle_ms", "longest time from reading the modules to being ready to send", "ms", 1000, 0, 10_000, func(e *Coupler) *q.Duration { return &e.Cycle }),
	figure("watchdog_ms", "shortest time after which outputs take their safe state when the link is dead; 0 = has none", "ms", 1000, 0, 60_000, func(e *Coupler) *q.Duration { return &e.Watchdog }),
	pieces(func(e *Coupler) *q.Money { return &e.Price }),
	text("source", "origin of the figures", func(e *Coupler) *string { return &e.Source }),
}

var baseFields = []field[Base]{
	code(func(e *Base) *string { return &e.Code }),
	text("title", "what it is", func(e *Base) *string { return &e.Title }),
	must(words("constructions", "codes of the constructions it belongs to", func(e *Base) *[]string { return &e.Constructions })),
	must(words("patterns", "terminal patterns that it offers", func(e *Base) *[]string { return &e.Patterns })),
	flag("infeed", "opens a supply group", func(e *Base) *bool { return &e.Infeed }),
	word("supply_kind", "voltage of the supply bus it is made for; none = any", func(e *Base) *string { return &e.SupplyKind }, voltageKinds...),
	count("bus_limit_ma", "most load of the group it feeds or passes on", "mA", 1000, 0, maxAmpsMA, func(e *Base) *q.Microamps { return &e.BusLimit }),
	count("width_mm", "width on the rail; 0 = as wide as its module", "mm", 1, 0, maxWidthMM, func(e *Base) *q.Millimetres { return &e.Width }),
	pieces(func(e *Base) *q.Money { return &e.Price }),
	text("source", "origin of the figures", func(e *Base) *string { return &e.Source }),
}
