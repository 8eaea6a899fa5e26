package words

import "maps"

func init() { maps.Copy(english, englishExchange) }

// englishExchange holds the texts of export and of reading device descriptions.
var englishExchange = map[string]string{
	"cmd.export": "Write the design in an open format.",
	"help.export": "Takes the accepted design, or, where none is accepted, a new plan. Without --out the file goes to standard output. Addresses are " +
		"proved first: form, size, and that no two share a bit.\n\n%s\n\n" +
		"Example:\n\n    railwright export waterworks --as iec --out waterworks.st\n    railwright export waterworks --as csv --template columns.toml --out tags.csv\n\n" +
		"Exit code: 0 done, 1 an address is faulty and nothing was written, 2 wrong usage or no design can be made, 3 the tool failed.",
	"export.iec":               "IEC 61131-3 source: located variables, scaling, program, configuration",
	"export.plcopen":           "the same as PLCopen XML (IEC 61131-10)",
	"export.csv":               "tags as a table in columns of your own (--template)",
	"export.modbus_csv":        "Modbus registers of every station, as a table",
	"export.modbus_json":       "Modbus registers for programs",
	"export.modbus_md":         "Modbus registers to read",
	"export.caex":              "CAEX 3.0 with AutomationML roles (IEC 62424, IEC 62714)",
	"export.json":              "the whole design (docs/design.schema.json)",
	"export.sqlite":            "the whole design as tables for your own queries",
	"export.accepted_hardware": "hardware of the accepted design",
	"export.bad_date":          "%s is no date and time such as 2026-01-31T12:00:00Z",
	"export.template_only":     "--template belongs to --as csv",
	"export.whole":             "--as %s is of the whole design: --station does not go with it",
	"export.no_format":         "there is no format %s; there are %s",
	"export.near_format":       "there is no format %s; did you mean %s?",
	"export.no_station":        "the design has no station %s",
	"export.no_template":       "there is no file %s",
	"export.bad_template":      "the column template %s has faults",
	"export.own_reader":        "the export does not pass our own reader; nothing is written",
	"export.exists":            "%s is there already",
	"export.wrote":             "Wrote %s: %s",
	"export.refused":           "Nothing was written: addresses are faulty.",
	"export.binary":            "--as %s is no text: name a file with --out",
	"export.json_out":          "with --json the file needs a name: add --out FILE",

	"cmd.hardware": "Bring a device description into a project's hardware list.",
	"help.hardware_read": "Such files carry modules, bytes, slots and limits, but no current, price, width or terminals. What is missing is reported, and a draft " +
		"with the gaps is written under imports/: fill it in and read it in its turn. --figure states a value for every entry that lacks it, or, with a code, " +
		"a class or a kind before it, for those only. Entries without gaps that hold together with the rest are added to the end of hardware.toml.\n\n" +
		"Example:\n\n    railwright hardware read head.xml --into waterworks --figure ambient_max_c=60 --figure module.width_mm=12\n" +
		"    railwright hardware read waterworks/imports/head.hardware.toml --into waterworks\n\n" +
		"Exit code: 0 added, 1 something is missing or faulty, 2 wrong usage, 3 the tool failed.",
	"device.figures_draft": "--figure goes with a device description; write the value into the draft itself",
	"device.list":          "hardware list",
	"device.unread":        "cannot read %s",
	"device.kinds":         "Read are GSDML (.xml), EDS (.eds) and drafts (.toml).",
	"device.missing":       "there is no file %s",
	"device.no_file":       "%s is no file",
	"device.huge":          "%s is larger than any device description",
	"device.read":          "%s with %s: %s",
	"device.added":         "Added to %s.",
	"device.draft":         "Nothing was added. Fill in %s, then: railwright hardware read %s --into %s",
	"device.old_draft":     "Read it as it is, or take it away to have a new one.",
	"device.nothing":       "Nothing was added.",
}
