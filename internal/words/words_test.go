package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestCatalogue reads the source of the module: every key that is asked for is in the catalogue
// with as many verbs as arguments, and every entry is asked for (by its key or by its beginning, as
// in words.Text("schedule."+key)).
func TestCatalogue(t *testing.T) {
	used, prefixes := map[string]bool{}, []string{}
	set := token.NewFileSet()
	err := filepath.WalkDir(filepath.Join("..", ".."), func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".go") {
			return err
		}
		f, err := parser.ParseFile(set, p, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			c, ok := n.(*ast.CallExpr)
			if !ok || len(c.Args) == 0 || (!isSay(c.Fun) && !isText(c.Fun, filepath.Base(filepath.Dir(p)) == "words")) {
				return true
			}
			switch a := c.Args[0].(type) {
			case *ast.BasicLit:
				key, _ := strconv.Unquote(a.Value)
				used[key] = true
				text, ok := english[key]
				if !ok {
					t.Errorf("%s: no text for %q", set.Position(c.Pos()), key)
				}
				if n := verbs(text); ok && c.Ellipsis == token.NoPos && n != len(c.Args)-1 {
					t.Errorf("%s: %q has %d verbs, %d arguments are given", set.Position(c.Pos()), key, n, len(c.Args)-1)
				}
			case *ast.BinaryExpr:
				if l, ok := a.X.(*ast.BasicLit); ok {
					prefix, _ := strconv.Unquote(l.Value)
					prefixes = append(prefixes, prefix)
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for key := range english {
		found := used[key]
		for _, p := range prefixes {
			found = found || strings.HasPrefix(key, p)
		}
		if !found {
			t.Errorf("nobody asks for %q", key)
		}
	}
}

func isText(f ast.Expr, inside bool) bool {
	if id, ok := f.(*ast.Ident); ok {
		return inside && id.Name == "find"
	}
	s, ok := f.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	id, ok := s.X.(*ast.Ident)
	return ok && id.Name == "words" && s.Sel.Name == "Text"
}

// isSay reports a call like set.Say("paper.page", 1, 2), or of a room's own short form, b.say("...").
func isSay(f ast.Expr) bool {
	s, ok := f.(*ast.SelectorExpr)
	return ok && (s.Sel.Name == "Say" || s.Sel.Name == "say")
}

// TestGerman: every German text stands for an English one and has the same verbs in the same order.
func TestGerman(t *testing.T) {
	for key, text := range german {
		en, ok := english[key]
		switch {
		case !ok:
			t.Errorf("%q has no English text", key)
		case !slices.Equal(verb.FindAllString(en, -1), verb.FindAllString(text, -1)):
			t.Errorf("%q has other verbs than in English: %q, %q", key, text, en)
		}
		if want := German.Say(key); verbs(text) == 0 && want != text {
			t.Errorf("%q says %q", key, want)
		}
	}
}

var verb = regexp.MustCompile(`%%|%[-+ #0]*[0-9.]*[a-z]`)

func verbs(text string) int { return strings.Count(strings.ReplaceAll(text, "%%", ""), "%") }

func TestCount(t *testing.T) {
	for want, got := range map[string]string{
		"no stations":    Count(0, "station"),
		"1 station":      Count(1, "station"),
		"2 supply units": Count(2, "supply unit"),
		"12 345 signals": Count(12345, "signal"),
		"3 supplies":     Count(3, "supply"),
		"-1 234 567":     Thousands(-1234567),
		"999":            Thousands(999),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestGermanWhole: printed sheets are German throughout. What a sheet says is kept under these beginnings.
func TestGermanWhole(t *testing.T) {
	for key := range english {
		for _, begins := range []string{"paper.", "doc.", "drawing."} {
			if strings.HasPrefix(key, begins) && german[key] == "" {
				t.Errorf("%q has no German text", key)
			}
		}
	}
}
