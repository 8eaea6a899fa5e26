package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"

	"github.com/alecthomas/kong"
	"golang.org/x/term"

	"railwright/internal/app"
	"railwright/internal/design"
	"railwright/internal/words"
)

// The exit codes.
const (
	exitDone     = 0 // done, no error findings
	exitFindings = 1 // done, but there are error findings
	exitUsage    = 2 // no design can be made, or wrong usage
	exitBroken   = 3 // the tool failed
)

// errFindings is returned by a command whose result holds error findings.
var errFindings = errors.New("error findings")

// terminal is where a command reads and writes.
type terminal struct {
	out, err     io.Writer
	in           io.Reader // nil = there is nobody to ask
	outTTY       bool      // out is a terminal: colour is welcome
	errTTY       bool      // err is a terminal: a progress bar is welcome
	width        int       // columns of out
	plainColours bool      // NO_COLOR is set
}

// globals are the flags of every command.
type globals struct {
	JSON    bool             `name:"json" help:"Results for machines on stdout; everything else goes to stderr."`
	Quiet   bool             `name:"quiet" short:"q" help:"Print errors only."`
	Version kong.VersionFlag `name:"version" help:"Print the version and stop."`
}

// request is what a command gets.
type request struct {
	globals
	terminal
	ctx   context.Context
	lines *bufio.Scanner // of in, once something was asked
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	code := run(ctx, os.Args[1:], standardTerminal())
	stop()
	os.Exit(code)
}

func standardTerminal() terminal {
	t := terminal{
		out: os.Stdout, err: os.Stderr, width: 80,
		outTTY: term.IsTerminal(int(os.Stdout.Fd())), errTTY: term.IsTerminal(int(os.Stderr.Fd())),
		plainColours: os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb",
	}
	if term.IsTerminal(int(os.Stdin.Fd())) && t.errTTY {
		t.in = os.Stdin
	}
	if w, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil && w > 0 {
		t.width = min(max(w, 60), 100)
	}
	return t
}

// exitRequest is what kong's Exit panics with: help and version end the run early.
type exitRequest int

// run carries out one command line and returns the exit code.
func run(ctx context.Context, args []string, t terminal) (code int) {
	nothing := len(args) == 0
	if nothing { // show what there is, as an error
		args, t.out = []string{"--help"}, t.err
	}
	defer func() {
		switch r := recover().(type) {
		case nil:
		case exitRequest:
			code = int(r)
			if nothing {
				code = exitUsage
			}
		default:
			fmt.Fprintln(t.err, words.Text("cmd.panic", fmt.Sprint(r)))
			fmt.Fprintf(t.err, "%s\n", debug.Stack())
			code = exitBroken
		}
	}()
	r := &request{terminal: t, ctx: ctx}
	parser, err := newParser(&r.globals, t)
	if err != nil {
		panic(err) // a mistake in a command's flags
	}
	k, err := parser.Parse(args)
	if err != nil {
		fmt.Fprintln(t.err, "railwright: "+err.Error())
		fmt.Fprintln(t.err, "  "+words.Text("cmd.see_help", helpFor(err)))
		return exitUsage
	}
	return r.finish(k.Run(r))
}

func newParser(g *globals, t terminal) (*kong.Kong, error) {
	options := []kong.Option{
		kong.Name("railwright"),
		kong.Description(words.Text("cmd.about")),
		kong.Writers(t.out, t.err),
		kong.Exit(func(code int) { panic(exitRequest(code)) }),
		kong.Vars{"version": "railwright " + app.Version()},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 80}),
	}
	return kong.New(g, append(options, dynamicCommands()...)...)
}

// helpFor returns the command line that shows help on what was typed wrong.
func helpFor(err error) string {
	var p *kong.ParseError
	if errors.As(err, &p) && p.Context != nil {
		if c := p.Context.Command(); c != "" {
			name, _, _ := strings.Cut(c, " ")
			return "railwright " + name + " --help"
		}
	}
	return "railwright --help"
}

// finish reports an error and returns the exit code.
func (r *request) finish(err error) int {
	if err == nil {
		return exitDone
	}
	if errors.Is(err, errFindings) {
		return exitFindings
	}
	var f *app.Fault
	if !errors.As(err, &f) {
		f = &app.Fault{Kind: app.Broken, What: err.Error()}
	}
	fmt.Fprintln(r.err, "railwright: "+clean(f.Error()))
	if len(f.Findings) > 0 {
		if r.JSON {
			r.writeJSON(findingsResult("", f.Findings, nil))
		} else {
			p := newPage(r.terminal, r.err)
			p.everyFinding(f.Findings)
			p.flush()
		}
	}
	for _, h := range f.Hints {
		fmt.Fprintln(r.err, "  "+clean(h))
	}
	if f.Kind == app.Broken {
		return exitBroken
	}
	return exitUsage
}

// writeJSON prints a result for machines in the one byte form.
func (r *request) writeJSON(v any) {
	b, err := design.Marshal(v)
	if err != nil {
		panic(err)
	}
	if _, err := r.out.Write(b); err != nil {
		fmt.Fprintln(r.err, "railwright: "+err.Error())
	}
}
