package main

import (
	"path/filepath"
	"strings"

	"railwright/internal/app"
	"railwright/internal/finding"
	"railwright/internal/words"
)

func init() {
	register(17, "hardware", words.Text("cmd.hardware"), func() any { return &hardwareCommand{} })
}

type hardwareCommand struct {
	Read hardwareReadCommand `cmd:"" name:"read" help:"Read a device description (GSDML, EDS) into the hardware list."`
}

type hardwareReadCommand struct {
	File    string   `arg:"" name:"file" help:"The description."`
	Into    string   `name:"into" required:"" placeholder:"FOLDER" help:"Project folder."`
	Figures []string `name:"figure" placeholder:"[SCOPE.]KEY=VALUE" sep:"none" help:"A value for entries that lack it; may be given again."`
}

// Help is the text below the usage line.
func (*hardwareReadCommand) Help() string { return words.Text("help.hardware_read") }

// hardwareReport is what --json prints.
type hardwareReport struct {
	Format   string       `json:"format"`
	Kind     string       `json:"kind"`
	Entries  []string     `json:"entries"`
	Added    string       `json:"added"` // file, "" = nothing was added
	Draft    string       `json:"draft"` // file to be filled in, "" = none
	Findings finding.List `json:"findings"`
}

// ask asks for the figures that the description does not carry, where somebody is there to say them. An empty
// answer leaves the gap.
func (c *hardwareReadCommand) ask(r *request) error {
	if r.in == nil || r.JSON || r.Quiet || strings.EqualFold(filepath.Ext(c.File), ".toml") {
		return nil
	}
	res, err := app.ReadDevice(app.DeviceRequest{File: c.File, Into: c.Into, Figures: c.Figures, Look: true})
	if err != nil {
		return err
	}
	for _, a := range res.Asks {
		if v := r.ask(a.Question()); v != "" {
			c.Figures = append(c.Figures, a.Scope+"."+a.Key.Name+"="+v)
		}
	}
	return nil
}

// Run reads a description into a folder.
func (c *hardwareReadCommand) Run(r *request) error {
	if err := c.ask(r); err != nil {
		return err
	}
	res, err := app.ReadDevice(app.DeviceRequest{File: c.File, Into: c.Into, Figures: c.Figures})
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(hardwareReport{"railwright-hardware-read/1", res.Kind, append([]string{}, res.Codes...), res.Added, res.Draft, append(finding.List{}, res.Findings...)})
	case !r.Quiet:
		p := newPage(r.terminal, r.out)
		p.para("", words.Text("device.read", res.Kind, words.Count(len(res.Codes), "entry"), strings.Join(res.Codes, ", ")))
		p.blank()
		p.everyFinding(res.Findings)
		p.blank()
		switch {
		case res.Added != "":
			p.para("", words.Text("device.added", res.Added))
		case res.Draft != "":
			p.para("", words.Text("device.draft", res.Draft, res.Draft, c.Into))
		default:
			p.para("", words.Text("device.nothing"))
		}
		p.flush()
	}
	if res.Added == "" || res.Findings.HasErrors() {
		return errFindings
	}
	return nil
}
