package finding

import (
	"strings"
	"unicode/utf8"
)

// Nearest returns the candidate that a mistyped word most likely means, for "did you mean". Case,
// blanks, hyphens and underscores do not count; otherwise one slip in each three letters (at most
// three) is forgiven, so none in words of one or two. Of equally near ones the first wins. It reports false where nothing is near.
func Nearest(word string, candidates []string) (string, bool) {
	w := fold(word)
	if w == "" || len(w) > 80 {
		return "", false
	}
	best, bestAt := min(3, utf8.RuneCountInString(w)/3)+1, ""
	for _, c := range candidates {
		if d := slips(w, fold(c), best); d < best {
			best, bestAt = d, c
		}
	}
	return bestAt, bestAt != ""
}

func fold(s string) string {
	return strings.ToLower(strings.NewReplacer("_", "", "-", "", " ", "").Replace(strings.TrimSpace(s)))
}

// slips counts letters to insert, drop, change or swap with the neighbour (optimal string
// alignment), giving up at limit.
func slips(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if d := len(x) - len(y); d >= limit || -d >= limit {
		return limit
	}
	before, row := make([]int, len(y)+1), make([]int, len(y)+1)
	next := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(x); i++ {
		next[0] = i
		for j := 1; j <= len(y); j++ {
			change := row[j-1]
			if x[i-1] != y[j-1] {
				change++
			}
			next[j] = min(change, row[j]+1, next[j-1]+1)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
		}
		before, row, next = row, next, before
	}
	return min(row[len(y)], limit)
}
