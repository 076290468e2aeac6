package live

import (
	"slices"

	"loomsheet/harness/protect"
	"loomsheet/harness/solve"
)

// adrift is the sources that are no batteries and whose minus is not always joined to that of one: what hangs on it is earthed by nobody while
// they stand still.
func (f *finder) adrift() (out []string) {
	var ground []protect.Start
	for _, e := range f.all.Elements {
		if e.Kind == solve.Supply && f.battery[e.Device] && e.From != e.To {
			ground = append(ground, protect.Start{Source: protect.Source{Device: e.Device, Index: e.Index}, Node: e.To})
		}
	}
	if len(ground) == 0 {
		return nil
	}
	met := f.ways.Search(ground, protect.How{Upstream: true})
	for _, e := range f.all.Elements {
		if e.Kind != solve.Supply || f.battery[e.Device] || e.From == e.To || slices.Contains(out, e.Device) {
			continue
		}
		if _, free := met.Has(e.To); !free {
			out = append(out, e.Device)
		}
	}
	return out
}

// without is the same with some sources at rest; nil if none of them is attached.
func (f *finder) without(rest []string) *finder {
	c := *f.c
	c.Supplies = nil
	for _, x := range f.c.Supplies {
		if !slices.Contains(rest, x.Device) {
			c.Supplies = append(c.Supplies, x)
		}
	}
	if len(c.Supplies) == len(f.c.Supplies) {
		return nil
	}
	s := *f.supplies
	s.c = &c
	g := &finder{supplies: &s, local: f.local, index: f.index, nt: f.nt, sizes: f.sizes, all: f.all, solved: map[string]*probed{}, least: f.least, most: f.most}
	g.probe = solve.NewProbe(f.local, f.nt, f.sizes, s.c)
	g.prepare()
	return g
}
