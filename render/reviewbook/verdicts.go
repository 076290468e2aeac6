package reviewbook

import (
	"strconv"

	"loomsheet/render/common"
)

// tally counts what was judged and what of it was not met.
type tally struct{ judged, broken int }

func (t *tally) add(ok bool) {
	t.judged++
	if !ok {
		t.broken++
	}
}

func (t tally) text(one, many string) string {
	if t.judged == 0 {
		return "no " + many
	}
	s := common.Count(t.judged, one, many)
	switch t.broken {
	case 0:
		return s + ", each met"
	case 1:
		return s + ", 1 not met"
	}
	return s + ", " + strconv.Itoa(t.broken) + " not met"
}

func (b *book) protectionVerdict() string {
	p := b.in.Protect
	if p == nil {
		return "nothing was judged"
	}
	var loads, starts, overloads, shorts, pairs tally
	for i := range p.Fuses {
		loads.add(p.Fuses[i].LoadMet)
		for _, h := range p.Fuses[i].Starts {
			starts.add(h.Met)
		}
	}
	for i := range p.Wires {
		if o := p.Wires[i].Overload; o != nil {
			overloads.add(o.Met)
		}
	}
	for i := range p.Shorts {
		shorts.add(p.Shorts[i].Met)
	}
	for i := range p.Pairs {
		if p.Pairs[i].Known {
			pairs.add(p.Pairs[i].Met)
		}
	}
	return loads.text("fuse against its load", "fuses against their loads") + "; " + starts.text("start through a fuse", "starts through fuses") + "; " + overloads.text("wire in overload", "wires in overload") + "; " +
		shorts.text("dead short", "dead shorts") + "; " + pairs.text("pair in series", "pairs in series")
}

func (b *book) contactVerdict() string {
	if b.in.Contact == nil {
		return "nothing was judged"
	}
	var ends tally
	for i := range b.in.Contact.Ends {
		ends.add(b.in.Contact.Ends[i].Met)
	}
	return ends.text("contact in its place", "contacts in their places")
}

func (b *book) batteryVerdict() string {
	c := b.in.Charge
	if c == nil {
		return "nothing was judged"
	}
	var hours, drains, readings tally
	for i := range c.Balances {
		if c.Balances[i].Hours > 0 {
			hours.add(c.Balances[i].Met)
		}
	}
	for i := range c.Drains {
		drains.add(c.Drains[i].Met)
	}
	for i := range b.in.Readings {
		readings.add(b.in.Readings[i].Met)
	}
	return "over the hours of a case: " + hours.text("battery in a case", "batteries in cases") + "; while parked: " + drains.text("battery", "batteries") + "; sensors: " + readings.text("reading", "readings")
}

// crankVerdict counts the places of the cranking sweeps that miss a limit: information, since the case's own row is judged elsewhere.
func (b *book) crankVerdict() string {
	var rows tally
	for i := range b.in.Cranking {
		for j := range b.in.Cranking[i].Rows {
			for _, v := range b.in.Cranking[i].Rows[j].At {
				rows.add(v.Met)
			}
		}
	}
	if rows.judged == 0 {
		return "no case cranks"
	}
	return rows.text("place", "places") + ", over the battery's temperature and age; what misses there is no finding, see the table"
}
