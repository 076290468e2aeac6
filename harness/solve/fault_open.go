package solve

// Without is the same net with some elements open: the fuses that a short has blown by then. An element the net does not have is passed over.
func (f *Faults) Without(elements []int) *Faults {
	x := &Faults{Case: f.Case, Net: f.Net, br: append([]branch(nil), f.br...)}
	for _, i := range elements {
		if i >= 0 && i < len(x.br) {
			x.br[i] = branch{from: x.br[i].from, to: x.br[i].to, law: open}
		}
	}
	x.grid = newGrid(len(x.Net.Nodes), x.br)
	x.from = x.grid.newton(nil).hi
	return x
}
