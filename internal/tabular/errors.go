package tabular

import (
	"errors"
	"strings"
)

// Kinds of trouble, for callers that must branch; test with errors.Is.
var (
	ErrTooLarge  = errors.New("beyond the limits")
	ErrEncrypted = errors.New("encrypted")
	ErrFormat    = errors.New("not a table file that can be read")
	ErrDamaged   = errors.New("damaged or cut off")
)

// Error says why a file could not be read and how to mend that.
type Error struct {
	Kind   error // one of the Err variables
	File   string
	Sheet  string
	Cell   string
	What   string
	Remedy string
}

// Error prints file, spot, fault and remedy on one line.
func (e *Error) Error() string {
	var p []string
	p = append(p, e.File)
	if e.Sheet != "" {
		p = append(p, "sheet "+e.Sheet)
	}
	if e.Cell != "" {
		p = append(p, "cell "+e.Cell)
	}
	s := strings.Join(p, ", ") + ": " + e.What
	if e.Remedy != "" {
		s += "; " + e.Remedy
	}
	return s
}

// Unwrap gives the kind.
func (e *Error) Unwrap() error { return e.Kind }
