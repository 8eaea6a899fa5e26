package checker

import (
	"cmp"
	"fmt"
	"slices"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// Violation is one broken law: what was seen in design.json and what the rules give.
type Violation struct {
	Law      string // code, see Laws
	Subject  string // "signal:ID", "station:ID", "group:ID", "cable:ID", ... or "design"
	Seen     string
	Expected string
}

// String prints the violation on one line.
func (v Violation) String() string {
	return fmt.Sprintf("%s %s: %s; expected %s", v.Law, v.Subject, v.Seen, v.Expected)
}

// Options tells Check what it cannot know by itself. The zero Options is ready to use.
type Options struct {
	KnownCite func(ref string) bool  // is KEY#row a registered source? nil: any key that is not empty
	KnownRule func(code string) bool // is it a rule's code? nil: any code that is not empty
	// NoCertificate leaves out the lower bound, NoTrace the calculations: for tests that make many designs.
	NoCertificate bool
	NoTrace       bool
}

// Laws lists the law codes with what each stands for.
var Laws = map[string]string{
	"FORM": "shape: format, keys present, no key twice, lists sorted, ids unique, numbers finite",
	"REF":  "codes and ids that design.json names exist",
	"ONCE": "every signal on exactly one channel or in unplaced with a proof that holds",
	"SUIT": "the channel suits the signal (section 3)",
	"SITE": "stations stand only where they may",
	"RAIL": "slots, bases, first slot, end piece, ranks, order (sections 6 and 11)",
	"GRP":  "supply groups: unbroken runs, one infeed, one key, load, limit, protection, voltage",
	"LIM":  "limits of hardware list and basis, or an error finding",
	"APRT": "redundancy, segregation, safety groups, one station for a bundle",
	"SPAR": "spare channels",
	"ADDR": "bytes and addresses (section 8)",
	"TERM": "terminals of channels",
	"WIRE": "wires, cores and their ends",
	"CAB":  "field cables: bundle, type, route, length, order length (section 7)",
	"VOLT": "voltage at loads (section 10)",
	"POW":  "supply units, feeders, protections, enclosure, coupler (section 9)",
	"NET":  "network segments and node addresses",
	"PART": "parts list against stations and cables, at list prices",
	"LAB":  "labour list against stations and cables, at basis prices",
	"COST": "sums: total, constant, installed, changes, objective, gap",
	"CERT": "lower bound from the certificate",
	"DEC":  "fixed decisions",
	"FIND": "findings are well formed and name what exists",
	"CALC": "calculations give their results",
	"TRC":  "origins of inputs resolve, agree and end",
}

type law func(*run)

// Check returns every law that the design breaks, sorted by law and subject; none means that the
// design is what the rules allow. p and hw are what the design was planned from; design is the
// text of design.json. Rows that the reader left out are not in p.
func Check(p *project.Project, hw *hardware.List, design []byte, opt Options) []Violation {
	r := &run{p: p.Normalised(), hw: hw, opt: opt}
	if r.decode(design) {
		r.derive()
		r.resolve()
		for _, l := range []law{
			placedOnce, siteLaw, railLaw, groupLaw, limitLaw, apartLaw, spareLaw, addressLaw, terminalLaw,
			wireLaw, fieldCableLaw, voltageLaw, powerLaw, networkLaw, partLaw, labourLaw, costLaw,
			certificateLaw, decisionLaw, findingLaw, calculationLaw,
		} {
			l(r)
		}
	}
	slices.SortStableFunc(r.out, func(a, b Violation) int {
		return cmp.Or(cmp.Compare(a.Law, b.Law), cmp.Compare(a.Subject, b.Subject), cmp.Compare(a.Seen, b.Seen), cmp.Compare(a.Expected, b.Expected))
	})
	return slices.Compact(r.out)
}

// run is one checking of one design.
type run struct {
	p   *project.Project
	hw  *hardware.List
	opt Options
	d   doc
	out []Violation

	sig     map[string]*signal
	sigs    []*signal // by id
	places  map[string]project.Place
	parts   catalogue
	unused  map[string]bool               // codes that a decision forbids
	kept    map[string]bool               // of these, modules that are installed
	decided map[string][]project.Decision // by subject and property
	ways    map[string]map[string]int64
	fitsOf  map[fitsKey][]fit
	bundles []*bundle
	bundle  map[string]*bundle // by signal id

	stations []*station // resolved, as in design.json
	station  map[string]*station
	at       map[string][]spot // where each signal id sits
	errors   map[string]bool   // subjects of error findings
}

func (r *run) bad(law, subject, expected, seen string, args ...any) {
	r.out = append(r.out, Violation{Law: law, Subject: subject, Seen: fmt.Sprintf(seen, args...), Expected: expected})
}

// same reports a difference of two values.
func same[T comparable](r *run, law, subject, what string, seen, want T) {
	if seen != want {
		r.bad(law, subject, fmt.Sprintf("%v", want), "%s %v", what, seen)
	}
}

// limit reports seen > most unless an error finding names one of the subjects.
func (r *run) limit(subject, what string, seen, most int64, also ...string) {
	if seen > most && !r.excused(append(also, subject)...) {
		r.bad("LIM", subject, fmt.Sprintf("at most %d, or an error finding", most), "%s %d", what, seen)
	}
}

// excused reports whether an error finding names one of the subjects.
func (r *run) excused(subjects ...string) bool {
	for _, s := range subjects {
		if r.errors[s] {
			return true
		}
	}
	return false
}
