package plan

import (
	"fmt"
	"slices"

	"railwright/internal/addressing"
	"railwright/internal/check"
	"railwright/internal/cost"
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/formula"
	"railwright/internal/hardware"
	"railwright/internal/packing"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/siting"
	"railwright/internal/tariff"
)

// Options steer Run. The zero value is valid.
type Options struct {
	Seed  uint64
	Steps int64 // budget of the siting search; 0: chosen from the size
	Curve bool  // also fill the cost curve

	Previous *design.Design    // the design accepted before; ids follow it
	Findings finding.List      // of reading, passed through to the design
	Unplaced []design.Unplaced // faulty rows, passed through
	Input    design.Input      // hashes of what was read

	Progress  func(Progress) // may be nil
	Cancelled func() bool    // may be nil
}

// Progress is how far a plan has come.
type Progress struct {
	Phase       string // "prices", "bound", "search", "confirm", "curve", "stations", "checks"
	Done, Total int64
}

// work is a design in the making.
type work struct {
	d        *design.Design
	previous *design.Design
	names    *design.Names
	calc     formula.Book
	ordinals map[string]int
	changes  q.Money // of preferred choices that are not followed
}

func (w *work) station(id string) *design.Station {
	i := slices.IndexFunc(w.d.Stations, func(s design.Station) bool { return s.ID == id })
	return &w.d.Stations[i]
}

// next counts things of one letter in one station.
func (w *work) next(letter, station string) int {
	w.ordinals[station+letter]++
	return w.ordinals[station+letter]
}

// Run makes a design. It returns an *Impossible where none can be made at all; every other doubt is
// a finding of the design.
func Run(p *project.Project, list *hardware.List, opt Options) (*design.Design, error) {
	p = p.Normalised()
	c := sortOut(p)
	c.settleStations(p)
	if len(p.Signals) == 0 {
		return nil, &Impossible{"There is no signal to plan.", "Fill signals.csv (one signal a row) or import a list."}
	}
	g, err := newGround(p, list, c)
	if err != nil {
		return nil, err
	}
	opt.report("prices", 0, 1)
	book := tariff.NewBook(p, list)
	pr, err := newProblem(g, book)
	if err != nil {
		return nil, err
	}
	pr.in.Confirm = pr.confirm
	w := &work{d: blank(p, opt), previous: opt.Previous, names: design.NewNames(opt.Previous), ordinals: map[string]int{}}
	answer, err := pr.site(w, opt)
	if err != nil {
		return nil, err
	}
	if err := pr.compose(w, answer, opt); err != nil {
		return nil, err
	}
	d := pr.finish(w, answer, opt)
	d.Findings = append(d.Findings, released(d, p, list, opt)...)
	d.Findings.Sort()
	return d, nil
}

func (o *Options) report(phase string, done, total int64) {
	if o.Progress != nil {
		o.Progress(Progress{phase, done, total})
	}
}

func blank(p *project.Project, opt Options) *design.Design {
	d := &design.Design{
		Format: design.Format, Input: opt.Input,
		Project: design.Stated{
			Name: p.Name, Controller: p.Controller, Revision: p.Revision, Convention: p.Basis.Address.Convention, Signals: len(p.Signals) + len(opt.Unplaced),
		},
		Findings: slices.Clone(opt.Findings), Unplaced: slices.Clone(opt.Unplaced),
	}
	d.Input.Seed = int64(opt.Seed)
	return d
}

// site runs siting and notes how good its answer is.
func (pr *problem) site(w *work, opt Options) (siting.Result, error) {
	steps := opt.Steps
	if steps == 0 {
		steps = pr.usualSteps()
	}
	how := siting.Options{
		Seed: opt.Seed, Steps: steps, Curve: opt.Curve, Cancelled: opt.Cancelled,
		Start:    pr.start(opt.Previous),
		Progress: func(p siting.Progress) { opt.report(p.Phase, p.Done, p.Total) },
	}
	answer, err := pr.solve(how)
	if err != nil {
		return answer, fmt.Errorf("choose the places of the stations: %w", err)
	}
	for _, u := range answer.Unplaced {
		for _, i := range pr.bundles[u.Bundle].Signals {
			pr.leave(i, "no station that may serve it has room for it beside the other signals", string(u.Proof))
		}
	}
	w.d.Input.Steps, w.d.Input.Complete = answer.Steps, answer.Complete
	return answer, nil
}

// solve sites the bundles, those that are fixed to one station together where that can be.
func (pr *problem) solve(how siting.Options) (siting.Result, error) {
	answer, joined, err := siting.Result{}, false, error(nil)
	if t := pr.join(); t != nil {
		answer, joined, err = t.solve(pr, how)
	}
	if err == nil && !joined {
		answer, err = siting.Solve(pr.in, how)
	}
	if err == nil {
		err = pr.squeeze(&answer)
	}
	return answer, err
}

// usualSteps is the search budget that more of hardly betters, as measured (docs/performance.md).
func (pr *problem) usualSteps() int64 {
	n := int64(len(pr.bundles))
	return min(1500*n, 40_000) + 60*n
}

// start is the previous design as siting's first guess.
func (pr *problem) start(previous *design.Design) []siting.Station {
	if previous == nil {
		return nil
	}
	at := map[string]int{}
	for i := range pr.sites {
		at[pr.sites[i].place.ID] = i
	}
	stationOf := map[string]string{}
	for _, s := range previous.Stations {
		for _, id := range stationSignals(s) {
			stationOf[id] = s.ID
		}
	}
	bundles := map[string][]int{}
	for b := range pr.bundles {
		if s := stationOf[pr.book.Signals[pr.bundles[b].Signals[0]].ID]; s != "" {
			bundles[s] = append(bundles[s], b)
		}
	}
	var out []siting.Station
	for _, s := range previous.Stations {
		if i, ok := at[s.Place]; ok {
			out = append(out, siting.Station{Place: i, Bundles: bundles[s.ID]})
		}
	}
	return out
}

// compose packs the stations and lays everything between them.
func (pr *problem) compose(w *work, answer siting.Result, opt Options) error {
	opt.report("stations", 0, int64(len(answer.Stations)))
	stations, found := pr.build(answer.Stations, opt.Previous, w.names, func(o []packing.Order) []packed { return packAll(o) })
	w.d.Findings = append(w.d.Findings, pr.g.choices.found...)
	w.d.Findings = append(w.d.Findings, pr.findGaps()...)
	w.d.Findings = append(w.d.Findings, found...)
	for i := range stations {
		w.d.Stations = append(w.d.Stations, pr.layout(&stations[i], &w.calc))
		w.changes += stations[i].packed.Cost.Changes
		for _, b := range stations[i].bundles {
			wishes, _ := pr.choiceAt(pr.bundles[b], stations[i].site)
			w.changes += wishes
		}
		for _, warning := range stations[i].packed.Warnings {
			w.d.Findings = append(w.d.Findings, warned(stations[i].id, warning))
		}
	}
	if !pr.networkCables(w) && len(stations) > 0 {
		return &Impossible{
			fmt.Sprintf("No %s of profile %s joins the controller and the stations within %s a cable.", pr.g.p.Network.Topology, pr.g.profile.Code, pr.g.profile.MaxSegment),
			"Choose another network profile or topology, or allow places between.",
		}
	}
	pr.address(w)
	for i := range stations {
		if err := pr.supplies(&stations[i], w); err != nil {
			return err
		}
	}
	pr.fieldCables(stations, w)
	return nil
}

func warned(station string, x packing.Warning) finding.Finding {
	return finding.Finding{
		Rule: "STA-006", Severity: finding.Warning, Subject: "station:" + station, Message: x.Text,
		Figures: map[string]finding.Figure{"value": {Value: float64(x.Value), Unit: "1"}, "wanted": {Value: float64(x.Wanted), Unit: "1"}},
		Remedy:  finding.Remedy{Text: "Add a module, or accept it."}, Source: "common-practice#spare",
	}
}

// address gives the stations their bytes, keeping the fixed ones.
func (pr *problem) address(w *work) {
	refs := make([]*design.Station, len(w.d.Stations))
	for i := range w.d.Stations {
		refs[i] = &w.d.Stations[i]
	}
	kept := addressing.Kept{In: pr.g.choices.inputByte, Out: pr.g.choices.outputByte}
	w.d.Findings = append(w.d.Findings, addressing.Assign(refs, pr.g.list, pr.g.p.Basis.Address, kept)...)
	w.d.Network.Registers = addressing.Registers(w.d.Stations, pr.g.list, pr.g.p.Basis.Address)
	w.d.Findings = append(w.d.Findings, pr.fixedAddresses(w.d)...)
}

// fixedAddresses reports signals whose fixed address the plan could not keep.
func (pr *problem) fixedAddresses(d *design.Design) finding.List {
	var out finding.List
	for _, s := range d.Stations {
		for _, sl := range s.Slots {
			for _, c := range sl.Channels {
				want, fixed := pr.g.choices.address[c.SignalID]
				if c.Signal == nil || !fixed || want == c.Address {
					continue
				}
				out = append(out, finding.Finding{
					Rule: "ADR-002", Severity: finding.Error, Subject: "signal:" + c.SignalID,
					Message: fmt.Sprintf("%s is fixed to address %s but sits at %s.", *c.Signal, want, c.Address),
					Remedy:  finding.Remedy{Text: "Fix its channel and the first bytes of its station as well, or release the address."}, Source: "arithmetic",
				})
			}
		}
	}
	return out
}

// finish adds up the money, checks, and puts every list in its order.
func (pr *problem) finish(w *work, answer siting.Result, opt Options) *design.Design {
	d := w.d
	opt.report("checks", 0, 1)
	slices.SortFunc(d.Cables, func(a, b design.Cable) int { return compareText(a.ID, b.ID) })
	slices.SortStableFunc(d.Wires, func(a, b design.Wire) int { return compareWires(a.ID, b.ID) })
	d.Findings = append(d.Findings, pr.notKept(d)...)
	d.Unplaced = append(d.Unplaced, pr.unplaced...)
	slices.SortFunc(d.Unplaced, func(a, b design.Unplaced) int {
		return compareText(a.Signal+"\x00"+a.Where+"\x00"+a.Why, b.Signal+"\x00"+b.Where+"\x00"+b.Why)
	})
	var sums cost.Sums
	d.Parts, d.Labour, sums = cost.Sum(d, pr.g.p, pr.g.list)
	sums.Changes = w.changes
	pr.money(w, sums, answer)
	d.HomeRun = pr.homeRun(&w.calc)
	d.Issued = issued(pr.g.p, w.previous)
	d.Ordinals = w.names.Ordinals()
	figures(d, pr.g.p, pr.g.list, &w.calc)
	d.Formulas, d.Calculations = w.calc.Formulas(), w.calc.Records()
	d.Findings = append(d.Findings, check.Run(check.Gather(d, pr.g.p, pr.g.list))...)
	d.Findings.Sort()
	return d
}
