package project

import "railwright/internal/finding"

// Rule is one kind of fault of a signal list. Codes are permanent.
type Rule struct {
	Code, Title, Text string
}

// ListRules are all rules that reading a signal list applies: 1 to 29 look at one row, 30 to 49 at
// all rows together, 50 and following at the file.
var ListRules = []Rule{
	{"LST-001", "value missing", "Tag, kind and place must be given. The row is left out."},
	{"LST-002", "not a number", "Numbers have digits and one decimal point; the unit is in the column's name. The row is left out."},
	{"LST-003", "number outside its limits", "The limits catch slips such as amperes in a column of milliamperes. The row is left out."},
	{"LST-004", "word not allowed", "The column takes only the words that the message names. The row is left out."},
	{"LST-005", "number read with a guess", "A decimal comma, the column's own unit behind the number, or a typographic minus can mean only one thing and is taken so."},
	{"LST-006", "text cannot be used", "Too long, or with characters that files and messages cannot carry. The row is left out."},
	{"LST-007", "form does not belong to the kind", "Each kind has electrical forms of its own. The row is left out."},
	{"LST-008", "form assumed", "Where no form is given, the kind's first form is taken."},
	{"LST-009", "loop supply assumed", "A current input without active is passive with 2 or 3 wires and active with 4: who powers the loop should be stated, it is the commonest loop error."},
	{"LST-010", "loop supply contradicts the wires", "A passive device with 4 wires would leave the loop without a source; an active one with 3 wires would have two. The row is left out."},
	{"LST-011", "number of wires does not suit the form", "The form decides which numbers of wires exist. The row is left out."},
	{"LST-012", "sensing element missing or of another kind", "A thermocouple's type decides the cable and the scaling, so it is never guessed. The row is left out."},
	{"LST-013", "sensing element assumed", "A resistance thermometer without a stated element is taken as Pt100 (common practice)."},
	{"LST-014", "range reversed or half", "The low end must be below the high end. A reversed range leaves the row out; half a range is a warning."},
	{"LST-015", "alarm limit outside the range", "An alarm limit outside the range can never be reached; reversed limits are always reached. The row is left out."},
	{"LST-016", "safe state does not suit the kind", "Discrete outputs have 0, 1 or hold; analogue ones hold or a value inside the range. The row is left out."},
	{"LST-017", "supply class not understood", "normal, ups, or safety:NAME, where NAME is the safety function that switches the supply. The row is left out."},
	{"LST-018", "voltage contradicts the form", "The form names the voltage already. The row is left out."},
	{"LST-019", "column has no meaning for the kind", "The value is kept but nothing uses it; often the kind is wrong."},
	{"LST-020", "Ex figures without a level", "Without ex_level the signal is planned on ordinary modules. If it belongs into an intrinsically safe circuit, a competent person states the level."},
	{"LST-021", "partner of itself", "redundant_with names the row's own signal. The row is left out."},
	{"LST-030", "tag stands twice", "A tag names one signal. No tool can know which of the rows is right, so all of them are left out."},
	{"LST-031", "id stands twice", "An id names one signal for ever. All rows that bear it are left out."},
	{"LST-032", "redundancy partner unknown", "redundant_with names a signal that the list does not have. The row is left out: placed without its partner it would look safe and not be."},
	{"LST-033", "redundancy closed", "If A names B, B has A as partner too."},
	{"LST-034", "redundancy partner left out", "The partner's own row is faulty, so nothing is kept apart from it yet."},
	{"LST-035", "place unknown", "The place is not in project.toml. The row is left out."},
	{"LST-036", "device at two places", "Signals of one device stand at several places; they cannot share a cable."},
	{"LST-037", "segregation class without a level", "Classes without a level in [basis.segregation] are kept apart at the level group."},
	{"LST-038", "station unknown", "The wanted station is neither fixed by a choice nor named after a place."},
	{"LST-039", "partner's name has two meanings", "The name is one signal's tag and another's id. The row is left out."},
	{"LST-050", "no heading row found", "The first filled row must name the columns; tag, kind and place must be among them."},
	{"LST-051", "unknown column", "The column is not read."},
	{"LST-052", "column read under another name", "The heading is a common name of a canonical column, or the column map says so."},
	{"LST-053", "column stands twice", "The first one is read."},
	{"LST-054", "list without signals", "The list has a heading and no rows, or nothing at all."},
	{"LST-055", "value without a heading", "A cell stands in a column that has no heading; it is not read."},
	{"LST-056", "formula without a value, or with an error", "The spreadsheet holds no usable result for the cell."},
	{"LST-057", "column map names a heading that the list does not have", "The entry in [columns] has no effect."},
	{"LST-058", "more than one sheet", "The sheet named Signals is read, or else the first one with a heading row."},
	{"LST-059", "note of the file reader", "Something in the file had to be assumed or left out."},
}

// bad builds a finding about one cell or row; the caller fills spot and subject.
func bad(rule string, sev finding.Severity, msg, remedy string) *finding.Finding {
	return &finding.Finding{Rule: rule, Severity: sev, Message: msg, Remedy: finding.Remedy{Text: remedy}}
}
