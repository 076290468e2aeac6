package clip

import (
	"cmp"
	"slices"
)

// answer adds the clips outside their tracks and takes stock: misses and sums are read off the places, not from the search.
func (jb *job) answer(places [][]Place) Answer {
	out := Answer{Exact: jb.exact}
	for k, t := range jb.tracks {
		capped := jb.capped[k]
		var all []Place
		for i, g := range t.Given {
			if capped != "" || g < 0 || g > t.Length {
				p := Place{At: g, Seat: jb.taken[k][i], Given: true, With: -1}
				p.New = p.Seat < 0 && !slices.ContainsFunc(t.NoHole, func(r Range) bool { return r.From <= g && g <= r.To })
				all = append(all, p)
			}
		}
		all = append(all, places[k]...)
		slices.SortStableFunc(all, func(a, b Place) int { return cmp.Compare(a.At, b.At) })
		out.Places = append(out.Places, all)
		out.Clips += len(all)
		if capped != "" {
			out.Misses = append(out.Misses, Miss{Track: k, Kind: KindCap, What: capped, Range: Range{0, t.Length}, Count: 1})
			out.Exact = false
			continue
		}
		misses, uneven := t.misses(k, places[k])
		out.Misses = append(out.Misses, misses...)
		out.Uneven += uneven
	}
	for _, m := range out.Misses {
		out.Missed += m.Count
		out.Overrun += int64(m.Over)
	}
	half := 0
	for _, ps := range out.Places {
		for _, p := range ps {
			if p.New && p.With >= 0 {
				half++
			} else if p.New {
				out.NewHoles++
			}
		}
	}
	out.NewHoles += half / 2
	return out
}

// misses is what the clips of a track do not meet, in order along it; windows last, in their order.
func (t *Track) misses(k int, places []Place) (out []Miss, uneven int64) {
	add := func(kind Kind, what string, from, to, most, count, over int) {
		out = append(out, Miss{Track: k, Kind: kind, What: what, Range: Range{from, to}, Most: most, Count: count, Over: over})
	}
	ends := [2]Range{{0, t.Length}, {0, t.Length}}
	if n := len(places); n > 0 {
		ends = [2]Range{{0, places[0].At}, {places[n-1].At, t.Length}}
	}
	most := t.leastMost()
	end := func(n int) {
		e := t.Ends[n]
		if d := ends[n].To - ends[n].From; e > 0 {
			if d > e || len(places) == 0 {
				add(KindEnd, "end", ends[n].From, ends[n].To, e, int(lacks(d, slices.Min(most[ends[n].From:ends[n].To+1]))), max(d-e, 0))
			}
			if len(places) > 0 {
				uneven += int64(d) * int64(d)
			}
		}
	}
	end(0)
	for i := 1; i < len(places); i++ {
		from, to := places[i-1].At, places[i].At
		d := to - from
		uneven += int64(d) * int64(d)
		if m := int(slices.Min(most[from : to+1])); d > m {
			add(KindSpan, "span", from, to, m, (d-1)/m, d-m)
		}
	}
	end(1)
	for _, w := range t.Windows {
		from, to, ok := t.inside(w.Range)
		near := t.Length
		if !ok || w.From > w.To {
			near = 0 // no clip can be in it, and none is nearer for the better
		}
		for _, p := range places {
			near = min(near, max(from-p.At, p.At-to))
		}
		if near > 0 || !ok || w.From > w.To || len(places) == 0 {
			add(KindWindow, w.Why, w.From, w.To, 0, 1, max(near, 0))
		}
	}
	return out, uneven
}
