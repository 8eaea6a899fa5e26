package explain

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/formula"
	"railwright/internal/words"
)

// Sheet is the working behind one subject.
type Sheet struct {
	Format   string       `json:"format"`  // "railwright-explain/1"
	Subject  string       `json:"subject"` // "signal:ID", "group:ID", ...
	About    []string     `json:"about"`   // what the subject is, line by line
	Working  []Working    `json:"working"` // the subject's own figures first, then what they lean on
	Own      int          `json:"own"`     // how many of Working are the subject's own
	Findings finding.List `json:"findings"`
	Sources  []Source     `json:"sources"`
}

// Working is one calculation.
type Working struct {
	Number  int      `json:"number"` // from 1
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Formula string   `json:"formula"` // its text; "" where inputs are only added up
	Filled  string   `json:"filled"`  // the text with its values
	Inputs  []Input  `json:"inputs"`
	Result  Quantity `json:"result"`
	Source  string   `json:"source"` // cite reference
}

// Quantity is a value with its name and unit.
type Quantity struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// Input is one argument: stated somewhere, or the result of another calculation of the sheet.
type Input struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Doc   string  `json:"doc"`
	From  string  `json:"from"` // as in design.json
	Step  int     `json:"step"` // number of the calculation that it comes from; 0: stated
}

// Source is a cited document.
type Source struct {
	Key   string `json:"key"`
	Title string `json:"title"`
	Note  string `json:"note"`
}

// Of gathers the calculations behind a subject, with the findings about it. The subject may leave out its
// kind; a signal may be named by id or tag. ok is false where the design has no such subject; near then
// names the ones that were perhaps meant.
func Of(d *design.Design, subject string) (s *Sheet, near []string, ok bool) {
	it, ok := find(d, subject)
	if !ok {
		return nil, suggest(d, subject), false
	}
	s = &Sheet{Format: "railwright-explain/1", Subject: it.subject, About: it.about, Findings: finding.List{}}
	g := gathering{d: d, number: map[string]int{}}
	for _, prefix := range it.prefixes {
		for _, id := range under(d, prefix) {
			g.want(id)
		}
	}
	s.Own = len(g.order)
	for i := 0; i < len(g.order); i++ { // what is leaned on joins the end
		for _, in := range inputs(d, g.order[i]) {
			if id, calc := strings.CutPrefix(in.From, "calc:"); calc {
				g.want(id)
			}
		}
	}
	for _, id := range g.order {
		s.Working = append(s.Working, g.working(id))
	}
	for _, f := range d.Findings {
		if f.Subject == it.subject || slices.Contains(it.also, f.Subject) {
			s.Findings = append(s.Findings, f)
		}
	}
	s.Sources = sources(s)
	return s, nil, true
}

// under lists the records of a prefix in the order in which people ask for them.
func under(d *design.Design, prefix string) []string {
	var ids []string
	for id := range d.Calculations {
		rest, below := strings.CutPrefix(id, prefix)
		// ids may hold points themselves: A.B is not below A
		if id == prefix || below && strings.HasSuffix(prefix, ".") && (!strings.Contains(rest, ".") || strings.HasPrefix(rest, "reaction.") || strings.HasPrefix(id, "feeder:")) {
			ids = append(ids, id)
		}
	}
	slices.SortFunc(ids, func(a, b string) int { return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a, b)) })
	return ids
}

// inputs are a record's inputs: in the formula's order, or by name where it takes any number.
func inputs(d *design.Design, id string) []formula.Value {
	r := d.Calculations[id]
	f := d.Formulas[r.Formula]
	var out []formula.Value
	if f != nil && !f.Variadic {
		for _, in := range f.Inputs {
			v := r.Inputs[in.Name]
			v.Name = in.Name
			out = append(out, v)
		}
		return out
	}
	for _, name := range slices.SortedFunc(maps.Keys(r.Inputs), natural) {
		v := r.Inputs[name]
		v.Name = name
		out = append(out, v)
	}
	return out
}

type gathering struct {
	d      *design.Design
	order  []string
	number map[string]int
}

func (g *gathering) want(id string) {
	if _, there := g.d.Calculations[id]; !there || g.number[id] > 0 {
		return
	}
	g.order = append(g.order, id)
	g.number[id] = len(g.order)
}

func (g *gathering) working(id string) Working {
	r := g.d.Calculations[id]
	f := g.d.Formulas[r.Formula]
	w := Working{Number: g.number[id], ID: id, Title: title(id, f)}
	w.Result = Quantity{Value: r.Result.Value, Unit: r.Result.Unit}
	docs := map[string]string{}
	if f != nil {
		w.Result.Name, w.Source = f.Result.Name, f.Source
		for _, in := range f.Inputs {
			docs[in.Name] = in.Doc
		}
	}
	all := inputs(g.d, id)
	for _, v := range all {
		in := Input{Name: v.Name, Value: v.Value, Unit: v.Unit, Doc: docs[v.Name], From: v.From}
		if from, calc := strings.CutPrefix(v.From, "calc:"); calc {
			in.Step = g.number[from]
		}
		w.Inputs = append(w.Inputs, in)
	}
	if f != nil && !f.Variadic {
		w.Formula, w.Filled = f.Text, fill(f.Text, all)
	}
	return w
}

// title says what a record is: by the end of its id, or by its formula's result.
func title(id string, f *formula.Formula) string {
	if key := TitleKey(id); key != "" {
		return words.Text("explain." + key)
	}
	if f != nil && f.Result.Doc != "" {
		return f.Result.Doc
	}
	return id
}
