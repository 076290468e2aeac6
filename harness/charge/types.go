// Package charge weighs what batteries give over time: the balance of a case over its hours, what is drawn while parked, and what an
// alternator keeps alive once the battery is cut off.
package charge

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Spell is a share of the time in which the same loads work.
type Spell struct {
	Share unit.Ratio
	Amps  unit.Current // the battery delivers then
	Rests []string     // devices with a load that works on and off and rests then; natural order
}

// Balance is one battery (a supply that states what it stores) in one case.
type Balance struct {
	Case   string
	Device string
	Index  int
	Hours  unit.Time    // of the case; 0 not stated
	Amps   unit.Current // mean it delivers: loads that work on and off by their share of time; the sum of share times amps over Spells
	Spells []Spell      // most loads first
	Stores unit.Charge  // what it stores
	Share  unit.Ratio   // usable: setting
	Usable unit.Charge  // Share of Stores
	Ruling design.Ruling
	Used   unit.Charge // over the hours
	Lasts  unit.Time   // until the usable share is gone; 0 never
	Met    bool
	Span   diag.Span
}

// Drain is what a battery gives while everything is switched off.
type Drain struct {
	Device  string
	Index   int
	Amps    unit.Current // mean, as in a balance
	Most    unit.Current // limit
	Ruling  design.Ruling
	Loads   []DrainPart // the largest first
	LeftOut []string    // devices that would be fed but rest in some case: they switch themselves. Natural order
	Stores  unit.Charge
	Share   unit.Ratio // usable: setting
	Usable  unit.Charge
	Lasts   unit.Time // until the usable share is gone; 0 not known or never
	Met     bool
	Span    diag.Span
}

// DrainPart is one load of a drain.
type DrainPart struct {
	Device string
	Index  int
	Coil   bool
	Amps   unit.Current // mean
}

// KeptAlive is an isolator opened while an alternator runs.
type KeptAlive struct {
	Case   string
	Device string   // the switch that cuts off every battery
	Group  string   // of its states; empty: its only one
	By     []string // supplies that go on, natural order
	Loads  []string // devices that stay fed, a coil as "device coil"; natural order
	Span   diag.Span
}

// Result is the charge of a job.
type Result struct {
	Balances []Balance   // by case, device
	Drains   []Drain     // by device
	Kept     []KeptAlive // by case, device
}

// Find weighs every battery of a job. temps is the mean temperature of each wire's conductor by case; where a case is not in it wires are
// taken at 20 C.
//
// Nothing is left out of a balance but what the case rests: to leave out a load that draws from a battery is never the safer side.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, temps map[string][]unit.Temperature) *Result {
	w := newWork(job, nt, sizes, temps)
	if len(w.batteries) == 0 {
		return &Result{}
	}
	p := w.parked()
	return &Result{Balances: w.balances(cases), Drains: w.drains(p), Kept: w.kept(cases, p)}
}
