package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"railwright/internal/app"
)

func TestProgress(t *testing.T) {
	step := app.Progress{Stage: "choosing places", Done: 3, Total: 10}
	for _, c := range []struct {
		name  string
		r     request
		since time.Duration
		want  bool
	}{
		{"long work on a terminal", request{terminal: terminal{errTTY: true}}, 2 * patience, true},
		{"short work", request{terminal: terminal{errTTY: true}}, 0, false},
		{"no terminal", request{}, 2 * patience, false},
		{"quiet", request{globals: globals{Quiet: true}, terminal: terminal{errTTY: true}}, 2 * patience, false},
		{"json", request{globals: globals{JSON: true}, terminal: terminal{errTTY: true}}, 2 * patience, false},
	} {
		var b bytes.Buffer
		c.r.err = &b
		p := c.r.progress()
		p.started = time.Now().Add(-c.since)
		p.step(step)
		p.done()
		p.step(step) // after the end: nothing
		if got := strings.Contains(b.String(), "choosing places"); got != c.want {
			t.Errorf("%s: %q", c.name, b.String())
		}
	}
}
