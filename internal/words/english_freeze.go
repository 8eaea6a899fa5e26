package words

import "maps"

func init() { maps.Copy(english, englishFreeze) }

// englishFreeze holds the texts of freeze and modification.
var englishFreeze = map[string]string{
	"cmd.freeze": "Mark the accepted design, or stations of it, as installed.",
	"help.freeze": "What is frozen stays: its stations, modules, channels, addresses and field cable types. Later plans add to it, use spare channels first " +
		"(below the design basis's spare, with a warning), and name in a finding what stands in the way where something cannot be done. " +
		"The hardware data of what is installed is kept by value in built.json, so a later version of the tool changes nothing in it.\n\n" +
		"Example:\n\n    railwright plan waterworks --accept\n    railwright freeze waterworks --by \"N. N.\"\n    railwright freeze waterworks --release BST-S1\n\n" +
		"Exit code: 0 done, 2 no accepted design or wrong usage, 3 the tool failed.",
	"app.bad_built":           "%s cannot be read",
	"app.bad_built_hint":      "Put the file back as it was written, or remove it if nothing is installed.",
	"app.freeze_accept":       "the folder has no accepted design to freeze",
	"app.freeze_accept_hint":  "railwright plan %s --accept",
	"app.freeze_unknown":      "the accepted design has no station %s; it has %s",
	"app.freeze_nothing":      "no station would be left frozen",
	"app.freeze_nothing_hint": "To begin anew, remove %s.",
	"app.freeze_moves":        "with these stations frozen the plan would change in %d places, among them %s",
	"app.freeze_moves_hint":   "railwright plan %s --accept    accepts the plan as it is now; then freeze",
	"freeze.done":             "%s with %s frozen; written to %s.",
	"freeze.added":            "Frozen now: %s.",
	"freeze.ids":              "The signal list got a column id: each signal keeps its place through renames. Leave that column alone.",
	"freeze.released":         "Released: %s.",
	"freeze.next":             "From now on plans leave them as they are. 'railwright modification %s %s' tells the physical steps from what is installed to the plan.",

	"app.demo_one": "--weak and --second-year were both given",
	"demo.by":      "the demo",
	"cmd.redline":  "Show mark-ups from the field as a proposal, and approve it.",
	"help.redline": "FILE is a table (CSV, XLSX, ODS) with the columns subject, property, value and, as wished, by, on, remark: what was built otherwise than " +
		"drawn, in the words of choices (signal:LS-101, channel, P1-S1/3/5). Without --approve nothing is written: the proposal shows what would change in " +
		"the as-built record. With --approve and --by it becomes the record, unless something in it cannot be.\n\n" +
		"Example:\n\n    railwright redline waterworks marks.csv\n    railwright redline waterworks marks.csv --approve --by \"N. N.\"\n\n" +
		"Exit code: 0 done, 1 the proposal has error findings, 2 wrong usage, 3 the tool failed.",
	"app.redline_nothing":     "nothing is frozen in this folder, so there is no as-built record to mark up",
	"app.redline_freeze":      "railwright freeze %s",
	"app.redline_by":          "an approval needs a name: add --by NAME",
	"app.redline_no_file":     "there is no file %s",
	"app.redline_unreadable":  "%s cannot be read: %s",
	"app.redline_heads":       "%s has no heading row with subject, property and value",
	"app.redline_faulty":      "%s has %s",
	"app.redline_empty":       "%s has no mark-up below its heading",
	"app.redline_errors":      "the proposal cannot be approved as it is",
	"app.redline_errors_hint": "Mend the marks; nothing was written.",
	"redline.proposal":        "%s: the as-built record would change in %s.",
	"redline.cannot":          "%s: this cannot be as it is marked. Nothing was written.",
	"redline.same":            "%s: the as-built record already says so.",
	"redline.was":             "was",
	"redline.becomes":         "becomes",
	"redline.none":            "nothing",
	"redline.next":            "To approve: railwright redline %s %s --approve --by NAME",
	"redline.approved":        "Approved by %s; written to %s.",
}
