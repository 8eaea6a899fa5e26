package app

import (
	"errors"

	"railwright/internal/finding"
)

// Kind says whose fault it is that nothing was done.
type Kind int

// The kinds.
const (
	Broken   Kind = iota // the tool or the machine: a disk that is full, a mistake in the program
	Usage                // the request: a folder that is not there, a file that would be overwritten
	NoDesign             // the project: no design can be made of what it states
)

// Fault says why a request was not carried out, in a reader's words.
type Fault struct {
	Kind     Kind
	What     string       // one line, lower case
	Hints    []string     // how to mend it, one line each; commands as they are typed
	Findings finding.List // what is wrong with the project, for NoDesign
	Err      error        // cause, may be nil
}

// Error returns the one line.
func (f *Fault) Error() string {
	if f.Err != nil {
		return f.What + ": " + f.Err.Error()
	}
	return f.What
}

// Unwrap gives the cause.
func (f *Fault) Unwrap() error { return f.Err }

// KindOf returns the kind of an error; errors that are no Fault are Broken.
func KindOf(err error) Kind {
	var f *Fault
	if errors.As(err, &f) {
		return f.Kind
	}
	return Broken
}

func usage(what string, hints ...string) *Fault { return &Fault{Kind: Usage, What: what, Hints: hints} }

func broken(what string, err error) *Fault { return &Fault{Kind: Broken, What: what, Err: err} }
