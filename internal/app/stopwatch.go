package app

import (
	"runtime/metrics"
	"sync"
	"time"
)

// stopwatch measures time and memory by phase while a plan runs. Memory is read every few milliseconds.
type stopwatch struct {
	mu      sync.Mutex
	phases  []BenchPhase
	current int
	since   time.Time
	done    chan struct{}
	over    sync.WaitGroup
}

const sampling = 5 * time.Millisecond

func newStopwatch() *stopwatch {
	w := &stopwatch{phases: []BenchPhase{{Name: "begin"}}, since: time.Now(), done: make(chan struct{})}
	w.over.Go(func() {
		tick := time.NewTicker(sampling)
		defer tick.Stop()
		for {
			select {
			case <-w.done:
				return
			case <-tick.C:
				w.sample()
			}
		}
	})
	return w
}

// phase says which phase the work is in now.
func (w *stopwatch) phase(name string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.phases[w.current].Name == name {
		return
	}
	w.close()
	for i, p := range w.phases {
		if p.Name == name {
			w.current = i
			return
		}
	}
	w.phases = append(w.phases, BenchPhase{Name: name})
	w.current = len(w.phases) - 1
}

func (w *stopwatch) close() {
	now := time.Now()
	w.phases[w.current].Seconds += now.Sub(w.since).Seconds()
	w.since = now
}

func (w *stopwatch) sample() {
	mb := heldMB()
	w.mu.Lock()
	defer w.mu.Unlock()
	p := &w.phases[w.current]
	p.PeakMB = max(p.PeakMB, mb)
}

// stop ends the watch and returns the phases in the order in which they began.
func (w *stopwatch) stop() []BenchPhase {
	close(w.done)
	w.over.Wait()
	w.sample()
	w.mu.Lock()
	defer w.mu.Unlock()
	w.close()
	return w.phases
}

// heldMB is the memory that the program holds of the system, less what it gave back.
func heldMB() float64 {
	s := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(s)
	return float64(s[0].Value.Uint64()-s[1].Value.Uint64()) / 1e6
}
