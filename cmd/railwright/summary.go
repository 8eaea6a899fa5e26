package main

import (
	"fmt"
	"strings"

	"railwright/internal/app"
	"railwright/internal/design"
	q "railwright/internal/quantity"
	"railwright/internal/schedule"
	"railwright/internal/words"
)

// summary lays out what a plan decided, what it costs, what must be looked at and what comes next.
func (p *page) summary(r *app.PlanResult) {
	d := r.Design
	p.title(d)
	p.stations(r)
	p.cost(d)
	p.lookAt(d.Findings)
	p.notPlaced(d.Unplaced)
	p.next(r)
}

func (p *page) title(d *design.Design) {
	var parts []string
	for _, s := range [][2]string{{"", d.Project.Name}, {"revision ", d.Project.Revision}, {"controller ", d.Project.Controller}} {
		if s[1] != "" {
			parts = append(parts, s[0]+s[1])
		}
	}
	p.line(p.paint(bold, cut(clean(strings.Join(parts, ", ")), p.width)))
	placed := placedOf(d)
	p.para("", words.Text("summary.decided", words.Thousands(int64(placed)), words.Count(placed+len(d.Unplaced), "signal"), words.Count(len(d.Stations), "station")))
	if !d.Input.Complete {
		p.para("", words.Text("summary.incomplete"))
	}
}

func placedOf(d *design.Design) int {
	n := 0
	for _, s := range d.Stations {
		n += schedule.UseOf(s).Signals
	}
	return n
}

func (p *page) stations(r *app.PlanResult) {
	d := r.Design
	p.heading(words.Text("summary.stations"))
	if len(d.Stations) == 0 {
		p.para("  ", words.Text("summary.no_stations"))
		return
	}
	cols := []column{
		{head: "station"},
		{head: "place"},
		{head: "modules", right: true},
		{head: "signals", right: true},
		{head: "spare", right: true},
		{head: "groups", right: true},
		{head: "24 V, A", right: true},
		{head: d.Cost.Currency, right: true},
	}
	costs, loads := schedule.StationCosts(d), schedule.StationLoads(d)
	var rows [][]string
	var all schedule.Use
	var load float64
	var money q.Money
	for _, s := range d.Stations {
		u := schedule.UseOf(s)
		all = all.Plus(u)
		load += loads[s.ID]
		money += costs[s.ID]
		rows = append(rows, stationRow(s.ID, placeName(r, s.Place), u, loads[s.ID], costs[s.ID]))
	}
	if len(rows) > 1 {
		rows = append(rows, nil, stationRow(words.Text("schedule.total"), "", all, load, money))
	}
	p.table("  ", cols, rows)
	p.para("  ", words.Text("summary.stations_note"))
}

// placeName is a place's name, or its id where it has none.
func placeName(r *app.PlanResult, id string) string {
	if r.Project != nil {
		for _, pl := range r.Project.Places {
			if pl.ID == id && pl.Name != "" {
				return pl.Name
			}
		}
	}
	return id
}

func stationRow(name, place string, u schedule.Use, loadMA float64, cost q.Money) []string {
	return []string{
		name, place, words.Thousands(int64(u.Modules)), words.Thousands(int64(u.Signals)), words.Thousands(int64(u.Spare)),
		words.Thousands(int64(u.Groups)), fmt.Sprintf("%.1f", loadMA/1000), cost.String(),
	}
}

// cost lays out the sum by class, and what it is compared with.
func (p *page) cost(d *design.Design) {
	c := d.Cost
	p.heading(words.Text("summary.cost", c.Currency))
	total := q.ToMoney(c.Total)
	if total == 0 {
		p.para("  ", words.Text("summary.no_cost"))
		return
	}
	var rows [][]string
	for _, class := range schedule.CostClasses(d) {
		m := q.ToMoney(c.Parts[class])
		rows = append(rows, []string{class, m.String(), percent(m.Units() / total.Units())})
	}
	rows = append(rows, nil, []string{words.Text("schedule.total"), total.String(), ""})
	p.table("  ", []column{{}, {right: true}, {right: true}}, rows)
	if c.Installed > 0 {
		p.para("  ", words.Text("summary.installed", c.Currency, q.ToMoney(c.Installed).String()))
	}
	p.homeRun(d)
	p.bound(d)
}

func (p *page) homeRun(d *design.Design) {
	home, total := q.ToMoney(d.HomeRun.Cost), q.ToMoney(d.Cost.Total)
	if home == 0 {
		return
	}
	diff, share := home-total, percent(float64(max(home-total, total-home))/float64(max(home, total)))
	metres := words.Thousands(int64(d.HomeRun.CableM + 0.5))
	switch {
	case diff > 0:
		p.para("  ", words.Text("summary.home_dearer", home.String(), metres, diff.String(), share))
	case diff < 0:
		p.para("  ", words.Text("summary.home_cheaper", home.String(), metres, (-diff).String(), share))
	default:
		p.para("  ", words.Text("summary.home_same", home.String(), metres))
	}
}

// bound says in words how far the plan can be from the best one.
func (p *page) bound(d *design.Design) {
	s := d.Siting
	gap := q.ToMoney(s.Objective) - q.ToMoney(s.LowerBound)
	switch {
	case s.Objective == 0:
	case s.LowerBound <= 0:
		p.para("  ", words.Text("summary.no_bound"))
	case gap <= 0:
		p.para("  ", words.Text("summary.best"))
	default:
		p.para("  ", words.Text("summary.gap", d.Cost.Currency, gap.String(), percent(s.Gap)))
	}
}

// next says what to do now, as command lines.
func (p *page) next(r *app.PlanResult) {
	p.heading(words.Text("summary.next"))
	cols := []column{{}, {}}
	var rows [][]string
	add := func(what, command string) { rows = append(rows, []string{what, command}) }
	for _, w := range r.Written {
		p.para("  ", w)
	}
	folder := quote(r.Folder)
	errors := r.Design.Findings.HasErrors()
	switch {
	case r.Example:
		add(words.Text("next.demo"), "railwright demo DIR")
	case errors:
		add(words.Text("next.check"), "railwright check "+folder)
		add(words.Text("next.again"), "railwright plan "+folder)
	default:
		add(words.Text("next.check"), "railwright check "+folder)
	}
	if !r.Example && !r.WroteOut {
		add(words.Text("next.out"), "railwright plan "+folder+" --out DIR")
	}
	if !r.Example && !errors && !r.WroteAccepted {
		add(words.Text("next.accept"), "railwright plan "+folder+" --accept")
	}
	if r.Example && !r.WroteOut {
		add(words.Text("next.out"), "railwright plan --example --out DIR")
	}
	p.table("  ", cols, rows)
	p.blank()
	p.para("", words.Text("summary.caution"))
}

// quote prints a path so that a shell takes it as one word.
func quote(path string) string {
	if path == "" || strings.ContainsAny(path, " \t\n\"'\\$`!*?[](){}<>|&;#~") {
		return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
	}
	return path
}
