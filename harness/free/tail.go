package free

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// tails looks at the plugs of a step: whether what is pulled can be drawn back before what holds it has moved.
func (p *part) tails(s *Step) {
	f, u := p.f, s.Undo
	switch u.Kind {
	case "break":
		b := f.breaks[u.Name]
		if b == nil || f.isPost(b) {
			return
		}
		var list []Tail
		for h := range b.Halves {
			if b.Halves[h].Mount == "fixed" {
				continue
			}
			t, ok := f.tail(design.Scope{Break: b.Name, Class: b.Class, Panel: b.Panel, Section: b.Halves[h].Section}, f.index.ends[broken(b.Name)],
				func(t *net.Termination) bool { return t.Kind == net.InHalf && t.Break == b.Name && t.Half&1 == h })
			if t.Half = b.Halves[h].Section; ok {
				list = append(list, t)
			}
		}
		if b.Halves[0].Mount == "fixed" && b.Halves[1].Mount == "fixed" {
			s.Tails = []Tail{{Half: b.Halves[0].Section, Short: true, Rigid: true, Position: s.Place}}
			s.First = append(s.First, "Both halves are fixed: neither can be drawn back before what carries it moves.")
			return
		}
		// Of two free halves it takes one that can be drawn back; the one that needs least undone is taken.
		slices.SortStableFunc(list, func(a, b Tail) int {
			return cmp.Or(compare(a.Short, b.Short), cmp.Compare(len(a.Undo), len(b.Undo)))
		})
		if len(list) > 0 {
			s.Tails = list[:1]
		}
	case "device":
		d := f.devices[u.Name]
		if d == nil {
			return
		}
		for i := range d.Housings {
			t, ok := f.tail(design.Scope{Device: d.Name, Class: d.Class, Panel: d.Panel, Zone: d.Zone, Section: d.Section}, f.index.ends[device(d.Name)],
				func(t *net.Termination) bool { return t.Kind == net.InCavity && t.Device == d.Name && t.Housing == i })
			if t.Half = d.Name; ok {
				s.Tails = append(s.Tails, t)
			}
		}
	}
	for i := range s.Tails {
		if t := &s.Tails[i]; len(t.Undo) > 0 {
			s.First = append(s.First, fmt.Sprintf("Take off %s first: the plug must be drawn back %s, for which its bundle of %s wants %s free; the first clip is at %s.",
				strings.Join(t.Undo, ", "), t.Draw, t.Bundle, t.Need, t.Free))
		}
	}
}

func compare(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// grip is what holds a bundle at a distance from its plug.
type grip struct {
	at   unit.Length
	mark string // of a clip; empty: something that cannot be taken off
	what string
}

// tail works out what the wires of one plug leave to draw it back by.
func (f *finder) tail(at design.Scope, ends []wireEnd, here func(*net.Termination) bool) (Tail, bool) {
	var t Tail
	t.Ruling = f.job.Settings.Get("draw-back", at)
	t.Draw = unit.Length(t.Ruling.Value.Quantity.Value)
	if f.nt.Space == nil || !t.Ruling.Known || !(t.Draw > 0) {
		return t, false
	}
	any := false
	var grips []grip
	slack := unit.Length(math.Inf(1))
	for _, e := range ends {
		w, k := &f.nt.Wires[e.wire], e.end
		if !here(&w.Ends[k]) || w.Loose || w.Unmeasured || len(w.Path) == 0 {
			continue
		}
		any = true
		_, loop := net.EndAllowance(f.job, w, k)
		g, lain, bundle := f.along(w, k)
		slack = min(slack, lain+loop)
		t.Bundle = max(t.Bundle, bundle)
		grips = append(grips, g...)
	}
	if !any {
		return t, false
	}
	t.Loop = slack
	if x := f.job.Settings.Get("bend-bundle", at); x.Known {
		t.Radius = unit.Length(max(0, x.Value.Quantity.Value)) * t.Bundle
	}
	t.Need = bow(t.Draw-t.Loop, t.Radius)
	slices.SortStableFunc(grips, func(a, b grip) int {
		return cmp.Or(cmp.Compare(a.at, b.at), design.Natural(a.mark, b.mark), cmp.Compare(a.what, b.what))
	})
	for i, g := range grips {
		if i == 0 {
			t.Free, t.Holds = g.at, g.what
		}
		if g.at >= t.Need {
			break
		}
		if g.mark == "" {
			t.Fast, t.Short, t.Position = g.what, true, g.what
			t.Free = g.at
			break
		}
		if !slices.Contains(t.Undo, g.mark) {
			t.Undo = append(t.Undo, g.mark)
		}
	}
	if t.Short {
		t.Undo = nil
	}
	return t, true
}

// along follows a wire from one of its ends: the clips on its way and its far end, by their distance; the slack laid into the runs up to the
// first clip, and the bundle at the plug.
func (f *finder) along(w *net.Wire, end int) (out []grip, slack, bundle unit.Length) {
	gone := unit.Length(0)
	n := len(w.Path)
	for i := range n {
		s := w.Path[i]
		back := s.Reverse
		if end == 1 {
			s = w.Path[n-1-i]
			back = !s.Reverse
		}
		e := &f.nt.Space.Edges[s.Edge]
		held := len(out)
		for _, r := range f.index.runs[stretch{e.Run, e.Stretch}] {
			run := &f.held.Runs[r]
			if i == 0 {
				near := e.Station
				if back {
					near = e.Station + e.Length
				}
				for _, d := range run.Diameters {
					if d.From-1 <= near && near <= d.To+1 {
						bundle = max(bundle, d.Most)
					}
				}
			}
			for c := range run.Clips {
				x := &run.Clips[c]
				if x.After < e.Station || x.After > e.Station+e.Length {
					continue
				}
				into := x.After - e.Station
				if back {
					into = e.Length - into
				}
				out = append(out, grip{gone + into, x.Mark, "clip " + x.Mark})
			}
		}
		// Slack lies evenly over its edge, and only what lies before the first clip gives way.
		if clips := out[held:]; held == 0 && e.Length > 0 {
			to := gone + e.Length
			for _, x := range clips {
				to = min(to, x.at)
			}
			slack += e.Slack * (to - gone) / e.Length
		}
		gone += e.Length
	}
	far := &w.Ends[1-end]
	switch far.Kind {
	case net.InCavity, net.OnStud:
		out = append(out, grip{gone, "", "the end of " + w.Name + " on " + far.Device})
	case net.InHalf, net.OnPost:
		out = append(out, grip{gone, "", "the end of " + w.Name + " in break " + far.Break})
	}
	return out, slack, bundle
}

// bow is how much free length a bundle takes that gives way by a distance when its end is drawn back, bowing out in one arc of at least a radius: an arc
// of 2 r a has a chord of 2 r sin a, so that it gives 2 r (a - sin a). What is thin enough to be folded needs no more than the distance itself.
func bow(give, radius unit.Length) unit.Length {
	if !(give > 0) {
		return 0
	}
	if !(radius > 0) || float64(give) >= 2*math.Pi*float64(radius) {
		return give
	}
	want := float64(give) / (2 * float64(radius))
	lo, hi := 0.0, math.Pi
	for range 60 {
		if mid := (lo + hi) / 2; mid-math.Sin(mid) < want {
			lo = mid
		} else {
			hi = mid
		}
	}
	return unit.Length(2 * float64(radius) * hi)
}
