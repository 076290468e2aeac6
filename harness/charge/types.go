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

// Balance is one battery (a supply that states what it stores) in one case.
type Balance struct {
	Case   string
	Device string
	Index  int
	Hours  unit.Time    // of the case; 0 not stated
	Amps   unit.Current // mean it delivers: loads that work on and off by their share of time
	Stores unit.Charge  // what it stores
	Share  unit.Ratio   // usable: setting
	Ruling design.Ruling
	Used   unit.Charge // over the hours
	Lasts  unit.Time   // until the usable share is gone; 0 never
	Met    bool
	Span   diag.Span
}

// Drain is what a battery gives while everything is switched off.
type Drain struct {
	Device string
	Index  int
	Amps   unit.Current
	Most   unit.Current // limit
	Ruling design.Ruling
	Loads  []DrainPart // the largest first
	Stores unit.Charge
	Lasts  unit.Time // until the usable share is gone; 0 not known or never
	Met    bool
	Span   diag.Span
}

// DrainPart is one load of a drain.
type DrainPart struct {
	Device string
	Index  int
	Coil   bool
	Amps   unit.Current
}

// KeptAlive is an isolator opened while an alternator runs.
type KeptAlive struct {
	Case   string
	Device string // the switch that cuts off every battery
	Group  string
	By     string   // supply that goes on
	Loads  []string // devices that stay fed, natural order
	Span   diag.Span
}

// Result is the charge of a job.
type Result struct {
	Balances []Balance   // by case, device
	Drains   []Drain     // by device
	Kept     []KeptAlive // by case, device
}

// Find weighs every battery of a job.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult) *Result {
	return &Result{}
}
