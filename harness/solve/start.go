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
			x, _ := v.starting(v.byName[device], draw)
			x.from, x.to = e.From, e.To
			br[n] = x
		}
		if br == nil {
			continue
		}
		p := solveNet(len(res.Net.Nodes), br, s.p.hi).delivers(res.Net)
		l := newLadder(res.Net, br, p)
		out = append(out, StartResult{Device: device, Net: res.Net, Point: p.point(), Loads: v.loads(l, device, false)})
	}
	return out
}
