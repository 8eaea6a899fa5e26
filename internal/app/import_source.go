package app

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/words"
)

// source settles under which name the list is known, and reads what is kept of it: what it said last,
// and how its columns are read. A file that is called like an earlier one but for a revision or a
// date is a later issue of it.
func (m *Import) source() error {
	var known []string
	if m.folder != nil {
		var err error
		if known, err = folder.Sources(m.Into); err != nil {
			return broken(words.Text("app.cannot_read", filepath.Join(m.Into, folder.ImportsDir)), err)
		}
	}
	given := m.Source != ""
	if given {
		if m.Source = sourceName(m.Source); m.Source == "" {
			return usage(words.Text("import.bad_source"))
		}
	} else {
		m.Source = sourceName(withoutIssue(strings.TrimSuffix(m.File, filepath.Ext(m.File))))
		if m.Source == "" {
			m.Source = "list"
		}
	}
	if !slices.Contains(known, m.Source) {
		return nil
	}
	columns, found, err := folder.ReadColumnMap(m.Into, m.Source)
	if err != nil {
		return broken(words.Text("app.cannot_read", filepath.Join(m.Into, folder.ImportsDir)), err)
	}
	m.known, m.columns = true, columns
	m.Findings = append(m.Findings, found...)
	m.guessed = !given
	return nil
}

// past reads what the source said last. It comes after the list, whose rows need the room before.
func (m *Import) past() error {
	if !m.known {
		return nil
	}
	var err error
	if m.base, err = folder.ReadBase(m.Into, m.Source); err != nil {
		return broken(words.Text("app.cannot_read", filepath.Join(m.Into, folder.ImportsDir)), err)
	}
	return nil
}

// laterIssue says that the list was taken for a later issue of a source by its name alone.
func (m *Import) laterIssue() {
	if m.guessed && !m.Result.Ours {
		m.Findings = append(m.Findings, finding.Finding{
			Rule: "IMP-015", Severity: finding.Info, Subject: "project", Where: &finding.Where{File: m.File},
			Message: words.Text("import.later_issue", m.Source), Figures: map[string]finding.Figure{"confidence": {Value: 0.9}},
		})
	}
}

var (
	// What tells issues of one list apart: "rev B", "v2", "Index 3", dates, "(1)", "final", "copy".
	reIssue = regexp.MustCompile(`(?i)[\s._()-]*(?:\(\d+\)|\b(?:rev|revision|ver|version|v|issue|index|ausgabe|stand|indice|r)[\s._-]*(?:[a-z]?\d{1,3}(?:\.\d+)*[a-z]?|[a-z])|\b\d{4}[-_.]?\d{2}[-_.]?\d{2}|\b\d{2}[-_.]\d{2}[-_.]\d{2,4}|\b(?:final|copy|kopie|copie|copia|new|neu|updated|commented|marked))$`)
	reSlug  = regexp.MustCompile(`[^a-z0-9_]+`)
)

// withoutIssue takes revision and date off the end of a file's name.
func withoutIssue(name string) string {
	name = strings.ReplaceAll(name, "_", " ")
	for {
		shorter := strings.TrimRight(reIssue.ReplaceAllString(name, ""), " ._-(")
		if shorter == "" || shorter == name {
			return name
		}
		name = shorter
	}
}

// sourceName makes a name for files: small letters, digits and hyphens.
func sourceName(s string) string {
	s = strings.Trim(reSlug.ReplaceAllString(strings.ToLower(s), "-"), "-")
	if len(s) > 60 {
		s = strings.Trim(s[:60], "-")
	}
	return s
}
