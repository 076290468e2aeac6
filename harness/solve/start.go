package solve

import "loomsheet/harness/design"

// starts solves the case once more for each device that is fed and has a starting value: all its starting values in place, every
// other load steady, relays and switches as they stood.
func (v *values) starts(res *CaseResult, s *settled) (out []StartResult) {
	steady := newLadder(res.Net, s.b.br, s.p)
	for n := 0; n < len(res.Net.Elements); {
		device := res.Net.Elements[n].Device
		if device == "" {
			n++
			continue
		}
		var br []branch
		var knobs []knob
		for ; n < len(res.Net.Elements) && res.Net.Elements[n].Device == device; n++ {
			e := &res.Net.Elements[n]
			var draw *design.Draw
			switch e.Kind {
			case Load:
				draw = &v.byName[device].Draws[e.Index]
			case Coil:
				draw = &v.byName[device].Coils[e.Index].Draw
			default:
				continue
			}
			if !draw.Start.Given || !(most(draw.Start) > 0) || !steady.fed(n) {
				continue
			}
			if br == nil {
				br = append(br, s.b.br...)
			}
			x, k := v.starting(v.byName[device], draw)
			x.from, x.to = e.From, e.To
			br[n] = x
			if k.element = n; k.real() {
				knobs = append(knobs, k)
			}
		}
		if br == nil {
			continue
		}
		for _, k := range s.b.knobs {
			if br[k.element] == s.b.br[k.element] { // what starts has its own
				knobs = append(knobs, k)
			}
		}
		s.g.use(br)
		p := s.g.solve(s.p.hi).delivers(res.Net)
		l := newLadder(res.Net, br, p)
		out = append(out, StartResult{Device: device, Net: res.Net, Point: p.point(), Loads: v.loads(l, device, false),
			again: &again{under: res.again, v: v, s: s, br: br, knobs: knobs, p: p}})
	}
	return out
}
