package hardware

// Rule is one kind of fault of a hardware list. Codes are permanent.
type Rule struct{ Code, Title, Text string }

// Rules are the faults of a hardware list beyond those that every TOML file can have (HWL-001 to
// HWL-007, see tomltree.Rules).
var Rules = []Rule{
	{"HWL-010", "code cannot be used", "Codes stand in subjects, file names and lists: 1 to 60 letters, digits, points, hyphens, plus signs or underscores."},
	{"HWL-011", "code given twice", "A code names one entry over all classes. In a project's hardware.toml an entry with a code of the built-in list takes its place; within one file nothing can be meant by a second one."},
	{"HWL-012", "number too fine", "The list counts in whole steps (0.001 mA, 1 mm, 0.1 %, prices in 0.01, prices of a metre in 0.001); digits beyond would be lost."},
	{"HWL-013", "unknown code", "An entry names another one that is not in the list."},
	{"HWL-014", "no infeed possible", "A construction in which no supply group can be begun, or a module whose group cannot be begun there."},
	{"HWL-015", "base and module do not meet", "In a construction with bases every module needs a base that offers its terminal pattern for its voltage; a base that suits no module is of no use."},
	{"HWL-016", "terminals", "A label that is no template, two clamping points with one label, or a form that the channels take without having the terminals for it."},
	{"HWL-017", "process image too small", "The module's bytes do not hold its channels, two channel sets overlap, or a coupler's header leaves nothing for modules."},
	{"HWL-018", "channel numbers twice", "No two channels of a module bear the same printed number."},
	{"HWL-019", "rank not in the order", "A module's rank must be in the order of each construction that it belongs to."},
	{"HWL-020", "entry contradicts itself", "Figures or marks of one entry that cannot both hold."},
	{"HWL-021", "construction without parts", "No coupler or no module belongs to it."},
}
