package fix

import "loomsheet/harness/clip"

type stubCost [4]int64

func (a stubCost) less(b stubCost) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

func stubSolve(p *clip.Problem) *clip.Answer {
	a := &clip.Answer{}
	for i := range p.Tracks {
		t := &p.Tracks[i]
		n := t.Length + 1
		open, isNew, given := make([]bool, n), make([]bool, n), make([]bool, n)
		seat := make([]int, n)
		most := make([]int, n)
		for x := range n {
			open[x], isNew[x], seat[x], most[x] = true, true, -1, 1<<40
		}
		mark := func(r []clip.Range, f func(x int)) {
			for _, r := range r {
				for x := max(0, r.From); x <= min(n-1, r.To); x++ {
					f(x)
				}
			}
		}
		mark(t.NewShut, func(x int) { open[x] = false })
		mark(t.NoHole, func(x int) { open[x], isNew[x] = true, false })
		for k, s := range t.Seats {
			open[s.At], isNew[s.At], seat[s.At] = true, false, k
		}
		mark(t.Closed, func(x int) { open[x] = false })
		for _, s := range t.Spans {
			mark([]clip.Range{s.Range}, func(x int) { most[x] = min(most[x], s.Most) })
		}
		for _, g := range t.Given {
			open[g], given[g], isNew[g] = true, true, false
		}
		windows := append([]clip.Window{}, t.Windows...)
		if t.Ends[0] > 0 {
			windows = append(windows, clip.Window{Range: clip.Range{From: 0, To: t.Ends[0]}})
		}
		if t.Ends[1] > 0 {
			windows = append(windows, clip.Window{Range: clip.Range{From: t.Length - t.Ends[1], To: t.Length}})
		}
		best := make([]stubCost, n+1)
		from := make([]int, n+1)
		for b := 0; b <= n; b++ {
			best[b] = stubCost{1 << 40}
			if b < n && !open[b] {
				continue
			}
			least := 1 << 40
			for q := b - 1; q >= -1; q-- {
				c := stubCost{}
				if q >= 0 {
					c = best[q]
					least = min(least, most[q])
				}
				if q < 0 || open[q] {
					for _, w := range windows {
						if q < w.From && w.To < b {
							c[0]++
						}
					}
					if b < n {
						if q >= 0 && b-q > least {
							c[0]++
						}
						if isNew[b] {
							c[1]++
						}
						c[2]++
					}
					if (q >= 0 || t.Ends[0] > 0) && (b < n || t.Ends[1] > 0) {
						c[3] += int64(b-q) * int64(b-q)
					}
					if c.less(best[b]) {
						best[b], from[b] = c, q
					}
				}
				if q >= 0 && given[q] {
					break
				}
			}
		}
		var places []clip.Place
		for x := from[n]; x >= 0; x = from[x] {
			places = append([]clip.Place{{At: x, Seat: seat[x], Given: given[x], New: isNew[x], With: -1}}, places...)
		}
		a.Places = append(a.Places, places)
	}
	return a
}
