package tomltree

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"railwright/internal/finding"
)

// expression puts one header or key line into the tree and returns an offset on its last line.
func (b *builder) expression(e *unstable.Node) int {
	switch e.Kind {
	case unstable.Table, unstable.ArrayTable:
		keys, at, end := b.key(e.Key())
		b.current = b.header(keys, at, e.Kind == unstable.ArrayTable)
		return end
	case unstable.KeyValue:
		b.keyValue(b.current, e, 0)
		return b.base + int(e.Raw.Offset+e.Raw.Length)
	}
	return 0
}

// key returns the parts of a dotted key, the spot of the first and the offset behind the last.
func (b *builder) key(it unstable.Iterator) (keys []string, at pos, end int) {
	for it.Next() {
		raw := it.Node().Raw
		if keys == nil {
			at = b.doc.pos(b.base + int(raw.Offset))
		}
		end = b.base + int(raw.Offset+raw.Length)
		keys = append(keys, string(it.Node().Data))
	}
	return keys, at, end
}

func (b *builder) twice(name string, at, first pos) {
	b.doc.report(7, finding.Error, b.current.subject, at, fmt.Sprintf("%s stands here a second time (first in line %d)", name, first.line),
		"Keep one of the two.")
}

// header finds or makes the table that a [name] or [[name]] line opens.
func (b *builder) header(keys []string, at pos, list bool) *node {
	n := b.doc.root
	path := ""
	for _, k := range keys[:len(keys)-1] {
		path = join(path, k)
		c := n.byKey[k]
		switch {
		case c == nil:
			c = n.add(newTable(k, at))
		case c.kind == tables:
			c = c.items[len(c.items)-1]
		case c.kind != table || c.closed:
			b.twice(path, at, c.keyAt)
			return newTable(path, at)
		}
		n = c
	}
	last := keys[len(keys)-1]
	path = join(path, last)
	c := n.byKey[last]
	switch {
	case list && c == nil:
		c = n.add(&node{key: last, kind: tables, keyAt: at, at: at})
		fallthrough
	case list && c.kind == tables:
		item := newTable(last, at)
		item.explicit = true
		c.items = append(c.items, item)
		return item
	case c == nil:
		c = n.add(newTable(last, at))
	case list || c.kind == tables:
		b.twice(fmt.Sprintf("%s (once as [%s], once as [[%s]])", path, path, path), at, c.keyAt)
		return newTable(last, at)
	case c.kind != table || c.closed:
		b.twice(path, at, c.keyAt)
		return newTable(last, at)
	case c.explicit || c.dotted:
		b.twice("["+path+"]", at, c.keyAt) // its keys are read into the first one
	default:
		c.keyAt, c.at = at, at
	}
	c.explicit = true
	return c
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// keyValue adds "a.b = value" to a table.
func (b *builder) keyValue(to *node, e *unstable.Node, depth int) {
	keys, at, _ := b.key(e.Key())
	for _, k := range keys[:len(keys)-1] {
		c := to.byKey[k]
		if c == nil {
			c = to.add(newTable(k, at))
			c.dotted = true
		} else if c.kind != table || !c.dotted {
			b.twice(strings.Join(keys, "."), at, c.keyAt)
			return
		}
		to = c
	}
	last := keys[len(keys)-1]
	if c := to.byKey[last]; c != nil {
		b.twice(strings.Join(keys, "."), at, c.keyAt)
		return
	}
	n := b.value(e.Value(), at, depth)
	n.key, n.keyAt = last, at
	to.add(n)
}

// value turns a parsed value into a node; fallback is its spot where the parser keeps none.
func (b *builder) value(v *unstable.Node, fallback pos, depth int) *node {
	n := &node{at: fallback, text: string(v.Data)}
	if v.Raw.Length > 0 {
		n.at = b.doc.pos(b.base + int(v.Raw.Offset))
	}
	if depth > maxDepth {
		b.doc.report(1, finding.Error, b.current.subject, n.at, fmt.Sprintf("lists and tables are nested more than %d deep", maxDepth), "Write it flatter.")
		n.kind = faulty
		return n
	}
	switch v.Kind {
	case unstable.String:
		n.kind = text
	case unstable.Bool:
		n.kind = boolean
	case unstable.Integer:
		n.kind = integer
	case unstable.Float:
		n.kind = decimal
	case unstable.Array:
		n.kind = array
		for it := v.Children(); it.Next(); {
			n.items = append(n.items, b.value(it.Node(), fallback, depth+1))
		}
	case unstable.InlineTable:
		n.kind, n.closed, n.byKey = table, true, map[string]*node{}
		for it := v.Children(); it.Next(); {
			b.keyValue(n, it.Node(), depth+1)
		}
	default:
		n.kind = date
	}
	return n
}
