package app

import (
	"errors"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/project"
	"railwright/internal/store"
	"railwright/internal/store/merge"
)

// Side decides a conflict; nil or merge.Neither leaves it open.
type Side func(store.Conflict) merge.Side

// MergeParts returns how the parts of a project folder are joined: the list by id and column, choices by
// subject and property, project.toml and hardware.toml line by line. Where both sides accepted a new
// design, theirs stays, since neither is one of the joined list: plan again. Everything else that both
// changed is a conflict as a whole.
func MergeParts(decide Side) store.Merger {
	return func(in store.Three) (store.Parts, []store.Conflict, error) {
		m := merging{decide: decide, in: in}
		list, err := m.lists()
		if err != nil {
			return nil, nil, err
		}
		out, more, err := store.PartByPart(m.in, m.part, m.side)
		if err != nil {
			return nil, nil, err
		}
		for name, p := range list {
			out[name] = p
		}
		return out, append(m.conflicts, more...), nil
	}
}

type merging struct {
	decide    Side
	in        store.Three
	conflicts []store.Conflict
}

func (m *merging) side(c store.Conflict) merge.Side {
	if m.decide == nil {
		return merge.Neither
	}
	return m.decide(c)
}

// of makes a decider for conflicts inside a part.
func (m *merging) of(part string) merge.Decide {
	return func(c merge.Conflict) merge.Side { return m.side(store.Conflict{Part: part, Conflict: c}) }
}

func (m *merging) told(part string, all []merge.Conflict) []store.Conflict {
	var out []store.Conflict
	for _, c := range all {
		sc := store.Conflict{Part: part, Conflict: c}
		sc.Taken = m.side(sc)
		out = append(out, sc)
	}
	return out
}

// lists joins the signal lists if both sides changed them, and takes them out of what is left to do.
// A list that is no plain CSV comes out as signals.csv, as everywhere where the tool writes a list.
func (m *merging) lists() (store.Parts, error) {
	sets := [3]store.Parts{m.in.Base, m.in.Mine, m.in.Theirs}
	var names [3]string
	var hashes [3]store.Hash
	for i, set := range sets {
		names[i] = listName(set)
		hashes[i] = set[names[i]].Hash
	}
	if names[1] == "" || names[2] == "" || hashes[1] == hashes[2] || hashes[1] == hashes[0] || hashes[2] == hashes[0] {
		return nil, nil
	}
	data, err := m.joinRaw(sets, names)
	if errors.Is(err, errNotPlain) {
		data, err = m.joinCells(sets, names)
	}
	if errors.Is(err, errNotPlain) {
		return nil, nil // left to the rule for whole parts
	}
	if err != nil {
		return nil, err
	}
	m.in.Base, m.in.Mine, m.in.Theirs = withoutLists(sets[0]), withoutLists(sets[1]), withoutLists(sets[2])
	return store.Parts{folder.ListFile: store.Content(data)}, nil
}

var errNotPlain = errors.New("not a table that can be joined so")

func withoutLists(p store.Parts) store.Parts {
	out := store.Parts{}
	for name, part := range p {
		if !slices.Contains(folder.ListFiles, name) {
			out[name] = part
		}
	}
	return out
}

// joinRaw joins lists in CSV by their headings as they stand.
func (m *merging) joinRaw(sets [3]store.Parts, names [3]string) ([]byte, error) {
	var tables [3]merge.Table
	var last raw
	for i, set := range sets {
		switch {
		case names[i] == "":
			continue
		case names[i] != folder.ListFile:
			return nil, errNotPlain
		}
		data, err := m.in.Load(set[names[i]])
		if err != nil {
			return nil, err
		}
		r, ok := rawList(data)
		if !ok {
			return nil, errNotPlain
		}
		tables[i], last = r.table(), r
	}
	out, conflicts, _ := merge.Tables(tables[0], tables[1], tables[2], m.of(folder.ListFile))
	m.conflicts = append(m.conflicts, m.told(folder.ListFile, conflicts)...)
	joined := raw{heads: out.Columns, delimiter: last.delimiter}
	for _, r := range out.Rows {
		joined.rows = append(joined.rows, r.Cells)
	}
	return joined.encode()
}

// table makes rows by id, or by tag where a row has no id.
func (r raw) table() merge.Table {
	t := merge.Table{Columns: r.heads}
	for _, row := range r.rows {
		t.Rows = append(t.Rows, merge.Row{ID: rowID(row, r.id, r.tag), Cells: row})
	}
	return t
}

func rowID(row []string, columns ...int) string {
	for _, c := range columns {
		if c >= 0 && strings.TrimSpace(row[c]) != "" {
			return strings.TrimSpace(row[c])
		}
	}
	return ""
}

// joinCells joins lists of any form by the columns that the tool knows.
func (m *merging) joinCells(sets [3]store.Parts, names [3]string) ([]byte, error) {
	var tables [3]merge.Table
	for i, set := range sets {
		if names[i] == "" {
			continue
		}
		files, err := filesOf(store.Parts{folder.ProjectFile: set[folder.ProjectFile], names[i]: set[names[i]]}, func(p store.Part) ([]byte, error) {
			if p.Hash == "" {
				return nil, nil
			}
			return m.in.Load(p)
		})
		if err != nil {
			return nil, err
		}
		f := folder.Parse(files)
		if listUnreadable(f.Findings) {
			return nil, errNotPlain
		}
		tables[i] = cellTable(f.Cells)
	}
	out, conflicts, _ := merge.Tables(tables[0], tables[1], tables[2], m.of(folder.ListFile))
	m.conflicts = append(m.conflicts, m.told(folder.ListFile, conflicts)...)
	names2 := project.ColumnNames()
	rows := make([][]string, len(out.Rows))
	for i, r := range out.Rows {
		rows[i] = make([]string, len(names2))
		for c, name := range out.Columns {
			rows[i][slices.Index(names2, name)] = r.Cells[c]
		}
	}
	data, err := folder.EncodeList(rows)
	if err != nil {
		return nil, broken("write the signal list", err)
	}
	return data, nil
}

// cellTable makes rows by id of a list as read.
func cellTable(cells [][]string) merge.Table {
	names := project.ColumnNames()
	id, tag := slices.Index(names, "id"), slices.Index(names, "tag")
	t := merge.Table{Columns: names}
	for _, r := range cells {
		t.Rows = append(t.Rows, merge.Row{ID: rowID(r, id, tag), Cells: r})
	}
	return t
}

// part joins a part that both sides changed; ok is false where only the whole can be taken.
func (m *merging) part(name string, base, mine, theirs []byte) (content []byte, conflicts []store.Conflict, ok bool, err error) {
	switch name {
	case folder.ChoicesFile:
		b, ok1 := readBlocks(base)
		mi, ok2 := readBlocks(mine)
		th, ok3 := readBlocks(theirs)
		if !ok1 || !ok2 || !ok3 {
			return nil, nil, false, nil
		}
		out, all, _ := merge.Tables(b.table, mi.table, th.table, m.of(name))
		return blocks{th.head, out}.encode(), m.told(name, all), true, nil
	case folder.ProjectFile, folder.HardwareFile:
		out, all, _, ok := merge.Lines(string(base), string(mine), string(theirs), m.of(name))
		if !ok || faultsOf(name, []byte(out)) > max(faultsOf(name, mine), faultsOf(name, theirs)) {
			return nil, nil, false, nil
		}
		return []byte(out), m.told(name, all), true, nil
	case folder.AcceptedFile:
		c := store.Conflict{Part: name, Taken: merge.Theirs}
		c.Mine, c.Theirs = string(store.HashOf(mine)[:12]), string(store.HashOf(theirs)[:12])
		return theirs, []store.Conflict{c}, true, nil
	}
	return nil, nil, false, nil
}

// faultsOf counts the error findings of project.toml or hardware.toml by themselves.
func faultsOf(name string, data []byte) int {
	s := newSource("", folder.Parse(folder.Files{name: data}))
	n := 0
	for _, f := range s.findings {
		if f.Severity == finding.Error && f.Where != nil && f.Where.File == name {
			n++
		}
	}
	return n
}
