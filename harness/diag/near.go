package diag

import (
	"cmp"
	"slices"
	"strings"
)

// Nearest picks from names at most four that a person may have meant by word, nearest first: same but for case, one or two
// letters added, dropped, changed or swapped, or one the beginning of the other.
func Nearest(word string, names []string) []string {
	type hit struct {
		name string
		d    int
	}
	most := 1 + len([]rune(word))/4
	var hits []hit
	seen := map[string]bool{}
	for _, n := range names {
		if seen[n] || n == "" {
			continue
		}
		seen[n] = true
		d := distance(strings.ToLower(word), strings.ToLower(n), most)
		if d > most && len(word) >= 3 && (strings.HasPrefix(n, word) || strings.HasPrefix(word, n) && len(n) >= 3) {
			d = most
		}
		if d <= most && n != word {
			hits = append(hits, hit{n, d})
		}
	}
	slices.SortFunc(hits, func(a, b hit) int { return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.name, b.name)) })
	var out []string
	for _, h := range hits {
		if len(out) < 4 {
			out = append(out, h.name)
		}
	}
	return out
}

// distance is the optimal string alignment distance, cut short at most+1.
func distance(a, b string, most int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) > most || len(y)-len(x) > most {
		return most + 1
	}
	prev2, prev, cur := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(x); i++ {
		cur[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(y)]
}
