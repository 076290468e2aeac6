package protect

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
)

// mostPins is up to how many pins of a body or an earth bar are each taken as a place of their own; of more the first stands for all.
const mostPins = 4

// mainFuses is the fuses next to a source that feed something, by index.
func (g *weigher) mainFuses() (out []int) {
	for i := range g.res.Fuses {
		if f := &g.res.Fuses[i]; len(f.Ahead) == 0 && len(f.Wires) > 0 {
			out = append(out, i)
		}
	}
	return out
}

// chafes shorts what each main fuse of a part feeds to the metal of the body, at each stud: the fuses next to a source let most through, and what it comes
// back by, a body bond or a lead to a far stud, carries no load's whole current otherwise.
func (g *weigher) chafes(net *solve.Faults, at *sites, part int32, strong bool, tell func(int, trial, bool)) {
	if len(g.metal) == 0 {
		return
	}
	for _, i := range g.fusesIn.at(part) {
		k, main := slices.BinarySearch(g.mains, int(i))
		if !main || at.mains[k] < 0 {
			continue
		}
		f := &g.res.Fuses[i]
		e := &net.Net.Elements[at.mains[k]]
		for m, stud := range g.metal {
			to := int(at.metal[m])
			if to < 0 {
				continue
			}
			for _, from := range []int{e.To, e.From} {
				if !net.Together(from, to) {
					continue
				}
				s := Short{Case: net.Case, At: net.Net.Nodes[from] + " to " + stud, Device: f.Device, Index: f.Index, Wire: -1, Metal: stud, Strong: strong, Span: f.Span}
				if t, ok := g.try(net, site{load: -1, from: from, to: to}, s); ok && passes(&t, f.FuseRef) {
					tell(k*len(g.metal)+m, t, true)
					break
				}
			}
		}
	}
}

// passes tells whether a short's current passes a fuse: else it lies on the source's side of it.
func passes(t *trial, f FuseRef) bool {
	return slices.ContainsFunc(t.Fuses, func(c Clearing) bool { return c.Fuse == f })
}

// studs lists those of the devices that are nothing but metal, in the order of the job: the body, an engine block, an earth bar. A bar on the plus
// side is one as well; a short to it drives nothing.
func (g *weigher) studs() []string {
	var out []string
	for _, d := range g.job.Devices {
		if d.Pattern || len(d.Housings)+len(d.Supplies)+len(d.Draws)+len(d.Coils)+len(d.States)+len(d.Fuses)+len(d.Diodes) > 0 || len(d.Pins) == 0 ||
			slices.ContainsFunc(d.Pins, func(p design.Pin) bool { return p.Stud == "" }) {
			continue
		}
		pins := d.Pins
		if len(pins) > mostPins {
			pins = pins[:1]
		}
		for _, p := range pins {
			out = append(out, d.Name+"."+p.Name)
		}
	}
	return out
}
