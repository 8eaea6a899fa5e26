package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// typed runs a command with somebody at the keyboard, who types the lines one after the other.
func typed(t *testing.T, lines string, args ...string) (code int, stdout, asked string) {
	t.Helper()
	var out, err bytes.Buffer
	code = run(context.Background(), args, terminal{out: &out, err: &err, in: strings.NewReader(lines), width: 80})
	return code, out.String(), err.String()
}

// issue writes a list and imports it without questions.
func issue(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, asked := typed(t, "", "import", name, "--into", "site", "--yes", "--take", "none"); code != exitDone {
		t.Fatalf("exit %d: %s", code, asked)
	}
}

func listed(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("site", "signals.csv"))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

const revA = "Tag,Description,Type,Location,Range,Unit\nPT-1,Inlet pressure of line 1,AI,HALL,0-10,bar\nLS-2,High level,DI,HALL,,\nFT-3,Flow to tank farm,AI,HALL,0-50,m3/h\n"

// Each question is asked once, in the order of the list, and each answer does what it says.
func TestImportAsks(t *testing.T) {
	revB := strings.NewReplacer("High level", "High high level", "FT-3,Flow to tank farm", "FT-0003,Flow to tank farm", "0-10", "0-16").Replace(revA)
	for _, c := range []struct {
		name, typed string
		code        int
		want, not   []string
	}{
		{"all yes", "y\ny\ny\n", exitDone, []string{"High high level", "FT-0003,Flow", "0,16,bar"}, []string{"FT-3,FT-3", "FT-0003,FT-0003"}},
		{"conflict no, rename yes, write yes", "n\nyes\nY\n", exitDone, []string{"Level very high", "FT-3,FT-0003", "0,16,bar"}, []string{"High high"}},
		{"rename no: the old one goes, the new one comes", "n\nn\ny\n", exitDone, []string{"Level very high", "FT-0003,FT-0003"}, []string{"FT-3,"}},
		{"declined", "y\ny\nn\n", exitUsage, []string{"Level very high", "FT-3,FT-3", "0,10,bar"}, []string{"FT-0003"}},
		{"silence is no", "y\n", exitUsage, []string{"Level very high", "FT-3,FT-3", "0,10,bar"}, []string{"FT-0003"}},
		{"nonsense is no", "perhaps\n1\nok\n", exitUsage, []string{"Level very high", "0,10,bar"}, []string{"FT-0003"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			issue(t, "list rev A.csv", revA)
			before := strings.Replace(listed(t), "High level", "Level very high", 1)
			if err := os.WriteFile(filepath.Join("site", "signals.csv"), []byte(before), 0o644); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile("list rev B.csv", []byte(revB), 0o644); err != nil {
				t.Fatal(err)
			}
			code, _, asked := typed(t, c.typed, "import", "list rev B.csv", "--into", "site")
			if code != c.code {
				t.Fatalf("exit %d, want %d: %s", code, c.code, asked)
			}
			for _, q := range []string{"LS-2 description was High level; the project says Level very high, the list High high level. Take the list's? [y/N]", "FT-0003 is new and like FT-3, which the list no longer has"} {
				if strings.Count(asked, q) != 1 {
					t.Errorf("%q stands %d times in %s", q, strings.Count(asked, q), asked)
				}
			}
			after := listed(t)
			for _, w := range c.want {
				if !strings.Contains(after, w) {
					t.Errorf("no %q in\n%s", w, after)
				}
			}
			for _, w := range c.not {
				if strings.Contains(after, w) {
					t.Errorf("%q in\n%s", w, after)
				}
			}
			if c.code == exitUsage && after != before {
				t.Errorf("written without consent:\n%s", after)
			}
		})
	}
}

// Where no row names a place, the place is asked for, and the import goes on with it.
func TestImportAsksForPlace(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("l.csv", []byte("Tag,Description,Type\nPT-1,Pressure,AI\nLS-2,Level,DI\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, asked := typed(t, "PUMP HALL\n", "import", "l.csv", "--into", "site")
	if code != exitDone || !strings.Contains(asked, "Place of the signals without one:") {
		t.Fatalf("exit %d: %s\n%s", code, asked, out)
	}
	if text := listed(t); strings.Count(text, "PUMP HALL") != 2 {
		t.Error(text)
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("l.csv", []byte("Tag,Description,Type\nPT-1,Pressure,AI\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, _ := typed(t, "", "import", "l.csv", "--into", "site"); code != exitUsage {
		t.Errorf("nobody answered: exit %d", code)
	}
	if _, err := os.Stat("site"); !os.IsNotExist(err) {
		t.Error("a folder was begun without a place")
	}
}

// Nobody is asked where the answer is for a machine, quiet or given beforehand.
func TestImportDoesNotAsk(t *testing.T) {
	for _, flags := range [][]string{{"--json"}, {"--quiet"}, {"--yes", "--take", "all"}} {
		t.Chdir(t.TempDir())
		issue(t, "list rev A.csv", revA)
		if err := os.WriteFile("list rev B.csv", []byte(strings.Replace(revA, "High level", "Hi level", 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		_, _, asked := typed(t, "y\ny\n", append([]string{"import", "list rev B.csv", "--into", "site"}, flags...)...)
		if strings.Contains(asked, "[y/N]") {
			t.Errorf("%v: %s", flags, asked)
		}
	}
}
