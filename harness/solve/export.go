package solve

import (
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// LawKind is how the current of an element follows from the volts across it.
type LawKind uint8

// Kinds of law. Loads answer to reversed volts as to forward ones.
const (
	Open          LawKind = iota // carries nothing
	Ohmic                        // volts over Resistance
	Source                       // Volts behind Resistance; delivers never less than nothing and never more than Most
	OneWay                       // nothing below Volts, above it the volts beyond over Resistance
	SteadyCurrent                // Most from the volts Volts up, below it falling with the volts to nothing at none
	SteadyPower                  // Watts over the volts from Volts up, below it the resistance it has at Volts
)

// Law is the law of one element, for who writes the net in another form. What its kind does not name is zero.
type Law struct {
	Kind       LawKind
	Resistance unit.Resistance
	Volts      unit.Voltage
	Most       unit.Current
	Limited    bool // a Source has a limit, Most
	Watts      unit.Power
}

func (b *branch) exported() Law {
	switch b.law {
	case ohmic:
		return Law{Kind: Ohmic, Resistance: unit.Resistance(1 / b.g)}
	case source:
		l := Law{Kind: Source, Resistance: unit.Resistance(1 / b.g), Volts: unit.Voltage(b.e)}
		if b.most <= mostAmps {
			l.Most, l.Limited = unit.Current(b.most), true
		}
		return l
	case oneWay:
		return Law{Kind: OneWay, Resistance: unit.Resistance(1 / b.g), Volts: unit.Voltage(b.e)}
	case steadyCurrent:
		return Law{Kind: SteadyCurrent, Volts: unit.Voltage(b.e), Most: unit.Current(b.most)}
	case steadyPower:
		return Law{Kind: SteadyPower, Volts: unit.Voltage(b.e), Watts: unit.Power(b.most)}
	}
	return Law{}
}

// Laws are those of the elements of a result's net, in their order.
func Laws(res *CaseResult) []Law {
	if res.again == nil {
		return nil
	}
	p := res.again.p
	out := make([]Law, len(p.ofE))
	for i := range out {
		out[i] = p.branch(i).exported()
	}
	return out
}

// StartLaws are those while a device of the case starts: its loads that are fed and have a starting value take that, all others are as
// in Laws.
func StartLaws(job *design.Job, res *CaseResult, device string) []Law {
	out := Laws(res)
	c := &design.Case{}
	for _, x := range job.Cases {
		if x.Name == res.Case {
			c = x
		}
	}
	v := newValues(job, nil, nil, nil, c)
	d := v.byName[device]
	if d == nil {
		return out
	}
	type load struct {
		coil  bool
		index int
	}
	fed := map[load]bool{}
	for i := range res.Loads {
		if l := &res.Loads[i]; l.Device == device {
			fed[load{l.Coil, l.Index}] = l.Fed
		}
	}
	for i, e := range res.Net.Elements {
		if e.Device != device || e.Kind != Load && e.Kind != Coil || !fed[load{e.Kind == Coil, e.Index}] {
			continue
		}
		var draw *design.Draw
		if e.Kind == Coil {
			draw = &d.Coils[e.Index].Draw
		} else {
			draw = &d.Draws[e.Index]
		}
		if !draw.Start.Given || !(most(draw.Start) > 0) {
			continue
		}
		kind := design.ConstantResistance
		if draw.As == design.ConstantCurrent && !draw.Ohms.Given {
			kind = design.ConstantCurrent
		}
		x := loadAt(kind, float64(v.measuredAt(d, draw)), float64(most(draw.Start)))
		out[i] = x.exported()
	}
	return out
}
