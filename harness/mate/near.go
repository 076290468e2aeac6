package mate

import (
	"cmp"
	"math"
	"slices"
)

// shelf is the halves of one part by how far aft they are held, so that those which a tail may reach stand together.
type shelf struct {
	at      []berth // by x
	longest float64 // of their tails
	loose   []int   // what nothing holds, or holds nowhere: it may come anywhere
}

// berth is what a half cannot get further from than its tail is long.
type berth struct {
	half    int
	x, tail float64 // mm
}

// berthOf is the first place that holds a half; ok is false if it may come anywhere.
func berthOf(i int, h *Half) (b berth, ok bool) {
	b = berth{half: i, x: float64(h.At.X)}
	if h.Free {
		if len(h.Held) == 0 {
			return b, false
		}
		b.x, b.tail = float64(h.Held[0].At.X), float64(h.Held[0].Tail)
	}
	return b, !math.IsNaN(b.x+b.tail) && !math.IsInf(b.x+b.tail, 0)
}

// shelves sorts halves by their parts.
func shelves(hs []Half) map[string]*shelf {
	out := map[string]*shelf{}
	for i := range hs {
		s := out[hs[i].Part]
		if s == nil {
			s = &shelf{}
			out[hs[i].Part] = s
		}
		if b, ok := berthOf(i, &hs[i]); ok {
			s.at, s.longest = append(s.at, b), max(s.longest, b.tail)
		} else {
			s.loose = append(s.loose, i)
		}
	}
	for _, s := range out {
		slices.SortStableFunc(s.at, func(a, b berth) int { return cmp.Compare(a.x, b.x) })
	}
	return out
}

// reachable adds all halves of a part that a half may come to, and some that it may not: what is further aft or forward than both tails together is
// out of reach however it lies besides.
func (s *shelf) reachable(out []int, i int, h *Half) []int {
	if s == nil {
		return out
	}
	out = append(out, s.loose...)
	b, ok := berthOf(i, h)
	if !ok {
		for _, o := range s.at {
			out = append(out, o.half)
		}
		return out
	}
	const rounding = 1e-3 // mm
	far := b.tail + s.longest + rounding + 1e-9*math.Abs(b.x)
	from, _ := slices.BinarySearchFunc(s.at, b.x-far, func(o berth, x float64) int { return cmp.Compare(o.x, x) })
	for _, o := range s.at[from:] {
		if o.x > b.x+far {
			break
		}
		if math.Abs(o.x-b.x) <= b.tail+o.tail+rounding+1e-9*math.Abs(b.x) {
			out = append(out, o.half)
		}
	}
	return out
}

// fitting is the parts whose halves go into those of each part: its own, and what it or the other says it mates with.
func (f *finder) fitting(shelves map[string]*shelf) map[string][]string {
	out := map[string][]string{}
	add := func(a, b string) {
		if shelves[a] != nil && shelves[b] != nil && !slices.Contains(out[a], b) {
			out[a] = append(out[a], b)
		}
	}
	for _, h := range f.job.Parts.Housings {
		if f.housing[h.Name] != h {
			continue
		}
		for _, m := range h.Mates {
			add(h.Name, m)
			add(m, h.Name)
		}
	}
	for i := range f.out.Halves {
		p := f.out.Halves[i].Part
		add(p, p)
	}
	return out
}
