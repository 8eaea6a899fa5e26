package words

import "maps"

func init() { maps.Copy(english, englishCommands) }

// englishCommands holds the texts of the command line.
var englishCommands = map[string]string{
	"cmd.about": "From a signal list to stations, modules, channels, cables, addresses and their documents. " +
		"Begin with 'railwright plan --example', or 'railwright demo DIR' for a folder of your own to edit.",
	"cmd.see_help": "See '%s'.",
	"cmd.panic":    "railwright: a mistake in the program: %s",

	"cmd.demo":  "Write the example project into a new folder.",
	"cmd.plan":  "Make the design of a project folder.",
	"cmd.check": "Show what is wrong or doubtful in a project folder.",

	"help.demo": "The example is an invented drinking-water works. Edit its files, or copy them as the beginning of a project of your own.\n\n" +
		"Example:\n\n    railwright demo waterworks\n    railwright plan waterworks\n\n" +
		"Exit code: 0 done, 2 the folder is not empty, 3 the tool failed.",
	"help.plan": "Reads the folder's project.toml, signal list and hardware list, chooses stations, modules, channels, supply groups, " +
		"cables and addresses, checks them, and prints a summary. Nothing is written unless you ask for it with --out or --accept.\n\n" +
		"Example:\n\n    railwright plan waterworks --out waterworks-plan\n    railwright plan --example --json > design.json\n\n" +
		"Exit code: 0 no error findings, 1 error findings, 2 no design can be made, 3 the tool failed.",
	"help.check": "Lists the findings of the accepted design, or, where none is accepted, of a new plan. Each says where, what, and how to mend it.\n\n" +
		"Example:\n\n    railwright check waterworks\n    railwright check waterworks --json > findings.json\n\n" +
		"Exit code: 0 no error findings, 1 error findings, 2 no design can be made, 3 the tool failed.",

	"app.cannot_write":      "cannot write into %s",
	"app.foreign":           "%s already holds %s that railwright did not write or that changed since: %s",
	"app.foreign_manifest":  "%s is not a list of files that railwright wrote",
	"app.other_folder":      "Name another folder.",
	"app.overwrite":         "Or add --overwrite to replace them.",
	"app.no_folder":         "no project folder named",
	"app.folder_hint":       "railwright demo DIR           writes the example into a new folder",
	"app.example_hint":      "railwright plan --example     plans the built-in example",
	"app.both":              "a folder and --example were both named",
	"app.missing":           "there is no folder %s",
	"app.not_project":       "%s is not a project folder: it has no project.toml",
	"app.accept_example":    "the built-in example cannot be accepted: it has no folder",
	"app.accept_errors":     "the design has error findings and was not accepted",
	"app.accept_incomplete": "the plan was stopped before it was done and was not accepted",
	"app.accept_hint":       "railwright check %s     lists them",
	"app.no_design":         "no design can be made of %s",
	"app.stale":             "the accepted design of %s was made from another state of the folder",
	"app.stale_hint":        "railwright plan %s --accept     makes and accepts a new one",
	"app.not_empty":         "%s is not empty",
	"app.empty_hint":        "Name a folder that does not exist yet.",
	"app.cannot_read":       "cannot read %s",
	"app.the_example":       "the built-in example",
	"app.bad_accepted":      "%s cannot be read",
	"app.bad_accepted_hint": "Bring back the file as it was, or move it away to plan without it.",
	"phase.prices":          "pricing places and cables",
	"phase.bound":           "proving a lower bound",
	"phase.search":          "choosing places",
	"phase.confirm":         "confirming with real stations",
	"phase.curve":           "cost by number of stations",
	"phase.stations":        "filling stations",
	"phase.checks":          "checking",
	"app.wrote_out":         "Written: design.json, schedules.xlsx and %s in %s.",
	"app.wrote_accepted":    "Accepted: %s. Later plans keep to it where they can.",

	"summary.decided":       "%s of %s placed on %s.",
	"summary.incomplete":    "The run was stopped before it was done: this is the best plan found until then.",
	"summary.stations":      "Stations",
	"summary.no_stations":   "None: there is no signal that a station could serve.",
	"summary.stations_note": "Spare: channels without a signal. 24 V: load of the supply units with everything on. Cost: the station with its labour; field cables are in the sum below.",
	"summary.cost":          "Cost, %s",
	"summary.no_cost":       "Nothing to buy.",
	"summary.installed":     "Of this, %s %s stands already.",
	"summary.home_dearer":   "Home runs for the same signals: %s (%s m of cable). The stations save %s, %s of that.",
	"summary.home_cheaper":  "Home runs for the same signals: %s (%s m of cable). They would be cheaper by %s, %s of the total: look whether stations are wanted here at all.",
	"summary.home_same":     "Home runs for the same signals: %s (%s m of cable), as much as the stations.",
	"summary.no_bound":      "How far this is from the cheapest design was not proven.",
	"summary.best":          "Proven: no design that keeps every rule costs less.",
	"summary.gap":           "Proven: no design that keeps every rule is more than %s %s (%s) cheaper.",
	"summary.look":          "To look at",
	"summary.nothing":       "Nothing: no errors, no warnings.",
	"summary.only_infos":    "No errors, no warnings; %s made by the tool.",
	"summary.counts":        "%s, %s, %s.",
	"summary.more_rules":    "... and findings of %s more.",
	"summary.more_like":     "... and %s more of %s.",
	"summary.unplaced":      "Not placed: %s",
	"summary.more_reasons":  "... and for %s more.",
	"summary.and_more":      "%s and %s more",
	"summary.next":          "Next",
	"summary.caution": "Made from stated data; it approves nothing. Local codes and licensed or competent people decide, above all on functional safety, " +
		"hazardous areas and mains.",

	"next.demo":   "get the example as a folder to edit",
	"next.check":  "see every finding",
	"next.again":  "after mending, plan again",
	"next.out":    "write the design and its schedules",
	"next.accept": "keep this design",
	"next.plan":   "make the design",

	"demo.wrote": "Wrote the example, %s, into %s:",

	"check.accepted": "Checked the accepted design:",
	"check.plan":     "Checked a new plan (no design is accepted yet):",

	"file.project.toml":  "places, routes, design basis, choices",
	"file.signals.csv":   "the signal list",
	"file.hardware.toml": "hardware beside the built-in list",
	"file.choices.toml":  "hand choices",
	"file.README.md":     "what the example shows",
}
