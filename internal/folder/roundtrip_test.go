package folder

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// draw sets every key of a section to a random value that a person could have written.
func draw[T any](t *rapid.T, section string, keys []key[T], to *T) {
	for _, k := range keys {
		if !k.need && rapid.Bool().Draw(t, section+k.name+" default") {
			continue
		}
		label := section + k.name
		switch f := k.at(to).(type) {
		case textField:
			if k.allowed != nil {
				f.set(rapid.SampledFrom(k.allowed).Draw(t, label))
			} else {
				f.set(rapid.StringMatching(`[A-Za-z0-9"\\=ä#]([ A-Za-z0-9"\\=ä#']{0,8}[A-Za-z0-9])?`).Draw(t, label))
			}
		case flagField:
			*f.p = rapid.Bool().Draw(t, label)
		case countField:
			f.set(rapid.Int64Range(int64(k.least*float64(f.per))+1, int64(k.most*float64(f.per))).Draw(t, label))
		case realField:
			f.set(rapid.Float64Range(k.least, k.most).Draw(t, label))
		case kindsField:
			for _, kind := range project.Kinds {
				f.set(kind, float64(rapid.IntRange(int(k.least*10)+1, int(k.most*10)).Draw(t, label))/10)
			}
		}
	}
}

// Writing a project.toml and reading it gives the same project, whatever the values.
func TestProjectRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := project.Project{Format: 1, Basis: project.DefaultBasis(), Network: defaultNetwork(), Power: defaultPower()}
		b := &p.Basis
		draw(t, "", headKeys, &p)
		draw(t, "basis.", basisKeys, b)
		draw(t, "cable.", cableKeys, &b.Cable)
		draw(t, "group.", groupKeys, &b.Group)
		draw(t, "supply.", supplyKeys, &b.Supply)
		draw(t, "prices.", priceKeys, &b.Prices)
		draw(t, "address.", addressKeys, &b.Address)
		draw(t, "network.", networkKeys, &p.Network)
		draw(t, "power.", powerKeys, &p.Power)
		b.Address.Align = 1 << rapid.IntRange(0, 6).Draw(t, "align")
		b.AmbientMin, p.Power.SupplyMin, p.Power.UPSPlace = -60, 10, ""
		b.Segregation["loud one"] = project.LevelModule
		b.DefaultCurrent["DI pnp"] = q.Current(float64(rapid.IntRange(0, 20_000_000).Draw(t, "current")) / 1000 / 1000) // as a file in mA gives it
		b.Reserve["enclosure"] = rapid.Int64Range(0, 2000).Draw(t, "reserve")
		for i := range rapid.IntRange(2, 4).Draw(t, "places") {
			pl := defaultPlace(b)
			draw(t, "place.", placeKeys, &pl)
			pl.ID, pl.Zone, pl.Forbidden, pl.Controller, pl.PowerSource = fmt.Sprintf("P%d", i), "", false, i == 0, true
			pl.AmbientMin = q.Some(q.Temperature(-60))
			if pl.Candidate = i == 1; pl.Name == "" {
				pl.Name = pl.ID
			}
			p.Places = append(p.Places, pl)
			if i > 0 {
				r := defaultRoute()
				draw(t, "route.", routeKeys, &r)
				r.ID, r.From, r.To = fmt.Sprintf("R%d", i), "P0", pl.ID
				p.Routes = append(p.Routes, r)
			}
		}
		text := EncodeProject(&p)
		f := Parse(Files{ProjectFile: text, ListFile: []byte("tag,kind,form,place\nA,DI,pnp,P1\n")})
		if f.Findings.HasErrors() {
			t.Fatalf("%v\n%s", f.Findings, text)
		}
		f.Project.Signals, f.Project.Choices = nil, nil
		if diff := cmp.Diff(p, *f.Project, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("%s\n%s", diff, text)
		}
	})
}

func TestChoicesRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []project.Decision
		for i := range rapid.IntRange(0, 5).Draw(t, "n") {
			d := defaultChoice()
			draw(t, "", choiceKeys, &d)
			d.Subject, d.Property, d.Value = fmt.Sprintf("station:S%d", i), "coupler", fmt.Sprintf("code %d \"x\"", i)
			d.File = ChoicesFile
			all = append(all, d)
		}
		text := EncodeChoices(append(all, project.Decision{Origin: project.FromHand, File: ProjectFile, Subject: "user's"}))
		f := Parse(Files{ProjectFile: networked(base), ChoicesFile: text, ListFile: []byte(baseList)})
		if f.Findings.HasErrors() {
			t.Fatalf("%v\n%s", f.Findings, text)
		}
		if diff := cmp.Diff(all, f.Project.Choices, cmpopts.EquateEmpty(), cmpopts.IgnoreFields(project.Decision{}, "Line")); diff != "" {
			t.Fatalf("%s\n%s", diff, text)
		}
	})
}

// A list as written reads back cell by cell, formulas and quotes in it too.
func TestListRoundTrip(t *testing.T) {
	f := Parse(Files{ProjectFile: networked(base), ListFile: []byte("tag,kind,form,place,description,remarks\n=A1+B2,DI,pnp,P1,\"3\"\" pipe; old\",-5\nB,XX,,P1,'quoted,\n")})
	data, err := EncodeList(f.Cells)
	if err != nil {
		t.Fatal(err)
	}
	again := Parse(Files{ProjectFile: networked(base), ListFile: data})
	if diff := cmp.Diff(f.Cells, again.Cells); diff != "" {
		t.Errorf("%s\n%s", diff, data)
	}
	if f.SHA256 != again.SHA256 {
		t.Error("the hash changed with the file's layout")
	}
	if s := again.Project.Signals[0]; s.Tag != "=A1+B2" || s.Description != `3" pipe; old` || s.Remarks != "-5" {
		t.Errorf("%+v", s)
	}
}

// The hash does not see order and layout; it does see every value that counts.
func TestInputHash(t *testing.T) {
	list := "tag,kind,form,place,current_ma,redundant_with\nA,DI,pnp,P1,4.5,B\nB,DI,pnp,P2,,\nC,DX,,P1,,\n"
	sum := func(toml, list string, more ...string) string {
		files := Files{ProjectFile: networked(toml), ListFile: []byte(list)}
		for i := 0; i+1 < len(more); i += 2 {
			files[more[i]] = []byte(more[i+1])
		}
		return Parse(files).SHA256
	}
	want := sum(base, list)
	lines := strings.SplitAfter(strings.TrimSuffix(list, "\n"), "\n")
	lines[len(lines)-1] += "\n"
	for seed := range uint64(5) {
		rows := slices.Clone(lines[1:])
		rand.New(rand.NewPCG(seed, 1)).Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		if got := sum(base, lines[0]+strings.Join(rows, "")); got != want {
			t.Errorf("order of rows changes the hash")
		}
	}
	same := map[string]string{
		"semicolons and line ends": sum(strings.ReplaceAll(base, "\n", "\r\n"), strings.ReplaceAll(list, ",", ";")),
		"defaults spelt out":       sum(base+"[basis]\nambient_max_c = 40.0\n", list),
		"a design was accepted":    sum(base, list, AcceptedFile, "{}"),
		"a remark in project.toml": sum("# remark\n"+base, list),
	}
	for what, got := range same {
		if got != want {
			t.Errorf("%s changes the hash", what)
		}
	}
	differ := map[string]string{
		"a length":    sum(strings.Replace(base, "length_m = 50", "length_m = 51", 1), list),
		"a cell":      sum(base, strings.Replace(list, "4.5", "4.6", 1)),
		"a basis key": sum(base+"[basis]\nfree_slots = 1\n", list),
		"a feeder":    sum(base+"[basis.feeder]\ndrop_percent = 4\n", list),
		"a climate":   sum(base+"[basis.climate]\nhumidity_percent = 85\n", list),
		"a circuit":   sum(base+"[basis.circuit]\nmains_high_percent = 6\n", list),
		"a drum":      sum(base+"[basis.cable]\ndrums_m = [200]\n", list),
		"hardware":    sum(base, list, HardwareFile, "x = 1"),
		"built":       sum(base, list, BuiltFile, "{}"),
		"a choice":    sum(base+"[[choice]]\nsubject = \"part:x\"\nproperty = \"use\"\nvalue = \"no\"\n", list),
		"left out":    sum(base, strings.Replace(list, "C,DX", "D,DX", 1)),
	}
	for what, got := range differ {
		if got == want {
			t.Errorf("%s does not change the hash", what)
		}
	}
}

func TestSaveKeepsWhatItReplaces(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(ProjectFile, string(networked(base)))
	write(ListFile, "tag,kind,form,place,My own\nA,DI,pnp,P1,keep me\n")
	write("signals.ods", "not really")
	f, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := SaveList(dir, f.Cells); err != nil {
			t.Fatal(err)
		}
	}
	if err := SaveChoices(dir, []project.Decision{{Subject: "place:P1", Property: "station", Value: "yes", Strength: project.Fixed, Origin: project.FromHand}}); err != nil {
		t.Fatal(err)
	}
	if err := SaveAccepted(dir, []byte(`{"stations":[{"id":"S1"}]}`)); err != nil {
		t.Fatal(err)
	}
	if err := SaveBuilt(dir, []byte("{}")); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if diff := cmp.Diff([]string{AcceptedFile, BuiltFile, ChoicesFile, ProjectFile, ListFile, ListFile + ".old", "signals.ods.old"}, names); diff != "" {
		t.Error(diff)
	}
	old, _ := os.ReadFile(filepath.Join(dir, ListFile+".old"))
	if !strings.Contains(string(old), "keep me") {
		t.Errorf("the old list is gone: %q", old)
	}
	again, err := Read(dir)
	if err != nil || again.Findings.HasErrors() || len(again.Project.Signals) != 1 || len(again.Project.Choices) != 1 || len(again.Accepted) == 0 {
		t.Errorf("%v %+v", err, again)
	}
	if data, _ := os.ReadFile(filepath.Join(dir, ProjectFile)); string(data) != string(networked(base)) {
		t.Error("project.toml was written")
	}
}

// A file that cannot be written leaves the old one as it was.
func TestFailedSaveLosesNothing(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, AcceptedFile), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := SaveAccepted(dir, []byte("{}")); err == nil || !strings.Contains(err.Error(), "write accepted.json") {
		t.Errorf("%v", err)
	}
	entries, _ := os.ReadDir(dir)
	if len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}

// Whatever the files hold, reading ends with findings that say where.
func fuzzFiles(t *testing.T, files Files) {
	f := Parse(files)
	for _, x := range f.Findings {
		if x.Rule == "" || x.Severity == "" || x.Subject == "" || x.Message == "" {
			t.Fatalf("%+v", x)
		}
	}
	if again := Parse(files); again.SHA256 != f.SHA256 {
		t.Fatal("two readings, two hashes")
	}
	for i := range f.Project.Signals {
		s := &f.Project.Signals[i]
		if s.ID == "" || s.Tag == "" || s.Kind == "" || s.Form == "" || s.Place == "" {
			t.Fatalf("a signal without what is needed: %+v", s)
		}
	}
}

func FuzzProjectTOML(f *testing.F) {
	f.Add(networked(base))
	f.Add([]byte(strings.ReplaceAll(base, "\"", "'")))
	f.Add([]byte("format=1\n[basis]\nspare_percent={DI=1}\n[[place]]\nid='P1'\n[columns]\n'a'='tag'\n[[choice]]\nsubject='signal:A'\nproperty='slot.1'\nvalue='x'"))
	f.Fuzz(func(t *testing.T, data []byte) {
		fuzzFiles(t, Files{ProjectFile: data, ListFile: []byte(baseList)})
	})
}

func FuzzSignalsCSV(f *testing.F) {
	f.Add([]byte(baseList))
	f.Add([]byte("tag;kind;place;redundant_with;station\nA;AI;P1;B,C;P1.1\nA;TC;P9;;\n\"x"))
	f.Add([]byte("\xEF\xBB\xBFTag No\tType\tLocation\n=1\tCNT\tP2\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		fuzzFiles(t, Files{ProjectFile: networked(base), ListFile: data})
	})
}

func FuzzChoicesTOML(f *testing.F) {
	f.Add([]byte("format = 1\n[[choice]]\nsubject = \"signal:A\"\nproperty = \"channel\"\nvalue = \"S1/1/1\"\nstrength = \"preferred\"\nchange_cost = 10\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		fuzzFiles(t, Files{ProjectFile: networked(base), ListFile: []byte(baseList), ChoicesFile: data})
	})
}
