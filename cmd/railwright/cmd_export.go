package main

import (
	"path/filepath"
	"strings"

	"railwright/internal/app"
	"railwright/internal/finding"
	"railwright/internal/words"
)

func init() {
	register(60, "export", words.Text("cmd.export"), func() any { return &exportCommand{} })
}

type exportCommand struct {
	Folder    string `arg:"" optional:"" name:"folder" help:"Project folder."`
	Example   bool   `name:"example" help:"Export the built-in example instead of a folder."`
	As        string `name:"as" required:"" placeholder:"FORMAT" help:"The format, see above."`
	Out       string `name:"out" placeholder:"FILE" help:"Write the file there instead of to standard output."`
	Station   string `name:"station" placeholder:"ID" help:"Only this station."`
	Spares    bool   `name:"spares" help:"Spare channels too."`
	Template  string `name:"template" placeholder:"FILE" help:"csv: the column template (TOML)."`
	LowFirst  bool   `name:"low-word-first" help:"modbus: values of two registers have their low word first."`
	Created   string `name:"created" placeholder:"TIME" help:"plcopen, caex: date and time to state, as 2026-01-31T12:00:00Z. Without it 1970-01-01, so that equal designs give equal files."`
	Overwrite bool   `name:"overwrite" help:"Replace a file that is there already."`
}

// Help is the text below the usage line.
func (*exportCommand) Help() string {
	var lines []string
	for _, f := range app.ExportFormats() {
		lines = append(lines, "    "+f.Name+strings.Repeat(" ", max(13-len(f.Name), 1))+f.Note)
	}
	return words.Text("help.export", strings.Join(lines, "\n"))
}

// exportReport is what --json prints.
type exportReport struct {
	Format   string       `json:"format"`
	As       string       `json:"as"`
	File     string       `json:"file"`
	Bytes    int          `json:"bytes"`
	Points   int          `json:"points"`
	From     string       `json:"from"` // "accepted" or "plan"
	Findings finding.List `json:"findings"`
}

// Run exports.
func (c *exportCommand) Run(r *request) error {
	for _, f := range app.ExportFormats() {
		if f.Name == c.As && f.Binary && c.Out == "" {
			return &app.Fault{Kind: app.Usage, What: words.Text("export.binary", f.Name)}
		}
	}
	if r.JSON && c.Out == "" {
		return &app.Fault{Kind: app.Usage, What: words.Text("export.json_out")}
	}
	name := ""
	if c.Out != "" {
		name = filepath.Base(c.Out)
	}
	bar := r.progress()
	res, err := app.Export(r.ctx, app.ExportRequest{
		Folder: c.Folder, Example: c.Example, As: c.As, Station: c.Station, Spares: c.Spares, Template: c.Template, LowFirst: c.LowFirst, Created: c.Created,
		Name: name, Progress: bar.step,
	})
	bar.done()
	if err != nil {
		return err
	}
	if res.Data != nil {
		if err := c.deliver(r, res); err != nil {
			return err
		}
	}
	c.report(r, res)
	if res.Findings.HasErrors() {
		return errFindings
	}
	return nil
}

func (c *exportCommand) deliver(r *request, res *app.ExportResult) error {
	if c.Out != "" {
		return app.WriteExport(c.Out, res.Data, c.Overwrite)
	}
	_, err := r.out.Write(res.Data)
	return err
}

// report says what was written and found: on standard error where the file itself goes to standard output.
func (c *exportCommand) report(r *request, res *app.ExportResult) {
	if r.JSON {
		r.writeJSON(exportReport{Format: "railwright-export/1", As: c.As, File: c.Out, Bytes: len(res.Data), Points: res.Points, From: res.From, Findings: append(finding.List{}, res.Findings...)})
		return
	}
	to := r.err
	if c.Out != "" {
		to = r.out
	}
	p := newPage(r.terminal, to)
	shown := res.Findings
	if r.Quiet {
		shown = nil
	}
	p.everyFinding(shown)
	switch {
	case res.Data == nil:
		p.para("", words.Text("export.refused"))
	case c.Out != "" && !r.Quiet:
		p.para("", words.Text("export.wrote", c.Out, words.Count(res.Points, "variable")))
	}
	p.flush()
}
