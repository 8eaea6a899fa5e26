package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"railwright/internal/app"
	q "railwright/internal/quantity"
	"railwright/internal/words"
)

func init() {
	register(120, "bench", words.Text("cmd.bench"), func() any { return &benchCommand{} })
}

type benchCommand struct {
	Signals    int      `name:"signals" default:"1000" help:"Signals of the site."`
	Places     int      `name:"places" default:"60" help:"Places of the site."`
	Candidates int      `name:"candidates" default:"30" help:"Places where a station may stand."`
	Build      string   `name:"construction" default:"rail" help:"How stations are put together: rail, slice or block."`
	Prices     []string `name:"prices" placeholder:"NAME" help:"Price regimes: cable-dear, balanced, stations-cheap; all where none is named."`
	Seed       uint64   `name:"seed" default:"1" help:"Seed of the first site."`
	Seeds      int      `name:"seeds" default:"1" help:"Sites for each regime."`
	Check      bool     `name:"check" help:"Run the independent checker on each design."`
}

// Help is the text below the usage line.
func (*benchCommand) Help() string { return words.Text("help.bench") }

// benchReport is what --json prints.
type benchReport struct {
	Format string            `json:"format"`
	Sites  []app.BenchResult `json:"sites"`
}

// Run plans made-up sites and prints the figures.
func (c *benchCommand) Run(r *request) error {
	bar := r.progress()
	all, err := app.Bench(r.ctx, app.BenchRequest{
		Signals: c.Signals, Places: c.Places, Candidates: c.Candidates, Construction: c.Build, Regimes: c.Prices, Seed: c.Seed, Seeds: c.Seeds, Check: c.Check, Progress: bar.step,
	})
	bar.done()
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(benchReport{"railwright-bench/1", all})
	case !r.Quiet:
		p := newPage(r.terminal, r.out)
		p.benched(c, all)
		p.flush()
	}
	for _, b := range all {
		if b.Violations > 0 {
			return errFindings
		}
	}
	return nil
}

func (p *page) benched(c *benchCommand, all []app.BenchResult) {
	p.heading(words.Text("bench.head", words.Thousands(int64(c.Signals)), words.Thousands(int64(c.Places)), words.Thousands(int64(c.Candidates))))
	cols := []column{{words.Text("bench.regime"), false}}
	for _, head := range []string{
		words.Text("bench.seed"), words.Text("bench.placed"), words.Text("bench.stations"), words.Text("bench.modules"), words.Text("bench.cost"),
		words.Text("bench.bound"), words.Text("bench.gap"), words.Text("bench.seconds"), words.Text("bench.peak"),
	} {
		cols = append(cols, column{head, true})
	}
	var rows [][]string
	for _, same := range byRegime(all) {
		for _, b := range same {
			rows = append(rows, benchRow(b, strconv.FormatUint(b.Seed, 10)))
		}
		if len(same) > 1 {
			rows = append(rows, benchRow(medianOf(same), words.Text("bench.median")), nil)
		}
	}
	p.table("  ", cols, rows)
	p.benchPhases(all)
	p.benchJudged(all)
}

func byRegime(all []app.BenchResult) [][]app.BenchResult {
	var out [][]app.BenchResult
	for _, b := range all {
		if n := len(out); n > 0 && out[n-1][0].Regime == b.Regime {
			out[n-1] = append(out[n-1], b)
			continue
		}
		out = append(out, []app.BenchResult{b})
	}
	return out
}

func benchRow(b app.BenchResult, seed string) []string {
	return []string{
		b.Regime, seed, strconv.Itoa(b.Placed), strconv.Itoa(b.Stations), strconv.Itoa(b.Modules), whole(b.Cost), whole(b.Bound),
		fmt.Sprintf("%.2f %%", 100*b.Gap), fmt.Sprintf("%.2f", b.Seconds), fmt.Sprintf("%.0f", b.PeakMB),
	}
}

func whole(money float64) string { return words.Thousands(int64(q.ToMoney(money).Units() + 0.5)) }

// medianOf takes the median of each figure by itself.
func medianOf(all []app.BenchResult) app.BenchResult {
	return app.BenchResult{
		Regime: all[0].Regime,
		Placed: median(all, func(b app.BenchResult) int { return b.Placed }), Stations: median(all, func(b app.BenchResult) int { return b.Stations }),
		Modules: median(all, func(b app.BenchResult) int { return b.Modules }), Cost: median(all, func(b app.BenchResult) float64 { return b.Cost }),
		Bound: median(all, func(b app.BenchResult) float64 { return b.Bound }), Gap: median(all, func(b app.BenchResult) float64 { return b.Gap }),
		Seconds: median(all, func(b app.BenchResult) float64 { return b.Seconds }), PeakMB: median(all, func(b app.BenchResult) float64 { return b.PeakMB }),
	}
}

func median[T int | float64](all []app.BenchResult, of func(app.BenchResult) T) T {
	values := make([]T, len(all))
	for i, b := range all {
		values[i] = of(b)
	}
	slices.SortFunc(values, cmp.Compare[T])
	n := len(values)
	return (values[(n-1)/2] + values[n/2]) / 2
}

// benchPhases adds the phases of all sites up; memory is the most of any.
func (p *page) benchPhases(all []app.BenchResult) {
	var sum []app.BenchPhase
	for _, b := range all {
		for _, ph := range b.Phases {
			i := slices.IndexFunc(sum, func(s app.BenchPhase) bool { return s.Name == ph.Name })
			if i < 0 {
				sum = append(sum, app.BenchPhase{Name: ph.Name})
				i = len(sum) - 1
			}
			sum[i].Seconds += ph.Seconds
			sum[i].PeakMB = max(sum[i].PeakMB, ph.PeakMB)
		}
	}
	p.heading(words.Text("bench.phases"))
	var rows [][]string
	for _, ph := range sum {
		rows = append(rows, []string{words.Text("phase." + ph.Name), fmt.Sprintf("%.2f", ph.Seconds), fmt.Sprintf("%.0f", ph.PeakMB)})
	}
	p.table("  ", []column{{words.Text("bench.phase"), false}, {words.Text("bench.seconds"), true}, {words.Text("bench.peak"), true}}, rows)
}

func (p *page) benchJudged(all []app.BenchResult) {
	sound := 0
	for _, b := range all {
		switch {
		case b.Violations == 0:
			sound++
		case b.Violations > 0:
			p.para("  ", words.Text("bench.invalid", words.Count(b.Violations, "broken law"), b.Regime, b.Seed, b.First))
		}
	}
	if sound > 0 {
		p.blank()
		p.para("  ", words.Text("bench.valid", words.Count(sound, "design")))
	}
}
