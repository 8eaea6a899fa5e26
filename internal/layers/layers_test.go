package layers

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "railwright"

// goFile is one parsed file of the module.
type goFile struct {
	path string // slash path from the module's root
	dir  string
	test bool
	ast  *ast.File
}

func parseModule(t *testing.T) (*token.FileSet, []goFile) {
	t.Helper()
	root := filepath.Join("..", "..")
	set := token.NewFileSet()
	var files []goFile
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && p != root && (strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_") || name == "testdata") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(name, ".go") {
			return nil
		}
		rel, err := filepath.Rel(root, p)
		if err != nil {
			return err
		}
		src, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		f, err := parser.ParseFile(set, rel, src, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		files = append(files, goFile{path: rel, dir: path.Dir(rel), test: strings.HasSuffix(name, "_test.go"), ast: f})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return set, files
}

// covers reports whether pattern ("calc/..." or "siting" or "*") stands for name.
func covers(pattern, name string) bool {
	if pattern == "*" || pattern == name {
		return true
	}
	below, ok := strings.CutSuffix(pattern, "/...")
	return ok && (name == below || strings.HasPrefix(name, below+"/"))
}

// find returns the row for a package; an exact name wins over a "/..." row.
func find(name string) (room, bool) {
	for _, exact := range []bool{true, false} {
		for _, r := range table {
			if covers(r.name, name) && (r.name == name) == exact {
				return r, true
			}
		}
	}
	return room{}, false
}

func roomOf(dir string) (string, bool) { return strings.CutPrefix(dir, "internal/") }

func importPath(s *ast.ImportSpec) string {
	p, err := strconv.Unquote(s.Path.Value)
	if err != nil {
		return s.Path.Value
	}
	return p
}

func standard(p string) bool {
	first, _, _ := strings.Cut(p, "/")
	return !strings.Contains(first, ".") && first != module
}

// TestImports holds every non-test file against the table.
func TestImports(t *testing.T) {
	set, files := parseModule(t)
	seen := map[string]bool{}
	for _, f := range files {
		name, ok := roomOf(f.dir)
		if !ok || f.test {
			continue
		}
		r, known := find(name)
		if !known {
			if !seen[name] {
				t.Errorf("internal/%s is not in the import table: add a row with its reason to internal/layers/table.go", name)
			}
			seen[name] = true
			continue
		}
		for _, spec := range f.ast.Imports {
			if why := refuse(name, r, importPath(spec)); why != "" {
				t.Errorf("%s: %s", set.Position(spec.Pos()), why)
			}
		}
	}
}

// refuse says why room r (package name) may not import p; "" if it may.
func refuse(name string, r room, p string) string {
	if standard(p) {
		return ""
	}
	inside, ok := strings.CutPrefix(p, module+"/internal/")
	if !ok {
		if p == module || strings.HasPrefix(p, module+"/") {
			return "imports " + p + ": nothing imports a command"
		}
		for _, m := range r.out {
			if p == m || strings.HasPrefix(p, m+"/") {
				return ""
			}
		}
		return "internal/" + name + " may not import the outside module " + p + ": " + r.why
	}
	if inside == name {
		return ""
	}
	target, known := find(inside)
	if r.pure && known && !target.pure {
		return "internal/" + name + " is pure and may not import internal/" + inside + ", which touches the world"
	}
	for _, m := range r.may {
		if covers(m, inside) {
			return ""
		}
	}
	return "internal/" + name + " may not import internal/" + inside + ": " + r.why
}

// TestPureRooms holds every non-test file of a pure room against the fences.
func TestPureRooms(t *testing.T) {
	set, files := parseModule(t)
	for _, f := range files {
		name, ok := roomOf(f.dir)
		if !ok || f.test {
			continue
		}
		if r, known := find(name); !known || !r.pure {
			continue
		}
		for _, bad := range breaches(f.ast) {
			t.Errorf("%s: internal/%s is a pure room: %s", set.Position(bad.pos), name, bad.why)
		}
	}
}

type breach struct {
	pos token.Pos
	why string
}

// breaches returns the uses of fenced packages and names in one file.
func breaches(f *ast.File) []breach {
	var bad []breach
	local := map[string]fence{} // name in this file -> fence with names
	for _, spec := range f.Imports {
		p := importPath(spec)
		for _, fe := range fences {
			if !covers(fe.path, p) {
				continue
			}
			alias := path.Base(p)
			if alias == "v2" {
				alias = path.Base(path.Dir(p))
			}
			if spec.Name != nil {
				alias = spec.Name.Name
			}
			if len(fe.names) == 0 || alias == "." {
				bad = append(bad, breach{spec.Pos(), p + " may not be imported: " + fe.why})
			} else {
				local[alias] = fe
			}
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		s, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		id, ok := s.X.(*ast.Ident)
		if !ok {
			return true
		}
		if fe, ok := local[id.Name]; ok && slices.Contains(fe.names, s.Sel.Name) {
			bad = append(bad, breach{s.Pos(), id.Name + "." + s.Sel.Name + " may not be used: " + fe.why})
		}
		return true
	})
	ast.Inspect(f, func(n ast.Node) bool {
		if c, ok := n.(*ast.CallExpr); ok {
			if id, ok := c.Fun.(*ast.Ident); ok && (id.Name == "print" || id.Name == "println") {
				bad = append(bad, breach{c.Pos(), id.Name + " may not be used: writing to the terminal belongs to the command"})
			}
		}
		return true
	})
	return bad
}

// TestFaces keeps the terminal libraries in the command.
func TestFaces(t *testing.T) {
	set, files := parseModule(t)
	for _, f := range files {
		if f.test || strings.HasPrefix(f.dir, "cmd/") {
			continue
		}
		for _, spec := range f.ast.Imports {
			for _, m := range faceModules {
				if p := importPath(spec); p == m || strings.HasPrefix(p, m+"/") {
					t.Errorf("%s: %s belongs to cmd/railwright: other rooms return values, the command shows them", set.Position(spec.Pos()), p)
				}
			}
		}
	}
}

// TestTable: every row has a reason, names no room twice, and a pure row allows pure rooms only.
func TestTable(t *testing.T) {
	names := map[string]bool{}
	for _, r := range table {
		if r.why == "" {
			t.Errorf("%s has no reason", r.name)
		}
		if names[r.name] {
			t.Errorf("%s stands in the table twice", r.name)
		}
		names[r.name] = true
		for _, m := range r.may {
			if m == "*" {
				continue
			}
			target, ok := find(strings.TrimSuffix(m, "/..."))
			if !ok {
				t.Errorf("%s may import %s, which is no room", r.name, m)
			}
			if r.pure && !target.pure {
				t.Errorf("%s is pure but may import %s, which is not", r.name, m)
			}
		}
	}
	for _, f := range fences {
		if f.why == "" {
			t.Errorf("fence %s has no reason", f.path)
		}
	}
}

// TestDoc: every package opens with a package comment, in doc.go if it has more than one file.
func TestDoc(t *testing.T) {
	_, files := parseModule(t)
	count, documented := map[string]int{}, map[string]string{}
	for _, f := range files {
		if f.test {
			continue
		}
		count[f.dir]++
		if f.ast.Doc != nil {
			documented[f.dir] = path.Base(f.path)
		}
	}
	for d, n := range count {
		if in := documented[d]; in == "" || n > 1 && in != "doc.go" {
			t.Errorf("%s has no doc.go with a package comment: what it owns, where to begin, what it never does", d)
		}
	}
}

// TestFencesCatch plants each kind of breach and expects it to be found.
func TestFencesCatch(t *testing.T) {
	for src, want := range map[string]string{
		`package x; import "os"; var _ = os.Args`:                                                 "os may not be imported",
		`package x; import "net/http"; var _ http.Client`:                                         "net/http may not be imported",
		`package x; import "log/slog"; func f() { slog.Info("") }`:                                "log/slog may not be imported",
		`package x; import "time"; var _ = time.Now()`:                                            "time.Now may not be used",
		`package x; import clock "time"; var _ = clock.Now`:                                       "clock.Now may not be used",
		`package x; import . "time"; var _ = Now()`:                                               "time may not be imported",
		`package x; import "math/rand/v2"; var _ = rand.IntN(3)`:                                  "rand.IntN may not be used",
		`package x; import "fmt"; func f() { fmt.Println() }`:                                     "fmt.Println may not be used",
		`package x; func f() { println() }`:                                                       "println may not be used",
		`package x; import "math/rand/v2"; var _ = rand.New(rand.NewPCG(1, 2)).IntN(3)`:           "",
		`package x; import "fmt"; var _ = fmt.Sprint(1)`:                                          "",
		`package x; import "time"; const _ = 3 * time.Second`:                                     "",
		`package x; import "path/filepath"; var _ = filepath.Join("a")`:                           "path/filepath may not be imported",
		`package x; import "crypto/sha256"; import "path"; var _ = path.Base; var _ = sha256.New`: "",
	} {
		f, err := parser.ParseFile(token.NewFileSet(), "x.go", src, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, b := range breaches(f) {
			got = append(got, b.why)
		}
		switch {
		case want == "" && len(got) > 0:
			t.Errorf("%s: %q, want nothing", src, got)
		case want != "" && (len(got) != 1 || !strings.HasPrefix(got[0], want)):
			t.Errorf("%s: %q, want %q", src, got, want)
		}
	}
}

// TestTableRefuses: the table says no where it must.
func TestTableRefuses(t *testing.T) {
	for _, c := range []struct {
		room, imports string
		ok            bool
	}{
		{"siting", "railwright/internal/packing", false},
		{"packing", "railwright/internal/siting", false},
		{"checker", "railwright/internal/fit", false},
		{"checker", "railwright/internal/design", true},
		{"calc/voltdrop", "railwright/internal/project", false},
		{"calc/voltdrop", "railwright/internal/calc/conductor", true},
		{"plan", "railwright/internal/folder", false},
		{"plan", "railwright/internal/packing", true},
		{"design", "railwright/internal/plan", false},
		{"app", "railwright/internal/folder", true},
		{"packing", "github.com/xuri/excelize/v2", false},
		{"tabular", "github.com/xuri/excelize/v2", true},
		{"app", "railwright/cmd/railwright", false},
	} {
		r, ok := find(c.room)
		if !ok {
			t.Fatalf("no room %s", c.room)
		}
		if got := refuse(c.room, r, c.imports); (got == "") != c.ok {
			t.Errorf("%s imports %s: %q, want allowed %v", c.room, c.imports, got, c.ok)
		}
	}
}
