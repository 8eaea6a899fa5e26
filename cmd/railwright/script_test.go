package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the README's sample anew")

// A script is a text file of commands with what they print:
//
//	# a remark
//	$ railwright check yard
//	expected standard output, where a line "..." stands for any lines and "..." inside a line for any text
//	2> expected standard error
//	exit 1
//
// No "exit" line means 0. Commands beside railwright: cat FILE, ls DIR, write FILE (the following
// lines that begin with "| "), edit FILE OLD NEW (quoted), has FILE TEXT. They run in a folder of the
// script's own.
type scriptStep struct {
	line     int
	command  string
	input    string
	out, err []string
	code     int
}

func parseScript(t *testing.T, text string) []scriptStep {
	t.Helper()
	var steps []scriptStep
	for i, line := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		var s *scriptStep
		if len(steps) > 0 {
			s = &steps[len(steps)-1]
		}
		command, isCommand := strings.CutPrefix(line, "$ ")
		switch {
		case strings.HasPrefix(line, "# "):
		case isCommand:
			steps = append(steps, scriptStep{line: i + 1, command: command})
		case s == nil:
			if line != "" {
				t.Fatalf("line %d: output before the first command", i+1)
			}
		case line == "|" && strings.HasPrefix(s.command, "write "):
			s.input += "\n"
		case strings.HasPrefix(line, "| ") && strings.HasPrefix(s.command, "write "):
			s.input += line[2:] + "\n"
		case strings.HasPrefix(line, "exit "):
			code, err := strconv.Atoi(line[5:])
			if err != nil {
				t.Fatalf("line %d: %v", i+1, err)
			}
			s.code = code
		case strings.HasPrefix(line, "2> "):
			s.err = append(s.err, line[3:])
		default:
			s.out = append(s.out, line)
		}
	}
	return steps
}

// words splits a command line; double quotes hold a word together.
func splitWords(line string) []string {
	var all []string
	var b strings.Builder
	quoted, open := false, false
	for _, r := range line {
		switch {
		case r == '"':
			quoted, open = !quoted, true
		case r == ' ' && !quoted:
			if open {
				all = append(all, b.String())
			}
			b.Reset()
			open = false
		default:
			b.WriteRune(r)
			open = true
		}
	}
	if open {
		all = append(all, b.String())
	}
	return all
}

func TestScripts(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "*.txt"))
	if err != nil || len(files) == 0 {
		t.Fatal("no scripts", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			steps := parseScript(t, string(text))
			t.Chdir(t.TempDir())
			for _, s := range steps {
				var out, errOut bytes.Buffer
				code := runStep(t, s, &out, &errOut)
				at := fmt.Sprintf("%s:%d: $ %s", filepath.Base(file), s.line, s.command)
				if code != s.code {
					t.Errorf("%s\nexit code %d, want %d; standard error:\n%s", at, code, s.code, errOut.String())
				}
				compare(t, at+"\nstandard output", s.out, out.String())
				compare(t, at+"\nstandard error", s.err, errOut.String())
			}
		})
	}
}

func compare(t *testing.T, what string, want []string, got string) {
	t.Helper()
	for len(want) > 0 && want[len(want)-1] == "" {
		want = want[:len(want)-1]
	}
	lines := strings.Split(strings.TrimRight(got, "\n"), "\n")
	if got == "" {
		lines = nil
	}
	if !matchLines(want, lines) {
		t.Errorf("%s is\n%s\nwant\n%s", what, got, strings.Join(want, "\n"))
	}
}

// matchLines reports whether got fits want, in which "..." stands for any lines.
func matchLines(want, got []string) bool {
	if len(want) == 0 {
		return len(got) == 0
	}
	if want[0] == "..." {
		for i := range len(got) + 1 {
			if matchLines(want[1:], got[i:]) {
				return true
			}
		}
		return false
	}
	return len(got) > 0 && matchLine(want[0], got[0]) && matchLines(want[1:], got[1:])
}

func matchLine(want, got string) bool {
	parts := strings.Split(want, "...")
	if len(parts) == 1 {
		return want == got
	}
	if !strings.HasPrefix(got, parts[0]) {
		return false
	}
	got = got[len(parts[0]):]
	for _, p := range parts[1 : len(parts)-1] {
		i := strings.Index(got, p)
		if i < 0 {
			return false
		}
		got = got[i+len(p):]
	}
	return strings.HasSuffix(got, parts[len(parts)-1])
}

func runStep(t *testing.T, s scriptStep, out, errOut *bytes.Buffer) int {
	t.Helper()
	w := splitWords(s.command)
	fail := func(err error) int {
		fmt.Fprintln(errOut, err)
		return 1
	}
	switch {
	case w[0] == "railwright":
		return run(context.Background(), w[1:], terminal{out: out, err: errOut, width: 80})
	case w[0] == "cat" && len(w) == 2:
		data, err := os.ReadFile(w[1])
		if err != nil {
			return fail(err)
		}
		out.Write(data)
	case w[0] == "ls" && len(w) == 2:
		entries, err := os.ReadDir(w[1])
		if err != nil {
			return fail(err)
		}
		for _, e := range entries {
			fmt.Fprintln(out, e.Name())
		}
	case w[0] == "write" && len(w) == 2:
		if err := os.WriteFile(w[1], []byte(s.input), 0o644); err != nil {
			return fail(err)
		}
	case w[0] == "edit" && len(w) == 4:
		data, err := os.ReadFile(w[1])
		if err != nil {
			return fail(err)
		}
		if !bytes.Contains(data, []byte(w[2])) {
			t.Fatalf("line %d: %s does not hold %q", s.line, w[1], w[2])
		}
		if err := os.WriteFile(w[1], bytes.Replace(data, []byte(w[2]), []byte(w[3]), 1), 0o644); err != nil {
			return fail(err)
		}
	case w[0] == "has" && len(w) == 3:
		data, err := os.ReadFile(w[1])
		if err != nil {
			return fail(err)
		}
		if !bytes.Contains(data, []byte(w[2])) {
			return fail(fmt.Errorf("%s does not hold %q", w[1], w[2]))
		}
	case w[0] == "mkdir" && len(w) == 2:
		if err := os.MkdirAll(w[1], 0o755); err != nil {
			return fail(err)
		}
	case w[0] == "rm" && len(w) == 2:
		if err := os.Remove(w[1]); err != nil {
			return fail(err)
		}
	default:
		t.Fatalf("line %d: unknown command %q", s.line, s.command)
	}
	return 0
}

// TestRunner: the runner tells right from wrong.
func TestRunner(t *testing.T) {
	for _, c := range []struct {
		want, got string
		ok        bool
	}{
		{"a\nb", "a\nb", true},
		{"a\nb", "a", false},
		{"a\n...\nd", "a\nb\nc\nd", true},
		{"a\n...", "a", true},
		{"...\nd", "a\nb", false},
		{"a ... c", "a b c", true},
		{"a ... c", "a c", false},
		{"...c...", "abcd", true},
	} {
		if got := matchLines(strings.Split(c.want, "\n"), strings.Split(c.got, "\n")); got != c.ok {
			t.Errorf("%q against %q: %v", c.want, c.got, got)
		}
	}
	if got := splitWords(`edit f "a b" ""`); !slices.Equal(got, []string{"edit", "f", "a b", ""}) {
		t.Errorf("%q", got)
	}
}
