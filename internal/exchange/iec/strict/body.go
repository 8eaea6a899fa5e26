package strict

import "strings"

// deepest bounds the nesting of statements and expressions, so that no source can exhaust the stack.
const deepest = 100

func (p *parser) nest() func() {
	if p.depth++; p.depth > deepest {
		p.fail("nested more than %d deep", deepest)
	}
	return func() { p.depth-- }
}

// statements reads until one of the words.
func (p *parser) statements(until ...string) []statement {
	defer p.nest()()
	var out []statement
	for p.err == nil {
		for _, u := range until {
			if p.peek().is(u) {
				return out
			}
		}
		out = append(out, p.statement())
	}
	return out
}

func (p *parser) statement() statement {
	if p.peek().is("IF") {
		return p.ifStatement()
	}
	// The function's own name is a target too, so keywords only are refused here.
	t := p.take()
	if t.kind != word || keyword[strings.ToUpper(t.text)] {
		p.at--
		p.fail("want a statement, have %q", t.text)
	}
	p.expect(":=")
	s := statement{line: t.line, target: t.text, value: p.expression()}
	p.expect(";")
	return s
}

func (p *parser) ifStatement() statement {
	s := statement{line: p.expect("IF").line}
	for {
		when := p.expression()
		p.expect("THEN")
		s.arms = append(s.arms, arm{when, p.statements("ELSIF", "ELSE", "END_IF")})
		if !p.accept("ELSIF") {
			break
		}
	}
	if p.accept("ELSE") {
		s.arms = append(s.arms, arm{nil, p.statements("END_IF")})
	}
	p.expect("END_IF")
	p.expect(";")
	return s
}

// levels are the operators by precedence, lowest first (IEC 61131-3, table of operators of ST).
var levels = [][]string{{"OR"}, {"XOR"}, {"AND"}, {"=", "<>"}, {"<", ">", "<=", ">="}, {"+", "-"}, {"*", "/", "MOD"}}

func (p *parser) expression() *expr {
	defer p.nest()()
	if p.err != nil {
		return &expr{}
	}
	return p.level(0)
}

func (p *parser) level(n int) *expr {
	if n == len(levels) {
		return p.unary()
	}
	left := p.level(n + 1)
	for p.err == nil {
		op := ""
		for _, o := range levels[n] {
			if p.peek().is(o) {
				op = o
			}
		}
		if op == "" {
			break
		}
		line := p.take().line
		left = &expr{line: line, op: op, sub: []*expr{left, p.level(n + 1)}}
	}
	return left
}

func (p *parser) unary() *expr {
	for _, op := range []string{"-", "NOT"} {
		if t := p.peek(); t.is(op) {
			p.take()
			return &expr{line: t.line, op: op, sub: []*expr{p.primary()}}
		}
	}
	return p.primary()
}

func (p *parser) primary() *expr {
	t := p.take()
	switch {
	case p.err != nil:
		return &expr{}
	case t.kind == number || t.kind == real:
		return &expr{line: t.line, text: t.text, kind: t.kind}
	case t.is("("):
		e := p.expression()
		p.expect(")")
		return e
	case t.is("TRUE") || t.is("FALSE"):
		return &expr{line: t.line, text: t.text, kind: word}
	case t.kind == word && !keyword[strings.ToUpper(t.text)]:
		if p.accept("(") {
			return p.call(t)
		}
		return &expr{line: t.line, text: t.text, kind: word}
	}
	p.at--
	p.fail("want a value, have %q", t.text)
	return &expr{}
}

// call reads the arguments: all by name, or a single one without.
func (p *parser) call(f token) *expr {
	e := &expr{line: f.line, op: "call", text: f.text}
	for p.err == nil {
		a := argument{}
		if p.at+1 < len(p.tokens) && p.tokens[p.at+1].is(":=") {
			a.name = p.name().text
			p.expect(":=")
		}
		a.value = p.expression()
		e.args = append(e.args, a)
		if !p.accept(",") {
			break
		}
	}
	p.expect(")")
	return e
}
