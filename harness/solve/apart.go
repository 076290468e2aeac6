package solve

import "slices"

// parts tells by node which part of the case's net it lies in: what its elements join, open ones too.
func (c *CaseResult) parts() []int32 {
	if c.again != nil {
		return c.again.p.of // the islands
	}
	up := make([]int32, len(c.Net.Nodes))
	for i := range up {
		up[i] = int32(i)
	}
	for i := range c.Net.Elements {
		join(up, int32(c.Net.Elements[i].From), int32(c.Net.Elements[i].To))
	}
	for i := range up {
		up[i] = root(up, int32(i))
	}
	return up
}

// startsIn lists by part the starts of devices with a load in it.
func (c *CaseResult) startsIn(part []int32) map[int32][]int {
	start := map[string]int{}
	for s := range c.Starts {
		start[c.Starts[s].Device] = s
	}
	in := map[int32][]int{}
	for i := range c.Net.Elements {
		e := &c.Net.Elements[i]
		if e.Kind != Load && e.Kind != Coil {
			continue
		}
		if s, ok := start[e.Device]; ok {
			if r := part[e.From]; len(in[r]) == 0 || in[r][len(in[r])-1] != s {
				in[r] = append(in[r], s)
			}
		}
	}
	for r := range in {
		slices.Sort(in[r])
		in[r] = slices.Compact(in[r])
	}
	return in
}

// StartsAtWires lists for each wire of the net the starts that move what it carries, by the case's own list. Lists are shared.
func (c *CaseResult) StartsAtWires() [][]int {
	out := make([][]int, len(c.WireAmps))
	if len(c.Starts) == 0 || c.Net == nil {
		return out
	}
	part := c.parts()
	in := c.startsIn(part)
	for i := range c.Net.Elements {
		if e := &c.Net.Elements[i]; e.Kind == Wire && e.Wire >= 0 && e.Wire < len(out) {
			out[e.Wire] = in[part[e.From]]
		}
	}
	return out
}

// StartsAt lists for each load of a case, by its index, the starts that move it: those of a device which is joined to it, by
// whatever lies in the case. Every other start leaves its volts and amps as they are; quiet is the first of these, -1 where there is none.
func (c *CaseResult) StartsAt() (moves [][]int, quiet []int) {
	moves, quiet = make([][]int, len(c.Loads)), make([]int, len(c.Loads))
	if len(c.Starts) == 0 || c.Net == nil {
		for i := range quiet {
			quiet[i] = -1
		}
		return moves, quiet
	}
	part := c.parts()
	in := c.startsIn(part)
	n := 0
	for i := range c.Net.Elements {
		e := &c.Net.Elements[i]
		if e.Kind != Load && e.Kind != Coil || n >= len(c.Loads) {
			continue
		}
		moves[n] = in[part[e.From]]
		for quiet[n] < len(moves[n]) && moves[n][quiet[n]] == quiet[n] {
			quiet[n]++
		}
		if quiet[n] >= len(c.Starts) {
			quiet[n] = -1
		}
		n++
	}
	for ; n < len(c.Loads); n++ { // loads of another net: nothing is known of what moves them
		moves[n], quiet[n] = make([]int, len(c.Starts)), -1
		for s := range moves[n] {
			moves[n][s] = s
		}
	}
	return moves, quiet
}

// Telling lists for a load the starts that need looking at, in order: those that move it, and one of all that do not.
func Telling(moves []int, quiet int) []int {
	if quiet < 0 {
		return moves
	}
	at, _ := slices.BinarySearch(moves, quiet)
	return slices.Concat(moves[:at], []int{quiet}, moves[at:])
}

// StartLoads lists for each start the loads it tells of, by the case's list, ascending: those that it moves, and those that it is the first to leave alone.
func (c *CaseResult) StartLoads() [][]int {
	_, _, loads := c.StartTable()
	return loads
}

// StartTable is StartsAt and StartLoads.
func (c *CaseResult) StartTable() (moves [][]int, quiet []int, loads [][]int) {
	moves, quiet = c.StartsAt()
	each := func(do func(start, load int)) {
		for load := range moves {
			for _, s := range moves[load] {
				do(s, load)
			}
			if quiet[load] >= 0 {
				do(quiet[load], load)
			}
		}
	}
	count, all := make([]int, len(c.Starts)), 0
	each(func(start, _ int) { count[start]++; all++ })
	out, room := make([][]int, len(c.Starts)), make([]int, all)
	for s, n := range count {
		out[s], room = room[:0:n], room[n:]
	}
	each(func(start, load int) { out[start] = append(out[start], load) })
	return moves, quiet, out
}
