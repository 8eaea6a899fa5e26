package finding

import (
	"fmt"
	"sort"
	"strings"
)

// Severity says how bad it is. The zero value is not valid.
type Severity string

// The three severities.
const (
	Error   Severity = "error"   // a rule is broken; the design must not be built like this
	Warning Severity = "warning" // doubtful; a person should look
	Info    Severity = "info"    // an assumption or a choice that the tool made
)

// Where is the spot in a file that a finding is about. The zero Where is "no file".
type Where struct {
	File  string `json:"file,omitempty"`
	Sheet string `json:"sheet,omitempty"`
	Cell  string `json:"cell,omitempty"` // "F12"
	Line  int    `json:"line,omitempty"` // from 1, for text files
	Col   int    `json:"column,omitempty"`
}

// String prints the spot as people say it: "signals.xlsx, sheet Signals, cell F12".
func (w Where) String() string {
	var p []string
	if w.File != "" {
		p = append(p, w.File)
	}
	if w.Sheet != "" {
		p = append(p, "sheet "+w.Sheet)
	}
	if w.Cell != "" {
		p = append(p, "cell "+w.Cell)
	}
	if w.Line > 0 {
		p = append(p, fmt.Sprintf("line %d", w.Line))
	}
	return strings.Join(p, ", ")
}

// Figure is a number that a finding leans on.
type Figure struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// Change is one edit that would mend a finding: set Property of Subject to Value.
type Change struct {
	Subject  string `json:"subject"`
	Property string `json:"property"`
	Value    string `json:"value"`
}

// Remedy says how to mend a finding, in words and, where a machine can do it, as changes.
type Remedy struct {
	Text   string   `json:"text"`
	Change []Change `json:"change"`
}

// Finding is one message. Message holds the value seen and the value allowed in the reader's
// units; Remedy.Text says how to mend it.
type Finding struct {
	Rule        string            `json:"rule"` // permanent code such as "LST-003"
	Severity    Severity          `json:"severity"`
	Subject     string            `json:"subject"` // "signal:ID", "station:ID", ... or "project"
	Where       *Where            `json:"where,omitempty"`
	Message     string            `json:"message"`
	Figures     map[string]Figure `json:"figures"`
	Remedy      Remedy            `json:"remedy"`
	Source      string            `json:"source"`      // cite reference
	Calculation string            `json:"calculation"` // id of a calculation, or ""
}

// String prints the finding on one line.
func (f Finding) String() string {
	s := fmt.Sprintf("%s %s %s: %s", f.Rule, f.Severity, f.Subject, f.Message)
	if f.Where != nil {
		s = fmt.Sprintf("%s %s %s: %s", f.Rule, f.Severity, f.Where, f.Message)
	}
	if f.Remedy.Text != "" {
		if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
			s += "."
		}
		s += " " + f.Remedy.Text
	}
	return s
}

// List is a collection of findings. It is never an error.
type List []Finding

// Count returns how many findings have the severity.
func (l List) Count(s Severity) int {
	n := 0
	for _, f := range l {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// HasErrors reports whether any finding is an error.
func (l List) HasErrors() bool { return l.Count(Error) > 0 }

func rank(s Severity) int { return strings.Index("error warning info", string(s)) }

// Sort puts the findings in their one order: severity, rule, file spot, subject, message.
func (l List) Sort() {
	sort.SliceStable(l, func(i, j int) bool {
		a, b := l[i], l[j]
		if a.Severity != b.Severity {
			return rank(a.Severity) < rank(b.Severity)
		}
		if a.Rule != b.Rule {
			return a.Rule < b.Rule
		}
		if wa, wb := a.where(), b.where(); wa != wb {
			if wa.File != wb.File || wa.Sheet != wb.Sheet {
				return wa.File+"\x00"+wa.Sheet < wb.File+"\x00"+wb.Sheet
			}
			if wa.Line != wb.Line {
				return wa.Line < wb.Line
			}
			if wa.Cell != wb.Cell {
				return len(wa.Cell) < len(wb.Cell) || len(wa.Cell) == len(wb.Cell) && wa.Cell < wb.Cell
			}
		}
		if a.Subject != b.Subject {
			return a.Subject < b.Subject
		}
		return a.Message < b.Message
	})
}

func (f Finding) where() Where {
	if f.Where == nil {
		return Where{}
	}
	return *f.Where
}
