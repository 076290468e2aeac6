package mate

import (
	"fmt"
	"slices"
	"strings"
)

// mostTries bounds the search of one group of connectors.
const mostTries = 50000

// lock is a connector that has a key: a break, or a device, whose key is what its maker gave it.
type lock struct {
	half  int      // a half of it
	keys  []string // that it can have, its own first
	foes  []int    // locks whose key must be another
	group int
	key   int // chosen
}

// keys finds the fewest changes of key that keep apart whatever would do harm. A pair of one key counts, and so does one that a change would
// bring together.
func (f *finder) keys() {
	k := &f.out.Keys
	k.Proved = true
	locks, of := f.locks()
	for _, p := range f.out.Pairs {
		a, b := of[f.out.Halves[p.First].cut()], of[f.out.Halves[p.Second].cut()]
		if !p.Harmful() || a == b {
			continue
		}
		if !slices.Contains(locks[a].foes, b) {
			locks[a].foes, locks[b].foes = append(locks[a].foes, b), append(locks[b].foes, a)
		}
	}
	for _, group := range groups(locks) {
		s := search{locks: locks, group: group, tries: mostTries, best: -1}
		s.start()
		s.try(0, 0)
		k.Proved = k.Proved && s.tries > 0
		for n, i := range group {
			locks[i].key = s.answer[n]
			if h := &f.out.Halves[locks[i].half]; s.answer[n] != 0 {
				k.Changes = append(k.Changes, KeyChange{h.Break, locks[i].keys[0], locks[i].keys[s.answer[n]]})
			}
		}
	}
	for i, p := range f.out.Pairs {
		a, b := &locks[of[f.out.Halves[p.First].cut()]], &locks[of[f.out.Halves[p.Second].cut()]]
		if p.Harmful() && a.keys[a.key] == b.keys[b.key] {
			k.Left = append(k.Left, i)
			k.Remedy = append(k.Remedy, f.remedy(&f.out.Pairs[i]))
		}
	}
	k.Text = k.words(f)
}

// Harmful tells whether a pair must not go together. Two breaks are in the builder's hand, and any two nets that meet there are wrong. Of a
// device's plug, whose key its maker chose, only what burns, or feeds what is of another kind, counts.
func (p *Pair) Harmful() bool {
	if p.Breaks {
		return p.Worst < Harmless
	}
	return !p.Alike && p.Worst <= WrongFeed
}

func (f *finder) locks() (locks []lock, of map[string]int) {
	of = map[string]int{}
	for i := range f.out.Halves {
		h := &f.out.Halves[i]
		if _, met := of[h.cut()]; met {
			continue
		}
		of[h.cut()] = len(locks)
		l := lock{half: i, keys: []string{h.Key}}
		if part := f.housing[h.Part]; part != nil && h.Break != "" {
			for _, k := range part.Keys {
				if k != h.Key {
					l.keys = append(l.keys, k)
				}
			}
		}
		locks = append(locks, l)
	}
	return locks, of
}

// groups are the locks that hang together by foes, of two and more.
func groups(locks []lock) [][]int {
	var out [][]int
	seen := make([]bool, len(locks))
	for i := range locks {
		if seen[i] || len(locks[i].foes) == 0 {
			continue
		}
		seen[i] = true
		group := []int{i}
		for n := 0; n < len(group); n++ {
			for _, o := range locks[group[n]].foes {
				if !seen[o] {
					seen[o] = true
					group = append(group, o)
				}
			}
		}
		slices.Sort(group)
		out = append(out, group)
	}
	return out
}

// search is a search with bounds: fewest pairs left first, of equals fewest changes, of equals the first found.
type search struct {
	locks  []lock
	group  []int   // those without a choice first, then those with most foes
	before [][]int // by place in the group: the places before it that hold foes
	chosen []int
	answer []int
	best   int // cost of the answer
	tries  int
}

// dear is what a pair left costs in changes.
const dear = 1000

func (s *search) start() {
	slices.SortStableFunc(s.group, func(a, b int) int {
		x, y := &s.locks[a], &s.locks[b]
		if (len(x.keys) == 1) != (len(y.keys) == 1) {
			if len(x.keys) == 1 {
				return -1
			}
			return 1
		}
		return len(y.foes) - len(x.foes)
	})
	s.chosen = make([]int, len(s.group))
	at := map[int]int{}
	for n, i := range s.group {
		at[i] = n
	}
	for n, i := range s.group {
		var list []int
		for _, o := range s.locks[i].foes {
			if at[o] < n {
				list = append(list, at[o])
			}
		}
		slices.Sort(list)
		s.before = append(s.before, list)
	}
}

// try gives the nth lock of the group each key in turn.
func (s *search) try(n, cost int) {
	if s.best >= 0 && cost >= s.best {
		return
	}
	if n == len(s.group) {
		s.best, s.answer = cost, slices.Clone(s.chosen)
		return
	}
	l := &s.locks[s.group[n]]
	for k, key := range l.keys {
		if s.tries--; s.tries <= 0 && s.answer != nil {
			return
		}
		more := min(k, 1)
		for _, m := range s.before[n] {
			if s.locks[s.group[m]].keys[s.chosen[m]] == key {
				more += dear
			}
		}
		s.chosen[n] = k
		s.try(n+1, cost+more)
	}
}

// remedy is what keeps a pair apart that no key does.
func (f *finder) remedy(p *Pair) string {
	a, b := &f.out.Halves[p.First], &f.out.Halves[p.Second]
	other := "take another housing for one of the two"
	if a.Break == "" && b.Break == "" {
		other = "ask the makers for another key or plug"
	}
	if len(a.Held) > 0 {
		return fmt.Sprintf("%s and %s: %s, or clip %s nearer to its place", a.Title, b.Title, other, a.Title)
	}
	return fmt.Sprintf("%s and %s: %s, or clip the tail", a.Title, b.Title, other)
}

func (k *Keys) words(f *finder) string {
	if len(k.Changes) == 0 && len(k.Left) == 0 {
		return "No two connectors in reach of each other that would do harm go together: no key need be changed."
	}
	var give []string
	for _, c := range k.Changes {
		give = append(give, fmt.Sprintf("give %s key %s", c.Break, c.To))
	}
	text := ""
	if len(give) > 0 {
		text = strings.ToUpper(give[0][:1]) + strings.Join(give, ", ")[1:] + ": then no two connectors in reach of each other that would do harm go together"
		if len(k.Left) > 0 {
			text += fmt.Sprintf(", but for %d that no key keeps apart", len(k.Left))
		}
		text += "."
		if !k.Proved {
			text += " Whether fewer changes would do was not proved: there were too many ways to try them all."
		}
		return text
	}
	return fmt.Sprintf("No change of key helps: %d that would do harm go together all the same.", len(k.Left))
}
