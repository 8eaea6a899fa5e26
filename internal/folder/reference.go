package folder

import (
	"fmt"
	"strconv"
	"strings"

	"railwright/internal/project"
	"railwright/internal/tomltree"
)

// Reference returns every key and column with unit, default and limits as Markdown: the second part
// of docs/project-folder.md.
func Reference() string {
	var b strings.Builder
	b.WriteString("## project.toml: every key\n\nA key that is left out has its default. A number stands without quotes and without its unit, which is\nin the key's name. An unknown key is an error, so that a slip of the pen cannot leave a default in force.\n")
	for _, s := range Sections() {
		fmt.Fprintf(&b, "\n### %s\n\n%s\n\n", code(s.Header), s.Doc)
		table(&b, "key", "unit", "default", "limits", "meaning")
		for _, k := range s.Keys {
			tableRow(&b, code(k.Name), k.Unit, orDash(k.Default), k.Limits, k.Doc)
		}
	}
	b.WriteString("\n### What choices can decide\n\n")
	table(&b, "subject", "property", "value", "meaning")
	for _, p := range properties {
		id := "ID"
		if p.subject == "part" {
			id = "CODE"
		}
		tableRow(&b, code(p.subject+":"+id), code(p.name), p.value, p.doc)
	}
	b.WriteString("\n## The signal list: every column\n\nColumns marked * must be there and filled. The order of columns is free.\n\n")
	table(&b, "column", "unit", "empty means", "limits", "meaning")
	for _, c := range project.Columns() {
		name, limits, def := code(c.Name), c.Limits(), c.Default
		if c.Required {
			name, def = name+" *", "an error"
		}
		if c.Name == "form" || c.Name == "sensor" {
			limits = "see below"
		}
		tableRow(&b, name, c.Unit, def, limits, c.Doc)
	}
	forms(&b)
	rules(&b)
	return b.String()
}

func forms(b *strings.Builder) {
	b.WriteString("\n### Forms and sensing elements\n\nThe first form of a kind is taken where the list says none; the first number of conductors is the usual one.\n\n")
	table(b, "kind", "form", "conductors", "sensing elements")
	for _, k := range project.Kinds {
		for _, f := range project.Forms[k] {
			var wires []string
			for _, n := range project.WiresAllowed(k, f) {
				wires = append(wires, strconv.Itoa(n))
			}
			tableRow(b, string(k), code(f), strings.Join(wires, ", "), orDash(strings.Join(project.Sensors[k], ", ")))
		}
	}
}

func rules(b *strings.Builder) {
	b.WriteString("\n## What reading can find\n\nCodes are permanent. `hardware.toml` has the first seven too, as `HW-001` to `HW-007`.\n\n")
	table(b, "code", "finding", "what it means")
	for _, r := range tomltree.Rules {
		tableRow(b, code(fmt.Sprintf("PRJ-%03d", r.Number)), r.Title, r.Text)
	}
	for _, r := range Rules {
		tableRow(b, code(r.Code), r.Title, r.Text)
	}
	for _, r := range project.ListRules {
		tableRow(b, code(r.Code), r.Title, r.Text)
	}
}

func code(s string) string { return "`" + s + "`" }

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

func table(b *strings.Builder, heads ...string) {
	tableRow(b, heads...)
	b.WriteString("|" + strings.Repeat("---|", len(heads)) + "\n")
}

func tableRow(b *strings.Builder, cells ...string) {
	for _, c := range cells {
		b.WriteString("| " + strings.ReplaceAll(c, "|", "\\|") + " ")
	}
	b.WriteString("|\n")
}
