package main

import (
	"strconv"
	"strings"

	"railwright/internal/app"
	"railwright/internal/modification"
	"railwright/internal/words"
)

func init() {
	register(80, "modification", words.Text("cmd.modification"), func() any { return &modificationCommand{} })
}

type modificationCommand struct {
	Old       string `arg:"" name:"old" help:"Project folder (what is installed there) or design.json."`
	New       string `arg:"" name:"new" help:"Project folder (what is planned there) or design.json."`
	Out       string `name:"out" placeholder:"DIR" help:"Write the sheets as XLSX, CSV and JSON into this folder."`
	Overwrite bool   `name:"overwrite" help:"With --out: replace files that railwright did not write."`
}

// Help is the text below the usage line.
func (*modificationCommand) Help() string { return words.Text("help.modification") }

// Run prints the work between two designs.
func (c *modificationCommand) Run(r *request) error {
	bar := r.progress()
	res, err := app.Modification(r.ctx, app.ModificationRequest{Old: c.Old, New: c.New, Out: c.Out, Overwrite: c.Overwrite, Progress: bar.step})
	bar.done()
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(res.Modification)
	case !r.Quiet:
		p := newPage(r.terminal, r.out)
		p.modification(res)
		p.flush()
	}
	return nil
}

func (p *page) modification(res *app.ModificationResult) {
	m := res.Modification
	if len(m.Steps) == 0 {
		p.para("", words.Text("modification.nothing"))
		return
	}
	p.para("", words.Text("modification.summary", words.Count(len(m.Steps), "step"), words.Count(len(m.Outages), "outage"), words.Count(m.Peak, "signal"), words.Count(m.Cores, "core")))
	p.modificationParts(words.Text("modification.buy"), m.Buy)
	outage := -1
	for _, s := range m.Steps {
		if s.Outage != outage {
			outage = s.Outage
			p.outageHead(m, outage, s.Number)
		}
		p.modificationStep(s)
		if s.Outage > 0 && m.Outages[s.Outage-1].Last == s.Number {
			p.para("          ", words.Text("modification.way_back"))
		}
	}
	p.modificationParts(words.Text("modification.comes_out"), m.Free)
	p.heading(words.Text("modification.sheet_signals"))
	var rows [][]string
	for _, c := range m.Signals {
		rows = append(rows, []string{c.Tag, strings.Join(c.What, ", ")})
	}
	p.table("  ", []column{{}, {}}, rows)
	for _, w := range res.Written {
		p.para("", w)
	}
	p.blank()
	p.para("", words.Text("modification.approves_nothing"))
}

func (p *page) outageHead(m *modification.Modification, n, step int) {
	if n == 0 {
		if step == 1 {
			p.heading(words.Text("modification.beside"))
		} else {
			p.heading(words.Text("modification.running"))
		}
		return
	}
	o := m.Outages[n-1]
	p.heading(words.Text("modification.outage", n, o.Unit, words.Count(len(o.Signals), "signal")))
	p.para("  ", words.Text("modification.permission", strings.Join(o.Permissions, "; ")))
}

func (p *page) modificationStep(s modification.Step) {
	first := strings.Repeat(" ", max(0, 4-len(strconv.Itoa(s.Number)))) + strconv.Itoa(s.Number) + "  [ ] "
	p.para(first, s.Text)
	for _, c := range s.Cautions {
		p.para("          ! ", c)
	}
}

func (p *page) modificationParts(head string, all []modification.PartCount) {
	if len(all) == 0 {
		return
	}
	p.heading(head)
	var rows [][]string
	for _, x := range all {
		rows = append(rows, []string{strconv.FormatFloat(x.Count, 'g', 6, 64), x.Unit, x.Code, x.Title})
	}
	p.table("  ", []column{{right: true}, {}, {}, {}}, rows)
}
