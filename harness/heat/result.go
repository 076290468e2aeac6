package heat

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// verdict weighs a wire at its worst place: whether it is met, and by what.
func (s *solver) verdict(at *stand, k int) WireResult {
	x := s.candidate(at, k, &setting{})
	return x.judged()
}

func (x *candidate) judged() WireResult {
	r := x.WireResult
	r.Table, r.Ruled = x.table, Balance
	if x.asked != "balance" && x.table != nil && x.table.Holds {
		r.Ruled, r.Ampacity = x.table.Method, x.table.Amps
	}
	r.Met = x.used <= 1+1e-9
	r.Unjudged = r.Ruled != Balance && r.Met && r.Hottest > r.Limit
	return r
}

// result works out the ampacities of a wire at its worst place as well, and puts the ruling into words.
func (s *solver) result(at *stand, k int) WireResult {
	around := s.around(at)
	x := s.candidate(at, k, &around)
	r, wire, m, ta, sq := x.judged(), x.Wire, at.model, at.air(), at.squares()
	limit := float64(r.Limit)
	r.Balance = unit.Current(m.ampacity(ta, limit, sq, k))
	rest := slices.Clone(sq)
	rest[k] = 0
	r.Rest = unit.Temperature(m.together(ta, rest).temps[k])
	r.FreeAir = r.Balance
	if len(m.wires) > 1 {
		one := m.alone(k)
		r.FreeAir = unit.Current(one.ampacity(ta, limit, []float64{0}, 0))
	}
	if x.asked == "balance" {
		r.Table = pick(x.asked, s.conds[wire], &around)
	}
	r.Table = s.set.once(r.Table)
	r.Verified = s.firm(&s.conds[wire], design.Scope{Zone: r.Zone, Case: r.Case})
	switch {
	case x.asked == "balance":
		r.Why = "heat balance, the method in force"
	case x.table == nil:
		r.Why = "heat balance: " + string(asked(x.asked)) + " has no figure for " + s.conds[wire].Size.String() + " at " + s.conds[wire].Heat.String()
	case !x.table.Holds:
		r.Why = "heat balance, because " + string(x.table.Method) + " does not hold: " + x.table.Condition
	default:
		r.Verified = x.table.Verified
		r.Why = string(x.table.Method) + ", whose printed conditions hold: " + x.table.Condition
	}
	if r.Ruled == Balance {
		r.Ampacity = r.Balance
	}
	if r.Start != "" {
		r.Why += "; the start of " + r.Start + " makes the peak"
	}
	if r.Unjudged {
		r.Why += fmt.Sprintf("; by the heat balance, which is not judged here, the conductor reaches %s and may reach %s, and %s would be its most", r.Hottest, r.Limit, r.Balance)
	}
	return r
}

func asked(setting string) Method {
	if setting == "aircraft" {
		return Aircraft
	}
	return Marine
}

// nowhere is the result of a wire that was not judged.
func nowhere(wire int) WireResult {
	return WireResult{Wire: wire, Edge: -1, Met: true, Why: "its conductor is not known"}
}

// firm tells whether a heat balance rests on verified values only: the resistance, the figures of the wire's family (outside diameter and
// heat rating), and an emissivity and conductivities that somebody set, since their defaults are from memory.
func (s *solver) firm(c *size.Conductor, at design.Scope) bool {
	if !c.Verified || !s.set.verified(c.Family) {
		return false
	}
	for _, name := range []string{"emissivity", "bundle-conductivity", "insulation-conductivity"} {
		if !s.job.Settings.Get(name, at).Set {
			return false
		}
	}
	return true
}
