package app

import (
	"context"
	"slices"
	"time"

	"railwright/internal/checker"
	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/synth"
	"railwright/internal/words"
)

// BenchRequest asks for made-up sites to be planned and measured.
type BenchRequest struct {
	Signals, Places, Candidates int
	Construction                string   // how the stations are put together
	Regimes                     []string // price regimes; none = all
	Seed                        uint64   // of the first site
	Seeds                       int      // sites for each regime, with seeds from Seed on; 0 = 1
	Check                       bool     // run the independent checker on each design
	Progress                    func(Progress)
}

// BenchResult is one made-up site, planned.
type BenchResult struct {
	Regime     string       `json:"regime"`
	Seed       uint64       `json:"seed"`
	Signals    int          `json:"signals"`
	Places     int          `json:"places"`
	Candidates int          `json:"candidates"`
	Placed     int          `json:"placed"`
	Stations   int          `json:"stations"`
	Modules    int          `json:"modules"`
	Cost       float64      `json:"cost"`        // objective, in the basis's currency
	Bound      float64      `json:"lower_bound"` // proven
	Gap        float64      `json:"gap"`         // part of the objective
	Seconds    float64      `json:"seconds"`
	PeakMB     float64      `json:"peak_mb"`
	Phases     []BenchPhase `json:"phases"`
	Violations int          `json:"violations"` // found by the checker; -1 = not asked
	First      string       `json:"first_violation,omitempty"`
}

// BenchPhase is one phase of a plan; a phase that comes again is added up.
type BenchPhase struct {
	Name    string  `json:"name"`
	Seconds float64 `json:"seconds"`
	PeakMB  float64 `json:"peak_mb"` // most memory the program held of the system while it lasted
}

// Bench makes up sites, plans each and measures time and memory by phase. Times are wall clock.
func Bench(ctx context.Context, r BenchRequest) ([]BenchResult, error) {
	regimes, err := r.valid()
	if err != nil {
		return nil, err
	}
	var all []BenchResult
	for _, regime := range regimes {
		for i := range max(r.Seeds, 1) {
			one, err := r.one(ctx, regime, r.Seed+uint64(i))
			if err != nil {
				return nil, err
			}
			all = append(all, one)
		}
	}
	return all, nil
}

func (r BenchRequest) valid() ([]synth.Regime, error) {
	if r.Signals < 1 || r.Signals > 200_000 || r.Candidates < 1 || r.Places < r.Candidates || r.Places > 20_000 {
		return nil, usage(words.Text("app.bench_size"))
	}
	if !slices.ContainsFunc(hardware.Builtin().Constructions, func(c hardware.Construction) bool { return c.Code == r.Construction }) {
		return nil, usage(words.Text("app.bench_construction", r.Construction))
	}
	if len(r.Regimes) == 0 {
		return synth.Regimes, nil
	}
	var out []synth.Regime
	for _, name := range r.Regimes {
		if !slices.Contains(synth.Regimes, synth.Regime(name)) {
			return nil, usage(words.Text("app.bench_regime", name))
		}
		out = append(out, synth.Regime(name))
	}
	return out, nil
}

func (r BenchRequest) one(ctx context.Context, regime synth.Regime, seed uint64) (BenchResult, error) {
	site := synth.Site(synth.Size{Signals: r.Signals, Places: r.Places, Candidates: r.Candidates}, regime, synth.Seed(seed))
	list := hardware.Builtin()
	site.Basis.Construction = r.Construction
	watch := newStopwatch()
	start := time.Now()
	d, err := plan.Run(site, list, plan.Options{
		Cancelled: func() bool { return ctx.Err() != nil },
		Progress: func(p plan.Progress) {
			watch.phase(p.Phase)
			if r.Progress != nil {
				r.Progress(Progress{Stage: words.Text("app.bench_stage", string(regime), seed, words.Text("phase."+p.Phase)), Done: p.Done, Total: p.Total})
			}
		},
	})
	seconds := time.Since(start).Seconds()
	phases := watch.stop()
	if err != nil {
		return BenchResult{}, broken(words.Text("app.bench_failed", string(regime), seed), err)
	}
	if ctx.Err() != nil {
		return BenchResult{}, usage(words.Text("app.bench_cancelled"))
	}
	res := benchResult(d, phases)
	res.Regime, res.Seed, res.Seconds = string(regime), seed, seconds
	res.Signals, res.Places, res.Candidates = len(site.Signals), r.Places, r.Candidates
	if r.Check {
		data, err := design.Encode(d)
		if err != nil {
			return res, broken("encode the design", err)
		}
		found := checker.Check(site, list, data, checker.Options{})
		res.Violations = len(found)
		if len(found) > 0 {
			res.First = found[0].String()
		}
	}
	return res, nil
}

func benchResult(d *design.Design, phases []BenchPhase) BenchResult {
	res := BenchResult{Stations: len(d.Stations), Cost: d.Siting.Objective, Bound: d.Siting.LowerBound, Gap: d.Siting.Gap, Phases: phases, Violations: -1}
	for _, s := range d.Stations {
		res.Modules += len(s.Slots)
		for _, slot := range s.Slots {
			for _, c := range slot.Channels {
				if c.SignalID != "" {
					res.Placed++
				}
			}
		}
	}
	for _, p := range phases {
		res.PeakMB = max(res.PeakMB, p.PeakMB)
	}
	return res
}
