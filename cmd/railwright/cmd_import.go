package main

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"runtime/debug"
	"slices"
	"strings"

	"railwright/internal/app"
	"railwright/internal/design"
	"railwright/internal/intake"
	"railwright/internal/words"
)

func init() {
	register(15, "import", words.Text("cmd.import"), func() any { return &importCommand{} })
}

type importCommand struct {
	File   string   `arg:"" name:"file" help:"The list: CSV, XLSX, ODS or Markdown."`
	Into   string   `name:"into" required:"" placeholder:"FOLDER" help:"Project folder; one that does not exist yet is begun."`
	Place  string   `name:"place" placeholder:"ID" help:"Place of the signals whose row names none."`
	Sheets []string `name:"sheet" placeholder:"NAME" sep:"none" help:"Read only this sheet; may be given again."`
	Source string   `name:"source" placeholder:"NAME" help:"Where the list comes from, if the file's name does not say it: what it said last is kept under that name."`
	Base   string   `name:"base" placeholder:"FILE" help:"The list as it was given out, to tell its changes from the project's."`
	Yes    bool     `name:"yes" short:"y" help:"Write without asking."`
	Take   []string `name:"take" placeholder:"WHAT" help:"Where something is to be decided, the list is right: all, none, or the tags for which it is."`
	Report string   `name:"report" placeholder:"FILE" help:"Write the whole report there as JSON."`
	Marked string   `name:"marked" placeholder:"FILE" help:"Write a copy of the list there as XLSX, with the faults marked in their cells."`
}

// Help is the text below the usage line.
func (*importCommand) Help() string { return words.Text("help.import") }

// Run brings a list into a folder.
func (c *importCommand) Run(r *request) error {
	if err := c.free(); err != nil {
		return err
	}
	// A long list lives as cells, drafts and signals for a short while; the collector is to follow it
	// closely rather than to let the heap double.
	defer debug.SetGCPercent(debug.SetGCPercent(25))
	m, err := c.prepare(r)
	if err != nil {
		return err
	}
	show := !r.JSON && !r.Quiet
	if show {
		p := newPage(r.terminal, r.out)
		p.imported(m)
		p.flush()
	}
	err = c.settle(r, m)
	if err == nil {
		err = m.Write()
	}
	if rerr := c.report(m); err == nil {
		err = rerr
	}
	if r.JSON {
		r.writeJSON(m.Report())
	}
	if err != nil {
		return err
	}
	if show {
		p := newPage(r.terminal, r.out)
		p.wrote(m, c)
		p.flush()
	}
	if m.Result.Findings.HasErrors() {
		return errFindings
	}
	return nil
}

// prepare reads and compares; where signals have no place and somebody is there to say it, it asks.
func (c *importCommand) prepare(r *request) (*app.Import, error) {
	for {
		m, err := app.PrepareImport(app.ImportRequest{File: c.File, Into: c.Into, Place: c.Place, Sheets: c.Sheets, Source: c.Source, Base: c.Base})
		if err != nil {
			return nil, err
		}
		fault := m.PlaceFault()
		if fault == nil {
			return m, nil
		}
		if r.in == nil || r.Quiet || r.JSON {
			return nil, fault
		}
		fmt.Fprintln(r.err, clean(fault.Error()))
		if c.Place = r.ask(words.Text("import.ask_place")); c.Place == "" {
			return nil, fault
		}
	}
}

// settle gets the decisions and the consent that writing needs.
func (c *importCommand) settle(r *request, m *app.Import) error {
	asking := r.in != nil && !r.Quiet && !r.JSON
	open := m.Questions()
	if len(c.Take) > 0 {
		if err := c.take(m, open); err != nil {
			return err
		}
		open = nil
	}
	if asking && !c.Yes {
		for _, i := range open {
			m.AnswerOne(i, r.confirm(question(m, i)))
		}
		open = nil
	}
	fault := func(what string, hint string) error {
		return &app.Fault{Kind: app.Usage, What: what, Hints: []string{hint}}
	}
	switch {
	case len(open) > 0:
		return fault(words.Text("import.need_take", words.Count(len(open), "question")), words.Text("import.need_take_hint"))
	case c.Yes || m.New || !m.Changes():
		return nil
	case !asking:
		return fault(words.Text("import.need_yes", m.Into), words.Text("import.need_yes_hint", c.line()))
	case !r.confirm(words.Text("import.ask_write", m.Into)):
		return fault(words.Text("import.declined"), "")
	}
	return nil
}

// line is the command as it was typed, for the hint that repeats it.
func (c *importCommand) line() string {
	parts := []string{"railwright import", quote(c.File), "--into", quote(c.Into)}
	if c.Place != "" {
		parts = append(parts, "--place", quote(c.Place))
	}
	for _, s := range c.Sheets {
		parts = append(parts, "--sheet", quote(s))
	}
	if c.Source != "" {
		parts = append(parts, "--source", quote(c.Source))
	}
	if c.Base != "" {
		parts = append(parts, "--base", quote(c.Base))
	}
	return strings.Join(parts, " ")
}

// take decides the questions as --take says.
func (c *importCommand) take(m *app.Import, open []int) error {
	if slices.Equal(c.Take, []string{"all"}) || slices.Equal(c.Take, []string{"none"}) {
		m.Answer(c.Take[0] == "all")
		return nil
	}
	used := map[string]bool{}
	for _, i := range open {
		ch := m.Preview.Changes[i]
		yes := false
		for _, name := range []string{ch.Tag, ch.NewTag, ch.ID} {
			if name != "" && slices.Contains(c.Take, name) {
				yes, used[name] = true, true
			}
		}
		m.AnswerOne(i, yes)
	}
	for _, name := range c.Take {
		if !used[name] {
			return &app.Fault{Kind: app.Usage, What: words.Text("import.bad_take", name), Hints: []string{words.Text("import.need_take_hint")}}
		}
	}
	return nil
}

// free makes sure that the files asked for do not take the place of others.
func (c *importCommand) free() error {
	for _, path := range []string{c.Report, c.Marked} {
		if path == "" || c.Yes {
			continue
		}
		if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
			return &app.Fault{Kind: app.Usage, What: words.Text("import.report_exists", path), Hints: []string{words.Text("import.overwrite_hint")}}
		}
	}
	return nil
}

// report writes the files asked for, whether the import itself was written or not.
func (c *importCommand) report(m *app.Import) error {
	write := func(path string, make func() ([]byte, error)) error {
		if path == "" {
			return nil
		}
		data, err := make()
		if err != nil {
			return err
		}
		return app.WriteFile(path, data)
	}
	if err := write(c.Report, func() ([]byte, error) { return design.Marshal(m.Report()) }); err != nil {
		return err
	}
	return write(c.Marked, m.Marked)
}

// ask asks for a line; "" where none comes.
func (r *request) ask(text string) string {
	fmt.Fprint(r.err, clean(text)+" ")
	if r.lines == nil {
		r.lines = bufio.NewScanner(r.in)
	}
	if !r.lines.Scan() {
		return ""
	}
	return strings.TrimSpace(r.lines.Text())
}

// confirm asks for yes or no; no is what silence means.
func (r *request) confirm(text string) bool {
	switch strings.ToLower(r.ask(text + " " + words.Text("import.yes_no"))) {
	case "y", "yes":
		return true
	}
	return false
}

// question puts the question of a change into words.
func question(m *app.Import, i int) string {
	c := &m.Preview.Changes[i]
	switch c.Kind {
	case intake.Renamed:
		return words.Text("import.ask_renamed", c.NewTag, c.Tag, fmt.Sprintf("%.2f", c.Likeness))
	case intake.Removed:
		return words.Text("import.ask_removed", c.Tag)
	}
	var parts []string
	for _, x := range c.Cells {
		if x.Conflict {
			parts = append(parts, words.Text("import.ask_conflict", c.Tag, x.Column, shown(x.Base), shown(x.Old), shown(x.New)))
		}
	}
	return strings.Join(parts, " ")
}

func shown(v string) string {
	if v == "" {
		return words.Text("import.empty")
	}
	return v
}
