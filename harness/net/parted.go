package net

import (
	"slices"

	"loomsheet/harness/design"
)

// Parted is the net with some things undone: a copy, the net itself is not changed. Wires keep their indexes.
//
// Of an undone break no crossing is left, so that the contacts of both halves end in the air. The lugs on either half of an undone stud post
// stay together, as on the half that keeps the post, but the halves no longer meet: those of half 1 get a cavity of their own, its name
// followed by " off". Of an undone device every plug is pulled and every nut undone; of an undone stud every lug comes off. Their ends are cut
// back, Near says where they were; only wires crimped into one cavity of a pulled plug stay joined, in a splice of the pin's name followed
// by " off". What the job does not have is passed over.
func Parted(nt *Net, undo []design.Undo) *Net {
	if nt == nil {
		return nil
	}
	type stud struct{ device, pin string }
	breaks, devices, studs := map[string]bool{}, map[string]bool{}, map[stud]bool{}
	for _, u := range undo {
		switch u.Kind {
		case "break":
			breaks[u.Name] = true
		case "device":
			devices[u.Name] = true
		case "stud":
			studs[stud{u.Name, u.Pin}] = true
		}
	}
	off := func(t *Termination) bool {
		return (t.Kind == InCavity || t.Kind == OnStud) && (devices[t.Device] || studs[stud{t.Device, t.Pin}])
	}
	out := *nt
	out.Wires = slices.Clone(nt.Wires)
	shared := map[stud]int{}
	for i := range out.Wires {
		for k := range out.Wires[i].Ends {
			if t := &out.Wires[i].Ends[k]; t.Kind == InCavity && off(t) {
				shared[stud{t.Device, t.Pin}]++
			}
		}
	}
	for i := range out.Wires {
		for k := range out.Wires[i].Ends {
			t := &out.Wires[i].Ends[k]
			switch {
			case t.Kind == OnPost && breaks[t.Break] && t.Half&1 == 1:
				t.Cavity += " off"
			case off(t):
				pin := t.Device + "." + t.Pin
				joined := t.Kind == InCavity && shared[stud{t.Device, t.Pin}] > 1
				if *t = (Termination{Kind: CutBack, Near: pin, Housing: -1, Node: t.Node}); joined {
					t.Kind, t.Splice = InSplice, pin+" off"
				}
			}
		}
	}
	out.Crossings = nil
	for _, c := range nt.Crossings {
		if !breaks[c.Break] {
			out.Crossings = append(out.Crossings, c)
		}
	}
	out.Uses = nil
	for _, u := range nt.Uses {
		if !devices[u.Device] && !studs[stud{u.Device, u.Pin}] {
			out.Uses = append(out.Uses, u)
		}
	}
	return &out
}
