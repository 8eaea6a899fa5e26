package intake_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"railwright/internal/intake"
	"railwright/internal/intake/fromtable"
	"railwright/internal/project"
	"railwright/internal/tabular"
)

func read(t testing.TB, name string, data []byte, opt intake.Options) *intake.Result {
	t.Helper()
	b, err := tabular.Read(name, data, tabular.Options{})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return intake.Read(fromtable.Book(b), opt)
}

func readText(t testing.TB, lines ...string) *intake.Result {
	t.Helper()
	return read(t, "list.csv", []byte(strings.Join(lines, "\n")+"\n"), intake.Options{})
}

// signalLine prints a signal's filled cells; what every signal has is left out.
func signalLine(s *project.Signal) string {
	var p []string
	for _, c := range project.Columns() {
		v := c.Format(s)
		if v == "" || c.Name == "id" && s.ID == s.Tag || c.Name == "supply_class" && v == "normal" {
			continue
		}
		p = append(p, c.Name+"="+v)
	}
	return strings.Join(p, " | ")
}

// report prints all that a list gave, for comparing with what is expected.
func report(r *intake.Result) string {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%d rows, %d signals, %d left out, %d rejected\n\n", r.Rows, len(r.Signals), r.LeftOut, len(r.Rejected))
	for i := range r.Signals {
		fmt.Fprintf(&b, "%d: %s\n", r.Signals[i].At.Row, signalLine(&r.Signals[i]))
	}
	for _, d := range r.Decisions {
		fmt.Fprintf(&b, "%s %s %s %s\n", d.Strength, d.Subject, d.Property, d.Value)
	}
	b.WriteString("\n")
	for _, f := range r.Findings {
		b.WriteString(f.String())
		if c, ok := f.Figures["confidence"]; ok {
			fmt.Fprintf(&b, " [%g]", c.Value)
		}
		b.WriteString("\n")
	}
	for _, rj := range r.Rejected {
		fmt.Fprintf(&b, "rejected %s row %d: %s\n", rj.Sheet, rj.Row, strings.Join(rj.Why, "; "))
	}
	return b.String()
}

func signalOf(t testing.TB, r *intake.Result, tag string) *project.Signal {
	t.Helper()
	for i := range r.Signals {
		if r.Signals[i].Tag == tag {
			return &r.Signals[i]
		}
	}
	t.Fatalf("no signal %s in\n%s", tag, report(r))
	return nil
}
