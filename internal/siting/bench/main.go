// Bench measures the siting solver on published single-source instances.
//
//	go run ./internal/siting/bench FILE...
//
// It prints one line an instance: instance,cost,lower_bound,gap,seconds. Costs are in the unit of the file; the gap is
// (cost - lower_bound) / cost.
package main

import (
	"flag"
	"fmt"
	"os"
	"time"

	"railwright/internal/siting"
)

const scale = 10_000

func main() {
	steps := flag.Int64("steps", 0, "search budget in trial moves; 0: chosen from the size")
	seed := flag.Uint64("seed", 1, "seed")
	flag.Parse()
	if flag.NArg() == 0 {
		fmt.Fprintln(os.Stderr, "usage: bench [-steps N] [-seed N] FILE...")
		os.Exit(2)
	}
	fmt.Println("instance,cost,lower_bound,gap,seconds")
	code := 0
	for _, name := range flag.Args() {
		if err := run(name, siting.Options{Seed: *seed, Steps: *steps}); err != nil {
			fmt.Fprintf(os.Stderr, "bench: %v\n", err)
			code = 1
		}
	}
	os.Exit(code)
}

func run(name string, opt siting.Options) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	in, err := siting.ReadSingleSource(f, scale)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	begin := time.Now()
	res, err := siting.Solve(in, opt)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	seconds := time.Since(begin).Seconds()
	if len(res.Unplaced) > 0 {
		return fmt.Errorf("%s: %d customers could not be served", name, len(res.Unplaced))
	}
	cost, bound := float64(res.Cost)/scale, float64(res.Proven)/scale
	fmt.Printf("%s,%.4f,%.4f,%.6f,%.3f\n", name, cost, bound, (cost-bound)/max(cost, 1), seconds)
	return nil
}
