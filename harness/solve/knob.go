package solve

import (
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// ohms is a resistance as it counts in the case, with the least and the most it may be.
type ohms struct{ low, now, high unit.Resistance }

func exactly(r unit.Resistance) ohms { return ohms{r, r, r} }

// spread counts at its high end.
func spread(f design.Fact[unit.Resistance]) ohms {
	r := most(f)
	return ohms{min(least(f), r), r, r}
}

// aged is a joint somewhere between new and the age the job gives it, at which it counts.
func (o ohms) aged(by unit.Resistance) ohms {
	return ohms{o.low * min(1, by), o.now * by, o.high * max(1, by)}
}

// worse is the greater of two joints of which only one can be in place.
func (o ohms) worse(x ohms) ohms {
	return ohms{max(o.low, x.low), max(o.now, x.now), max(o.high, x.high)}
}

// turns says which of a branch's figures a knob sets.
type turns uint8

const (
	setPoint turns = iota
	insideOhms
	drawAmps
	startAmps
	joint
	forward
)

// Ends of a knob.
const (
	atLow = iota
	asIs
	atHigh
	ends
)

// knob is a stated value of one branch with a spread.
type knob struct {
	element int
	turns   turns
	value   [ends]float64 // of the branch: e, g or most
	dim     unit.Dim
	stated  [ends]float64 // as the job says it
}

// real tells whether the ends differ.
func (k *knob) real() bool {
	return k.value[atLow] != k.value[asIs] || k.value[atHigh] != k.value[asIs]
}

// turn sets a branch to an end.
func (k *knob) turn(b *branch, end int) {
	switch {
	case k.turns == setPoint || k.turns == forward:
		b.e = k.value[end]
	case b.law == steadyCurrent || b.law == steadyPower:
		b.most = k.value[end]
	default:
		b.g = k.value[end]
	}
}

// carries is the current at an end, at given volts.
func (k *knob) carries(b branch, end int, volts float64) float64 {
	k.turn(&b, end)
	i, _ := b.at(volts)
	return i
}

func ohmKnob(t turns, o ohms) knob {
	k := knob{turns: t, dim: unit.DimResistance}
	for end, r := range [ends]unit.Resistance{o.low, o.now, o.high} {
		x := within(float64(r), leastResistance, mostResistance)
		k.value[end], k.stated[end] = 1/x, x
	}
	return k
}

func voltKnob(t turns, low, now, high unit.Voltage) knob {
	k := knob{turns: t, dim: unit.DimVoltage}
	for end, v := range [ends]unit.Voltage{low, now, high} {
		k.value[end] = within(float64(v), 0, mostVolts)
		k.stated[end] = k.value[end]
	}
	return k
}

// text is the value at an end, for paper.
func (k *knob) text(end int) string {
	x := k.stated[end]
	switch k.dim {
	case unit.DimCurrent:
		return unit.Current(x).String()
	case unit.DimPower:
		return unit.Power(x).String()
	case unit.DimResistance:
		return unit.Resistance(x).String()
	}
	return unit.Voltage(x).String()
}

// what names the value in the trade's words. Where a device has several of a kind the pins tell them apart.
func (k *knob) what(nw *Network) string {
	e := &nw.Elements[k.element]
	word := ""
	switch k.turns {
	case setPoint:
		word = "set-point"
	case insideOhms:
		word = "inside resistance"
	case startAmps:
		word = "starting current"
	case forward:
		return e.Name + " forward volts"
	case drawAmps:
		word = "draw"
		if e.Kind == Coil {
			word = "coil"
		}
	default:
		switch e.Kind {
		case Fuse, Join, Switch:
			return e.Name
		}
		return e.Kind.String() + " " + e.Name
	}
	alike := func(i int) bool { // those of a device lie side by side
		return i >= 0 && i < len(nw.Elements) && nw.Elements[i].Kind == e.Kind && nw.Elements[i].Device == e.Device
	}
	if alike(k.element-1) || alike(k.element+1) {
		if e.Kind == Coil && k.turns == drawAmps {
			return e.Name
		}
		return e.Name + " " + word
	}
	return e.Device + " " + word
}
