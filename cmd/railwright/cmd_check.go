package main

import (
	"railwright/internal/app"
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/words"
)

func init() {
	register(30, "check", words.Text("cmd.check"), func() any { return &checkCommand{} })
}

type checkCommand struct {
	Folder string `arg:"" name:"folder" help:"Project folder."`
	All    bool   `name:"all" help:"Show the infos one by one, too."`
}

// Help is the text below the usage line.
func (*checkCommand) Help() string { return words.Text("help.check") }

// checkResult is what --json prints.
type checkResult struct {
	Format   string            `json:"format"`
	Of       string            `json:"of"` // what was checked
	Counts   map[string]int    `json:"counts"`
	Findings finding.List      `json:"findings"`
	Unplaced []design.Unplaced `json:"unplaced"`
}

func findingsResult(of string, all finding.List, lost []design.Unplaced) checkResult {
	return checkResult{
		Format: "railwright-check/1", Of: of, Findings: all, Unplaced: lost,
		Counts: map[string]int{
			string(finding.Error): all.Count(finding.Error), string(finding.Warning): all.Count(finding.Warning), string(finding.Info): all.Count(finding.Info),
		},
	}
}

// Run shows the findings of a folder.
func (c *checkCommand) Run(r *request) error {
	bar := r.progress()
	res, err := app.Check(r.ctx, app.CheckRequest{Folder: c.Folder, Progress: bar.step})
	bar.done()
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(findingsResult(res.Of, res.Findings, res.Unplaced))
	case !r.Quiet:
		p := newPage(r.terminal, r.out)
		p.checked(res, c.All)
		p.flush()
	}
	if res.Findings.HasErrors() {
		return errFindings
	}
	return nil
}

// checked lists errors and warnings one by one, and infos by rule unless all are asked for.
func (p *page) checked(res *app.CheckResult, all bool) {
	counts := words.Text("summary.counts", words.Count(res.Findings.Count(finding.Error), "error"),
		words.Count(res.Findings.Count(finding.Warning), "warning"), words.Count(res.Findings.Count(finding.Info), "info"))
	p.para("", words.Text("check."+res.Of)+" "+counts)
	if len(res.Findings) > 0 {
		p.blank()
	}
	for _, fs := range byRule(res.Findings) {
		if fs[0].Severity == finding.Info && !all {
			p.rule(fs)
			continue
		}
		p.everyFinding(fs)
	}
	p.notPlaced(res.Unplaced)
}
