package hardware

import (
	q "railwright/internal/quantity"
)

// The most that a cable may cost a metre and weigh.
const (
	maxMetrePrice = 10_000
	maxMass       = 100_000
)

var cableFields = []field[Cable]{
	code(func(e *Cable) *string { return &e.Code }),
	text("title", "what it is", func(e *Cable) *string { return &e.Title }),
	must(word("use", "what it is laid for", func(e *Cable) *string { return &e.Use }, "field", "multicore", "network", "supply")),
	must(word("family", "what it may carry", func(e *Cable) *string { return &e.Family }, families()...)),
	must(count("cores", "cores (fibres of optical cables)", "", 1, 1, 500, func(e *Cable) *int { return &e.Cores })),
	words("core_colours", "colours of the cores in order, as codes of IEC 60757, one for each core; none: the cores bear numbers", func(e *Cable) *[]string { return &e.Colours }),
	flag("pairs", "twisted in pairs", func(e *Cable) *bool { return &e.Pairs }),
	figure("area_mm2", "cross-section of one core, that of a wire gauge too; none = optical", "mm2", 1, 0, 1000, func(e *Cable) *q.CrossSection { return &e.Area }),
	count("class", "conductor class by IEC 60228: 1, 2, 5 or 6", "", 1, 0, 6, func(e *Cable) *int { return &e.Class }),
	flag("screened", "has a screen", func(e *Cable) *bool { return &e.Screened }),
	figure("rated_v", "rated voltage", "V", 1, 0, 100_000, func(e *Cable) *q.Voltage { return &e.Rated }),
	figure("capacitance_pf_per_m", "capacitance core to core", "pF/m", 1e12, 0, 10_000, func(e *Cable) *q.Capacitance { return &e.Capacitance }),
	figure("inductance_uh_per_m", "inductance of the loop", "uH/m", 1e6, 0, 1000, func(e *Cable) *q.Inductance { return &e.Inductance }),
	count("diameter_mm", "outer diameter", "mm", 1000, 0, 500, func(e *Cable) *int64 { return &e.DiameterUM }),
	count("bend_mm", "least bending radius", "mm", 1, 0, maxWidthMM, func(e *Cable) *q.Millimetres { return &e.Bend }),
	count("mass_g_per_m", "mass", "g/m", 1, 0, maxMass, func(e *Cable) *int64 { return &e.Mass }),
	count("max_length_m", "longest piece that may be used; 0 = no limit of the cable", "m", 1000, 0, 100_000, func(e *Cable) *q.Millimetres { return &e.MaxLength }),
	must(coarser(count("price", "price of one metre", "of the basis's currency", int64(q.MoneyUnit), 0, maxMetrePrice, func(e *Cable) *q.Money { return &e.Price }), 10, "0.001", func(e *Cable) *q.Money { return &e.Price })),
	text("source", "origin of the figures", func(e *Cable) *string { return &e.Source }),
}

var networkFields = []field[NetworkProfile]{
	code(func(e *NetworkProfile) *string { return &e.Code }),
	text("title", "what it is", func(e *NetworkProfile) *string { return &e.Title }),
	must(word("medium", "what carries it", func(e *NetworkProfile) *string { return &e.Medium }, media...)),
	must(text("cable", "code of the network cable", func(e *NetworkProfile) *string { return &e.Cable })),
	must(count("max_segment_m", "longest cable between two nodes, or of a bus segment", "m", 1000, 1, 200_000, func(e *NetworkProfile) *q.Millimetres { return &e.MaxSegment })),
	must(count("max_stations", "stations on one network", "", 1, 1, 10_000, func(e *NetworkProfile) *int { return &e.MaxStations })),
	must(words("topologies", "ways of joining stations", func(e *NetworkProfile) *[]string { return &e.Topologies }, topologies...)),
	text("end_part", "code of the part needed at each cable end", func(e *NetworkProfile) *string { return &e.EndPart }),
	text("switch_part", "code of the part at the centre of a star", func(e *NetworkProfile) *string { return &e.SwitchPart }),
	count("switch_ports", "its ports", "", 1, 0, 1000, func(e *NetworkProfile) *int { return &e.SwitchPorts }),
	must(count("bit_rate", "bit rate", "bit/s", 1, 300, 1e11, func(e *NetworkProfile) *int64 { return &e.BitRate })),
	flag("between_earths", "may join different earths", func(e *NetworkProfile) *bool { return &e.Between }),
	text("source", "origin of the figures", func(e *NetworkProfile) *string { return &e.Source }),
}

var partFields = []field[Part]{
	code(func(e *Part) *string { return &e.Code }),
	text("title", "what it is", func(e *Part) *string { return &e.Title }),
	word("use", "what it is for", func(e *Part) *string { return &e.Use }, partUses...),
	text("construction", "code of the construction it belongs to", func(e *Part) *string { return &e.Construction }),
	count("width_mm", "width on a rail", "mm", 1, 0, maxWidthMM, func(e *Part) *q.Millimetres { return &e.Width }),
	count("min_diameter_mm", "glands: thinnest cable", "mm", 1000, 0, 500, func(e *Part) *int64 { return &e.MinDiameterUM }),
	count("max_diameter_mm", "glands: thickest cable", "mm", 1000, 0, 500, func(e *Part) *int64 { return &e.MaxDiameterUM }),
	pieces(func(e *Part) *q.Money { return &e.Price }),
	text("source", "origin of the figures", func(e *Part) *string { return &e.Source }),
}
