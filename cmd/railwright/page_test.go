package main

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/app"
	"railwright/internal/design"
	"railwright/internal/design/designtest"
	"railwright/internal/finding"
)

func show(t terminal, draw func(p *page)) string {
	var b bytes.Buffer
	t.out = &b
	p := newPage(t, &b)
	draw(p)
	p.flush()
	return b.String()
}

// TestWidth: whatever the texts, no line is wider than the page unless one word is.
func TestWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(60, 100).Draw(t, "width")
		text := strings.Join(rapid.SliceOf(rapid.StringMatching(`[a-z0-9ä.,]{1,20}`)).Draw(t, "words"), " ")
		out := show(terminal{width: width}, func(p *page) { p.para("  ", text) })
		for _, line := range strings.Split(out, "\n") {
			if columns(line) > width && len(strings.Fields(line)) > 2 {
				t.Fatalf("%d columns, the page has %d: %q", columns(line), width, line)
			}
		}
		if got, want := strings.Join(strings.Fields(out), " "), text; got != want {
			t.Fatalf("words changed: %q, want %q", got, want)
		}
	})
}

// TestSummaryWidth: the summary of a design with very long names keeps to 80 columns.
func TestSummaryWidth(t *testing.T) {
	d := designtest.Sample()
	long := strings.Repeat("very long name ", 10)
	d.Project.Name = long
	for i := range d.Stations {
		d.Stations[i].Name, d.Stations[i].Place = long, long
	}
	out := show(terminal{width: 80}, func(p *page) { p.summary(&app.PlanResult{Design: d, Folder: "yard"}) })
	for _, line := range strings.Split(out, "\n") {
		if columns(line) > 80 {
			t.Errorf("%d columns: %q", columns(line), line)
		}
	}
}

// TestHostileText: control characters of a list never reach the terminal.
func TestHostileText(t *testing.T) {
	d := designtest.Sample()
	d.Unplaced[0].Tag = "\x1b[2J\x07evil\u202e"
	d.Findings[0].Message = "a\x1b]0;title\x07b\nc"
	d.Project.Name = "\x1b[31m"
	out := show(terminal{width: 80, outTTY: true, plainColours: true}, func(p *page) {
		p.summary(&app.PlanResult{Design: d, Folder: "a b"})
	})
	if strings.ContainsAny(out, "\x1b\x07\u202e") {
		t.Errorf("%q", out)
	}
	if !strings.Contains(out, "'a b'") {
		t.Error("a folder with a space is not quoted in the commands")
	}
}

// TestColour: colour only on a terminal, never with NO_COLOR, and the words are the same.
func TestColour(t *testing.T) {
	draw := func(p *page) { p.summary(&app.PlanResult{Design: designtest.Sample(), Folder: "yard"}) }
	plain := show(terminal{width: 80}, draw)
	if strings.Contains(plain, "\x1b") {
		t.Error("colour without a terminal")
	}
	if got := show(terminal{width: 80, outTTY: true, plainColours: true}, draw); got != plain {
		t.Error("NO_COLOR changes the text")
	}
	coloured := show(terminal{width: 80, outTTY: true}, draw)
	if !strings.Contains(coloured, "\x1b[31m") {
		t.Error("no colour on a terminal")
	}
	for _, code := range []string{"\x1b[31m", "\x1b[33m", "\x1b[1m", "\x1b[0m"} {
		coloured = strings.ReplaceAll(coloured, code, "")
	}
	if coloured != plain {
		t.Error("colour changes the text")
	}
}

// TestSummarySample is the summary of a small design, word for word.
func TestSummarySample(t *testing.T) {
	out := show(terminal{width: 80}, func(p *page) { p.summary(&app.PlanResult{Design: designtest.Sample(), Folder: "yard"}) })
	want := strings.TrimPrefix(`
Sample yard, revision A, controller K1
4 of 5 signals placed on 2 stations.

Stations
  station  place  modules  signals  spare  groups  24 V, A       EUR
  PUMP-1   PUMP         2        3      3       2      0.5  1 092.50
  TANK-1   TANK         1        1      1       1      0.2  1 062.50
  ------------------------------------------------------------------
  total                 3        4      4       3      0.7  2 155.00
  Spare: channels without a signal. 24 V: load of the supply units with
  everything on. Cost: the station with its labour; field cables are in the sum
  below.

Cost, EUR
  labour     1 221.98  53.6 %
  enclosure    420.00  18.4 %
  coupler      360.00  15.8 %
  module       205.00   9.0 %
  cable         72.60   3.2 %
  ---------------------------
  total      2 279.58
  Home runs for the same signals: 4 210.35 (643 m of cable). The stations save
  1 930.77, 45.9 % of that.
  Proven: no design that keeps every rule is more than EUR 40.00 (1.9 %)
  cheaper.

To look at
  1 error, 2 warnings, 1 info.

  error    LST-004 signals.csv, cell E6, line 6
           place "LAKE" is not one of the project's places
           Use one of MAIN, PUMP, TANK, or add the place to project.toml.
  warning  POW-003 group:PUMP-1/G2
           23.48 V at the infeed point, 23.5 V wished
           Use 2.5 mm2.
           ... and 1 more of POW-003.

Not placed: 1 signal
  QT-9 (signals.csv, cell E6): place "LAKE" is not one of the project's places

Next
  see every finding                   railwright check yard
  after mending, plan again           railwright plan yard
  write the design and its schedules  railwright plan yard --out DIR

Made from stated data; it approves nothing. Local codes and licensed or
competent people decide, above all on functional safety, hazardous areas and
mains.
`, "\n")
	if out != want {
		t.Errorf("got\n%s\nwant\n%s", out, want)
	}
}

// TestEmptyStates: a design without anything says so in words.
func TestEmptyStates(t *testing.T) {
	out := show(terminal{width: 80}, func(p *page) {
		p.summary(&app.PlanResult{Design: &design.Design{Input: design.Input{Complete: true}}, Folder: "yard"})
	})
	for _, want := range []string{"0 of no signals placed on no stations.", "None: there is no signal", "Nothing to buy.", "Nothing: no errors, no warnings."} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// TestManyFindings: the summary stays short however many there are.
func TestManyFindings(t *testing.T) {
	d := designtest.Sample()
	d.Findings = nil
	for i := range 400 {
		d.Findings = append(d.Findings, finding.Finding{Rule: "ERR-1", Severity: finding.Error, Subject: "signal:x", Message: "m", Remedy: finding.Remedy{Text: "r"}})
		d.Findings = append(d.Findings, finding.Finding{Rule: "WRN-" + string(rune('A'+i%26)), Severity: finding.Warning, Subject: "signal:x", Message: "m"})
		d.Findings = append(d.Findings, finding.Finding{Rule: "INF-1", Severity: finding.Info, Subject: "signal:x", Message: "m"})
	}
	d.Findings.Sort()
	out := show(terminal{width: 80}, func(p *page) { p.lookAt(d.Findings) })
	if n := strings.Count(out, "\n"); n > 60 {
		t.Errorf("%d lines:\n%s", n, out)
	}
	if !strings.Contains(out, "400 errors, 400 warnings, 400 infos.") || strings.Contains(out, "INF-1") {
		t.Error(out)
	}
	if !strings.Contains(out, "... and findings of 17 rules more.") {
		t.Error(out)
	}
}
