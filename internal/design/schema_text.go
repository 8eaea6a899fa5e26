package design

import "railwright/internal/finding"

func text(s string) note                    { return note{text: s} }
func oneOf(s string, values ...string) note { return note{text: s, enum: values} }

// count is a number that is never negative.
func count(s string) note {
	zero := 0.0
	return note{text: s, min: &zero}
}

// from1 is a number that counts from 1.
func from1(s string) note {
	one := 1.0
	return note{text: s, min: &one}
}

// notes holds one entry for each key of design.json, by type and key. The test keeps it complete.
var notes = map[string]note{
	"Design.format":         oneOf("Form of this file. Readers refuse a form that they do not know.", Format),
	"Design.input":          text("What the design was made from."),
	"Design.project":        text("What heads every document."),
	"Design.stations":       text("The stations, by id."),
	"Design.cables":         text("Every physical cable, by id."),
	"Design.wires":          text("Every core that is landed, by id."),
	"Design.circuits":       text("What each placed signal's circuit comes to in the worst case, by signal."),
	"Design.junction_boxes": text("Junction boxes, by id."),
	"Design.supplies":       text("Supply units, by id."),
	"Design.feeders":        text("AC feeders of the stations, by id."),
	"Design.protections":    text("Protective devices as built in, by id."),
	"Design.network":        text("How controller and stations are joined."),
	"Design.unplaced":       text("Signals that the design does not serve, each with the reason."),
	"Design.issued":         text("The rows of the signal list and the revision at which each was last changed, by id of the signal."),
	"Design.cost":           text("The sum of parts, labour and fixed costs of places."),
	"Design.parts":          text("Every part that is bought."),
	"Design.labour":         text("Every task that is paid for."),
	"Design.home_run":       text("The same signals without stations, on the same prices, for comparison."),
	"Design.siting":         text("How good the choice of places is."),
	"Design.findings":       text("What is doubtful or was assumed: errors first, then warnings, then infos."),
	"Design.formulas":       text("The formulas that the calculations use, by name."),
	"Design.calculations":   text("The derivation of every figure, by id."),

	"Design.ordinals": count("Last ordinal ever given, by id prefix; ids are never reused."),
	"Design.hardware": text("In accepted and installed designs: the hardware entries used, by value, in the form of hardware.toml."),

	"Input.sha256":          text("SHA-256 of the stated project in its normal order, in hexadecimal."),
	"Input.previous_sha256": text("SHA-256 of the design that this one was matched to; empty if none."),
	"Input.seed":            text("Seed of the search; the same seed gives the same design."),
	"Input.steps":           count("Steps that the search took; budgets count in steps, never in seconds."),
	"Input.hardware_sha256": text("SHA-256 of the hardware list used, in hexadecimal."),
	"Input.tool":            text("Tool and version that made the design."),
	"Input.complete":        text("False if the run was cancelled or limited before it was done."),

	"Stated.name":               text("Name of the project."),
	"Stated.controller":         text("Name of the controller."),
	"Stated.revision":           text("Revision of the project as the engineer counts it."),
	"Stated.address_convention": oneOf("How a word address counts: \"byte\": %IW4 begins at byte 4; \"word\": %IW4 is the word at bytes 8 and 9.", "byte", "word"),
	"Stated.signals":            count("Signals of the list that could be read."),

	"Station.id":                text("Stable id, made from the place and an ordinal and never reused."),
	"Station.name":              text("Name as printed on documents and labels."),
	"Station.place":             text("Id of the place where the station stands."),
	"Station.construction":      text("Code of the construction in the hardware list."),
	"Station.coupler":           text("Code of the coupler."),
	"Station.rail_mm":           count("Length on the mounting rail: coupler, slots, end piece."),
	"Station.logic_current_ma":  count("Current that the modules' electronics draw from the coupler."),
	"Station.logic_limit_ma":    count("Current that the coupler can give to the modules' electronics."),
	"Station.first_input_byte":  count("First byte of the station among the controller's inputs."),
	"Station.first_output_byte": count("First byte of the station among the controller's outputs."),
	"Station.input_bytes":       count("Bytes that the station sends, header and gaps included."),
	"Station.output_bytes":      count("Bytes that the station receives, header and gaps included."),
	"Station.heat_w":            count("Heat given off by coupler, modules, protective devices and supply units at full use."),
	"Station.end_piece":         text("Code of the part that closes the right end; empty if the construction has none."),
	"Station.enclosure":         text("Code of the enclosure."),
	"Station.inside_max_c":      text("Air inside the enclosure at the highest ambient temperature with all loads on."),
	"Station.inside_min_c":      text("Air inside the enclosure at the lowest ambient temperature with the modules idle."),
	"Station.heater_w":          count("Heater that keeps the inside warm and dry enough; 0 if none is needed."),
	"Station.update_ms":         count("Longest time between two exchanges with the controller."),
	"Station.slots":             text("Module positions from left to right."),
	"Station.supply_groups":     text("Runs of neighbouring modules that are fed from one infeed point, from left to right."),

	"Slot.slot":         from1("Position, counted from 1 right of the coupler."),
	"Slot.module":       text("Code of the module."),
	"Slot.base":         text("Code of the base; empty if the construction has none."),
	"Slot.infeed":       text("True if supply wires land here, so that a supply group begins."),
	"Slot.supply_group": text("Id of the supply group that feeds the module."),
	"Slot.input_byte":   count("First input byte of the module; 0 if it has none."),
	"Slot.input_bytes":  count("Input bytes of the module."),
	"Slot.output_byte":  count("First output byte of the module; 0 if it has none."),
	"Slot.output_bytes": count("Output bytes of the module."),
	"Slot.channels":     text("Channels in the order printed on the module."),

	"Channel.channel":   text("Number as printed on the module."),
	"Channel.kind":      oneOf("Kind of signal that the channel takes.", "DI", "DO", "AI", "AO", "RTD", "TC", "CNT", "SER"),
	"Channel.signal":    text("Tag of the signal; null for a spare channel."),
	"Channel.signal_id": text("Id of the signal; empty for a spare channel."),
	"Channel.address":   text("Located address by IEC 61131-3, in the convention of project.address_convention."),
	"Channel.terminals": text("Terminal as printed, by function of the conductor."),

	"SupplyGroup.id":            text("Stable id."),
	"SupplyGroup.group":         from1("Position in the station, counted from 1 from the left."),
	"SupplyGroup.infeed_at":     text("Where the supply wires land: at the coupler or at a slot."),
	"SupplyGroup.first_slot":    from1("First slot of the run."),
	"SupplyGroup.last_slot":     from1("Last slot of the run."),
	"SupplyGroup.load_ma":       count("Sum of what modules and signals draw at once."),
	"SupplyGroup.limit_ma":      count("Smallest of bus limit, basis limit and protective device."),
	"SupplyGroup.class":         text("Supply class: normal, ups or safety:NAME."),
	"SupplyGroup.reason":        text("Why the group was begun."),
	"SupplyGroup.protection":    text("Id of the protective device, or its code."),
	"SupplyGroup.infeed_mm2":    count("Conductors from the supply unit to the infeed point."),
	"SupplyGroup.voltage_min_v": text("Lowest voltage at the infeed point with all loads on."),

	"SupplyGroup.ampacity_a":  count("Current that the infeed conductors may carry as laid; 0 if it could not be computed."),
	"SupplyGroup.fault_min_a": count("Smallest current of a short at the infeed point; 0 if it could not be computed."),
	"SupplyGroup.trip_a":      count("Current from which the protective device surely trips promptly."),

	"Cable.id":       text("Stable id."),
	"Cable.name":     text("Name as printed on the cable."),
	"Cable.from":     text("Far end: device:NAME, station:ID, junction_box:ID, board:PLACE, place:ID or controller."),
	"Cable.to":       text("Near end, in the same form."),
	"Cable.use":      oneOf("What it is for.", "field", "multicore", "network", "supply"),
	"Cable.type":     text("Code of the cable type."),
	"Cable.cores":    count("Cores of the type."),
	"Cable.area_mm2": count("Cross-section of one core."),
	"Cable.length_m": count("Length as laid, allowances at both ends included."),
	"Cable.order_m":  count("Length to buy: as laid and waste."),
	"Cable.route":    text("Ids of the routes it lies on, from the from end to the to end."),
	"Cable.signals":  text("Ids of the signals it carries."),

	"Cable.bundle": text("Id of the bundle that a field cable carries; empty for other uses."),

	"Wire.id":       text("Stable id."),
	"Wire.cable":    text("Id of the cable; empty for a wire inside an enclosure."),
	"Wire.core":     text("Core number or colour."),
	"Wire.from":     text("Typed terminal: device:NAME/FUNCTION, station:ID/SLOT/TERMINAL, junction_box:ID/TERMINAL, supply:ID/+ and so on."),
	"Wire.to":       text("Typed terminal, in the same form."),
	"Wire.signal":   text("Id of the signal it carries; empty for supply wires."),
	"Wire.area_mm2": count("Cross-section."),

	"Circuit.signal":    text("Id of the signal."),
	"Circuit.cable":     text("Id of the field cable."),
	"Circuit.loop_ohm":  count("Resistance of both cores, hot."),
	"Circuit.supply_v":  count("Lowest voltage where the circuit is fed; 0 if it is not fed from here."),
	"Circuit.device_v":  text("Lowest voltage left at the device, or at the channel of an input."),
	"Circuit.needed_v":  count("Least voltage that is needed there; 0 if none is stated."),
	"Circuit.error_k":   count("Error of a temperature because of its leads."),
	"Circuit.react_ms":  count("Worst case from a change at the input until the controller has answered, or from the controller to the output."),
	"Circuit.within_ms": count("Reaction time that the list asks for; 0 if none."),

	"JunctionBox.id":        text("Stable id."),
	"JunctionBox.name":      text("Name as printed."),
	"JunctionBox.place":     text("Id of its place."),
	"JunctionBox.type":      text("Code of the box type."),
	"JunctionBox.terminals": text("Terminals in order."),

	"Supply.id":       text("Stable id."),
	"Supply.station":  text("Id of the station it feeds."),
	"Supply.class":    oneOf("Supply class it feeds.", "normal", "ups"),
	"Supply.type":     text("Code of the supply unit."),
	"Supply.units":    from1("Like units of the feed that it belongs to, itself and those that may fail included; each has an entry of its own."),
	"Supply.load_ma":  count("Current drawn from its feed: from all its units together."),
	"Supply.need_ma":  count("Current its feed must give: the load with coincidence and margin."),
	"Supply.limit_ma": count("Current that the units of its feed, but those that may fail, can give at the place's highest ambient temperature."),
	"Supply.feeder":   text("Id of the AC feeder."),
	"Supply.loss_w":   count("Heat it gives off."),

	"Supply.short_a":    count("Current that all units of the feed give into a short circuit; 0 if the list states none."),
	"Supply.hold_up_ms": count("Time for which it bridges a failure of the mains at its load."),

	"Feeder.id":         text("Stable id."),
	"Feeder.from":       text("Id of the place of the distribution board."),
	"Feeder.station":    text("Id of the station it feeds."),
	"Feeder.class":      oneOf("Supply class that it feeds.", "normal", "ups"),
	"Feeder.cable":      text("Id of its cable."),
	"Feeder.protection": text("Id of its protective device."),
	"Feeder.voltage_v":  count("AC voltage."),
	"Feeder.current_a":  count("Highest steady current."),
	"Feeder.drop_v":     count("Voltage lost on it at that current."),

	"Feeder.ampacity_a":  count("Current that its conductors may carry as laid; 0 if it could not be computed."),
	"Feeder.fault_min_a": count("Smallest current of a short at the station."),
	"Feeder.trip_a":      count("Current from which its protective device surely trips promptly."),
	"Feeder.inrush_a":    count("Current of its supply units when they are switched on together."),

	"Protection.id":       text("Stable id."),
	"Protection.type":     text("Code of the device."),
	"Protection.protects": text("group:ID or feeder:ID."),
	"Protection.rating_a": count("Rated current."),
	"Protection.load_a":   count("Current in use."),

	"Network.profile":   text("Code of the network profile."),
	"Network.topology":  oneOf("Shape of the network.", "star", "line", "ring", "tree", ""),
	"Network.segments":  text("Network cables between two nodes, in order."),
	"Network.addresses": text("Address of each station on the network."),
	"Network.registers": text("Each signal's place in a Modbus map."),

	"Network.update_ms":    count("Update time of the cyclic data."),
	"Network.load_percent": count("Load of the controller's link, or of the bus."),

	"Segment.cable":    text("Id of the cable."),
	"Segment.from":     text("Node: controller or station:ID."),
	"Segment.to":       text("Node: controller or station:ID."),
	"Segment.length_m": count("Length as laid."),
	"Segment.limit_m":  count("Longest allowed by the profile; 0 if it states none."),

	"NodeAddress.station": text("Id of the station."),
	"NodeAddress.name":    text("Name of the station on the network."),
	"NodeAddress.address": text("Address in the network's own form; empty if the network has none but the node number."),
	"NodeAddress.node":    count("Node number."),

	"Register.station": text("Id of the station."),
	"Register.signal":  text("Id of the signal."),
	"Register.table":   oneOf("Table of the Modbus application protocol.", "discrete input", "coil", "input register", "holding register"),
	"Register.number":  count("Number in the base that the basis states."),
	"Register.words":   count("Registers of 16 bits that it takes; 0 for a single bit."),

	"Unplaced.signal": text("Id of the signal; empty if its row has none."),
	"Unplaced.tag":    text("Tag of the signal as read."),
	"Unplaced.where":  text("File and cell of a faulty row; empty otherwise."),
	"Unplaced.why":    text("Why it is not served."),
	"Unplaced.proof":  oneOf("What is proven: none: no place and module can serve it alone; set: not together with the others; not proven: the tool found no way; row: its row is faulty.", "none", "set", "not proven", "row"),

	"IssuedRow.signal":   text("Id of the signal."),
	"IssuedRow.revision": text("Revision of the project at which the row was new or last changed."),
	"IssuedRow.sha256":   text("SHA-256 of what the row states, in hexadecimal; compared with the accepted design's."),

	"Cost.total":     count("Everything."),
	"Cost.constant":  count("What no choice of places changes."),
	"Cost.installed": count("What stands already and is not bought again."),
	"Cost.changes":   count("Cost of doing otherwise than preferred."),
	"Cost.parts":     count("Sums by class of part and of labour."),
	"Cost.currency":  text("Currency of every price in the file."),

	"Part.code":  text("Code in the hardware list."),
	"Part.title": text("What it is, in words."),
	"Part.class": text("Class under which cost.parts sums it."),
	"Part.count": count("Pieces, or metres for cables."),
	"Part.unit":  oneOf("Unit of the count.", "pc", "m"),
	"Part.spare": count("Pieces for the store room, recommended and in no sum."),
	"Part.price": count("Price of one."),
	"Part.for":   text("What it is for: station:ID, group:ID, feeder:ID, field cables, network, store room, ..."),

	"Labour.task":         text("Task whose time the basis states."),
	"Labour.count":        count("How many times, or metres."),
	"Labour.seconds_each": count("Time of one."),
	"Labour.price":        count("Price of all."),
	"Labour.for":          text("What it is for: station:ID, network, ..."),
	"Labour.constant":     text("True if it is the same in every design."),

	"HomeRun.cable_m":      count("Cable to buy."),
	"HomeRun.terminations": count("Conductor ends."),
	"HomeRun.cost":         count("Cost on the same prices."),

	"Siting.objective":   count("What the search made small: total - constant - installed + changes."),
	"Siting.lower_bound": text("Proven: no design that keeps every rule costs less (on the same terms as the objective)."),
	"Siting.gap":         text("(objective - lower_bound) / objective."),
	"Siting.certificate": text("Multiplier of each bundle, in 1/10,000 of the currency; any multipliers give a valid bound."),
	"Siting.curve":       text("Best cost found with a number of stations."),

	"CurvePoint.stations":    count("Number of stations."),
	"CurvePoint.objective":   count("Best cost found with that number."),
	"CurvePoint.lower_bound": text("Proven bound for that number."),

	"Finding.rule":        text("Permanent code of the rule."),
	"Finding.severity":    oneOf("How bad it is.", string(finding.Error), string(finding.Warning), string(finding.Info)),
	"Finding.subject":     text("What it is about: signal:ID, station:ID, ... or project."),
	"Finding.where":       text("Spot in a file that it is about."),
	"Finding.message":     text("What is the matter, with the value seen and the value allowed."),
	"Finding.figures":     text("The numbers it leans on, by name."),
	"Finding.remedy":      text("How to mend it."),
	"Finding.source":      text("Where the rule comes from."),
	"Finding.calculation": text("Id of the calculation behind it; empty if there is none."),

	"Where.file":   text("File."),
	"Where.sheet":  text("Sheet."),
	"Where.cell":   text("Cell, such as F12."),
	"Where.line":   from1("Line of a text file."),
	"Where.column": from1("Column of a text file."),

	"Figure.value": text("The number."),
	"Figure.unit":  text("Its unit."),

	"Remedy.text":   text("In words."),
	"Remedy.change": text("As edits that a machine can make."),

	"Change.subject":  text("What to change."),
	"Change.property": text("Which property of it."),
	"Change.value":    text("The new value."),

	"Formula.text":     text("The formula: names of inputs, numbers, + - * / ^, parentheses and the functions abs, ceil, exp, floor, ln, max, min, pow, round, sqrt, sum."),
	"Formula.inputs":   text("Inputs in order."),
	"Formula.result":   text("The result."),
	"Formula.source":   text("Where the formula comes from."),
	"Formula.variadic": text("True if it takes any number of inputs like the first."),

	"FormulaInput.name": text("Name."),
	"FormulaInput.unit": text("Unit."),
	"FormulaInput.doc":  text("What it is."),

	"Record.formula": text("Name of the formula."),
	"Record.inputs":  text("Inputs by name."),
	"Record.result":  text("The result."),

	"Value.value": text("The number."),
	"Value.unit":  text("Its unit."),
	"Value.from":  text("Where it comes from: project:PATH, signal:ID.COLUMN, hardware:CODE.KEY, calc:ID, cite:KEY#row or rule:CODE."),
}
