package intake_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"railwright/internal/intake"
)

// The page on import lists every role and every rule; -update writes both lists anew.
func TestDocsListRolesAndRules(t *testing.T) {
	const page = "../../docs/import.md"
	data, err := os.ReadFile(page)
	must(t, err)
	var rules strings.Builder
	for _, r := range intake.Rules {
		fmt.Fprintf(&rules, "- `%s` **%s.** %s\n", r.Code, r.Title, r.Text)
	}
	roles := "`" + strings.Join(intake.Roles(), "`, `") + "`"
	text := section(string(data), "one of these roles:\n\n", "\n\n## The command", roles)
	text = section(text, "## Messages\n", "\nFigures are", rules.String())
	if *update {
		must(t, os.WriteFile(page, []byte(text), 0o644))
		return
	}
	if text != string(data) {
		t.Error("docs/import.md does not list the roles and rules of the code; run the test with -update")
	}
}

func section(text, after, before, with string) string {
	i := strings.Index(text, after) + len(after)
	j := i + strings.Index(text[i:], before)
	return text[:i] + with + text[j:]
}

// Every rule that the reader gives is declared.
func TestRulesAreDeclared(t *testing.T) {
	known := map[string]bool{}
	for _, r := range intake.Rules {
		if known[r.Code] {
			t.Errorf("%s is declared twice", r.Code)
		}
		known[r.Code] = true
	}
	kept, err := os.ReadFile(uglyFile)
	must(t, err)
	for _, f := range read(t, "ugly.xlsx", kept, intake.Options{}).Findings {
		if strings.HasPrefix(f.Rule, "IMP") && !known[f.Rule] {
			t.Errorf("%s is not declared", f.Rule)
		}
		if f.Severity != "info" && f.Remedy.Text == "" {
			t.Errorf("no remedy: %s", f)
		}
	}
}

// Our own list, read as a foreign one, is the list.
func TestExampleItself(t *testing.T) {
	p := example(t)
	heads, rows := intake.Rows(p.Signals)
	s := intake.FromRows("Signals", append([][]string{heads}, rows...))
	r := intake.Read(&intake.Book{File: "signals.csv", Sheets: []intake.Sheet{s}}, intake.Options{Places: p.Places})
	if c := intake.Compare(nil, p.Signals, r.Signals); len(c.Changes) > 0 || c.Same != len(p.Signals) || len(r.Rejected) > 0 {
		t.Errorf("changes %+v", c.Changes)
	}
}
