package folder

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tomltree"
)

// stated is what project.toml says, with the spots that later checks need.
type stated struct {
	doc     *tomltree.Doc
	project project.Project
	places  map[string]tomltree.Table // first table of each id
	routes  []tomltree.Table          // beside project.Routes
	columns map[string]string         // heading -> canonical column
	mapped  map[string]string         // the same with the roles that only import knows
	headers map[string]int            // heading -> line in project.toml
	choices []project.Decision
	power   tomltree.Table
	head    tomltree.Table
}

// parseProject reads project.toml. What is faulty has its default; faults of meaning inside the file
// are reported too.
func parseProject(data []byte) *stated {
	doc := tomltree.Parse(ProjectFile, data, "PRJ")
	root := doc.Root()
	s := &stated{doc: doc, places: map[string]tomltree.Table{}, columns: map[string]string{}, mapped: map[string]string{}, headers: map[string]int{}}
	p := &s.project
	p.Format = project.Format
	if v := root.NeedInt("format", 0, 1_000_000); v != project.Format && root.Has("format") {
		root.Report("PRJ-011", finding.Error, "format", fmt.Sprintf("format is %d; this version reads format %d", v, project.Format),
			"Use the version of the tool that wrote the folder, or mend the number.")
	}
	s.head = root.Table("project")
	readKeys(s.head, headKeys, p)
	p.Basis = project.DefaultBasis()
	s.readBasis(root.Table("basis"))
	p.Network, p.Power = defaultNetwork(), defaultPower()
	readKeys(root.Table("network"), networkKeys, &p.Network)
	s.power = root.Table("power")
	readKeys(s.power, powerKeys, &p.Power)
	s.readPlaces(root.Tables("place"))
	s.readRoutes(root.Tables("route"))
	s.choices = readChoices(root.Tables("choice"), ProjectFile)
	s.readColumns(root.Table("columns"))
	s.checkNumbers()
	s.checkPlaces(root)
	s.checkRoutes()
	return s
}

func (s *stated) readBasis(t tomltree.Table) {
	b := &s.project.Basis
	readKeys(t, basisKeys, b)
	readKeys(t.Table("cable"), cableKeys, &b.Cable)
	readKeys(t.Table("group"), groupKeys, &b.Group)
	readKeys(t.Table("supply"), supplyKeys, &b.Supply)
	readKeys(t.Table("feeder"), feederKeys, &b.Feeder)
	readKeys(t.Table("climate"), climateKeys, &b.Climate)
	readKeys(t.Table("circuit"), circuitKeys, &b.Circuit)
	readKeys(t.Table("prices"), priceKeys, &b.Prices)
	address := t.Table("address")
	readKeys(address, addressKeys, &b.Address)
	if a := b.Address.Align; a&(a-1) != 0 {
		address.Report("PRJ-012", finding.Error, "align_bytes", fmt.Sprintf("align_bytes is %d; allowed are 1, 2, 4, 8, 16, 32, 64", a), "Write one of them.")
		b.Address.Align = project.DefaultBasis().Address.Align
	}
	seg := t.Table("segregation")
	for _, class := range seg.Keys() {
		b.Segregation[class] = project.Level(seg.OneOf(class, "group", "none", "module", "group", "station"))
	}
	cur := t.Table("current_ma")
	var known []string
	for _, k := range project.Kinds {
		for _, f := range project.Forms[k] {
			known = append(known, string(k)+" "+f)
		}
	}
	for _, name := range known {
		if cur.Has(name) {
			b.DefaultCurrent[name] = q.Current(cur.Float(name, float64(b.DefaultCurrent[name])*1000, 0, 20_000) / 1000)
		}
	}
	res := t.Table("reserve_percent")
	for _, r := range reserveKeys {
		if res.Has(r.Name) {
			b.Reserve[r.Name] = exact(res, r.Name, res.Float(r.Name, float64(b.Reserve[r.Name])/10, 0, 200), 10)
		}
	}
}

func (s *stated) readPlaces(tables []tomltree.Table) {
	for _, t := range tables {
		pl := defaultPlace(&s.project.Basis)
		readKeys(t, placeKeys, &pl)
		if pl.ID == "" || badName(t, "id", pl.ID) {
			continue
		}
		t.SetSubject("place:" + pl.ID)
		if first, twice := s.places[pl.ID]; twice {
			t.Report("PRJ-014", finding.Error, "id", fmt.Sprintf("place %s stands here a second time (first in line %d)", pl.ID, first.Line("id")), "Give each place its own id.")
			continue
		}
		if pl.Name == "" {
			pl.Name = pl.ID
		}
		s.places[pl.ID] = t
		s.project.Places = append(s.project.Places, pl)
	}
}

func (s *stated) readRoutes(tables []tomltree.Table) {
	seen := map[string]int{}
	for _, t := range tables {
		r := defaultRoute()
		readKeys(t, routeKeys, &r)
		if r.ID == "" && r.From != "" && r.To != "" {
			r.ID = r.From + "--" + r.To
		}
		if r.ID == "" || r.From == "" || r.To == "" || r.Length <= 0 || badName(t, "id", r.ID) {
			continue
		}
		t.SetSubject("route:" + r.ID)
		if line, twice := seen[r.ID]; twice {
			t.Report("PRJ-014", finding.Error, "id", fmt.Sprintf("route %s stands here a second time (first in line %d)", r.ID, line), "Give each route its own id.")
			continue
		}
		seen[r.ID] = t.Line("")
		s.routes = append(s.routes, t)
		s.project.Routes = append(s.project.Routes, r)
	}
}

// badName refuses ids that lists of names and subjects cannot carry.
func badName(t tomltree.Table, key, id string) bool {
	if len(id) <= project.MaxName && !strings.ContainsAny(id, ",;") {
		return false
	}
	t.Report("PRJ-027", finding.Error, key, fmt.Sprintf("%s %q is longer than %d characters or holds a comma or semicolon", key, id, project.MaxName), "Take a shorter, plain name.")
	return true
}

func (s *stated) readColumns(t tomltree.Table) {
	names := project.ColumnNames()
	for _, heading := range t.Keys() {
		column := t.OneOf(heading, "", columnWords()...)
		if column != "" {
			s.mapped[heading] = column
		}
		if !slices.Contains(names, column) { // a role: only import has a use for it
			continue
		}
		for other, c := range s.columns {
			if c == column {
				first, second := min(s.headers[other], t.Line(heading)), max(s.headers[other], t.Line(heading))
				t.Report("PRJ-013", finding.Error, heading, fmt.Sprintf("two headings are mapped to %s (lines %d and %d)", column, first, second), "Keep one of them.")
			}
		}
		s.columns[heading] = column
		s.headers[heading] = t.Line(heading)
	}
}
