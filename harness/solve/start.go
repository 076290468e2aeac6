package solve

import "slices"

// starts solves the case once more for each device that is fed and has a starting value: all its starting values in place, every
// other load steady, relays and switches as they stood.
func (v *values) starts(res *CaseResult, s *settled, steady *ladder) (out []StartResult) {
	var nets []startNet
	for n := 0; n < len(res.Net.Elements); {
		device := res.Net.Elements[n].Device
		if device == "" {
			n++
			continue
		}
		x := startNet{device: device}
		for ; n < len(res.Net.Elements) && res.Net.Elements[n].Device == device; n++ {
			e := &res.Net.Elements[n]
			if e.Kind != Load && e.Kind != Coil {
				continue
			}
			draw := drawOf(v.byName[device], e)
			if !draw.Start.Given || !(most(draw.Start) > 0) || !steady.fed(n) {
				continue
			}
			law, k := v.starting(v.byName[device], draw)
			x.changes = append(x.changes, change{n, law})
			if k.element = n; k.real() {
				x.knobs = append(x.knobs, k)
			}
		}
		if x.changes != nil {
			nets = append(nets, x)
		}
	}
	if nets == nil {
		return nil
	}
	loads := map[int32][]int{} // by island
	for i := range res.Loads {
		at := s.p.ofE[res.Loads[i].element]
		loads[at] = append(loads[at], i)
	}
	for _, x := range nets {
		p := s.g.again(s.p, x.changes)
		l := steady.other(p)
		st := StartResult{Device: x.device, Net: res.Net, Point: p.point(), Loads: slices.Clone(res.Loads), again: &again{under: res.again, v: v, s: s, knobs: x.knobs, p: p}}
		for _, o := range p.own {
			for _, i := range loads[o.island] {
				l.judge(&st.Loads[i])
			}
		}
		for i := range st.Loads {
			if st.Loads[i].Device != x.device {
				st.Loads[i].Feed, st.Loads[i].Return = nil, nil
			}
		}
		out = append(out, st)
	}
	return out
}

// startNet is what changes while a device starts.
type startNet struct {
	device  string
	changes []change
	knobs   []knob
}
