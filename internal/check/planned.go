package check

// Rules whose findings the deciding rooms make while they plan; they stand here so that each code is
// explained in one place.
func init() {
	add(Rule{
		Code: "CHO-001", Title: "Choice not understood or contradicted",
		Why:     "Two decisions that exclude each other cannot both be kept; the first holds until a person releases one.",
		Example: "A signal fixed to station A-S1 by the list and to B-S1 by hand; release one of the two.",
		Source:  "arithmetic", Mend: ByChoice,
	})
	add(Rule{
		Code: "CHO-002", Title: "Fixed slots with a gap",
		Why:     "A station is filled from slot 1 on; a fixed slot behind a free one cannot be kept.",
		Example: "Slot 4 fixed, slots 1 to 3 not; fix them too, or release slot 4.",
		Source:  "arithmetic", Mend: ByChoice,
	})
	add(Rule{
		Code: "CHO-003", Title: "Fixed channel in a slot that is not fixed",
		Why:     "A channel belongs to a module; without a fixed module nobody knows what the channel is.",
		Example: "Signal fixed to A-S1/3/5 while slot 3 is free; fix its module as well.",
		Source:  "arithmetic", Mend: ByChoice,
	})
	add(Rule{
		Code: "CHO-004", Title: "Choice names what does not exist",
		Why:     "A choice on a part, station or channel that is not there decides nothing, and somebody believes that it does.",
		Example: "A module code with a slip of the pen; mend the code.",
		Source:  "arithmetic", Mend: ByChoice,
	})
	add(Rule{
		Code: "CHO-005", Title: "Choice that the design does not follow",
		Why:     "A fixed choice that something stands in the way of must not look as if it had been followed.",
		Example: "A breaker for AC fixed before a 24 V group: the finding says that it is not of the kind, and which device stands there.",
		Source:  "arithmetic", Mend: ByChoice,
	})
	add(Rule{
		Code: "STA-005", Title: "Station that cannot be built",
		Why:     "What is fixed of a station breaks one of its limits, so that it is left out with its signals.",
		Example: "Twelve fixed modules behind a coupler for eight; release some.",
		Source:  "arithmetic", Mend: ByChoice,
	})
	add(Rule{
		Code: "STA-006", Title: "Station keeps less than the basis asks for",
		Why:     "What is installed may have used up the spare that the basis asks for; it is accepted, but somebody should know.",
		Example: "An addition took the last spare channel of a frozen station; add a module or accept it.",
		Source:  "common-practice#spare", Mend: ByChoice,
	})
	add(Rule{
		Code: "FRZ-001", Title: "What releasing the installed parts would give",
		Why:     "Something could not be done beside what is installed; whoever decides should know what moving it would be worth.",
		Example: "Three signals have no channel; with everything installed released they would, and moving it is weighed against a new station.",
		Source:  "arithmetic", Mend: ByChoice,
	})
	add(Rule{
		Code: "ADR-002", Title: "Fixed address not kept",
		Why:     "A signal's address follows from its slot, channel and the station's first byte; a fixed address can be kept only if these allow it.",
		Example: "A signal fixed to %IX4.0 on a module that begins at byte 6; fix its channel and the station's first byte.",
		Source:  "arithmetic", Mend: ByChoice,
	})
}
