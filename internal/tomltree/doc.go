// Package tomltree reads a TOML file into a tree that knows the line and column of every key and
// value, and hands values out through typed getters that collect findings instead of stopping.
//
// Begin with Parse, then ask tables for values; at the end take Findings, which also names every
// key that nobody asked for:
//
//	doc := tomltree.Parse("project.toml", data, "PRJ")
//	root := doc.Root()
//	p := root.Table("project")             // the empty table where there is none
//	name := p.NeedString("name")           // PRJ-003 where it is missing
//	for _, r := range root.Tables("route") { // [[route]]
//		r.SetSubject("route:" + r.NeedString("id"))
//		length := r.NeedFloat("length_m", 0.1, 100_000) // PRJ-005 outside, with line and remedy
//		medium := r.OneOf("medium", "tray", "tray", "duct")
//		if r.Bool("closed", false) {
//			r.Report("PRJ-031", finding.Error, "closed", "...", "...") // a fault of meaning, with its line
//		}
//	}
//	findings := doc.Findings()
//
// A getter returns its default where the key is missing, faulty or outside its limits; each fault is
// one finding with the value seen, the values allowed and a remedy. A line that is no TOML is one
// finding too, and reading goes on with the next key; the key of such a line counts as given, so it
// is not reported as missing as well.
//
// The codes are the prefix given to Parse and the number of Rules. The package reads TOML 1.0 (and
// the line breaks in inline tables of 1.1) with the position-keeping parser of go-toml; wording is
// our own. It never does I/O.
package tomltree
