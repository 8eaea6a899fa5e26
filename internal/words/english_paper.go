package words

import "maps"

func init() { maps.Copy(english, englishPaper) }

// englishPaper holds the texts of the frame that every sheet has.
var englishPaper = map[string]string{
	"paper.design":           "design %s",
	"paper.rev":              "Rev.",
	"paper.date":             "Date",
	"paper.made":             "Made",
	"paper.checked":          "Checked",
	"paper.approved":         "Approved",
	"paper.draft":            "NOT FOR CONSTRUCTION",
	"paper.for_construction": "Released for construction:",
	"paper.page":             "page %d of %d",
}
