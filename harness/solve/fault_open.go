package solve

// Without is the same net with some elements open: the fuses that a short has blown by then. An element the net does not have is passed over.
func (f *Faults) Without(elements []int) *Faults {
	var changes []change
	for _, i := range elements {
		if i >= 0 && i < len(f.p.ofE) {
			changes = append(changes, change{i, branch{law: open}})
		}
	}
	g := newGrid(f.grid.layout)
	return &Faults{Case: f.Case, Net: f.Net, grid: g, p: g.again(f.p, changes).flat()}
}
