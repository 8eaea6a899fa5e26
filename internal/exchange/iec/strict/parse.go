package strict

import "strings"

// File is a parsed source, its parts in order.
type File struct {
	Functions []*Unit
	Programs  []*Unit
	Configs   []*Config
	order     []any // *Unit and *Config as they stand in the source
}

// Unit is a function or a program.
type Unit struct {
	Name, Result string // Result "" for a program
	Vars         []Var
	body         []statement
	line         int
}

// Var is one declared variable.
type Var struct {
	Section string // VAR, VAR_INPUT, VAR_EXTERNAL, VAR_GLOBAL
	Name    string
	Address string // as written; "" = not located
	Type    string // upper case
	Comment string // on the same line
	Line    int
	initial *expr
}

// Config is a configuration.
type Config struct {
	Name      string
	Globals   []Var
	Resources []Resource
	line      int
}

// Resource holds tasks and program instances.
type Resource struct {
	Name, On string
	Tasks    []Task
	Runs     []Run
	line     int
}

// Task is a periodic task.
type Task struct {
	Name       string
	IntervalMS string // digits
	Priority   string
	line       int
}

// Run is a program instance.
type Run struct {
	Name, Task, Program string
	line                int
}

// statement is an assignment (target, value) or an IF (arms).
type statement struct {
	line   int
	target string
	value  *expr
	arms   []arm
}

type arm struct {
	when *expr // nil = ELSE
	body []statement
}

// expr is a literal, a name, a call, or an operator with one or two operands.
type expr struct {
	line int
	op   string // "", "call", or an operator
	text string // of a literal or name
	kind kind   // word, number, real for op ""
	args []argument
	sub  []*expr
}

type argument struct {
	name  string
	value *expr
}

// parser walks the tokens; the first fault stops it.
type parser struct {
	tokens []token
	at     int
	depth  int
	err    error
}

// Parse reads a source. The error is a *Fault.
func Parse(src []byte) (*File, error) {
	tokens, err := lex(string(src))
	if err != nil {
		return nil, err
	}
	p := &parser{tokens: tokens}
	f := &File{}
	for p.err == nil && p.peek().kind != end {
		switch t := p.peek(); {
		case t.is("FUNCTION"):
			u := p.unit("FUNCTION")
			f.Functions, f.order = append(f.Functions, u), append(f.order, u)
		case t.is("PROGRAM"):
			u := p.unit("PROGRAM")
			f.Programs, f.order = append(f.Programs, u), append(f.order, u)
		case t.is("CONFIGURATION"):
			c := p.config()
			f.Configs, f.order = append(f.Configs, c), append(f.order, c)
		default:
			p.fail("want FUNCTION, PROGRAM or CONFIGURATION, have %q", t.text)
		}
	}
	if p.err != nil {
		return nil, p.err
	}
	return f, nil
}

func (p *parser) peek() token { return p.tokens[p.at] }

func (p *parser) fail(format string, args ...any) {
	if p.err == nil {
		p.err = fault(p.peek().line, format, args...)
	}
}

func (p *parser) take() token {
	t := p.peek()
	if p.at < len(p.tokens)-1 {
		p.at++
	}
	return t
}

// expect takes a symbol or keyword.
func (p *parser) expect(s string) token {
	t := p.peek()
	if p.err != nil || !t.is(s) {
		p.fail("want %q, have %q", s, t.text)
		return t
	}
	return p.take()
}

func (p *parser) accept(s string) bool {
	if p.err == nil && p.peek().is(s) {
		p.take()
		return true
	}
	return false
}

// name takes an identifier that is no keyword.
func (p *parser) name() token {
	t := p.peek()
	switch why := illegal(t.text); {
	case p.err != nil:
		return t
	case t.kind != word:
		p.fail("want a name, have %q", t.text)
	case why != "":
		p.fail("name %q %s", t.text, why)
	}
	return p.take()
}

// illegal says why an identifier is none (IEC 61131-3, identifiers: no double or trailing underscore).
func illegal(name string) string {
	switch {
	case strings.Contains(name, "__"):
		return "has two underscores together"
	case strings.HasSuffix(name, "_"):
		return "ends with an underscore"
	case keyword[strings.ToUpper(name)]:
		return "is a keyword"
	case standard[strings.ToUpper(name)]:
		return "is a standard function or function block"
	}
	return ""
}

func (p *parser) unit(kind string) *Unit {
	u := &Unit{line: p.expect(kind).line}
	u.Name = p.name().text
	if kind == "FUNCTION" {
		p.expect(":")
		u.Result = p.elementary()
	}
	for p.err == nil && strings.HasPrefix(strings.ToUpper(p.peek().text), "VAR") {
		u.Vars = append(u.Vars, p.section()...)
	}
	u.body = p.statements("END_" + kind)
	if p.err == nil && len(u.body) == 0 {
		p.fail("%s %s has no statement", kind, u.Name)
	}
	p.expect("END_" + kind)
	return u
}

func (p *parser) elementary() string {
	t := p.take()
	up := strings.ToUpper(t.text)
	if _, ok := elementaryTypes[up]; !ok || t.kind != word {
		p.at--
		p.fail("%q is no elementary type", t.text)
	}
	return up
}

// section reads VAR… END_VAR.
func (p *parser) section() []Var {
	kind := strings.ToUpper(p.take().text)
	if kind != "VAR" && kind != "VAR_INPUT" && kind != "VAR_EXTERNAL" && kind != "VAR_GLOBAL" {
		p.fail("section %s is not taken here", kind)
		return nil
	}
	var out []Var
	for p.err == nil && !p.accept("END_VAR") {
		t := p.name()
		v := Var{Section: kind, Name: t.text, Line: t.line}
		if p.accept("AT") {
			a := p.take()
			if a.kind != address {
				p.fail("want a located address, have %q", a.text)
			}
			v.Address = a.text
		}
		p.expect(":")
		v.Type = p.elementary()
		if p.accept(":=") {
			v.initial = p.expression()
		}
		v.Comment = p.expect(";").comment
		out = append(out, v)
	}
	if p.err == nil && len(out) == 0 {
		p.fail("%s declares nothing", kind)
	}
	return out
}

func (p *parser) config() *Config {
	c := &Config{line: p.expect("CONFIGURATION").line}
	c.Name = p.name().text
	for p.err == nil && p.peek().is("VAR_GLOBAL") {
		c.Globals = append(c.Globals, p.section()...)
	}
	for p.err == nil && p.peek().is("RESOURCE") {
		c.Resources = append(c.Resources, p.resource())
	}
	if len(c.Resources) == 0 {
		p.fail("configuration %s has no resource", c.Name)
	}
	p.expect("END_CONFIGURATION")
	return c
}

func (p *parser) resource() Resource {
	r := Resource{line: p.expect("RESOURCE").line}
	r.Name = p.name().text
	p.expect("ON")
	r.On = p.name().text
	for p.err == nil && p.peek().is("TASK") {
		r.Tasks = append(r.Tasks, p.task())
	}
	for p.err == nil && p.peek().is("PROGRAM") {
		run := Run{line: p.take().line}
		run.Name = p.name().text
		p.expect("WITH")
		run.Task = p.name().text
		p.expect(":")
		run.Program = p.name().text
		p.expect(";")
		r.Runs = append(r.Runs, run)
	}
	if len(r.Runs) == 0 {
		p.fail("resource %s runs no program", r.Name)
	}
	p.expect("END_RESOURCE")
	return r
}

// task reads TASK NAME(INTERVAL := T#20ms, PRIORITY := 1);
func (p *parser) task() Task {
	t := Task{line: p.expect("TASK").line}
	t.Name = p.name().text
	p.expect("(")
	p.expect("INTERVAL")
	p.expect(":=")
	p.expect("T")
	p.expect("#")
	t.IntervalMS = p.digits()
	p.expect("ms")
	p.expect(",")
	p.expect("PRIORITY")
	p.expect(":=")
	t.Priority = p.digits()
	p.expect(")")
	p.expect(";")
	return t
}

func (p *parser) digits() string {
	t := p.take()
	if t.kind != number {
		p.fail("want a whole number, have %q", t.text)
	}
	return t.text
}
