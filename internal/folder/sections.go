package folder

import (
	"slices"
	"strconv"

	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Limits shared by several keys.
const (
	longestM = 100_000
	priciest = 100_000_000
)

var headKeys = []key[project.Project]{
	{name: "name", doc: "name of the project, printed on every document", need: true, at: func(p *project.Project) field { return text(&p.Name) }},
	{name: "controller", doc: "name of the controller that owns the signals", def: "empty", at: func(p *project.Project) field { return text(&p.Controller) }},
	{name: "revision", doc: "revision printed on every document", def: "empty", at: func(p *project.Project) field { return text(&p.Revision) }},
	{name: "date", doc: "date of that revision, printed as it stands; no date is ever taken from the clock", def: "empty: the field stays free for the pen", at: func(p *project.Project) field { return text(&p.Date) }},
}

var basisKeys = []key[project.Basis]{
	{name: "currency", doc: "currency of all prices, as printed", at: func(b *project.Basis) field { return text(&b.Currency) }},
	{name: "construction", doc: "code of the construction of every station whose place names none", def: "the hardware list's first with a coupler for the network", at: func(b *project.Basis) field { return text(&b.Construction) }},
	{name: "ambient_max_c", unit: "degC", doc: "highest temperature around the parts", least: -40, most: 85, at: func(b *project.Basis) field { return physical(&b.AmbientMax) }},
	{name: "ambient_min_c", unit: "degC", doc: "lowest temperature around the parts", least: -60, most: 60, at: func(b *project.Basis) field { return physical(&b.AmbientMin) }},
	{name: "altitude_m", unit: "m", doc: "height above sea level", least: -500, most: 6000, at: func(b *project.Basis) field { return physical(&b.Altitude) }},
	{name: "spare_percent", unit: "%", doc: "spare channels kept at each station, of the used ones, rounded up; one number, or a table by kind", least: 0, most: 200, at: func(b *project.Basis) field { return kindCounts(&b.Spare, 10) }},
	{name: "free_slots", doc: "slots kept free at the right end of each station", least: 0, most: 32, at: func(b *project.Basis) field { return count(&b.FreeSlots, 1) }},
	{name: "core_spare_percent", unit: "%", doc: "spare cores of multicores, rounded up", least: 0, most: 200, at: func(b *project.Basis) field { return count(&b.CoreSpare, 10) }},
	{name: "max_cable_m", unit: "m", doc: "longest field cable; one number, or a table by kind", least: 1, most: longestM, at: func(b *project.Basis) field { return kindCounts(&b.MaxCable, 1000) }},
	{name: "redundancy", doc: "what redundant partners may not share", allowed: []string{"module", "group", "station"}, at: func(b *project.Basis) field { return text(&b.Redundancy) }},
	{name: "earthing", doc: "how the 24 V supply stands to earth: 0 V earthed at one point, or isolated with monitoring", allowed: []string{"earthed", "isolated"}, at: func(b *project.Basis) field { return text(&b.Earthing) }},
}

var cableKeys = []key[project.CableBasis]{
	{name: "allow_device_m", unit: "m", doc: "cable added at the device end", least: 0, most: 100, at: func(c *project.CableBasis) field { return count(&c.AllowDevice, 1000) }},
	{name: "allow_station_m", unit: "m", doc: "cable added at the station end (both ends of feeders and network cables)", least: 0, most: 100, at: func(c *project.CableBasis) field { return count(&c.AllowStation, 1000) }},
	{name: "local_m", unit: "m", doc: "cable way between a device and a station at one place, where the place states none", least: 0, most: 1000, at: func(c *project.CableBasis) field { return count(&c.Local, 1000) }},
	{name: "waste_percent", unit: "%", doc: "cable bought and cut off", least: 0, most: 100, at: func(c *project.CableBasis) field { return count(&c.Waste, 10) }},
	{name: "spare_cores", doc: "extra cores wanted in each field cable", least: 0, most: 24, at: func(c *project.CableBasis) field { return count(&c.SpareCores, 1) }},
	{name: "drums_m", unit: "m", doc: "list of the lengths in which cable is delivered on drums; only the schedules count with them", least: 1, most: longestM, at: func(c *project.CableBasis) field { return lengthsField{&c.Drums} }},
	{name: "area_mm2", unit: "mm2", doc: "least section of the field cable's cores; one number, or a table by kind", least: 0.08, most: 16, at: func(c *project.CableBasis) field { return kindReals(&c.Area) }},
}

var groupKeys = []key[project.GroupBasis]{
	{name: "max_current_a", unit: "A", doc: "most load of one supply group; the hardware's own limit holds as well", least: 0.1, most: 64, at: func(g *project.GroupBasis) field { return count(&g.MaxCurrent, 1_000_000) }},
	{name: "split_in_out", doc: "inputs and outputs in supply groups of their own", at: func(g *project.GroupBasis) field { return truth(&g.SplitInOut) }},
	{name: "split_analogue", doc: "analogue signals apart from switched loads", at: func(g *project.GroupBasis) field { return truth(&g.SplitAnalogue) }},
	{name: "split_equipment", doc: "each equipment has supply groups of its own", at: func(g *project.GroupBasis) field { return truth(&g.SplitByPart) }},
}

var supplyKeys = []key[project.SupplyBasis]{
	{name: "margin_percent", unit: "%", doc: "kept free on the supply unit", least: 0, most: 200, at: func(s *project.SupplyBasis) field { return count(&s.Margin, 10) }},
	{name: "coincidence_percent", unit: "%", doc: "share of the summed load for which the supply unit is sized; inside a group it is always 100", least: 10, most: 100, at: func(s *project.SupplyBasis) field { return count(&s.Coincidence, 10) }},
	{name: "infeed_area_mm2", unit: "mm2", doc: "conductors from the supply unit to an infeed point", least: 0.5, most: 16, at: func(s *project.SupplyBasis) field { return physical(&s.InfeedArea) }},
	{name: "infeed_length_m", unit: "m", doc: "their length, one way", least: 0, most: 100, at: func(s *project.SupplyBasis) field { return count(&s.InfeedLen, 1000) }},
	{name: "spare_units", doc: "supply units of each feed that may fail without loss: 1 for n+1; the units then need a decoupling of their outputs", least: 0, most: 2, at: func(s *project.SupplyBasis) field { return count(&s.Spare, 1) }},
	{name: "ups_min", unit: "min", doc: "for which supply class ups must bridge a loss of the mains; 0 = not asked", least: 0, most: 10_000, at: func(s *project.SupplyBasis) field { return count(&s.Minutes, 1) }},
	{name: "feeder_area_mm2", unit: "mm2", doc: "least section of a station's mains feeder", least: 1.5, most: 95, at: func(s *project.SupplyBasis) field { return physical(&s.FeederArea) }},
}

var feederKeys = []key[project.FeederBasis]{
	{name: "drop_percent", unit: "%", doc: "most voltage drop of a feeder at its current", least: 0.5, most: 20, at: func(f *project.FeederBasis) field { return count(&f.Drop, 10) }},
	{name: "method", doc: "how feeders are laid, by IEC 60204-1: B1 and B2 in conduit or trunking (cores, cable), C on a wall, E on a tray", allowed: []string{"B1", "B2", "C", "E"}, at: func(f *project.FeederBasis) field { return text(&f.Method) }},
	{name: "together", doc: "loaded circuits that lie together, the feeder included", least: 1, most: 100, at: func(f *project.FeederBasis) field { return count(&f.Together, 1) }},
	{name: "board_fault_a", unit: "A", doc: "largest fault current at a distribution board", least: 10, most: 100_000, at: func(f *project.FeederBasis) field { return physical(&f.BoardFault) }},
	{name: "board_loop_ohm", unit: "ohm", doc: "largest resistance of the fault loop up to a board", least: 0.001, most: 100, at: func(f *project.FeederBasis) field { return physical(&f.BoardLoop) }},
	{name: "inside", doc: "loaded infeed pairs that lie bunched in an enclosure (IEC 60204-1, method B1); 1: they lie apart, or few carry much", least: 1, most: 100, at: func(f *project.FeederBasis) field { return count(&f.Inside, 1) }},
}

var climateKeys = []key[project.ClimateBasis]{
	{name: "mounting", doc: "which faces of an enclosure are covered (IEC TR 60890)", allowed: []string{"single, free", "single, wall", "end of row, free", "end of row, wall", "middle of row, free", "middle of row, wall", "middle of row, wall, top covered"}, at: func(c *project.ClimateBasis) field { return text(&c.Mounting) }},
	{name: "k_w_per_m2k", unit: "W/m2K", doc: "heat transfer of an enclosure's wall; painted steel 5.5", least: 0.5, most: 50, at: func(c *project.ClimateBasis) field { return physical(&c.K) }},
	{name: "humidity_percent", unit: "%", doc: "highest relative humidity of the air when it is coldest", least: 1, most: 100, at: func(c *project.ClimateBasis) field { return count(&c.Humidity, 10) }},
	{name: "dry_percent", unit: "%", doc: "highest relative humidity wanted in an enclosure", least: 10, most: 100, at: func(c *project.ClimateBasis) field { return count(&c.Dry, 10) }},
	{name: "sun_w_per_m2", unit: "W/m2", doc: "sun on an outdoor enclosure that has no roof", least: 0, most: 1500, at: func(c *project.ClimateBasis) field { return physical(&c.Sun) }},
	{name: "inward_percent", unit: "%", doc: "share of the sun on the sunlit face that goes inwards: colour and wall together", least: 0, most: 100, at: func(c *project.ClimateBasis) field { return count(&c.Inward, 10) }},
}

var circuitKeys = []key[project.CircuitBasis]{
	{name: "transmitter_min_v", unit: "V", doc: "voltage that a two-wire transmitter needs where the list states none", least: 3, most: 60, at: func(c *project.CircuitBasis) field { return physical(&c.TransmitterMin) }},
	{name: "hart_min_ohm", unit: "ohm", doc: "least resistance of a HART loop", least: 0, most: 1000, at: func(c *project.CircuitBasis) field { return physical(&c.HARTMin) }},
	{name: "hart_device_nf", unit: "nF", doc: "capacitance of a HART device whose ci_nf is not stated", least: 0, most: 1000, at: func(c *project.CircuitBasis) field { return scaled(&c.HARTDevice, 1e9) }},
	{name: "rtd_error_k", unit: "K", doc: "most error from the leads of a resistance thermometer", least: 0.01, most: 100, at: func(c *project.CircuitBasis) field { return physical(&c.RTDError) }},
	{name: "lead_mismatch_percent", unit: "%", doc: "by how much two cores of a cable differ", least: 0, most: 50, at: func(c *project.CircuitBasis) field { return count(&c.LeadMismatch, 10) }},
	{name: "frequency_hz", unit: "Hz", doc: "frequency of the mains", least: 10, most: 400, at: func(c *project.CircuitBasis) field { return physical(&c.Frequency) }},
	{name: "mains_high_percent", unit: "%", doc: "by how much the mains may be above its nominal voltage", least: 0, most: 50, at: func(c *project.CircuitBasis) field { return count(&c.MainsHigh, 10) }},
	{name: "mains_low_percent", unit: "%", doc: "by how much the mains may be below its nominal voltage", least: 0, most: 50, at: func(c *project.CircuitBasis) field { return count(&c.MainsLow, 10) }},
}

// scaledField is a quantity that the file gives in a smaller unit: value in the file = value x per.
type scaledField struct {
	realField
	per float64
}

func scaled[T ~float64](p *T, per float64) field {
	return scaledField{realField{
		func() (float64, bool) { return float64(*p), true },
		func(v float64) { *p = T(v / per) },
	}, per}
}

func (f scaledField) show() string {
	v, _ := f.get()
	return q.ShortScaled(v, f.per)
}

var priceKeys = []key[project.Prices]{
	{name: "labour_per_h", unit: "currency/h", doc: "price of one hour of labour", least: 0, most: 10_000, at: func(p *project.Prices) field { return money(&p.Rate) }},
	{name: "termination_min", unit: "min", doc: "one conductor end", least: 0, most: 600, at: func(p *project.Prices) field { return count(&p.Termination, 60) }},
	{name: "cable_end_min", unit: "min", doc: "one cable end: gland, strip, label", least: 0, most: 600, at: func(p *project.Prices) field { return count(&p.CableEnd, 60) }},
	{name: "pull_min_per_m", unit: "min/m", doc: "one metre of cable pulled", least: 0, most: 60, at: func(p *project.Prices) field { return count(&p.PullPerMetre, 60) }},
	{name: "station_h", unit: "h", doc: "one station: enclosure, rail, coupler, feeder, test", least: 0, most: 1000, at: func(p *project.Prices) field { return count(&p.StationMount, 3600) }},
	{name: "module_min", unit: "min", doc: "one module or infeed module with its base", least: 0, most: 600, at: func(p *project.Prices) field { return count(&p.ModuleMount, 60) }},
	{name: "group_min", unit: "min", doc: "one supply group: infeed wires and protection", least: 0, most: 600, at: func(p *project.Prices) field { return count(&p.GroupWire, 60) }},
	{name: "network_end_min", unit: "min", doc: "one network cable end", least: 0, most: 600, at: func(p *project.Prices) field { return count(&p.NetworkEnd, 60) }},
	{name: "check_min", unit: "min", doc: "checkout of one signal", least: 0, most: 600, at: func(p *project.Prices) field { return count(&p.SignalCheck, 60) }},
	{name: "group_off_h", unit: "h", doc: "one supply group in service switched off for work: permit, locks, tests", least: 0, most: 1000, at: func(p *project.Prices) field { return count(&p.GroupOff, 3600) }},
	{name: "station_off_h", unit: "h", doc: "one station in service switched off for work", least: 0, most: 1000, at: func(p *project.Prices) field { return count(&p.StationOff, 3600) }},
}

var addressKeys = []key[project.AddressBasis]{
	{name: "convention", doc: "what the number of a word address counts: byte (%IW4 begins at byte 4) or word (%IW4 is bytes 8 and 9)", allowed: []string{"byte", "word"}, at: func(a *project.AddressBasis) field { return text(&a.Convention) }},
	{name: "first_input_byte", doc: "first input byte of the first station", least: 0, most: 65_535, at: func(a *project.AddressBasis) field { return count(&a.FirstIn, 1) }},
	{name: "first_output_byte", doc: "first output byte of the first station", least: 0, most: 65_535, at: func(a *project.AddressBasis) field { return count(&a.FirstOut, 1) }},
	{name: "align_bytes", doc: "each station begins at a multiple of this: 1, 2, 4, 8, 16, 32 or 64", least: 1, most: 64, at: func(a *project.AddressBasis) field { return count(&a.Align, 1) }},
	{name: "reserve_percent", unit: "%", doc: "bytes kept free behind each station, of its own", least: 0, most: 500, at: func(a *project.AddressBasis) field { return count(&a.Reserve, 10) }},
	{name: "max_input_bytes", unit: "bytes", doc: "process image that the controller has for inputs; 0 = not stated", least: 0, most: 1_000_000, at: func(a *project.AddressBasis) field { return count(&a.MaxIn, 1) }},
	{name: "max_output_bytes", unit: "bytes", doc: "process image that the controller has for outputs; 0 = not stated", least: 0, most: 1_000_000, at: func(a *project.AddressBasis) field { return count(&a.MaxOut, 1) }},
	{name: "modbus_base", doc: "number of the first Modbus register as people count", least: 0, most: 1, at: func(a *project.AddressBasis) field { return count(&a.ModbusBase, 1) }},
}

var networkKeys = []key[project.Network]{
	{name: "profile", doc: "code of a network profile of the hardware list", need: true, at: func(n *project.Network) field { return text(&n.Profile) }},
	{name: "topology", doc: "how the stations are joined", allowed: []string{"star", "line", "ring", "tree"}, at: func(n *project.Network) field { return text(&n.Topology) }},
	{name: "address_prefix", doc: "Ethernet: a station's address is this and its node number", at: func(n *project.Network) field { return text(&n.Prefix) }},
	{name: "first_node", doc: "node number of the first station", def: "11 on Ethernet, 1 on a bus", least: 0, most: 65_535, at: func(n *project.Network) field { return count(&n.First, 1) }},
	{name: "update_ms", unit: "ms", doc: "Ethernet, CAN: update time of the cyclic data, as set in the controller; where the data take longer, reaction times count what they take (RS-485 takes as long as computed)", least: 0.1, most: 10_000, at: func(n *project.Network) field { return scaled(&n.Update, 1000) }},
	{name: "scan_ms", unit: "ms", doc: "the controller's scan", least: 0, most: 10_000, at: func(n *project.Network) field { return scaled(&n.Scan, 1000) }},
}

var powerKeys = []key[project.Power]{
	{name: "feeder_voltage_v", unit: "V", doc: "mains voltage of the stations' feeders", least: 24, most: 400, at: func(p *project.Power) field { return physical(&p.FeederVoltage) }},
	{name: "supply_voltage_v", unit: "V", doc: "nominal DC voltage of the supply units", least: 12, most: 60, at: func(p *project.Power) field { return physical(&p.SupplyVoltage) }},
	{name: "supply_min_v", unit: "V", doc: "lowest mean voltage at the supply unit's terminals", least: 10, most: 60, at: func(p *project.Power) field { return physical(&p.SupplyMin) }},
	{name: "ups_place", doc: "id of the place of the board that feeds supply class ups", def: "the power source", at: func(p *project.Power) field { return text(&p.UPSPlace) }},
}

var placeKeys = []key[project.Place]{
	{name: "id", doc: "short name that the signal list uses", need: true, at: func(p *project.Place) field { return text(&p.ID) }},
	{name: "name", doc: "name for people", def: "the id", at: func(p *project.Place) field { return text(&p.Name) }},
	{name: "x_m", unit: "m", doc: "position on the site plan, for drawing only", def: "not stated", least: -1e6, most: 1e6, at: func(p *project.Place) field { return optional(&p.X) }},
	{name: "y_m", unit: "m", doc: "position on the site plan, for drawing only", def: "not stated", least: -1e6, most: 1e6, at: func(p *project.Place) field { return optional(&p.Y) }},
	{name: "candidate", doc: "a station may stand here", at: func(p *project.Place) field { return truth(&p.Candidate) }},
	{name: "forbidden", doc: "no station may stand here; give the reason too", at: func(p *project.Place) field { return truth(&p.Forbidden) }},
	{name: "reason", doc: "why it is forbidden", def: "empty", at: func(p *project.Place) field { return text(&p.Reason) }},
	{name: "controller", doc: "the controller stands here (exactly one place)", at: func(p *project.Place) field { return truth(&p.Controller) }},
	{name: "power_source", doc: "a mains distribution board that feeds stations stands here", at: func(p *project.Place) field { return truth(&p.PowerSource) }},
	{name: "max_stations", doc: "most stations at this place", least: 1, most: 8, at: func(p *project.Place) field { return count(&p.MaxStations, 1) }},
	{name: "max_slots", doc: "most slots of one station here", def: "no limit of the place", least: 1, most: 256, at: func(p *project.Place) field { return count(&p.MaxSlots, 1) }},
	{name: "max_rail_mm", unit: "mm", doc: "longest station rail here", def: "no limit of the place", least: 50, most: 10_000, at: func(p *project.Place) field { return count(&p.MaxRail, 1) }},
	{name: "construction", doc: "code of the construction used here", def: "the basis's", at: func(p *project.Place) field { return text(&p.Construction) }},
	{name: "ambient_max_c", unit: "degC", doc: "highest temperature here", def: "the basis's", least: -40, most: 85, at: func(p *project.Place) field { return optional(&p.AmbientMax) }},
	{name: "ambient_min_c", unit: "degC", doc: "lowest temperature here", def: "the basis's", least: -60, most: 60, at: func(p *project.Place) field { return optional(&p.AmbientMin) }},
	{name: "outdoor", doc: "the place is outdoors; the enclosure must be made for it", at: func(p *project.Place) field { return truth(&p.Outdoor) }},
	{name: "zone", doc: "hazardous zone as classified by the competent person; zone 0 and 20 allow no station", def: "none", allowed: []string{"", "0", "1", "2", "20", "21", "22"}, at: func(p *project.Place) field { return text(&p.Zone) }},
	{name: "local_m", unit: "m", doc: "cable way between a device and a station that are both here", def: "basis.cable.local_m", least: 0, most: 1000, at: func(p *project.Place) field { return count(&p.Local, 1000) }},
	{name: "fixed_cost", unit: "currency", doc: "extra cost of having a station here (foundation, hut)", least: 0, most: priciest, at: func(p *project.Place) field { return money(&p.FixedCost) }},
}

var routeKeys = []key[project.Route]{
	{name: "id", doc: "name of the route", def: "FROM--TO", at: func(r *project.Route) field { return text(&r.ID) }},
	{name: "from", doc: "id of a place", need: true, at: func(r *project.Route) field { return text(&r.From) }},
	{name: "to", doc: "id of a place; routes run both ways", need: true, at: func(r *project.Route) field { return text(&r.To) }},
	{name: "length_m", unit: "m", doc: "length as a cable lies", need: true, least: 0.1, most: longestM, at: func(r *project.Route) field { return count(&r.Length, 1000) }},
	{name: "medium", doc: "what the cable lies in, for the pull list", allowed: []string{"tray", "duct", "conduit", "buried"}, at: func(r *project.Route) field { return text(&r.Medium) }},
}

var choiceKeys = []key[project.Decision]{
	{name: "subject", doc: "what is decided on: signal:ID, station:ID, place:ID or part:CODE", need: true, at: func(d *project.Decision) field { return text(&d.Subject) }},
	{name: "property", doc: "which of its properties; see the table of choices", need: true, at: func(d *project.Decision) field { return text(&d.Property) }},
	{name: "value", doc: "what it shall be (text, also for numbers)", need: true, at: func(d *project.Decision) field { return text(&d.Value) }},
	{name: "strength", doc: "fixed: must be so. preferred: costs change_cost to do otherwise. forbidden: must not be so", allowed: []string{"fixed", "preferred", "forbidden"}, at: func(d *project.Decision) field { return text(&d.Strength) }},
	{name: "change_cost", unit: "currency", doc: "what it costs to do otherwise; for preferred", least: 0, most: priciest, at: func(d *project.Decision) field { return money(&d.ChangeCost) }},
	{name: "reason", doc: "why", def: "empty", at: func(d *project.Decision) field { return text(&d.Reason) }},
	{name: "by", doc: "who decided", def: "empty", at: func(d *project.Decision) field { return text(&d.By) }},
}

// money is an amount exact to 0.01 of the currency.
func money(p *q.Money) field {
	const cent = int64(q.MoneyUnit / 100)
	return countField{func() int64 { return int64(*p) / cent }, func(v int64) { *p = q.Money(v * cent) }, 100}
}

func defaultNetwork() project.Network {
	return project.Network{Topology: "star", Prefix: "192.168.10.", Update: 0.010, Scan: 0.020}
}

func defaultPower() project.Power {
	return project.Power{FeederVoltage: 230, SupplyVoltage: 24, SupplyMin: 23.5}
}

func defaultPlace(b *project.Basis) project.Place {
	return project.Place{MaxStations: 4, Local: b.Cable.Local}
}

func defaultRoute() project.Route { return project.Route{Medium: "tray"} }

func defaultChoice() project.Decision {
	return project.Decision{Strength: project.Fixed, Origin: project.FromHand}
}

// Section is one table of project.toml with its keys.
type Section struct {
	Header string // "[basis.cable]", "[[place]]"
	Doc    string
	Keys   []Key
}

// Sections returns every table and key of project.toml, in the order of the documentation.
func Sections() []Section {
	b := project.DefaultBasis()
	n, p, pl, r, c := defaultNetwork(), defaultPower(), defaultPlace(&b), defaultRoute(), defaultChoice()
	return []Section{
		{"(top)", "Above the first header.", []Key{{Name: "format", Doc: "number of the folder's format", Default: "must be given", Limits: "1"}}},
		{"[project]", "What heads every document.", describe("", headKeys, &project.Project{})},
		{"[basis]", "The design basis: what is assumed. Every key has a default, so the table may be left out.", describe("", basisKeys, &b)},
		{"[basis.cable]", "Field cables.", describe("", cableKeys, &b.Cable)},
		{"[basis.group]", "When a new supply group is begun, and what one may carry.", describe("", groupKeys, &b.Group)},
		{"[basis.supply]", "Supply units and feeders.", describe("", supplyKeys, &b.Supply)},
		{"[basis.feeder]", "Feeders, their boards, and wires behind protective devices.", describe("", feederKeys, &b.Feeder)},
		{"[basis.climate]", "Enclosures and the air round them.", describe("", climateKeys, &b.Climate)},
		{"[basis.circuit]", "Circuits between devices and channels.", describe("", circuitKeys, &b.Circuit)},
		{"[basis.prices]", "Labour. Prices of parts stand in the hardware list.", describe("", priceKeys, &b.Prices)},
		{"[basis.address]", "Addresses in the controller.", describe("", addressKeys, &b.Address)},
		{"[basis.segregation]", "One key for each class named in the column segregate.", []Key{{Name: "CLASS", Doc: "what signals of different classes may not share", Default: "group", Limits: "none, module, group, station"}}},
		{"[basis.current_ma]", "What a signal draws where the list says nothing; one key for each kind and form, in quotes.", currentKeys(&b)},
		{"[basis.reserve_percent]", "Other reserves.", reserves(&b)},
		{"[network]", "How controller and stations are joined.", describe("", networkKeys, &n)},
		{"[power]", "What feeds the stations.", describe("", powerKeys, &p)},
		{"[[place]]", "One for each spot where devices or a station can stand.", describe("", placeKeys, &pl)},
		{"[[route]]", "One for each cable way between two places.", describe("", routeKeys, &r)},
		{"[[choice]]", "One for each hand choice; the same in choices.toml.", describe("", choiceKeys, &c)},
		{"[columns]", "Column map of the signal list: one key for each foreign heading, in quotes.", []Key{{Name: `"HEADING"`, Doc: "canonical column that it stands for", Default: "", Limits: "a column name of the next section"}}},
	}
}

// reserveKeys are the keys of [basis.reserve_percent].
var reserveKeys = []Key{
	{Name: "enclosure", Unit: "%", Doc: "rail length kept free in the enclosure", Limits: "0 to 200"},
	{Name: "spare_parts", Unit: "%", Doc: "pieces of each part to hold as spares", Limits: "0 to 200"},
}

func reserves(b *project.Basis) []Key {
	out := slices.Clone(reserveKeys)
	for i := range out {
		out[i].Default = q.Short(float64(b.Reserve[out[i].Name]) / 10)
	}
	return out
}

func currentKeys(b *project.Basis) []Key {
	var out []Key
	for _, k := range project.Kinds {
		for _, f := range project.Forms[k] {
			name := string(k) + " " + f
			out = append(out, Key{
				Name: strconv.Quote(name), Unit: "mA", Doc: "default current", Limits: "0 to 20000",
				Default: q.ShortScaled(float64(b.DefaultCurrent[name]), 1000),
			})
		}
	}
	return out
}
