package main

import (
	"bytes"
	"strings"
	"testing"
)

func TestCounter(t *testing.T) {
	var out bytes.Buffer
	c := newCounter(&out)
	for _, e := range []event{
		{Action: "output", Package: "a", Test: "TestGood", Output: "noise\n"},
		{Action: "pass", Package: "a", Test: "TestGood"},
		{Action: "skip", Package: "a", Test: "TestLater"},
		{Action: "output", Package: "a", Output: "ok  a 0.1s\n"},
		{Action: "pass", Package: "a"},
		{Action: "output", Package: "b", Test: "TestBad", Output: "what went wrong\n"},
		{Action: "fail", Package: "b", Test: "TestBad"},
		{Action: "fail", Package: "b"},
		{Action: "fail", Package: "c"}, // did not build
	} {
		c.take(e)
	}
	if c.passed != 1 || c.failed != 2 || c.skipped != 1 {
		t.Errorf("%d passed, %d failed, %d skipped", c.passed, c.failed, c.skipped)
	}
	if got := out.String(); !strings.Contains(got, "ok  a") || !strings.Contains(got, "what went wrong") || strings.Contains(got, "noise") {
		t.Errorf("printed %q", got)
	}
}
