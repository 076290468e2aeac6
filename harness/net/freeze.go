package net

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Decision is a cavity, a label or the place of a splice as it stands now, to be written out as a statement so that it never moves again.
type Decision struct {
	Label    string // the mark, for a label; else empty
	Splice   string // for the place of a splice; else empty
	Along    string // its run
	Until    string // the end of the stretch in which it lies, where it counts from that stretch's beginning
	After    unit.Length
	Break    string // for a cavity
	Cavity   string
	Circuit  string // for a screen or a spare its cable
	From, To string // of the wire, as written
	// Revision since which it is frozen: that of the line that froze it, else the job's.
	Revision string
	// Old tells that a frozen line says so already.
	Old bool
}

// Freeze lists the cavities, labels and places of splices decided so far: each passage through a break, then each wire, in the order of the net, then each
// splice that stands along a run and was not placed by its own line. What is frozen
// already keeps its revision. Of the two wires that meet in a cavity the one is named that its ends tell apart; where neither is (parallel
// strands), several lines alike name them: older revisions first, cavities and ordinals rise together. So strands added to such wires
// want a new revision before they are frozen too.
func Freeze(n *Net, job *design.Job) []Decision {
	var out []Decision
	for i := range n.Crossings {
		c := &n.Crossings[i]
		if c.Cavity == "" {
			continue
		}
		w := &n.Wires[c.Wires[0]]
		if o := &n.Wires[c.Wires[1]]; n.through(c.Break, o) < n.through(c.Break, w) {
			w = o
		}
		d := Decision{Break: c.Break, Cavity: c.Cavity, Circuit: w.Circuit, From: w.From, To: w.To, Revision: job.Revision}
		for _, x := range job.Cavities {
			if x.Frozen != "" && x.Break == c.Break && x.Cavity == c.Cavity && x.Circuit == w.Circuit && c.Status == design.Frozen {
				d.Revision, d.Old = x.Frozen, true
				d.From, d.To = cmp.Or(x.From, d.From), cmp.Or(x.To, d.To)
			}
		}
		out = append(out, d)
	}
	for i := range n.Wires {
		w := &n.Wires[i]
		if w.Label == "" {
			continue
		}
		d := Decision{Label: w.Label, Circuit: w.Circuit, From: w.From, To: w.To, Revision: job.Revision}
		for _, x := range job.Labels {
			if x.Frozen != "" && x.Text == w.Label && x.Circuit == w.Circuit && w.LabelStatus == design.Frozen {
				d.Revision, d.Old = x.Frozen, true
			}
		}
		out = append(out, d)
	}
	for i := range n.Joints {
		j := &n.Joints[i]
		d := Decision{Splice: j.Splice, Along: j.Run, Until: j.To, After: j.After, Revision: job.Revision}
		old := slices.IndexFunc(job.Seats, func(x *design.SeatDecision) bool { return x.Splice == j.Splice && x.Frozen != "" && !x.Lost })
		if old >= 0 {
			d.Revision, d.Old = job.Seats[old].Frozen, true
		}
		if j.Run != "" && (d.Old || j.Status == design.Computed && len(j.Wires) > 0) {
			out = append(out, d)
		}
	}
	return slices.Clip(out)
}

// through counts the passages of a break by wires that are said like this one.
func (n *Net) through(name string, w *Wire) int {
	count := 0
	for _, c := range n.Crossings {
		if c.Break != name {
			continue
		}
		for _, i := range c.Wires {
			if o := &n.Wires[i]; o.Circuit == w.Circuit && o.From == w.From && o.To == w.To {
				count++
				break
			}
		}
	}
	return count
}
