package check

// Traced is one check that the trade asks for, with the rules that make it.
type Traced struct {
	About string   // part of the job
	Check string   // what is held against what
	Rules []string // codes; several where one check has several sides
	Note  string   // what the data do not allow, or where the check is made besides
}

// Trace lists every check that the trade asks of a design, in the order of the job. A rule that stands
// nowhere here would only pad the list; a line without a rule would be a gap.
var Trace = []Traced{
	{"Signals", "active or passive: two sources or none in one current loop", []string{"LOP-001"}, "rows that contradict themselves are refused when the list is read (LST-010)"},
	{"Signals", "sinking against sourcing, PNP against NPN", []string{"POL-002"}, ""},
	{"Signals", "digital input: voltage for a 1, drop of the switch, the module's own figures first", []string{"DIN-001", "SIG-003"}, ""},
	{"Signals", "digital input: leakage against the state-0 current", []string{"DIN-002", "SIG-003"}, ""},
	{"Signals", "2-wire sensor: least load current", []string{"DIN-003"}, ""},
	{"Signals", "long AC line: cable capacitance holds an input at 1", []string{"DIN-004"}, ""},
	{"Signals", "NAMUR sensor: line resistance and levels", []string{"DIN-005"}, ""},
	{"Signals", "counter: cable capacitance times source resistance against frequency", []string{"CNT-001"}, ""},
	{"Signals", "output: load against channel, module and group", []string{"OUT-010", "GRP-001"}, ""},
	{"Signals", "output: lamp inrush, capacitive inrush", []string{"OUT-002"}, ""},
	{"Signals", "output: coils want a suppressor", []string{"OUT-006"}, "the list does not say which loads are coils"},
	{"Signals", "output: voltage at the load", []string{"OUT-001", "OUT-009", "CAB-002"}, ""},
	{"Signals", "output: leakage and least load", []string{"OUT-003", "OUT-004"}, ""},
	{"Signals", "relay: load category and life", []string{"OUT-002", "OUT-005"}, "contact voltages that a module does not take are refused when it is chosen"},
	{"Signals", "loop-powered input: volts left for the transmitter at 22 mA", []string{"LOP-002", "CAB-002"}, ""},
	{"Signals", "HART: loop resistance, cable RC", []string{"LOP-003", "LOP-004"}, ""},
	{"Signals", "analogue output: load and both cores against its most", []string{"LOP-006"}, ""},
	{"Signals", "voltage signal: divider of cable and input", []string{"LOP-007"}, ""},
	{"Signals", "resistance thermometer: error of 2 and 3 wires", []string{"RTD-001"}, ""},
	{"Signals", "thermocouple: extension type", []string{"TCX-001"}, ""},
	{"Signals", "thermocouple: cold junction", []string{"TCX-003"}, ""},
	{"Signals", "thermocouple: earthed junction on inputs that are not isolated", []string{"TCX-002"}, "the list does not say which junctions are earthed"},
	{"Signals", "NAMUR NE 43: failure currents are seen", []string{"LOP-005"}, ""},
	{"Signals", "fail-safe wiring: trips open on fault", []string{"SAF-003"}, "a trip is what belongs to a safety function"},
	{"Signals", "output watchdog and substitute value of each channel", []string{"OUT-007", "OUT-008"}, ""},
	{"Signals", "one shorted sensor lead: what it takes down", []string{"SHO-001"}, ""},
	{"Signals", "screens", []string{"SCR-001"}, ""},
	{"Signals", "separation from power cables", []string{"SEP-001"}, ""},
	{"Signals", "intrinsic safety: stated data compared, 1 % rule, level against zone, gas group", []string{"EXI-002", "EXI-003"}, ""},
	{"Signals", "intrinsic safety: terminals, modules and groups of their own; the competent person decides", []string{"EXI-001", "GRP-003"}, ""},
	{"Signals", "a station in a hazardous zone", []string{"ZON-001"}, ""},
	{"Signals", "scaling: range", []string{"SCL-001"}, ""},
	{"Signals", "scaling: resolution", []string{"SCL-002"}, ""},
	{"Signals", "error of the module at its temperature", []string{"SCL-003"}, "the sensor's class is not in the list; lead and cold junction have rules of their own"},
	{"Signals", "every signal has a channel; holds are seen", []string{"SIG-001", "SIG-002"}, ""},

	{"Stations", "a group is one run, fed at one point; the first group too", []string{"GRP-002"}, ""},
	{"Stations", "a base suits its module: terminals, supply pattern, mains", []string{"BAS-001"}, ""},
	{"Stations", "limits of a station: modules, rail, groups", []string{"STA-003", "STA-005"}, ""},
	{"Stations", "limits of a station: logic supply, process image", []string{"STA-001", "STA-002"}, ""},
	{"Stations", "ambient temperature and derating of parts", []string{"AMB-001", "SUP-002"}, ""},
	{"Stations", "limits of a group: supply bus, protective device, coincidence 1.0", []string{"GRP-001"}, ""},
	{"Stations", "a group of one voltage and purpose: AC, UPS, analogue, outputs, Ex i apart", []string{"GRP-003"}, ""},
	{"Stations", "safety-switched group: no other path into it, interference-free modules", []string{"SAF-001", "SAF-004"}, "a safety finding is never mended or waived by the tool"},
	{"Stations", "safety-switched group: performance level verified", []string{"SAF-002"}, ""},
	{"Stations", "0 V earthed or isolated with monitoring; low-side switching", []string{"POL-001", "EAR-001"}, "whether a supply unit is SELV or PELV is not in the hardware list"},
	{"Stations", "mains modules beside extra-low voltage", []string{"MNS-001"}, ""},
	{"Stations", "redundant partners", []string{"RED-001"}, ""},
	{"Stations", "segregated signals", []string{"SEG-001"}, ""},
	{"Stations", "spare channels and free slots", []string{"STA-004", "STA-006", "STA-007"}, ""},
	{"Stations", "hand choices hold or are refused by name", []string{"CHO-001", "CHO-002", "CHO-003", "CHO-004", "CHO-005"}, ""},

	{"Siting and cables", "longest field cable of a kind", []string{"CAB-001"}, ""},
	{"Siting and cables", "home runs against stations", []string{"SIT-001"}, ""},

	{"Power", "supply units against load, margin and real ambient", []string{"SUP-001", "SUP-002"}, "n+1 with decoupling modules is not in the basis"},
	{"Power", "hold-up", []string{"SUP-003"}, "battery minutes are not in the hardware list"},
	{"Power", "inrush of supply units on the feeder", []string{"PWR-008"}, ""},
	{"Power", "AC feeder: drop", []string{"PWR-005"}, ""},
	{"Power", "AC feeder: protection", []string{"PWR-006", "PWR-007"}, ""},
	{"Power", "20.4 V, or the device's own least voltage, at every group and device", []string{"PWR-001", "PWR-010", "OUT-001"}, ""},
	{"Power", "Ib <= In <= Iz and I2 <= 1.45 Iz", []string{"PWR-002", "PWR-006", "PWR-013"}, ""},
	{"Power", "t <= k2 S2 / I2", []string{"PWR-011"}, ""},
	{"Power", "smallest fault current reaches the upper edge; a supply that limits its current", []string{"PWR-003", "PWR-007", "PWR-012"}, ""},
	{"Power", "largest fault current below the breaking capacity", []string{"PWR-004"}, ""},
	{"Power", "selectivity", []string{"PWR-009"}, ""},
	{"Power", "surge protection and bonding of outdoor runs", []string{"SRG-001"}, ""},

	{"Conductors", "ampacity with the standard's own factors", []string{"PWR-002", "PWR-006"}, ""},
	{"Conductors", "clamp range", []string{"CND-001"}, ""},
	{"Conductors", "ferrules", []string{"CND-002"}, ""},
	{"Conductors", "two wires on one terminal", []string{"CND-003"}, ""},
	{"Conductors", "glands by cable diameter", []string{"ENC-007"}, ""},

	{"Network", "length of a link or segment", []string{"NET-001", "NET-004"}, ""},
	{"Network", "copper between different earths", []string{"NET-002"}, ""},
	{"Network", "stations, unit loads, segments, repeaters", []string{"NET-003", "NET-004"}, ""},
	{"Network", "terminators at both ends only", []string{"NET-008"}, ""},
	{"Network", "addresses of stations", []string{"NET-009"}, ""},
	{"Network", "link load", []string{"NET-005"}, ""},
	{"Network", "reaction time against what the signal asks", []string{"NET-006"}, ""},
	{"Network", "what one break takes away", []string{"NET-007"}, ""},

	{"Space and heat", "enclosure with reserve", []string{"ENC-008"}, ""},
	{"Space and heat", "gland plate", []string{"ENC-005"}, ""},
	{"Space and heat", "losses against the enclosure's surface, altitude", []string{"ENC-001"}, ""},
	{"Space and heat", "sun", []string{"ENC-004"}, ""},
	{"Space and heat", "condensation, heater", []string{"ENC-003"}, ""},
	{"Space and heat", "lowest ambient temperature", []string{"ENC-002"}, ""},
	{"Space and heat", "IP outdoors", []string{"ENC-006"}, ""},

	{"Addresses", "no overlap", []string{"ADR-001"}, ""},
	{"Addresses", "alignment", []string{"ADR-003"}, ""},
	{"Addresses", "fixed addresses kept", []string{"ADR-002"}, ""},
}
