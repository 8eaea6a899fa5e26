package drawing

import (
	"cmp"
	"slices"
)

// treeNode is a place in the tree of shortest hops from the controller.
type treeNode struct {
	node     *siteNode
	children []*treeNode
	leaves   int
	cut      bool // shown on a sheet of its own
}

// siteTree grows the tree breadth first, neighbours in the order of their ids; places that no route reaches
// hang on the root.
func (s *sitePlan) siteTree() *treeNode {
	start := s.nodes[0]
	for _, n := range s.nodes {
		if n.place.Controller {
			start = n
		}
	}
	next := map[*siteNode][]*siteNode{}
	for _, w := range s.ways {
		next[w.from] = append(next[w.from], w.to)
		next[w.to] = append(next[w.to], w.from)
	}
	root := &treeNode{node: start}
	at := map[*siteNode]*treeNode{start: root}
	for queue := []*treeNode{root}; len(queue) > 0; queue = queue[1:] {
		t := queue[0]
		near := next[t.node]
		slices.SortFunc(near, func(a, b *siteNode) int { return cmp.Compare(a.place.ID, b.place.ID) })
		for _, n := range near {
			if at[n] == nil {
				at[n] = &treeNode{node: n}
				t.children = append(t.children, at[n])
				queue = append(queue, at[n])
			}
		}
	}
	for _, n := range s.nodes {
		if at[n] == nil {
			at[n] = &treeNode{node: n}
			root.children = append(root.children, at[n])
		}
	}
	return root
}

// rows counts the leaves of a tree, depth its levels.
func (t *treeNode) rows() int {
	n := 0
	for _, c := range t.children {
		n += c.rows()
	}
	return max(n, 1)
}

func (t *treeNode) depth() int {
	n := 0
	for _, c := range t.children {
		n = max(n, c.depth())
	}
	return n + 1
}

// treeSheet is a part of the tree that goes on one sheet: a root with some of its children.
type treeSheet struct {
	root     *treeNode
	children []*treeNode
}

// treeSheets cuts the tree into sheets of at most so many rows and columns.
func treeSheets(root *treeNode, rows, columns int) []treeSheet {
	var out []treeSheet
	queue := []*treeNode{root}
	for len(queue) > 0 {
		r := queue[0]
		queue = queue[1:]
		for _, c := range r.children {
			queue = append(queue, prune(c, rows, columns-1)...)
		}
		now := treeSheet{root: r}
		used := 0
		for _, c := range r.children {
			if used+c.leaves > rows && used > 0 {
				out = append(out, now)
				now, used = treeSheet{root: r}, 0
			}
			now.children = append(now.children, c)
			used += c.leaves
		}
		out = append(out, now)
	}
	return out
}

// prune counts the leaves of a subtree and cuts off, largest first, what a sheet does not hold; it returns
// the roots of what it cut.
func prune(t *treeNode, rows, columns int) (cut []*treeNode) {
	if t.cut {
		return nil
	}
	if columns <= 1 && len(t.children) > 0 {
		t.cut, t.leaves = true, 1
		return []*treeNode{t}
	}
	t.leaves = 0
	for _, c := range t.children {
		cut = append(cut, prune(c, rows, columns-1)...)
		t.leaves += c.leaves
	}
	t.leaves = max(t.leaves, 1)
	for t.leaves > rows {
		largest := t.children[0]
		for _, c := range t.children {
			if c.leaves > largest.leaves {
				largest = c
			}
		}
		if largest.leaves == 1 {
			t.cut, t.leaves = true, 1
			return append(cut, t)
		}
		t.leaves -= largest.leaves - 1
		largest.cut, largest.leaves = true, 1
		cut = append(cut, largest)
	}
	return cut
}

// siteTrees draws the site as a tree of routes, on as many sheets as it needs.
func (b *book) siteTrees(s *sitePlan) {
	area := b.free(siteLegend).Below(siteHead + 1)
	area.H -= turnRow
	root := s.siteTree()
	var sheets []treeSheet
	var pitchX, pitchY float64
	for i, size := range boxSizes[:3] {
		s.measure(size.w, size.h)
		tallest := 0.0
		for _, n := range s.nodes {
			tallest = max(tallest, n.size.H)
		}
		pitchY, pitchX = tallest+3, size.w+22
		root = s.siteTree()
		sheets = treeSheets(root, max(int((area.H+3)/pitchY), 1), max(int((area.W+20)/pitchX), 2))
		if len(sheets) == 1 && i < 2 {
			break
		}
	}
	if len(sheets) == 1 { // room to breathe
		pitchY = min((area.H+3)/float64(max(root.rows(), 1)), 2.5*pitchY)
		pitchX = min((area.W+20)/float64(root.depth()), 1.6*pitchX)
	}
	first := map[*treeNode]int{}
	for i, sh := range sheets {
		if _, seen := first[sh.root]; !seen {
			first[sh.root] = i + 1
		}
	}
	for i, sh := range sheets {
		var nodes []*siteNode
		row := 0
		var lay func(t *treeNode, depth int, children []*treeNode) float64
		lay = func(t *treeNode, depth int, children []*treeNode) float64 {
			nodes = append(nodes, t.node)
			top := row
			sum := 0.0
			for _, c := range children {
				below := c.children
				if c.cut {
					below = nil
				}
				sum += lay(c, depth+1, below)
			}
			y := area.Y + pitchY*float64(top)
			if len(children) > 0 {
				y = sum / float64(len(children))
			} else {
				row++
			}
			t.node.size.X, t.node.size.Y = grid(area.X+pitchX*float64(depth)+1), grid(y)
			t.node.stub = ""
			if t.cut && t != sh.root {
				t.node.stub = more("site", first[t])
			}
			return y
		}
		lay(sh.root, 0, sh.children)
		back := ""
		if i > 0 {
			back = more("site", b.shownBefore(sheets, i))
		}
		b.siteSheet(s, i+1, nodes, back, true)
	}
}

// shownBefore is the number of the sheet on which a sheet's root stands as well.
func (b *book) shownBefore(sheets []treeSheet, i int) int {
	for k := range i {
		if holds(sheets[k].children, sheets[i].root) || sheets[k].root == sheets[i].root {
			return k + 1
		}
	}
	return 1
}

func holds(children []*treeNode, t *treeNode) bool {
	for _, c := range children {
		if c == t || !c.cut && holds(c.children, t) {
			return true
		}
	}
	return false
}
