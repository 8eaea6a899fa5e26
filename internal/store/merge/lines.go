package merge

import (
	"fmt"
	"slices"
	"strings"
)

// mostCells is how large the table of a comparison of two texts may grow.
const mostCells = 25_000_000

// Lines joins texts line by line: runs of lines that one side changed are taken, of runs that both
// changed differently decide says whose is right. Runs count as apart if an unchanged line stands
// between them. A conflict's ID tells the lines of base ("lines 3-5"), its texts the three runs. Of
// conflicts that are left open the lines of theirs stand in the result. ok is false where the texts are
// too long to be compared.
func Lines(base, mine, theirs string, decide Decide) (out string, all []Conflict, open int, ok bool) {
	b, m, t := split(base), split(mine), split(theirs)
	toMine, ok1 := match(b, m)
	toTheirs, ok2 := match(b, t)
	if !ok1 || !ok2 {
		return theirs, nil, 0, false
	}
	var result strings.Builder
	i, j, k := 0, 0, 0
	for i <= len(b) {
		end, mEnd, tEnd := len(b), len(m), len(t) // up to the next line that all three have
		for n := i; n < len(b); n++ {
			if toMine[n] >= 0 && toTheirs[n] >= 0 {
				end, mEnd, tEnd = n, toMine[n], toTheirs[n]
				break
			}
		}
		take := t[k:tEnd]
		switch {
		case slices.Equal(m[j:mEnd], t[k:tEnd]) || slices.Equal(m[j:mEnd], b[i:end]):
		case slices.Equal(t[k:tEnd], b[i:end]):
			take = m[j:mEnd]
		default:
			c := Conflict{ID: spot(i, end), Base: strings.Join(b[i:end], ""), Mine: strings.Join(m[j:mEnd], ""), Theirs: strings.Join(take, "")}
			right := Neither
			if decide != nil {
				right = decide(c)
			}
			if all = append(all, c); right == Neither {
				open++
			} else if right == Mine {
				take = m[j:mEnd]
			}
		}
		for _, l := range take {
			result.WriteString(l)
		}
		if end < len(b) {
			result.WriteString(b[end])
		}
		i, j, k = end+1, mEnd+1, tEnd+1
	}
	return result.String(), all, open, true
}

// split cuts a text into lines with their ends.
func split(s string) []string {
	lines := strings.SplitAfter(s, "\n")
	if lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	return lines
}

func spot(from, end int) string {
	switch end - from {
	case 0:
		return fmt.Sprintf("after line %d", from)
	case 1:
		return fmt.Sprintf("line %d", from+1)
	}
	return fmt.Sprintf("lines %d-%d", from+1, end)
}

// match finds the longest common subsequence: for each line of a the line of b that it is, or -1.
func match(a, b []string) ([]int, bool) {
	to := make([]int, len(a))
	for i := range to {
		to[i] = -1
	}
	head := 0
	for head < len(a) && head < len(b) && a[head] == b[head] {
		to[head] = head
		head++
	}
	tail := 0
	for tail < len(a)-head && tail < len(b)-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		to[len(a)-1-tail] = len(b) - 1 - tail
		tail++
	}
	x, y := a[head:len(a)-tail], b[head:len(b)-tail]
	if len(x)*len(y) > mostCells {
		return nil, false
	}
	w := len(y) + 1
	best := make([]int32, (len(x)+1)*w) // of x[i:] and y[j:]
	for i := len(x) - 1; i >= 0; i-- {
		for j := len(y) - 1; j >= 0; j-- {
			if x[i] == y[j] {
				best[i*w+j] = best[(i+1)*w+j+1] + 1
			} else {
				best[i*w+j] = max(best[(i+1)*w+j], best[i*w+j+1])
			}
		}
	}
	for i, j := 0, 0; i < len(x) && j < len(y); {
		switch {
		case x[i] == y[j]:
			to[head+i] = head + j
			i, j = i+1, j+1
		case best[(i+1)*w+j] >= best[i*w+j+1]:
			i++
		default:
			j++
		}
	}
	return to, true
}
