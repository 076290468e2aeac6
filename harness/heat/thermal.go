package heat

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Thermal answers how single wires warm past their steady state, each at its worst place over all cases.
type Thermal struct{}

// NewThermal prepares the bundles of all cases.
func NewThermal(job *design.Job, nt *net.Net, conds size.Sizes, cases []*solve.CaseResult, duty DutyCurrents) *Thermal {
	return &Thermal{}
}

// Steady is the wire's conductor at its hottest place and case as the cases have it.
func (t *Thermal) Steady(wire int) unit.Temperature { return 0 }

// Sustained is the steady current at which the wire reaches the limit at its worst place, its neighbours as in the case; 0 where it is there without any.
func (t *Thermal) Sustained(wire int, limit unit.Temperature) unit.Current { return 0 }

// After is how hot the conductor gets when the current flows for so long, from its steady state.
func (t *Thermal) After(wire int, amps unit.Current, d unit.Time) unit.Temperature { return 0 }

// Lasts is how long the current may flow from the steady state until the conductor reaches the limit; ok is false when it never does.
func (t *Thermal) Lasts(wire int, amps unit.Current, limit unit.Temperature) (d unit.Time, ok bool) {
	return 0, false
}
