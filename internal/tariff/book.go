package tariff

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Forbidden is a price that says "not possible". It leaves room for adding.
const Forbidden q.Money = 1 << 50

// Book holds a project and a hardware list made ready for pricing. It is safe for use from several
// goroutines at once.
type Book struct {
	Project *project.Project // normalised: signals in order of id
	List    *hardware.List
	Signals []project.Signal // those of Project
	Labour  Labour
	Off     map[string]bool // part codes that a decision forbids

	Partners [][]int         // per signal: its redundant partners
	Chosen   []string        // per signal: the module that a fixed decision names, or ""
	Told     []bool          // per signal: a fixed decision names its channel
	Built    bool            // some slot is fixed because it is installed
	Kept     map[string]bool // codes of modules that must not be used any more but are installed: they stay
	least    q.Voltage
	current  []q.Microamps
	group    []fit.GroupKey
	key      []fit.ModuleKey
	look     []int // per signal: the first signal that no module can tell from it, current aside

	mu     sync.Mutex
	envs   map[string]*Env
	places map[Site]*Place
}

// Labour holds the prices of the tasks that a station's parts need.
type Labour struct {
	Station q.Money // one station
	Module  q.Money // one module or infeed module
	Group   q.Money // one supply group
}

// Site is what a place says of a station that stands there. Prices are all-in: what it buys and
// the labour.
type Site struct {
	Place        string
	Construction string        // code
	Network      string        // code of the network profile
	Ambient      q.Temperature // highest
	Outdoor      bool
	MaxSlots     int           // 0 = no limit of the place
	MaxRail      q.Millimetres // 0 = no limit of the place
	FixedCost    q.Money
	Feeder       q.Money // the feeder of supply class normal
	UPSFeeder    q.Money // the feeder of supply class ups, paid if the station has ups groups
	NetworkLeast q.Money // the least that the network here costs; counts in Place.Fixed only
}

// NewBook reads a normalised project and a hardware list once. Signals must have passed the
// reading rooms: a kind, a form of that kind.
func NewBook(p *project.Project, l *hardware.List) *Book {
	price := p.Basis.Prices
	b := &Book{
		Project: p, List: l, Signals: p.Signals,
		Labour:   Labour{price.Labour(price.StationMount), price.Labour(price.ModuleMount), price.Labour(price.GroupWire)},
		Off:      map[string]bool{},
		Kept:     map[string]bool{},
		Partners: fit.Partners(p.Signals),
		Chosen:   make([]string, len(p.Signals)),
		Told:     make([]bool, len(p.Signals)),
		envs:     map[string]*Env{}, places: map[Site]*Place{},
	}
	b.readDecisions()
	b.least = b.LeastAtChannel()
	byLook := map[string]int{}
	for i := range b.Signals {
		s := &b.Signals[i]
		b.current = append(b.current, fit.SignalCurrent(s, &p.Basis))
		b.group = append(b.group, fit.GroupKeyOf(s, &p.Basis))
		b.key = append(b.key, fit.ModuleKeyOf(s, &p.Basis))
		text := lookOf(s, b.current[i], b.Chosen[i], b.key[i]) + asksOf(s, b.Told[i])
		first, seen := byLook[text]
		if !seen {
			byLook[text], first = i, i
		}
		b.look = append(b.look, first)
	}
	return b
}

// floorFreeSlots is how many slots a station keeps free at least; what is installed may be filled up.
func (b *Book) floorFreeSlots() int {
	if b.Built {
		return 0
	}
	return b.Project.Basis.FreeSlots
}

func (b *Book) readDecisions() {
	at := make(map[string]int, len(b.Signals))
	for i := range b.Signals {
		at[b.Signals[i].ID] = i
	}
	installed := map[string]bool{}
	for _, d := range b.Project.Choices {
		kind, id, _ := strings.Cut(d.Subject, ":")
		switch {
		case kind == "part" && d.Property == "use" && d.Value == "no":
			b.Off[id] = true
		case kind == "signal" && d.Property == "module" && d.Strength == project.Fixed:
			if i, ok := at[id]; ok {
				b.Chosen[i] = d.Value
			}
		case kind == "station" && d.Origin == project.FromBuilt:
			b.Built = true
			if code, _, _ := strings.Cut(d.Value, "@"); strings.HasPrefix(d.Property, "slot.") {
				installed[code] = true
			}
		case kind == "signal" && d.Property == "channel" && d.Strength == project.Fixed:
			if i, ok := at[id]; ok {
				b.Told[i] = true
			}
		}
	}
	for code := range installed {
		if b.Off[code] {
			b.Kept[code] = true
		}
	}
}

// lookOf writes everything of a signal that decides where it may sit and what it draws.
func lookOf(s *project.Signal, i q.Microamps, chosen string, key fit.ModuleKey) string {
	return fmt.Sprintf("%s|%s|%s|%s|%d|%v|%v|%v|%v|%s|%d|%s|%s|%s", s.Kind, s.Form, s.Active, s.Sensor, s.Wires, s.Voltage, s.Frequency,
		s.HART, s.ExLevel, fit.SupplyClass(s), i, chosen, key, s.Segregate)
}

// asksOf writes what of a signal decides how well a channel suits it (fit.FlawsOf).
func asksOf(s *project.Signal, told bool) string {
	ranged := s.RangeLow.Set && s.RangeHigh.Set && s.RangeLow.Value < s.RangeHigh.Value
	return fmt.Sprintf("|%v|%v|%v|%v|%v|%s|%v|%v|%s", told, s.Leakage, s.Current.Set, s.Inrush, s.MinVoltage, s.SafeState, s.Load, ranged, s.Junction)
}

// Current returns the current of signal number i (docs/plan-rules.md section 4).
func (b *Book) Current(i int) q.Microamps { return b.current[i] }

// GroupKey returns the group key of signal number i.
func (b *Book) GroupKey(i int) fit.GroupKey { return b.group[i] }

// ModuleKey returns the module key of signal number i.
func (b *Book) ModuleKey(i int) fit.ModuleKey { return b.key[i] }

// At returns the prices that hold at a site. Asking twice gives the same Place. It returns an
// error if the hardware list has no such construction.
func (b *Book) At(site Site) (*Place, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if p, ok := b.places[site]; ok {
		return p, nil
	}
	c, ok := b.List.Construction(site.Construction)
	if !ok {
		return nil, fmt.Errorf("place %s: no construction %q in the hardware list", site.Place, site.Construction)
	}
	p := b.newPlace(site, b.env(c, site.Ambient))
	b.places[site] = p
	return p, nil
}

// env returns the environment of a construction at an ambient; places whose ambient allows the same
// modules share one.
func (b *Book) env(c *hardware.Construction, ambient q.Temperature) *Env {
	allowed := []string{c.Code}
	for i := range b.List.Modules {
		if m := &b.List.Modules[i]; slices.Contains(m.Constructions, c.Code) && ambient <= m.AmbientMax {
			allowed = append(allowed, m.Code)
		}
	}
	key := strings.Join(allowed, "\x00")
	if e, ok := b.envs[key]; ok {
		return e
	}
	e := b.newEnv(c, ambient)
	b.envs[key] = e
	return e
}
