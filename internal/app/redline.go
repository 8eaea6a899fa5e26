package app

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/modification"
	"railwright/internal/project"
	"railwright/internal/words"
)

// RedlineRequest brings mark-ups from the field: what was built otherwise than drawn.
type RedlineRequest struct {
	Folder   string
	File     string // table with the columns subject, property, value, by, on, remark
	Approve  bool   // make it the as-built record
	By       string // who approves
	Progress func(Progress)
}

// RedlineResult is the proposal: how the as-built record would change.
type RedlineResult struct {
	Format   string                      `json:"format"`
	Marks    []Redline                   `json:"marks"`
	Changes  []modification.Change       `json:"changes"` // facts of the as-built record
	Signals  []modification.SignalChange `json:"signals"`
	Findings finding.List                `json:"findings"` // new in the proposal
	Approved bool                        `json:"approved"`
	File     string                      `json:"file"`
}

// Redline is one mark-up. Subject and property are those of choices: signal:ID channel STATION/SLOT/CHANNEL.
type Redline struct {
	Row      int    `json:"row"` // of the table, from 1
	Subject  string `json:"subject"`
	Property string `json:"property"`
	Value    string `json:"value"`
	By       string `json:"by"`
	On       string `json:"on"`
	Remark   string `json:"remark"`
}

// Redlines reads mark-ups, lays them over what is installed and shows what would change. Only when somebody
// approves is the as-built record written; a proposal that breaks something cannot be approved.
func Redlines(ctx context.Context, r RedlineRequest) (*RedlineResult, error) {
	src, err := open(r.Folder, false)
	if err != nil {
		return nil, err
	}
	if src.built == nil {
		return nil, usage(words.Text("app.redline_nothing"), words.Text("app.redline_freeze", r.Folder))
	}
	if r.Approve && r.By == "" {
		return nil, usage(words.Text("app.redline_by"))
	}
	marks, err := readRedlines(src, r.File)
	if err != nil {
		return nil, err
	}
	before := slices.Clone(src.project.Choices)
	src.project.Choices = overlay(before, marks, r.File)
	d, err := src.plan(ctx, r.Progress)
	if err != nil {
		return nil, err
	}
	res := &RedlineResult{Format: "railwright-redline/1", Marks: marks, File: filepath.Join(r.Folder, folder.BuiltFile), Changes: []modification.Change{}}
	from, to := modification.StateOf(src.built), modification.StateOf(d)
	for _, key := range from.Differences(to) {
		res.Changes = append(res.Changes, modification.Change{Key: key, Before: from[key], After: to[key]})
	}
	res.Signals = modification.Between(modification.Input{Old: src.built, New: d}).Signals
	res.Findings = marksFindings(d, marks)
	if !r.Approve {
		return res, nil
	}
	if res.Findings.HasErrors() {
		return nil, &Fault{Kind: NoDesign, What: words.Text("app.redline_errors"), Findings: onlyErrors(res.Findings), Hints: []string{words.Text("app.redline_errors_hint")}}
	}
	freeze := FreezeRequest{Folder: r.Folder, By: r.By, Progress: r.Progress}
	data, err := freeze.built(src, d, src.frozen)
	if err != nil {
		return nil, err
	}
	res.Approved = true
	return res, freeze.keep(ctx, src, d, data, &FreezeResult{})
}

// overlay replaces installed decisions by the marks on the same subject and property. A signal that is
// marked onto a channel that another one had and was not marked itself is a contradiction that the plan names.
func overlay(choices []project.Decision, marks []Redline, file string) []project.Decision {
	out := slices.DeleteFunc(choices, func(d project.Decision) bool {
		return d.Origin == project.FromBuilt && slices.ContainsFunc(marks, func(m Redline) bool { return m.Subject == d.Subject && m.Property == d.Property })
	})
	for _, m := range marks {
		out = append(out, project.Decision{
			Subject: m.Subject, Property: m.Property, Value: m.Value, Strength: project.Fixed, Origin: project.FromBuilt, Reason: m.Remark, By: m.By,
			File: filepath.Base(file), Line: m.Row,
		})
	}
	return out
}

// marksFindings are the findings of the proposal that refuse a mark, and errors on what a mark is about.
func marksFindings(d *design.Design, marks []Redline) finding.List {
	out := finding.List{}
	for _, f := range d.Findings {
		refused := strings.HasPrefix(f.Rule, "CHO-") || f.Rule == "STA-005"
		about := slices.ContainsFunc(marks, func(m Redline) bool { return m.Subject == f.Subject })
		if f.Severity == finding.Error && (refused || about) {
			out = append(out, f)
		}
	}
	return out
}
