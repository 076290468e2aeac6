package reading

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
)

// graph is the metal of a solved net.
type graph struct {
	w     *work
	nw    *solve.Network
	pins  map[string]int   // device.pin
	at    [][]int          // elements at a node
	loads map[string][]int // of the case, by device
}

func newGraph(w *work, nw *solve.Network) *graph {
	g := &graph{w: w, nw: nw, pins: map[string]int{}, loads: map[string][]int{}, at: make([][]int, len(nw.Nodes))}
	for i, n := range nw.Nodes {
		if _, ok := g.pins[n]; !ok {
			g.pins[n] = i
		}
	}
	for i, e := range nw.Elements {
		if metal(e.Kind) && e.From != e.To {
			g.at[e.From] = append(g.at[e.From], i)
			g.at[e.To] = append(g.at[e.To], i)
		}
	}
	return g
}

// pin is the node of a device's pin, -1 if nothing is there.
func (g *graph) pin(device, pin string) int {
	if n, ok := g.pins[device+"."+pin]; ok {
		return n
	}
	return -1
}

// metal joins whatever current runs; a diode, a load or a supply does not.
func metal(k solve.ElementKind) bool {
	return k != solve.Load && k != solve.Coil && k != solve.Supply && k != solve.Diode
}

// through tells whether a signal goes on through an element: along wires and their joints, and through a device that only passes it on.
func (g *graph) through(e *solve.Element) bool {
	switch e.Kind {
	case solve.Switch, solve.Join, solve.Fuse:
		return g.passes(e.Device)
	}
	return true
}

// passes tells a device that neither draws nor supplies: a switch, a terminal box.
func (g *graph) passes(device string) bool {
	d := g.w.device[device]
	return d != nil && len(d.Draws)+len(d.Coils)+len(d.Supplies) == 0
}

// walk goes from a node over elements that ok allows, nearest first, and gives the element by which each node was met, one more than
// its index; visit is called for each node.
func (g *graph) walk(from int, ok func(e *solve.Element) bool, visit func(node int) (stop bool)) []int {
	by := make([]int, len(g.nw.Nodes))
	by[from] = -1
	todo := []int{from}
	for len(todo) > 0 {
		n := todo[0]
		todo = todo[1:]
		if visit(n) {
			break
		}
		for _, i := range g.at[n] {
			e := &g.nw.Elements[i]
			m := e.From + e.To - n
			if by[m] == 0 && ok(e) {
				by[m] = i + 1
				todo = append(todo, m)
			}
		}
	}
	return by
}

// ends lists the pins of other devices that the wires from a pin lead to, nearest first.
func (g *graph) ends(device string, from int) []design.PinRef {
	var out []design.PinRef
	g.walk(from, g.through, func(n int) bool {
		for _, i := range g.at[n] {
			e := &g.nw.Elements[i]
			if (e.Kind == solve.Contact || e.Kind == solve.Lug) && e.Device != "" && e.Device != device && e.Name == g.nw.Nodes[n] {
				if p := (design.PinRef{Device: e.Device, Pin: e.Name[len(e.Device)+1:]}); !slices.Contains(out, p) {
					out = append(out, p)
				}
			}
		}
		return false
	})
	return out
}

// readers is the devices that a signal reaches: those that draw or supply something, else whatever is there. Natural order.
func (g *graph) readers(device string, from int) []string {
	var all, live []string
	for _, p := range g.ends(device, from) {
		if d := g.w.device[p.Device]; d == nil || len(d.Reads) > 0 {
			continue // another sensor on the same wire
		}
		all = append(all, p.Device)
		if !g.passes(p.Device) {
			live = append(live, p.Device)
		}
	}
	if len(live) > 0 {
		all = live
	}
	slices.SortFunc(all, design.Natural)
	return slices.Compact(all)
}

// arrives is the pin of the reader at which the wires from the sensor's reference end.
func (g *graph) arrives(device string, to int, reader string) (design.PinRef, bool) {
	for _, p := range g.ends(device, to) {
		if p.Device == reader {
			return p, true
		}
	}
	return design.PinRef{}, false
}

// way is the shortest way over metal from one node to another.
func (g *graph) way(from, to int) ([]solve.Step, bool) {
	by := g.walk(from, func(*solve.Element) bool { return true }, func(n int) bool { return n == to })
	if by[to] == 0 {
		return nil, false
	}
	var out []solve.Step
	for n := to; n != from; {
		i := by[n] - 1
		e := &g.nw.Elements[i]
		out = append(out, solve.Step{Element: i, Reverse: e.From == n})
		n = e.From + e.To - n
	}
	slices.Reverse(out)
	return out, true
}

// feeds tells whether the way of a load begins at a node.
func (g *graph) feeds(node int, l *solve.LoadResult) bool {
	if len(l.Feed) == 0 {
		return false
	}
	s := l.Feed[0]
	e := &g.nw.Elements[s.Element]
	if s.Reverse {
		return e.To == node
	}
	return e.From == node
}
