package main

import (
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"

	"railwright/internal/app"
)

// patience is how long work goes on before a bar appears.
const patience = time.Second

// progress shows a bar on a terminal once work has lasted longer than patience. It may be told of
// steps from several goroutines.
type progress struct {
	mu      sync.Mutex
	t       terminal
	off     bool
	started time.Time
	bar     *progressbar.ProgressBar
	stage   string
}

// progress returns the bar of this request; it stays silent without a terminal, with --quiet and
// with --json.
func (r *request) progress() *progress {
	return &progress{t: r.terminal, off: !r.errTTY || r.Quiet || r.JSON, started: time.Now()}
}

func (p *progress) step(s app.Progress) {
	if p.off {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if time.Since(p.started) < patience {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions64(max(s.Total, 1),
			progressbar.OptionSetWriter(p.t.err), progressbar.OptionSetWidth(30), progressbar.OptionClearOnFinish(),
			progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionSetPredictTime(false), progressbar.OptionSetElapsedTime(false))
	}
	if p.stage != s.Stage {
		p.stage = s.Stage
		p.bar.Describe(s.Stage)
	}
	if p.bar.GetMax64() != max(s.Total, 1) {
		p.bar.ChangeMax64(max(s.Total, 1))
	}
	p.bar.Set64(min(s.Done, max(s.Total, 1))) //nolint:errcheck // only a closed terminal
}

// done takes the bar away.
func (p *progress) done() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		p.bar.Finish() //nolint:errcheck // only a closed terminal
		p.bar.Clear()  //nolint:errcheck
		p.bar = nil
	}
	p.off = true
}
