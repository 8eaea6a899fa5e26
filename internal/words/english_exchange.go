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
}
