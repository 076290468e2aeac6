package charge

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// standing is the job at rest: every switch off, every relay where its coil leaves it, batteries connected and nothing else.
type standing struct {
	fed     map[loadKey]bool // by a battery, those that switch themselves included
	over    *spells          // without those
	leftOut []string
}

// parked solves the job at rest. A load that some case rests although it is fed is one the author knows to be switched by itself, a
// pump on its float: it is left out, and named.
func (w *work) parked() *standing {
	c := &design.Case{Supplies: w.connected()}
	out := &standing{fed: map[loadKey]bool{}}
	rests := map[string]bool{}
	for _, k := range w.job.Cases {
		for _, n := range k.Off {
			rests[n] = true
		}
	}
	first := w.solve(w.job, c)
	for i := range first.Loads {
		l := &first.Loads[i]
		if !l.Fed {
			continue
		}
		out.fed[keyOf(l)] = true
		if rests[l.Device] && !w.device[l.Device] {
			out.leftOut = append(out.leftOut, l.Device)
		}
	}
	out.leftOut = sorted(out.leftOut)
	c.Off = out.leftOut
	out.over = w.over(c, 0)
	return out
}

// names is the devices with a battery.
func (w *work) names() []string {
	var out []string
	for _, b := range w.batteries {
		out = append(out, b.Device.Name)
	}
	return sorted(out)
}

func (w *work) connected() []design.CaseSupply {
	var out []design.CaseSupply
	for _, n := range w.names() {
		out = append(out, design.CaseSupply{Device: n})
	}
	return out
}

func (w *work) drains(p *standing) (out []Drain) {
	var all []DrainPart
	for _, b := range w.batteries {
		s := &b.Device.Supplies[b.Index]
		x := Drain{Device: b.Device.Name, Index: b.Index, LeftOut: p.leftOut, Span: s.Span}
		x.Amps, _ = p.over.supply(x.Device, x.Index)
		x.Ruling = w.job.Settings.Get("parked-most", scope(b.Device, ""))
		x.Most = current(x.Ruling)
		x.Met = !x.Ruling.Known || x.Amps <= x.Most*(1+hair)
		if s.Stores.Given {
			x.Stores = s.Stores.Nominal
			x.Share, _ = w.share(b, "")
			x.Usable = usable(x.Stores, x.Share)
			x.Lasts = lasts(x.Usable, x.Amps)
		}
		// Of two batteries in parallel one counts as the feeder of what both feed.
		x.Loads = parts(p.over, x.Device)
		if len(x.Loads) == 0 && x.Amps > trickle {
			if all == nil {
				all = parts(p.over, w.names()...)
			}
			x.Loads = slices.Clone(all)
		}
		out = append(out, x)
	}
	return out
}

// parts is what some devices feed, the largest first.
func parts(s *spells, devices ...string) (out []DrainPart) {
	for _, i := range s.feeds(devices...) {
		l := &s.points[0].Loads[i]
		if a := s.load(i, func(by string) bool { return slices.Contains(devices, by) }); a > 0 {
			out = append(out, DrainPart{Device: l.Device, Index: l.Index, Coil: l.Coil, Amps: a})
		}
	}
	slices.SortStableFunc(out, func(a, b DrainPart) int { return unit.Compare(b.Amps, a.Amps) })
	return out
}

// fedKeys is the loads that current runs through in a point.
func fedKeys(r *solve.CaseResult) map[loadKey]bool {
	out := map[loadKey]bool{}
	for i := range r.Loads {
		if r.Loads[i].Fed {
			out[keyOf(&r.Loads[i])] = true
		}
	}
	return out
}
