package strict

import (
	"errors"
	"sort"
	"strconv"
	"strings"
)

// Global is a global variable as other tools see it.
type Global struct{ Name, Address, Type, Comment string }

// Globals lists the global variables of all configurations in order.
func (f *File) Globals() []Global {
	var out []Global
	for _, c := range f.Configs {
		for _, v := range c.Globals {
			out = append(out, Global{v.Name, v.Address, v.Type, v.Comment})
		}
	}
	return out
}

// Options say what the target controller wants.
type Options struct {
	Words bool // located addresses count words, with bits 0 to 15
}

// Check proves the meaning of a source; it returns all faults joined, in order of line.
func (f *File) Check(o Options) error {
	c := &checker{Options: o, units: map[string]*Unit{}, globals: map[string]Var{}}
	outer := map[string]int{}
	declare := func(name string, line int) {
		up := strings.ToUpper(name)
		if first, twice := outer[up]; twice {
			c.fail(line, "name %q is given twice, also in line %d", name, first)
		}
		outer[up] = line
	}
	for _, cfg := range f.Configs { // programs name globals that are declared further down
		for _, v := range cfg.Globals {
			declare(v.Name, v.Line)
			c.globals[strings.ToUpper(v.Name)] = v
		}
	}
	for _, part := range f.order {
		switch x := part.(type) {
		case *Unit:
			declare(x.Name, x.line)
			c.unit(x)
			c.units[strings.ToUpper(x.Name)] = x
		case *Config:
			declare(x.Name, x.line)
			c.config(x, declare)
		}
	}
	sort.SliceStable(c.faults, func(i, j int) bool { return c.faults[i].Line < c.faults[j].Line })
	var all []error
	for _, f := range c.faults {
		all = append(all, f)
	}
	return errors.Join(all...)
}

type checker struct {
	Options
	units   map[string]*Unit // declared so far
	globals map[string]Var
	scope   map[string]Var
	faults  []*Fault
}

func (c *checker) fail(line int, format string, args ...any) {
	var f *Fault
	if errors.As(fault(line, format, args...), &f) {
		c.faults = append(c.faults, f)
	}
}

func (c *checker) unit(u *Unit) {
	c.scope = map[string]Var{}
	for _, v := range u.Vars {
		up := strings.ToUpper(v.Name)
		if first, twice := c.scope[up]; twice {
			c.fail(v.Line, "variable %q is declared twice, also in line %d", v.Name, first.Line)
		}
		c.scope[up] = v
		if v.Section == "VAR_EXTERNAL" {
			g, ok := c.globals[up]
			if !ok || g.Type != v.Type {
				c.fail(v.Line, "external %q: no global of that name and type", v.Name)
			}
		}
		if v.Address != "" && v.Section != "VAR" {
			c.fail(v.Line, "%q cannot be located in %s", v.Name, v.Section)
		}
		if v.Section == "VAR_GLOBAL" || u.Result != "" && v.Section == "VAR_EXTERNAL" {
			c.fail(v.Line, "%s does not belong here", v.Section)
		}
		c.initial(v)
	}
	if u.Result != "" {
		c.scope[strings.ToUpper(u.Name)] = Var{Section: "RESULT", Name: u.Name, Type: u.Result}
		if !assigns(u.body, u.Name) {
			c.fail(u.line, "function %q gives no result", u.Name)
		}
	}
	c.body(u.body)
}

func assigns(body []statement, name string) bool {
	for _, s := range body {
		if strings.EqualFold(s.target, name) {
			return true
		}
		for _, a := range s.arms {
			if assigns(a.body, name) {
				return true
			}
		}
	}
	return false
}

func (c *checker) initial(v Var) {
	if v.initial == nil {
		return
	}
	if got := c.typeOf(v.initial); !fits(got, v.Type) {
		c.fail(v.Line, "%q is %s, its initial value %s", v.Name, v.Type, got)
	}
}

func (c *checker) body(all []statement) {
	for _, s := range all {
		for _, a := range s.arms {
			if a.when != nil {
				if got := c.typeOf(a.when); got != "BOOL" {
					c.fail(s.line, "condition is %s, not BOOL", got)
				}
			}
			c.body(a.body)
		}
		if s.arms != nil {
			continue
		}
		v, ok := c.scope[strings.ToUpper(s.target)]
		switch {
		case !ok:
			c.fail(s.line, "%q is not declared", s.target)
		case v.Section == "VAR_INPUT":
			c.fail(s.line, "input %q may not be written", s.target)
		default:
			if got := c.typeOf(s.value); !fits(got, v.Type) {
				c.fail(s.line, "%s := %s: %q", v.Type, got, s.target)
			}
		}
	}
}

// whole and point are the types of literals before they meet another type.
const (
	whole = "whole number"
	point = "number with point"
)

func fits(got, want string) bool {
	switch got {
	case want:
		return true
	case whole:
		return elementaryTypes[want] > 1 && want != "REAL" && want != "LREAL" && want != "TIME"
	case point:
		return want == "REAL" || want == "LREAL"
	}
	return false
}

// meet is the type of two operands together; "" if they have none.
func meet(a, b string) string {
	switch {
	case a == b:
		return a
	case fits(a, b):
		return b
	case fits(b, a):
		return a
	}
	return ""
}

func (c *checker) typeOf(e *expr) string {
	switch {
	case e.op == "call":
		return c.call(e)
	case e.op != "":
		return c.operator(e)
	case e.kind == number:
		return whole
	case e.kind == real:
		return point
	case strings.EqualFold(e.text, "TRUE") || strings.EqualFold(e.text, "FALSE"):
		return "BOOL"
	}
	v, ok := c.scope[strings.ToUpper(e.text)]
	if !ok {
		c.fail(e.line, "%q is not declared", e.text)
	}
	return v.Type
}

func (c *checker) operator(e *expr) string {
	t := c.typeOf(e.sub[0])
	for _, s := range e.sub[1:] {
		other := c.typeOf(s)
		if m := meet(t, other); m != "" {
			t = m
		} else {
			c.fail(e.line, "%s %s %s", t, e.op, other)
		}
	}
	switch e.op {
	case "AND", "OR", "XOR", "NOT":
		if t != "BOOL" {
			c.fail(e.line, "%s of %s", e.op, t)
		}
		return "BOOL"
	case "=", "<>", "<", ">", "<=", ">=":
		return "BOOL"
	}
	if t == "BOOL" || t == "BYTE" || t == "WORD" || t == "DWORD" {
		c.fail(e.line, "arithmetic with %s", t)
	}
	return t
}

func (c *checker) call(e *expr) string {
	if from, to, ok := conversion(e.text); ok {
		if len(e.args) != 1 || e.args[0].name != "" {
			c.fail(e.line, "%s takes one value", e.text)
		} else if got := c.typeOf(e.args[0].value); !fits(got, from) {
			c.fail(e.line, "%s of %s", e.text, got)
		}
		return to
	}
	f := c.units[strings.ToUpper(e.text)]
	if f == nil || f.Result == "" {
		c.fail(e.line, "function %q is not declared before", e.text)
		return ""
	}
	given := map[string]bool{}
	for _, a := range e.args {
		up := strings.ToUpper(a.name)
		want := ""
		for _, v := range f.Vars {
			if v.Section == "VAR_INPUT" && strings.EqualFold(v.Name, a.name) {
				want = v.Type
			}
		}
		if want == "" || given[up] {
			c.fail(e.line, "%s has no input %q, or it is given twice", f.Name, a.name)
		} else if got := c.typeOf(a.value); !fits(got, want) {
			c.fail(e.line, "%s.%s is %s, not %s", f.Name, a.name, want, got)
		}
		given[up] = true
	}
	for _, v := range f.Vars {
		if v.Section == "VAR_INPUT" && !given[strings.ToUpper(v.Name)] {
			c.fail(e.line, "%s: input %s is missing", f.Name, v.Name)
		}
	}
	return f.Result
}

func (c *checker) config(x *Config, declare func(string, int)) {
	c.located(x.Globals)
	for _, v := range x.Globals {
		c.initial(v)
	}
	for _, r := range x.Resources {
		declare(r.Name, r.line)
		tasks := map[string]bool{}
		for _, t := range r.Tasks {
			declare(t.Name, t.line)
			tasks[strings.ToUpper(t.Name)] = true
			if n, err := strconv.Atoi(t.IntervalMS); err != nil || n < 1 {
				c.fail(t.line, "interval of %s ms", t.IntervalMS)
			}
		}
		for _, run := range r.Runs {
			declare(run.Name, run.line)
			if !tasks[strings.ToUpper(run.Task)] {
				c.fail(run.line, "task %q is not declared", run.Task)
			}
			if u := c.units[strings.ToUpper(run.Program)]; u == nil || u.Result != "" {
				c.fail(run.line, "program %q is not declared before", run.Program)
			}
		}
	}
}

// located proves addresses: form, size of the type, no bit twice.
func (c *checker) located(all []Var) {
	owner := map[[2]int]string{}
	for _, v := range all {
		if v.Address == "" {
			continue
		}
		bits, from, why := place(strings.ToUpper(v.Address), c.Words)
		switch {
		case why != "":
			c.fail(v.Line, "address %s %s", v.Address, why)
			continue
		case bits != elementaryTypes[v.Type]:
			c.fail(v.Line, "address %s holds %d bits, %s has %d", v.Address, bits, v.Type, elementaryTypes[v.Type])
		}
		area := int(v.Address[1])
		for b := from; b < from+bits; b++ {
			if other, taken := owner[[2]int{area, b}]; taken {
				c.fail(v.Line, "address %s of %q overlaps %q", v.Address, v.Name, other)
				break
			}
			owner[[2]int{area, b}] = v.Name
		}
	}
}

// place takes an address apart into its size and its first bit.
func place(a string, words bool) (bits, from int, why string) {
	if len(a) < 4 || a[1] != 'I' && a[1] != 'Q' {
		return 0, 0, "has no area I or Q"
	}
	bits = map[byte]int{'X': 1, 'B': 8, 'W': 16, 'D': 32}[a[2]]
	parts := strings.Split(a[3:], ".")
	var n [2]int
	for i, p := range parts {
		v, err := strconv.Atoi(p)
		if err != nil || v < 0 || v > 1<<24 || i > 1 || p != strconv.Itoa(v) {
			return 0, 0, "has a faulty number"
		}
		n[i] = v
	}
	unit := 8
	if words {
		unit = max(bits, 8)
	}
	switch {
	case bits == 0:
		return 0, 0, "has no size X, B, W or D"
	case bits == 1 && words:
		unit = 16
	}
	if bits == 1 && (len(parts) != 2 || n[1] >= unit) || bits > 1 && len(parts) != 1 {
		return 0, 0, "has the wrong number of levels, or a bit beyond its unit"
	}
	return bits, n[0]*unit + n[1], ""
}
