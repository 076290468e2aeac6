package solve

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
)

// All is the elements of a job with every contact of every state in place, whatever the cases set: for what is sought over all positions
// of its switches and relays. It is nothing to solve: contacts of one group that exclude each other stand side by side, and it is for who
// walks it to use one state of a group at a time. A Switch's Device and Index name its state.
func All(job *design.Job, nt *net.Net, sizes size.Sizes) *Network {
	if job == nil {
		job = &design.Job{}
	}
	v := newValues(job, nt, sizes, nil, &design.Case{})
	b := v.build(positions{})
	for _, d := range v.devices {
		at := v.scope(d)
		for i := range d.States {
			s := &d.States[i]
			if b.standing(group{d.Name, s.Group}) == s.State {
				continue // in place already
			}
			b.star(d, s.Pins, exactly(v.ohms("contact-resistance", at)).aged(v.age(at)), func(from, to string) piece {
				return piece{Item: Item{Kind: Switch, Name: d.Name + " " + s.StateRef.String() + " " + from + " - " + to, Wire: -1, Device: d.Name, Index: i, Span: s.Span}}
			})
		}
	}
	return b.Network
}
