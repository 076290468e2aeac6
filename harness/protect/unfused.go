package protect

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// stretchKey is what makes one stretch of several ways: one cause, one finding.
type stretchKey struct {
	first int // element of the first wire
	fused bool
}

// stretches finds what lies before the first protectors of each source: the ways to the first fuses, those to loads that have none, and those
// that end at nothing or at another supply.
func (t *tracer) stretches(wires []WireResult, shorts []Short) []Unfused {
	var out []Unfused
	met, most := newWaysTo(len(t.Nodes)), greatestShorts(shorts)
	for i := range t.sources {
		s := &t.sources[i]
		out = append(out, t.waysOf(s, wires, met).stretches(most)...)
		met.forget(t.zones[s.own].nodes)
	}
	for k := range out {
		for _, i := range out[k].Wires {
			if u := wires[i].Unfused; u == nil || worse(&out[k], u) {
				wires[i].Unfused = &out[k]
			}
		}
	}
	return out
}

func worse(a, b *Unfused) bool {
	if a.Met != b.Met {
		return b.Met
	}
	return unit.Worse(a.Length, b.Length)
}

func (w *ways) stretches(most map[sourceLoad]unit.Current) []Unfused {
	found := map[stretchKey]*Unfused{}
	var order []stretchKey
	far := map[stretchKey][]int{} // the longest way
	in := map[stretchKey]map[int]bool{}
	add := func(k stretchKey, node int, way []int) *Unfused {
		u := found[k]
		if u == nil {
			u = &Unfused{Source: w.s.Source, Length: -1}
			found[k], in[k] = u, map[int]bool{}
			order = append(order, k)
		}
		for _, e := range way {
			if w.open(e) && (k.fused || e == k.first || !w.onward[e]) && !in[k][e] {
				in[k][e] = true
				u.Wires = append(u.Wires, w.Elements[e].Wire)
			}
		}
		l := unit.Length(0)
		for _, e := range way {
			l += w.along(e)
		}
		if unit.Worse(l, u.Length) {
			u.Length, u.Far, far[k] = l, w.Nodes[node], way
		}
		return u
	}
	every := func(int) bool { return true }
	for _, x := range w.zones[w.s.own].exits {
		way := w.to(x.near)
		for _, e := range way {
			w.onward[e] = true
		}
		if first := w.first(way, every); first >= 0 {
			u := add(stretchKey{first, true}, x.near, way)
			u.Fuses = addRef(u.Fuses, w.ref(x.fuse))
		}
	}
	// A load's own wires are the cause, where it has some; a supply that states no limit is the cause itself.
	own := func(way []int) (stretchKey, bool) {
		k := stretchKey{first: w.first(way, func(e int) bool { return !w.onward[e] })}
		if w.s.Own {
			k.first = -1
		} else if k.first < 0 {
			for _, e := range way {
				if w.open(e) {
					k.first = e
				}
			}
		}
		return k, w.first(way, every) >= 0
	}
	others := map[stretchKey]bool{} // something on it is no starting motor
	used := map[int]bool{}
	for _, e := range w.within {
		x := &w.Elements[e]
		if x.Kind != solve.Load && x.Kind != solve.Coil {
			continue
		}
		for _, n := range [2]int{x.From, x.To} {
			if w.length[n] < 0 {
				continue
			}
			way := w.to(n)
			if k, ok := own(way); ok {
				u := add(k, n, way)
				if i, met := slices.BinarySearchFunc(u.Loads, x.Device, design.Natural); !met {
					u.Loads = slices.Insert(u.Loads, i, x.Device)
				}
				others[k] = others[k] || !w.starts(e)
				for _, e := range way {
					used[e] = true
				}
			}
			break
		}
	}
	w.rest(used, others, own, add)
	out := w.judge(found, order, far, others)
	for i := range out {
		loop(&out[i], most)
	}
	return out
}

// rest adds the wires on no way to a fuse or a load. One that comes out where a way has passed counts with that way: a second cable beside the
// first. The others end at nothing or lead to another supply, and what they leave a starter's cable with is more than the starter.
func (w *ways) rest(used map[int]bool, others map[stretchKey]bool, own func([]int) (stretchKey, bool), add func(stretchKey, int, []int) *Unfused) {
	for _, e := range w.within {
		if used[e] || w.onward[e] || !w.open(e) {
			continue
		}
		far, meets := w.beyond(e)
		if far < 0 || !meets {
			continue
		}
		beside := w.to(far)
		k, ok := own(beside)
		if w.first(beside, func(x int) bool { return !w.onward[x] }) < 0 {
			k = stretchKey{w.first(beside, func(int) bool { return true }), true}
			ok = k.first >= 0
		}
		if ok {
			near := w.Elements[e].From
			if w.by[near] == e {
				near = w.Elements[e].To
			}
			way := append(w.to(near), e)
			add(k, far, way)
			for _, x := range way {
				used[x] = true
			}
		}
	}
	for _, e := range w.within {
		if used[e] || w.onward[e] || !w.open(e) {
			continue
		}
		if far, _ := w.beyond(e); far >= 0 {
			way := w.to(far)
			if k, ok := own(way); ok {
				add(k, far, way)
				others[k] = true
			}
		}
	}
}

// judge holds each stretch against its limit. A way to a load that has no wire of its own beside the way to a fuse that is too long already has the
// same cause and is told with it.
func (w *ways) judge(found map[stretchKey]*Unfused, order []stretchKey, far map[stretchKey][]int, others map[stretchKey]bool) []Unfused {
	var out []Unfused
	late := map[int]int{} // wire on too long a way to a fuse: index in out
	slices.SortStableFunc(order, func(a, b stretchKey) int {
		if a.fused != b.fused {
			if a.fused {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.first, b.first)
	})
	for _, k := range order {
		u := found[k]
		u.Length = max(u.Length, 0)
		w.limit(u, far[k])
		u.Amps = w.most(far[k])
		u.Met = len(u.Loads) == 0 && u.Length <= u.Most && !u.Unknown
		u.Starter = len(u.Loads) > 0 && !others[k] && !(k.first >= 0 && w.onward[k.first])
		if len(u.Loads) > 0 && k.first >= 0 && w.onward[k.first] {
			if i, told := late[w.Elements[k.first].Wire]; told {
				for _, l := range u.Loads {
					if j, met := slices.BinarySearchFunc(out[i].Loads, l, design.Natural); !met {
						out[i].Loads = slices.Insert(out[i].Loads, j, l)
					}
				}
				continue
			}
		}
		if k.fused && !u.Met {
			for _, i := range u.Wires {
				late[i] = len(out)
			}
		}
		out = append(out, *u)
	}
	return out
}

// most is what the source drives into a dead short at the end of a way at most: its set-point over its inside and the way out.
func (w *ways) most(way []int) unit.Current {
	d := w.device(w.s.Device)
	if d == nil || w.s.Index >= len(d.Supplies) {
		return 0
	}
	ohms := w.Resistance(w.s.element)
	for _, e := range way {
		ohms += w.Resistance(e)
	}
	volts := d.Supplies[w.s.Index].Volts.Nominal
	if !(ohms > 0) || !(volts > 0) {
		return 0
	}
	amps := unit.Current(float64(volts) / float64(ohms))
	if w.s.Most > 0 {
		amps = min(amps, w.s.Most)
	}
	return amps
}

// sourceLoad is a load and the device that drives most of the short there.
type sourceLoad struct{ source, load string }

// greatestShorts is the current of the greatest short of each.
func greatestShorts(shorts []Short) map[sourceLoad]unit.Current {
	out := map[sourceLoad]unit.Current{}
	for i := range shorts {
		s := &shorts[i]
		k := sourceLoad{s.Source, s.Device}
		if a, ok := out[k]; !ok || s.Amps > a {
			out[k] = s.Amps
		}
	}
	return out
}

// loop puts in the greatest short solved at what a stretch feeds, where there is one.
func loop(u *Unfused, most map[sourceLoad]unit.Current) {
	for _, d := range u.Loads {
		if a, ok := most[sourceLoad{u.Source.Device, d}]; ok && (!u.Loop || a > u.Amps) {
			u.Amps, u.Loop = a, true
		}
	}
}
