package solve

// core is an island of a net of faults without what hangs from it by resistances alone, like a feed whose load is open: nothing flows there until a short brings
// it back. What bends, supplies and diodes, never hangs.
type core struct {
	*grid
	p        *point
	up       []int32 // by place of a node in the island: that of the element by which it hangs, -1 in the core
	node     []int32 // by place of a node: which of the core it is, -1 that it hangs
	branch   []int32 // by place of an element: which of the core it is, -1
	elements []int32 // by element of the core: its place
}

// newCore takes an island apart. Elements that are open are no part of it, nor those of which both ends are one.
func newCore(nodes int, br []branch) *core {
	c := &core{up: make([]int32, nodes), node: make([]int32, nodes), branch: make([]int32, len(br))}
	joins := func(b *branch) bool { return b.law != open && b.from != b.to }
	first := make([]int32, nodes+1) // of each node's elements in met
	bends := make([]bool, nodes)
	for i := range br {
		if b := &br[i]; joins(b) {
			first[b.from]++
			first[b.to]++
			bends[b.from] = bends[b.from] || b.law != ohmic
			bends[b.to] = bends[b.to] || b.law != ohmic
		}
	}
	count := make([]int32, nodes)
	sum := int32(0)
	for n := range count {
		count[n], first[n], sum = first[n], sum, sum+first[n]
	}
	first[nodes] = sum
	met, at := make([]int32, sum), make([]int32, nodes)
	copy(at, first)
	for i := range br {
		if b := &br[i]; joins(b) {
			met[at[b.from]], met[at[b.to]] = int32(i), int32(i)
			at[b.from]++
			at[b.to]++
		}
	}
	hangs := make([]bool, len(br))
	var ends []int32
	for n := range c.up {
		if c.up[n] = -1; count[n] == 1 && !bends[n] {
			ends = append(ends, int32(n))
		}
	}
	for len(ends) > 0 {
		n := ends[len(ends)-1]
		ends = ends[:len(ends)-1]
		if count[n] != 1 { // what it hung by is gone
			continue
		}
		for _, e := range met[first[n]:first[n+1]] {
			if hangs[e] {
				continue
			}
			hangs[e], c.up[n] = true, e
			o := br[e].other(n)
			count[n], count[o] = 0, count[o]-1
			if count[o] == 1 && !bends[o] {
				ends = append(ends, o)
			}
		}
	}
	k := int32(0)
	for n := range c.node {
		if c.node[n] = -1; c.up[n] < 0 {
			c.node[n] = k
			k++
		}
	}
	var own []branch
	for i := range br {
		if c.branch[i] = -1; joins(&br[i]) && !hangs[i] {
			c.branch[i] = int32(len(own))
			b := br[i]
			b.from, b.to = c.node[b.from], c.node[b.to]
			own, c.elements = append(own, b), append(c.elements, int32(i))
		}
	}
	c.grid = newGrid(newLayout(int(k), own))
	c.p = c.grid.solve(own, nil)
	return c
}

// other is the end of a branch that is not n.
func (b *branch) other(n int32) int32 {
	if b.from == n {
		return b.to
	}
	return b.from
}

// root is the node of the core from which a node hangs, by its place; itself if it does not hang.
func (c *core) root(br []branch, n int32) int32 {
	for c.up[n] >= 0 {
		n = br[c.up[n]].other(n)
	}
	return n
}

// hung is an element by which a short hangs from the core.
type hung struct {
	element, node int32 // places; the node is its end away from the core
	amps          float64
	volts         float64 // of the node
}

// way is the elements from a node to the core, and their resistance.
func (c *core) way(br []branch, n int32) (out []hung, ohms float64) {
	for c.up[n] >= 0 {
		e := c.up[n]
		out = append(out, hung{element: e, node: n})
		ohms += 1 / br[e].g
		n = br[e].other(n)
	}
	return out, ohms
}

// carry spreads a current that runs from the core out along a way, and in along another.
func carry(br []branch, way []hung, amps, volts float64) {
	for i := len(way) - 1; i >= 0; i-- {
		h := &way[i]
		b := &br[h.element]
		volts -= amps / b.g
		if h.volts, h.amps = volts, amps; b.to != h.node {
			h.amps = -amps
		}
	}
}
