package margin

import (
	"math"
	"slices"
	"strings"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// How far causes are tried: load and length to three times what they are, air 60 K warmer, a supply 30 % lower and higher.
const (
	mostFactor = 3.0
	mostWarmer = 60.0
	mostSupply = 0.3
)

// Names of the causes.
const (
	Load    = "load"
	Length  = "length"
	Ambient = "ambient"
	Supply  = "supply"
)

// voltRooms prepares the searches for a limit on volts; each fills its own room.
func voltRooms(p *parted, x *Tight) []func() {
	s := &x.Subject
	b := p.base(s)
	if b == nil {
		return nil
	}
	t, c := b.trial, b.solved
	l := loadOf(c.Loads, s)
	if l == nil {
		return nil
	}
	now := lookIn(t, c, s)
	find := func(change func(by float64) trial) func(float64) float64 {
		return func(by float64) float64 {
			if by == 0 {
				return now.over()
			}
			return change(by).look(s).over()
		}
	}
	x.Room = make([]Room, 4)
	load, length, ambient, supply := &x.Room[0], &x.Room[1], &x.Room[2], &x.Room[3]
	return []func(){
		func() {
			*load = Room{What: Load, Of: x.Title, From: amperes(now.amps)}
			if s.Start != "" {
				load.Of = s.Start + " as it starts"
			}
			at := cross(find(func(by float64) trial { return t.draws(s, 1+by) }), mostFactor-1)
			load.found(at)
			if load.To = load.From; at.at != 0 {
				load.To = amperes(t.draws(s, 1+at.at).look(s).amps)
			}
		},
		func() {
			way := t.stretches(c, sides(l, s.Limit))
			var wires []int
			var whole unit.Length
			for _, k := range way {
				wires = append(wires, k.strands...)
				whole += wireLength(&t.nt.Wires[k.wire])
			}
			*length = Room{What: Length, Of: onWay(s.Limit), From: millimetres(whole)}
			at := cross(find(func(by float64) trial { return t.longer(wires, 1+by) }), mostFactor-1)
			length.found(at)
			length.To = millimetres(scale(whole, 1+at.at))
		},
		func() {
			*ambient = Room{What: Ambient, Of: "all conductors", From: kelvin(0)}
			at := cross(find(t.warmer), mostWarmer)
			ambient.found(at)
			ambient.To = kelvin(at.at)
		},
		func() {
			supply.shift(t, l.Supply, l.SupplySet, func(y trial) float64 { return y.look(s).over() }, now.over())
		},
	}
}

// shift seeks the nearer crossing as the set-point falls or rises.
func (r *Room) shift(t trial, feeds string, set unit.Voltage, over func(trial) float64, now float64) {
	devices := t.setPoints(feeds, set)
	*r = Room{What: Supply, Of: strings.Join(devices, ", "), From: voltage(set)}
	end := mostSupply * math.Abs(float64(set))
	try := func(end float64) crossing {
		return cross(func(by float64) float64 {
			if by == 0 {
				return now
			}
			return over(t.supplied(devices, unit.Voltage(by)))
		}, end)
	}
	at := try(-end)
	if !at.missed {
		if up := try(-at.at); !up.beyond || at.beyond && up.at > 0 && over(t.supplied(devices, unit.Voltage(up.at))) > over(t.supplied(devices, unit.Voltage(at.at))) {
			at = up
		}
	}
	r.found(at)
	r.To = voltage(set + unit.Voltage(at.at))
}

func (r *Room) found(at crossing) { r.Beyond, r.Stops, r.Missed = at.beyond, at.stops, at.missed }

// onWay is which length a limit asks about.
func onWay(limit string) string {
	switch limit {
	case "feed-drop":
		return "one way, out"
	case "return-drop":
		return "one way, back"
	}
	return "out and back"
}

func amperes(i unit.Current) unit.Quantity {
	return unit.Quantity{Value: float64(i), Dim: unit.DimCurrent}
}

func millimetres(l unit.Length) unit.Quantity {
	return unit.Quantity{Value: float64(l), Dim: unit.DimLength}
}

func kelvin(k float64) unit.Quantity { return unit.Quantity{Value: k, Dim: unit.DimTempDiff} }

// feeder is the supply that feeds most of what a wire carries in a case.
func feeder(c *solve.CaseResult, wire int) (device string, set unit.Voltage) {
	most := unit.Current(0)
	for i := range c.Loads {
		l := &c.Loads[i]
		if l.Supply == "" || l.Amps <= most {
			continue
		}
		on := func(s solve.Step) bool { return wireOf(c, s) == wire }
		if slices.ContainsFunc(l.Feed, on) || slices.ContainsFunc(l.Return, on) {
			device, set, most = l.Supply, l.SupplySet, l.Amps
		}
	}
	return device, set
}
