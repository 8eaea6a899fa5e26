// Command testrun runs the tests of the module and counts them: it prints one line a package as go
// test does, the whole output of what failed, and at the end "N passed, N failed, N skipped". Its
// arguments go to go test. With -fuzz TIME first, it finds every fuzz target of the packages and runs
// each for that long. It exits with 1 if anything failed or if no test was run.
package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
)

func main() {
	if len(os.Args) > 2 && os.Args[1] == "-fuzz" {
		os.Exit(fuzz(os.Args[2], os.Args[3:]))
	}
	os.Exit(test(os.Args[1:]))
}

// event is a line of go test -json.
type event struct {
	Action  string
	Package string
	Test    string
	Output  string
}

// counter sums up a run.
type counter struct {
	passed, failed, skipped int
	output                  map[string]*strings.Builder // package and test -> what it printed
	bad                     map[string]bool             // packages of which a test failed
	out                     io.Writer
}

func newCounter(out io.Writer) *counter {
	return &counter{output: map[string]*strings.Builder{}, bad: map[string]bool{}, out: out}
}

func (c *counter) take(e event) {
	key := e.Package + " " + e.Test
	switch e.Action {
	case "output":
		if c.output[key] == nil {
			c.output[key] = &strings.Builder{}
		}
		c.output[key].WriteString(e.Output)
		if e.Test == "" && strings.HasPrefix(e.Output, "ok ") {
			fmt.Fprint(c.out, e.Output)
		}
	case "build-output":
		fmt.Fprint(c.out, e.Output)
	case "pass", "fail", "skip":
		c.end(e, key)
	}
}

func (c *counter) end(e event, key string) {
	if e.Action == "fail" && c.output[key] != nil {
		fmt.Fprint(c.out, c.output[key])
	}
	delete(c.output, key)
	if e.Test == "" {
		if e.Action == "fail" && !c.bad[e.Package] {
			c.failed++ // the package did not build, or crashed
		}
		return
	}
	switch e.Action {
	case "pass":
		c.passed++
	case "fail":
		c.failed++
		c.bad[e.Package] = true
	default:
		c.skipped++
	}
}

func test(args []string) int {
	cmd := exec.Command("go", append([]string{"test", "-json"}, args...)...)
	cmd.Stderr = os.Stderr
	pipe, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "testrun:", err)
		return 1
	}
	c := newCounter(os.Stdout)
	lines := bufio.NewReader(pipe)
	for {
		line, err := lines.ReadBytes('\n')
		if len(line) > 0 {
			var e event
			if json.Unmarshal(line, &e) != nil {
				fmt.Print(string(line))
			} else {
				c.take(e)
			}
		}
		if err != nil {
			break
		}
	}
	err = cmd.Wait()
	if err != nil && c.failed == 0 {
		fmt.Println("go test:", err)
		c.failed++
	}
	fmt.Printf("%d passed, %d failed, %d skipped\n", c.passed, c.failed, c.skipped)
	if c.failed > 0 || c.passed == 0 {
		return 1
	}
	return 0
}

// fuzz runs every fuzz target of the packages for a time.
func fuzz(each string, packages []string) int {
	list := exec.Command("go", append([]string{"test", "-list", "^Fuzz"}, packages...)...)
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		fmt.Println("go test -list:", err)
		return 1
	}
	var names []string
	code, n := 0, 0
	for line := range strings.Lines(string(out)) {
		f := strings.Fields(line)
		switch {
		case len(f) == 1 && strings.HasPrefix(f[0], "Fuzz"):
			names = append(names, f[0])
		case len(f) >= 2 && f[0] == "ok":
			for _, name := range names {
				n++
				if !fuzzOne(each, f[1], name) {
					code = 1
				}
			}
			names = nil
		}
	}
	fmt.Printf("%d fuzz targets, %s each\n", n, each)
	return code
}

// fuzzOne runs one target. On a busy machine go test now and then reports the end of the time itself as
// a failure, without a failing input; such a run is repeated.
func fuzzOne(each, pkg, name string) bool {
	for try := 1; ; try++ {
		out, err := exec.Command("go", "test", "-run", "^$", "-fuzz", "^"+name+"$", "-fuzztime", each, pkg).CombinedOutput()
		if err == nil {
			fmt.Printf("ok   %s %s\n", pkg, name)
			return true
		}
		if try < 3 && onlyTimeUp(string(out)) {
			continue
		}
		fmt.Printf("FAIL %s %s\n%s", pkg, name, out)
		return false
	}
}

func onlyTimeUp(out string) bool {
	return strings.Contains(out, "context deadline exceeded") && !strings.Contains(out, "Failing input")
}
