package siting

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
)

// ReadSingleSource reads an instance of single-source capacitated facility location in the published text format: number
// of facilities and of customers; the capacities; the opening costs; the demands; per customer a row of the costs of
// serving all of it from each facility. Costs are multiplied by scale (siting's money is fine-grained; the published costs
// are whole or decimal numbers, exact to 1/scale).
func ReadSingleSource(r io.Reader, scale int64) (Instance, error) {
	scan := bufio.NewScanner(r)
	scan.Buffer(nil, 1<<20)
	scan.Split(bufio.ScanWords)
	var fault error
	number := func(what string) float64 {
		if fault != nil {
			return 0
		}
		if !scan.Scan() {
			fault = fmt.Errorf("the file ends before %s", what)
			return 0
		}
		v, err := strconv.ParseFloat(scan.Text(), 64)
		if err != nil || v < 0 || v > 1e12 {
			fault = fmt.Errorf("%s: %q is not a number from 0 to 1e12", what, scan.Text())
		}
		return v
	}
	count := func(what string) int { return int(number(what)) }
	facilities, customers := count("the number of facilities"), count("the number of customers")
	if fault == nil && (facilities > 1e5 || customers > 1e6 || facilities*customers > 1e8) {
		fault = fmt.Errorf("%d facilities and %d customers are too many", facilities, customers)
	}
	if fault != nil {
		return Instance{}, fault
	}
	in := Instance{Kinds: []Kind{{Classes: []Class{{}}, Pools: []Pool{{Weight: 1}}, Groups: 1}}}
	for range facilities {
		in.Places = append(in.Places, Place{Copies: 1, Cap: []int{count("a capacity")}})
	}
	money := func(what string) int64 { return int64(number(what)*float64(scale) + 0.5) }
	opening := Flat{}
	for p := range facilities {
		in.Places[p].Fixed = money("an opening cost")
		opening = append(opening, in.Places[p].Fixed)
	}
	in.Tariff = opening
	for range customers {
		in.Bundles = append(in.Bundles, Bundle{Demand: [][]Demand{{{Count: count("a demand")}}}})
	}
	for b := range in.Bundles {
		in.Bundles[b].Cost = make([]int64, facilities)
		for p := range facilities {
			in.Bundles[b].Cost[p] = money("a cost")
		}
	}
	return in, fault
}

// Flat is the tariff of plain capacitated location: a station costs its place's entry and is limited by Place.Cap alone.
// Solve knows it and has a method of its own for it.
type Flat []int64

// Pool costs nothing.
func (Flat) Pool(_, _ int, _ []int, _ int) (int64, Use) { return 0, Use{} }

// Station costs the place's entry.
func (f Flat) Station(place int, _ Use, _ []GroupUse) (int64, bool) { return f[place], true }
