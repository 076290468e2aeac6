package heat

// Asked is how often the heat was asked for.
func (k *Kept) Asked() int { return k.asked }

// Since tells whether a wire's conductor, and the conductors and currents wherever it lies, are to the bit what they were when the heat had been asked for so often: all
// that Thermal goes by of it. It may be asked by several at a time, while nobody asks for the heat.
func (k *Kept) Since(wire, asked int) bool {
	for _, pi := range k.on[wire] {
		if k.other[pi] > asked {
			return false
		}
	}
	return len(k.on[wire]) > 0
}
