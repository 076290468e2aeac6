package size

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// Fitter is a net made ready for choosing conductors again and again: the family and the contacts of each wire looked up once. The job and
// the net must not change while it is in use; it is for one user at a time.
type Fitter struct {
	job     *design.Job
	nt      *net.Net
	ladders map[rungs][]Conductor
	rules   *design.Rulings
	seats   [][2]seat  // by wire and end
	family  []familyOf // by wire
	strands [][]int    // parallel wires of one link, itself among them; nil for a wire of no link
	wires   map[string]*design.Wire
	*index
}

type rungs struct {
	family string
	most   unit.Size
}

type familyOf struct {
	name string
	part *design.Wire
}

// seat is the contacts an end may have; known is false where that is not known or no contact is needed.
type seat struct {
	takes []*design.Contact
	known bool
}

// NewFitter makes a net ready.
func NewFitter(job *design.Job, nt *net.Net) *Fitter {
	f := &Fitter{job: job, nt: nt, ladders: map[rungs][]Conductor{}, rules: design.NewRulings(&job.Settings), wires: map[string]*design.Wire{}, index: newIndex(job),
		seats: make([][2]seat, len(nt.Wires)), family: make([]familyOf, len(nt.Wires)), strands: make([][]int, len(nt.Wires))}
	for _, p := range job.Parts.Wires {
		if f.wires[p.Name] == nil {
			f.wires[p.Name] = p
		}
	}
	type link struct {
		circuit     string
		link, piece int
	}
	together := map[link][]int{}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		for k := range w.Ends {
			f.seats[i][k].takes, f.seats[i][k].known = endTakes(f.index, &w.Ends[k])
		}
		f.family[i].name, f.family[i].part = familyIn(f.rules.Get, f.part, nt, w)
		if w.Link >= 0 {
			k := link{w.Circuit, w.Link, w.Piece}
			together[k] = append(together[k], i)
		}
	}
	for i := range nt.Wires {
		if w := &nt.Wires[i]; w.Link >= 0 {
			f.strands[i] = together[link{w.Circuit, w.Link, w.Piece}]
		}
	}
	return f
}

func (f *Fitter) part(name string) *design.Wire { return f.wires[name] }

// Ladder is that of a wire. It is shared by all of its family: nothing in it may be changed.
func (f *Fitter) Ladder(i int) []Conductor {
	most, _ := bound(f.rules.Get, f.nt, &f.nt.Wires[i], "size-most")
	k := rungs{f.family[i].name, most}
	l, ok := f.ladders[k]
	if !ok {
		l = upTo(ladderOf(f.family[i].name, f.family[i].part), most)
		f.ladders[k] = l
	}
	return l
}

// Contacts chooses the contacts of a wire for a conductor.
func (f *Fitter) Contacts(i int, c *Conductor) (names [2]string, fits [2]bool) {
	w := &f.nt.Wires[i]
	for k := range w.Ends {
		names[k], fits[k] = f.seats[i][k].choose(&w.Ends[k], c)
	}
	return names, fits
}

// CouldFit tells whether a conductor can be crimped at both ends of a wire.
func (f *Fitter) CouldFit(i int, c *Conductor) bool {
	_, fits := f.Contacts(i, c)
	for k := range fits {
		if t := &f.nt.Wires[i].Ends[k]; !fits[k] && (fixed(t) || !someFits(f.index, t, c)) {
			return false
		}
	}
	return true
}
