package main

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/words"
)

// What the summary shows in full: so many errors of one rule, and so many rules.
const (
	mostShown = 5
	mostRules = 10
)

// lookAt is the summary's view of the findings: errors and warnings by rule with the first of each
// in full, infos only counted.
func (p *page) lookAt(all finding.List) {
	e, w, i := all.Count(finding.Error), all.Count(finding.Warning), all.Count(finding.Info)
	p.heading(words.Text("summary.look"))
	if e == 0 && w == 0 {
		if i == 0 {
			p.para("  ", words.Text("summary.nothing"))
		} else {
			p.para("  ", words.Text("summary.only_infos", words.Count(i, "assumption")))
		}
		return
	}
	p.para("  ", words.Sentence(words.Text("summary.counts", words.Count(e, "error"), words.Count(w, "warning"), words.Count(i, "info"))))
	p.blank()
	rules := slices.DeleteFunc(byRule(all), func(r finding.List) bool { return r[0].Severity == finding.Info })
	for i, r := range rules {
		if i == mostRules {
			p.para("  ", words.Text("summary.more_rules", words.Count(len(rules)-mostRules, "rule")))
			break
		}
		p.rule(r)
	}
}

// byRule groups sorted findings by severity and rule, in their order.
func byRule(all finding.List) []finding.List {
	var groups []finding.List
	for _, f := range all {
		if n := len(groups); n > 0 && groups[n-1][0].Rule == f.Rule && groups[n-1][0].Severity == f.Severity {
			groups[n-1] = append(groups[n-1], f)
			continue
		}
		groups = append(groups, finding.List{f})
	}
	return groups
}

// rule shows the findings of one rule: for errors the first few, for warnings one and a count.
func (p *page) rule(fs finding.List) {
	show := 1
	if fs[0].Severity == finding.Error {
		show = mostShown
	}
	for i, f := range fs {
		if i == show {
			p.para("           ", words.Text("summary.more_like", words.Thousands(int64(len(fs)-i)), f.Rule))
			break
		}
		if i > 0 && f.Remedy.Text == fs[i-1].Remedy.Text {
			f.Remedy.Text = "" // said already
		}
		p.finding(f)
	}
}

// finding shows one finding: severity, rule, where, what, how to mend it.
func (p *page) finding(f finding.Finding) {
	word := fmt.Sprintf("%-7s", f.Severity)
	at := f.Subject
	if f.Where != nil {
		at = f.Where.String()
	}
	p.hanging("  "+p.paint(colourOf(f.Severity), word)+"  ", 11, f.Rule+"  "+at)
	p.para("           ", f.Message)
	if f.Remedy.Text != "" {
		p.para("           ", f.Remedy.Text)
	}
}

// everyFinding is the full list of the check command.
func (p *page) everyFinding(all finding.List) {
	for _, f := range all {
		p.finding(f)
	}
}

// notPlaced lists the signals that the design does not serve, by reason.
func (p *page) notPlaced(lost []design.Unplaced) {
	if len(lost) == 0 {
		return
	}
	p.heading(words.Text("summary.unplaced", words.Count(len(lost), "signal")))
	tags := map[string][]string{}
	var reasons []string
	for _, u := range lost {
		name, why := u.Tag, u.Why
		if name == "" {
			name = u.Signal
		}
		if u.Proof == "row" && u.Where != "" {
			name += " (" + u.Where + ")"
		}
		if tags[why] == nil {
			reasons = append(reasons, why)
		}
		tags[why] = append(tags[why], name)
	}
	for i, why := range reasons {
		if i == mostRules {
			p.para("  ", words.Text("summary.more_reasons", words.Count(len(reasons)-mostRules, "reason")))
			break
		}
		names := tags[why]
		text := strings.Join(names[:min(len(names), 2*mostShown)], ", ")
		if more := len(names) - 2*mostShown; more > 0 {
			text = words.Text("summary.and_more", text, words.Thousands(int64(more)))
		}
		p.hanging("  ", 4, text+": "+why)
	}
}
