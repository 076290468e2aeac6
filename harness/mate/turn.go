package mate

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
)

// turned finds the connectors that go into their own other half upside down: no key is stated, none can be had, and half a turn about the middle
// brings every cavity onto another.
func (f *finder) turned() {
	for i := range f.out.Halves {
		a := &f.out.Halves[i]
		h := f.housing[a.Part]
		if h == nil || h.Keyed || len(h.Keys) > 0 || a.Key != "" || !a.Free || a.Break != "" && a.Half == 1 && f.otherFree(a) {
			continue
		}
		over := halfTurn(h.Cavities)
		o, ok := f.own(a)
		if over == nil || !ok {
			continue
		}
		t := Turn{Half: i, Worst: Harmless}
		t.Meetings, _ = f.meetings(a, &o, over)
		t.Meetings = slices.DeleteFunc(t.Meetings, func(m Meeting) bool { return m.Cavity == m.Other })
		if len(t.Meetings) > 0 {
			t.Worst = t.Meetings[0].Harm
			f.out.Turned = append(f.out.Turned, t)
		}
	}
	slices.SortStableFunc(f.out.Turned, func(x, y Turn) int { return cmp.Compare(x.Worst, y.Worst) })
}

// otherFree tells whether the first half of a break hangs free too: then that one is turned.
func (f *finder) otherFree(a *Half) bool {
	return slices.ContainsFunc(f.out.Halves, func(h Half) bool { return h.Break == a.Break && h.Half == 0 && h.Free })
}

// halfTurn says which cavity comes onto which when a face is turned by half a turn; nil if that brings one onto no other, or a place is missing.
// It is the same for the half with pins, whose face is the mirror image.
func halfTurn(cavities []design.HousingCavity) map[string]string {
	if len(cavities) < 2 {
		return nil
	}
	var x, y float64
	for i := range cavities {
		if !cavities[i].Placed {
			return nil
		}
		x, y = x+float64(cavities[i].At[0]), y+float64(cavities[i].At[1])
	}
	n := float64(len(cavities))
	x, y = x/n, y/n
	const same = 0.3 // mm that two places may differ and still take one another's contact; from memory
	out := map[string]string{}
	for i := range cavities {
		a := &cavities[i]
		for k := range cavities {
			b := &cavities[k]
			if math.Hypot(float64(a.At[0]+b.At[0])-2*x, float64(a.At[1]+b.At[1])-2*y) <= same && slices.Equal(a.Takes, b.Takes) && a.Stud == b.Stud {
				out[a.Name] = b.Name
				break
			}
		}
		if out[a.Name] == "" {
			return nil
		}
	}
	return out
}
