package fit

import (
	"slices"

	"loomsheet/harness/data"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Reach is a limit that no size allowed would meet.
type Reach struct {
	Case   string
	Device string
	Index  int
	Coil   bool
	Start  string // the device that starts, for a limit on the starting volts
	Limit  Limit
	// Best is what the load would get at best, all automatic wires on its way as large as can be crimped at their ends.
	Best unit.Voltage
}

// volts judges drops by a linear estimate about the solution of the cases, made with the sizes in solved at the temperatures in
// temps.
type volts struct {
	*grower
	solved size.Sizes
	temps  map[string][]unit.Temperature
	cases  []*solve.CaseResult
	hot    []bool // parts that are left alone; nil: none
}

// ask is one limit of one load with its sensitivities: volts lost per ohm of each wire that has any.
type ask struct {
	over  float64
	value unit.Voltage // of the limit
	floor bool
	reach *Reach             // of one that may be told of; nil: of none
	temps []unit.Temperature // of the case
	wires []int              // ascending
	slope []float64          // of each of them
}

// rows is room for the wires and slopes of many asks.
type rows struct {
	wires []int
	slope []float64
}

// row is an empty one for up to n wires.
func (r *rows) row(n int) ([]int, []float64) {
	if cap(r.wires)-len(r.wires) < n {
		size := max(n, 4096)
		r.wires, r.slope = make([]int, 0, size), make([]float64, 0, size)
	}
	k := len(r.wires)
	return r.wires[k : k : k+n], r.slope[k : k : k+n]
}

// keep is the row given last, as long as it became.
func (r *rows) keep(wires []int, slope []float64) ([]int, []float64) {
	k, n := len(r.wires), len(wires)
	r.wires, r.slope = r.wires[:k+n], r.slope[:k+n]
	return wires[:n:n], slope[:n:n]
}

// on is the slope of a wire.
func (a *ask) on(wire int) float64 {
	if k, ok := slices.BinarySearch(a.wires, wire); ok {
		return a.slope[k]
	}
	return 0
}

// grow lifts in out what buys back most volts per volume of copper, for each broken limit, the worst first. slack multiplies the drop allowed.
func (v *volts) grow(out size.Sizes, slack float64) (beyond []Reach) {
	asks := v.asks(slack, slack > 1)
	slices.SortStableFunc(asks, func(a, b ask) int {
		return unit.Compare(b.over/max(1e-9, float64(b.value)), a.over/max(1e-9, float64(a.value)))
	})
	for i := range asks {
		a := &asks[i]
		if v.hot != nil && len(a.wires) > 0 && v.hot[v.parts.of[a.wires[0]]] || v.left(a, out) <= hair {
			continue
		}
		if best := v.best(a, out); best > hair {
			if r := a.reach; r != nil {
				r.Best = a.value + unit.Voltage(best)
				if a.floor {
					r.Best = a.value - unit.Voltage(best)
				}
				beyond = append(beyond, *r)
			}
			continue
		}
		helps := v.helps(a)
		for range mostSteps * len(out) {
			if v.left(a, out) <= hair || !v.buy(a, helps, out) {
				break
			}
		}
	}
	return beyond
}

// ohms is the resistance of a wire with a conductor, at the temperature of the solution.
func (v *volts) ohms(a *ask, i int, c *size.Conductor) float64 {
	r := float64(c.Resistance.Over(max(v.nt.Wires[i].Copper, v.nt.Wires[i].Length)))
	if i < len(a.temps) {
		r *= float64(data.Copper.Factor(a.temps[i]))
	}
	return r
}

// left is by how many volts a limit is broken with other sizes than those solved.
func (v *volts) left(a *ask, sizes size.Sizes) float64 {
	x := a.over
	for k, i := range a.wires {
		if sizes[i].Size != v.solved[i].Size {
			x += a.slope[k] * (v.ohms(a, i, &sizes[i]) - v.ohms(a, i, &v.solved[i]))
		}
	}
	return x
}

// best is what is left with every wire that helps at the largest size that can be crimped at its ends. A limit that asks for more is to be
// met elsewhere: by another contact, a shorter way, fewer joints, or less load on what is shared.
func (v *volts) best(a *ask, sizes size.Sizes) float64 {
	x := v.left(a, sizes)
	for n, i := range a.wires {
		if k := v.capped[i]; v.ladders[i] != nil && a.slope[n] > 0 && sizes[i].Size.Less(v.ladders[i][k].Size) {
			x += a.slope[n] * (v.ohms(a, i, &v.ladders[i][k]) - v.ohms(a, i, &sizes[i]))
		}
	}
	return x
}

// helps lists the wires with parallel ones among them that the limit turns on: the first of each.
func (v *volts) helps(a *ask) []int {
	var out []int
	for _, i := range a.wires {
		if v.ladders[i] != nil {
			out = append(out, v.strands[i][0])
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// buy lifts by one step the wire of those that help, parallel ones with it, that gains most volts per copper added; false when none is left.
func (v *volts) buy(a *ask, helps []int, sizes size.Sizes) bool {
	best, step, most := -1, 0, 0.0
	for _, i := range helps {
		k := v.next(i, sizes[i].Size)
		if k < 0 || k > v.capped[i] {
			continue
		}
		c := &v.ladders[i][k]
		gain, copper := 0.0, 0.0
		for _, j := range v.strands[i] {
			gain += a.on(j) * (v.ohms(a, j, &sizes[j]) - v.ohms(a, j, c))
			copper += float64(c.Size.Area()-sizes[j].Size.Area()) * float64(v.nt.Wires[j].Length)
		}
		if copper > 0 && unit.Worse(gain/copper, most) {
			best, step, most = i, k, gain/copper
		}
	}
	if best < 0 {
		return false
	}
	v.lift(sizes, best, step, size.ByDrop)
	return true
}

// asks lists the limits of all loads; without all only those that the solution breaks, which are told of. Two cases are looked at a time.
func (v *volts) asks(slack float64, all bool) []ask {
	found := make([][]ask, len(v.cases))
	solve.Each(len(v.cases), func(i int) {
		x := &asker{volts: v, c: v.cases[i], temps: v.temps[v.cases[i].Case], slack: slack, all: all}
		x.steady()
		x.starts()
		found[i] = x.out
	})
	return slices.Concat(found...)
}

// asker lists the limits of a case.
type asker struct {
	*volts
	c      *solve.CaseResult
	temps  []unit.Temperature
	slack  float64
	all    bool
	out    []ask
	rows   rows
	limits []Limit // room for those of one load
}

// ask begins one for a limit of a load, by its index, if it is to be asked.
func (x *asker) ask(load int, l *Limit) *ask {
	by := over(l, x.slack)
	if by <= hair && !x.all {
		return nil
	}
	a := ask{over: by, value: l.Value, floor: l.Floor, temps: x.temps}
	if !x.all {
		r := reachOf(x.c, &x.c.Loads[load], *l)
		a.reach = &r
	}
	x.out = append(x.out, a)
	return &x.out[len(x.out)-1]
}

func (x *asker) steady() {
	amps := steadyAmps(x.c)
	for i := range x.c.Loads {
		x.limits = x.judge.limits(x.limits[:0], x.c, &x.c.Loads[i], i)
		for k := range x.limits {
			l := &x.limits[k]
			a := x.ask(i, l)
			switch {
			case a == nil:
			case x.all || l.Name == "feed-drop" || l.Name == "return-drop":
				a.wires, a.slope = x.onWay(&x.c.Loads[i], l, amps)
			default:
				a.wires, a.slope = x.everywhere(i)
			}
		}
	}
}

// over is how far a limit is broken when slack times the drop is allowed; a floor gives way by a tenth of that share.
func over(l *Limit, slack float64) float64 {
	if l.Floor {
		return float64(l.Value)*(1-(slack-1)/10) - float64(l.Got)
	}
	return float64(l.Got) - float64(l.Value)*slack
}

func reachOf(c *solve.CaseResult, l *solve.LoadResult, limit Limit) Reach {
	return Reach{Case: c.Case, Device: l.Device, Index: l.Index, Coil: l.Coil, Limit: limit}
}

// starts looks at each start for the loads that it moves. What it leaves alone is judged once for all such starts; only where that is
// broken each of them has an ask of its own.
func (x *asker) starts() {
	c := x.c
	if len(c.Starts) == 0 {
		return
	}
	moves, quiet, loads := c.StartTable()
	floors, known := make([][]Limit, len(c.Loads)), make([]bool, len(c.Loads)) // the same in every start
	for s := range c.Starts {
		st := &c.Starts[s]
		amps := st.Amps
		slices.Sort(loads[s])
		for _, i := range loads[s] {
			broken := false
			if !known[i] {
				floors[i], known[i] = x.judge.startFloors(c, &c.Loads[i]), true
			}
			x.limits = x.judge.startGets(x.limits[:0], c, s, i, floors[i])
			for k := range x.limits {
				a := x.ask(i, &x.limits[k])
				if a == nil {
					continue
				}
				broken = broken || !x.all
				a.wires, a.slope = x.onWay(&c.Loads[i], &x.limits[k], amps)
				if a.reach != nil {
					a.reach.Start = st.Device
				}
			}
			if broken && quiet[i] == s {
				for n := s + 1; n < len(c.Starts); n++ {
					if !slices.Contains(moves[i], n) {
						loads[n] = append(loads[n], i)
					}
				}
			}
		}
	}
}

// everywhere is the exact slopes about the operating point, shared feeds and rings included.
func (x *asker) everywhere(load int) (wires []int, slope []float64) {
	all, gained := solve.Adjoint(x.c, load)
	wires, slope = x.rows.row(len(all))
	for k, i := range all {
		if i < len(x.nt.Wires) && unit.Finite(gained[k]) {
			wires, slope = append(wires, i), append(slope, -float64(gained[k]))
		}
	}
	return x.rows.keep(wires, slope)
}

// onWay is the slopes at fixed currents: what each wire on the way carries in its direction, at the limit's corner where the way is
// known there.
func (x *asker) onWay(l *solve.LoadResult, limit *Limit, amps func(element int) unit.Current) (wires []int, slope []float64) {
	at := limit.Corner != nil && len(limit.Corner.Load.Feed)+len(limit.Corner.Load.Return) > 0
	if at {
		l = &limit.Corner.Load
	}
	wires, slope = x.rows.row(len(l.Feed) + len(l.Return))
	add := func(steps []solve.Step) {
		for _, s := range steps {
			w := wireOf(x.c, s)
			if w < 0 || w >= len(x.nt.Wires) {
				continue
			}
			a := float64(amps(s.Element))
			if s.Reverse {
				a = -a
			}
			if at {
				a = float64(s.Amps)
			}
			if !unit.Finite(a) {
				continue
			}
			k, ok := slices.BinarySearch(wires, w)
			if !ok {
				wires, slope = slices.Insert(wires, k, w), slices.Insert(slope, k, 0.0)
			}
			slope[k] += a
		}
	}
	if limit.Name != "return-drop" {
		add(l.Feed)
	}
	if limit.Name != "feed-drop" {
		add(l.Return)
	}
	return x.rows.keep(wires, slope)
}

func steadyAmps(c *solve.CaseResult) func(element int) unit.Current {
	return func(e int) unit.Current {
		if e < 0 || e >= len(c.Point.Amps) {
			return 0
		}
		return c.Point.Amps[e]
	}
}
