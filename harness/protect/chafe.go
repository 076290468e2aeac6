package protect

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
)

// mostPins is up to how many pins of a body or an earth bar are each taken as a place of their own; of more the first stands for all.
const mostPins = 4

// mains is the fuses next to a source that feed something.
func (g *weigher) mains() (out []*FuseResult) {
	for i := range g.res.Fuses {
		if f := &g.res.Fuses[i]; len(f.Ahead) == 0 && len(f.Wires) > 0 {
			out = append(out, f)
		}
	}
	return out
}

// chafes shorts what each main fuse feeds to the metal of the body, at each stud: the fuses next to a source let most through, and what it comes
// back by, a body bond or a lead to a far stud, carries no load's whole current otherwise.
func (g *weigher) chafes(net *solve.Faults, strong bool, mains []*FuseResult, metal []string, tell func(trial, bool)) {
	if len(metal) == 0 || len(mains) == 0 {
		return
	}
	at := map[string]int{}
	for _, name := range metal {
		at[name] = -1
	}
	for i, name := range net.Net.Nodes {
		if _, ok := at[name]; ok {
			at[name] = i
		}
	}
	fuses := fuseElements(net.Net)
	for _, f := range mains {
		e, ok := fuses[f.FuseRef]
		if !ok {
			continue
		}
		for _, stud := range metal {
			to := at[stud]
			if to < 0 {
				continue
			}
			for _, from := range []int{net.Net.Elements[e].To, net.Net.Elements[e].From} {
				if !net.Together(from, to) {
					continue
				}
				s := Short{Case: net.Case, At: net.Net.Nodes[from] + " to " + stud, Device: f.Device, Index: f.Index, Wire: -1, Metal: stud, Strong: strong, Span: f.Span}
				if t, ok := g.try(net, site{load: -1, from: from, to: to}, s); ok && through(&t, f.FuseRef) {
					tell(t, true)
					break
				}
			}
		}
	}
}

// through tells whether a short's current passes a fuse: else it lies on the source's side of it.
func through(t *trial, f FuseRef) bool {
	return slices.ContainsFunc(t.Fuses, func(c Clearing) bool { return c.Fuse == f })
}

// metal lists the studs of the devices that are nothing but metal, in the order of the job: the body, an engine block, an earth bar. A bar on the plus
// side is one as well; a short to it drives nothing.
func (g *weigher) metal() []string {
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
