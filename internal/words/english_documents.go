package words

import "maps"

func init() { maps.Copy(english, englishDocuments) }

// englishDocuments holds the texts of the command that writes documents.
var englishDocuments = map[string]string{
	"cmd.documents": "Write drawings, schedules, sheets and report.",
	"help.documents": "Writes one PDF of everything, one for each chapter, each drawing as SVG and DXF, the schedules as XLSX and CSV, and design.json. " +
		"All come from one design: the accepted one, or a new plan where none is accepted. As long as the design is not accepted, has error " +
		"findings or holds are open, every sheet is stamped \"not for construction\".\n\n" +
		"With --paper A3 or tabloid, drawings are that large, lists and forms half of it.\n\n" +
		"Example:\n\n    railwright documents waterworks --out waterworks-documents\n    railwright documents waterworks --out docs --paper tabloid --wire awg\n\n" +
		"Exit code: 0 no error findings, 1 error findings, 2 no design can be made, 3 the tool failed.",
	"app.no_out":         "no folder to write into named (--out DIR)",
	"app.unknown_choice": "%s %s: known are %s",
	"app.draft_plan":     "the design is not accepted (railwright plan FOLDER --accept)",
	"app.draft_errors":   "the design has error findings",
	"app.draft_holds":    "%s open in the signal list",
	"app.drawings":       "Drawings",
	"app.stopped":        "stopped",
	"app.no_documents":   "the documents could not be made",
	"phase.sheets":       "laying out sheets",
	"phase.files":        "writing files",

	"documents.wrote":     "Wrote %s on %s into %s:",
	"documents.pack":      "everything, with bookmarks",
	"documents.drawings":  "each drawing as SVG and DXF",
	"documents.schedules": "the schedules",
	"documents.design":    "the design itself",
	"documents.draft":     "Every sheet is stamped \"not for construction\":",
	"documents.unfit":     "These signs of the list are in no font here and are printed as □: %s",
}
