package plan

import (
	"fmt"
	"slices"

	"railwright/internal/cabling"
	"railwright/internal/design"
	"railwright/internal/fit"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/siting"
	"railwright/internal/tariff"
)

// problem is the project as siting sees it, with what is needed to read its answer back.
type problem struct {
	g       *ground
	book    *tariff.Book
	sites   []site
	chooser cabling.Chooser
	envs    []*tariff.Env // by siting kind
	bundles []fit.Bundle
	needs   [][]fit.CableNeed // by bundle and siting kind
	in      siting.Instance

	unplaced []design.Unplaced // signals that nothing can serve, left out of the bundles
	constant q.Money           // of all bundles
}

// newProblem prices every bundle at every candidate place.
func newProblem(g *ground, book *tariff.Book) (*problem, error) {
	sites, left, err := newSites(g, book)
	if err != nil {
		return nil, err
	}
	if len(sites) == 0 {
		why := ""
		for _, place := range g.candidates {
			why += fmt.Sprintf(" %s: %s.", place.ID, left[place.ID])
		}
		return nil, &Impossible{"No station can stand at any candidate place." + why, "Mend one of these."}
	}
	pr := &problem{g: g, book: book, sites: sites, chooser: cabling.Chooser{List: g.list, Basis: &g.p.Basis, Power: g.p.Power}}
	pr.kinds()
	pr.findBundles()
	pr.places()
	pr.price()
	pr.conflicts()
	pr.partners()
	pr.in.Network = &joint{g: g, sites: sites, known: map[string]int64{}}
	pr.in.Tariff = priceList{pr}
	pr.in.Relaxed = newFloors(pr)
	return pr, nil
}

// kinds numbers the environments and describes them to siting.
func (pr *problem) kinds() {
	for i := range pr.sites {
		if e := pr.sites[i].prices.Env; !slices.Contains(pr.envs, e) {
			pr.envs = append(pr.envs, e)
		}
	}
	for _, e := range pr.envs {
		var k siting.Kind
		for _, c := range e.Classes {
			k.Classes = append(k.Classes, siting.Class{Pool: c.Pool, Surcharge: int64(c.Surcharge), Unit: max(1, int64(c.Unit))})
		}
		for _, p := range e.Pools {
			floor := make([]int64, len(p.Floor))
			for n, v := range p.Floor {
				floor[n] = int64(v)
			}
			k.Pools = append(k.Pools, siting.Pool{StationClass: p.StationClass, Group: p.Group, Floor: floor, Weight: int64(p.Weight)})
		}
		k.Groups = len(e.Groups)
		for _, g := range e.Groups {
			block := -1
			if g.UPS {
				block = 0
			}
			k.Blocks = append(k.Blocks, block)
		}
		pr.in.Kinds = append(pr.in.Kinds, k)
	}
}

// findBundles leaves out the signals that no site's hardware can carry and bundles the rest.
func (pr *problem) findBundles() {
	signals := pr.book.Signals
	ok := make([]bool, len(signals))
	for i := range signals {
		why := ""
		for _, e := range pr.envs {
			if why = e.Why(i); why == "" {
				ok[i] = true
				break
			}
		}
		if !ok[i] {
			pr.leave(i, why, "none")
		}
	}
	for _, b := range fit.Bundles(signals, &pr.g.p.Basis) {
		b.Signals = slices.DeleteFunc(b.Signals, func(i int) bool { return !ok[i] })
		if len(b.Signals) == 0 {
			continue
		}
		code := ""
		for _, i := range b.Signals {
			if c := pr.g.choices.cable[signals[i].ID]; c != "" {
				code = c
			}
		}
		need := fit.Need(b, signals, &pr.g.p.Basis, code)
		need.Off = pr.g.choices.off
		pr.bundles = append(pr.bundles, b)
		var asked []fit.CableNeed
		for _, e := range pr.envs {
			asked = append(asked, need.Ask(b, signals, &pr.g.p.Basis, e.Sets, pr.chooser.AtChannels).Among(pr.g.list))
		}
		pr.needs = append(pr.needs, asked)
	}
}

func (pr *problem) leave(i int, why, proof string) {
	s := &pr.book.Signals[i]
	pr.unplaced = append(pr.unplaced, design.Unplaced{Signal: s.ID, Tag: s.Tag, Where: where(s), Why: why, Proof: proof})
}

func where(s *project.Signal) string {
	if s.At.File == "" {
		return ""
	}
	text := s.At.File
	if s.At.Sheet != "" {
		text += ", sheet " + s.At.Sheet
	}
	return fmt.Sprintf("%s, row %d", text, s.At.Row)
}

// places describes the candidate places.
func (pr *problem) places() {
	for i := range pr.sites {
		s := &pr.sites[i]
		pr.in.Places = append(pr.in.Places, siting.Place{
			Kind: slices.Index(pr.envs, s.prices.Env), Copies: s.copies, Must: s.must, Fixed: int64(s.prices.Fixed), Cap: s.prices.Cap,
			OpenGroup: openings(s.prices.Env), OpenBlock: []int64{int64(s.prices.UPSExtra())},
		})
	}
}

func openings(e *tariff.Env) []int64 {
	out := make([]int64, len(e.Groups))
	for g := range e.Groups {
		out[g] = int64(e.Groups[g].Opening)
	}
	return out
}

// price fills each bundle's demand and its cost at each place.
func (pr *problem) price() {
	kept := pr.bundles[:0:0]
	needs := pr.needs[:0:0]
	for n, b := range pr.bundles {
		sb := siting.Bundle{Cost: make([]int64, len(pr.sites)), Demand: make([][]siting.Demand, len(pr.envs))}
		for k, e := range pr.envs {
			sb.Demand[k] = demand(e, b.Signals)
		}
		why, open, nearest := "", false, q.Millimetres(-1)
		for i := range pr.sites {
			cost, bar := pr.costAt(b, pr.needs[n][pr.in.Places[i].Kind], &sb, i)
			sb.Cost[i] = cost
			if bar == "" {
				open = true
				continue
			}
			sb.Cost[i] = siting.Forbidden
			if way, ok := pr.g.way(pr.sites[i].place.ID, b.Place); nearest < 0 || ok && way < nearest {
				why = bar // the reason that counts is the nearest place's
				if ok {
					nearest = way
				}
			}
		}
		if !open {
			for _, i := range b.Signals {
				pr.leave(i, why, "none")
			}
			continue
		}
		kept, needs = append(kept, b), append(needs, pr.needs[n])
		pr.in.Bundles = append(pr.in.Bundles, sb)
		pr.constant += pr.chooser.Constant(pr.conductors(b), len(b.Signals))
	}
	pr.bundles, pr.needs = kept, needs
}

// voltage is the voltage kind of a bundle's signals; mixed ones count as that of the first.
func (pr *problem) voltage(b fit.Bundle) string {
	return fit.VoltageKind(&pr.book.Signals[b.Signals[0]])
}

func (pr *problem) conductors(b fit.Bundle) int {
	n := 0
	for _, i := range b.Signals {
		n += len(fit.Conductors(&pr.book.Signals[i]))
	}
	return n
}

// demand counts the bundle's signals by class; nil if the environment cannot carry all of them.
func demand(e *tariff.Env, signals []int) []siting.Demand {
	var out []siting.Demand
	for _, i := range signals {
		t := e.TypeOf[i]
		if t < 0 {
			return nil
		}
		class, load := e.Types[t].Class, int64(e.Types[t].Load[0])
		at := slices.IndexFunc(out, func(d siting.Demand) bool { return d.Class == class })
		if at < 0 {
			out = append(out, siting.Demand{Class: class, Count: 1, LoadUA: load})
			continue
		}
		out[at].Count++
		out[at].LoadUA += load
	}
	slices.SortFunc(out, func(a, b siting.Demand) int { return a.Class - b.Class })
	return out
}

// costAt is what serving the bundle from site i costs in cable and in choices not followed, or why
// it cannot be served from there.
func (pr *problem) costAt(b fit.Bundle, need fit.CableNeed, sb *siting.Bundle, i int) (cost int64, bar string) {
	s := &pr.sites[i]
	if len(sb.Demand[pr.in.Places[i].Kind]) == 0 {
		return 0, fmt.Sprintf("construction %s cannot carry all of it", s.prices.Env.Construction.Code)
	}
	wishes, bar := pr.choiceAt(b, s)
	if bar != "" {
		return 0, bar
	}
	way, ok := pr.g.way(s.place.ID, b.Place)
	if !ok {
		return 0, fmt.Sprintf("no route leads from %s to a candidate place", b.Place)
	}
	o := pr.chooser.Option(need, pr.voltage(b), way, s.prices.Site.Ambient)
	if o.Type == nil {
		return 0, fmt.Sprintf("no field cable may run from %s to %s (%s): %s", b.Place, s.place.ID, o.Laid, o.Why)
	}
	return int64(o.Cost + wishes), ""
}

// choiceAt returns what choices cost that site s does not follow, or the choice that rules it out.
func (pr *problem) choiceAt(b fit.Bundle, s *site) (wishes q.Money, bar string) {
	c := pr.g.choices
	for _, i := range b.Signals {
		id := pr.book.Signals[i].ID
		if station := c.station[id]; station != "" {
			at, known := c.placeOf[station]
			if !known {
				at = placeOfStation(station)
			}
			if at != s.place.ID {
				return 0, fmt.Sprintf("it is fixed to station %s", station)
			}
		}
		if place := c.place[id]; place != "" && place != s.place.ID {
			return 0, fmt.Sprintf("it is fixed to place %s", place)
		}
		if slices.Contains(c.notPlace[id], s.place.ID) {
			return 0, fmt.Sprintf("a choice forbids place %s", s.place.ID)
		}
		for _, w := range c.wantPlace[id] {
			if w.value != s.place.ID {
				wishes += w.cost
			}
		}
	}
	return wishes, ""
}

// conflicts finds the pairs of bundles that may not share a station: redundant partners at that
// level, and bundles fixed to different stations.
func (pr *problem) conflicts() {
	of := map[int]int{} // signal -> bundle
	for n, b := range pr.bundles {
		for _, i := range b.Signals {
			of[i] = n
		}
	}
	pairs := map[[2]int]bool{}
	if fit.RedundancyLevel(&pr.g.p.Basis) == project.LevelStation {
		for i, partners := range pr.book.Partners {
			for _, j := range partners {
				if a, b := of[i], of[j]; i < j && a != b {
					pairs[[2]int{min(a, b), max(a, b)}] = true
				}
			}
		}
	}
	station := make([]string, len(pr.bundles))
	for n, b := range pr.bundles {
		station[n] = pr.stationOf(b.Signals)
	}
	for a := range station {
		for b := a + 1; b < len(station); b++ {
			if station[a] != "" && station[b] != "" && station[a] != station[b] {
				pairs[[2]int{a, b}] = true
			}
		}
	}
	for p := range pairs {
		pr.in.Conflicts = append(pr.in.Conflicts, p)
	}
	slices.SortFunc(pr.in.Conflicts, func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
}

// stationOf returns the station to which one of the signals is fixed, or "".
func (pr *problem) stationOf(signals []int) string {
	for _, i := range signals {
		if s := pr.g.choices.station[pr.book.Signals[i].ID]; s != "" {
			return s
		}
	}
	return ""
}

// partners tells siting which signals may share a station but no module.
func (pr *problem) partners() {
	of := map[int]int{}
	for n, b := range pr.bundles {
		for _, i := range b.Signals {
			of[i] = n
		}
	}
	for i, partners := range pr.book.Partners {
		if len(partners) == 0 || partners[0] < i {
			continue // the set is told by its first signal
		}
		var set siting.Partners
		for _, j := range append([]int{i}, partners...) {
			b, ok := of[j]
			if !ok {
				continue
			}
			m := siting.Partner{Bundle: b}
			for _, e := range pr.envs {
				m.Class = append(m.Class, e.ClassOf(j))
			}
			set = append(set, m)
		}
		if len(set) > 1 {
			pr.in.Partners = append(pr.in.Partners, set)
		}
	}
}
