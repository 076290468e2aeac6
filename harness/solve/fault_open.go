package solve

import "maps"

// Without is the same net with some elements open: the fuses that a short has blown by then. An element the net does not have is passed over.
func (f *Faults) Without(elements []int) *Faults {
	x := &Faults{Case: f.Case, Net: f.Net, layout: f.layout, br: f.br, own: maps.Clone(f.own), cores: maps.Clone(f.cores)}
	fresh := map[int32]bool{}
	for _, e := range elements {
		if e < 0 || e >= len(f.layout.ofE) {
			continue
		}
		i := f.layout.ofE[e]
		if !fresh[i] {
			fresh[i] = true
			x.own[i] = append([]branch(nil), f.laws(i)...)
			delete(x.cores, i)
		}
		x.own[i][f.layout.atE[e]].law = open
	}
	return x
}
