package reel

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Lengths are whole tenths of a millimetre while they are added up.
const tenths = 10

// How much is searched: pieces of one kind, and steps for one kind and for the job. What is beyond it is laid out by rule, which the answer says.
const (
	exactPieces = 400
	stepsOne    = 60000
	stepsAll    = 600000
)

type kind struct {
	family string
	size   unit.Size
	colour string
}

// job is the cutting of one kind of wire.
type job struct {
	kind
	cuts    []Cut
	unknown int
	stock   []unit.Length
}

// Find plans the cutting of all sections together. Reels at hand are used first. What has to be bought comes on reels of reel-length; of all ways to cut the fewest
// reels bought count first, then the least thrown away (rests shorter than reel-end), then the most useful rests: the greatest sum of their squares, since one
// long rest is worth more than several short ones.
func Find(d *design.Job, plan *bench.Plan) *Plan {
	p := &Plan{where: map[place]string{}}
	if plan == nil {
		return p
	}
	long := positive(unit.Length(d.Settings.Get("reel-length", design.Scope{}).Value.Quantity.Value))
	end := positive(unit.Length(d.Settings.Get("reel-end", design.Scope{}).Value.Quantity.Value))
	steps := stepsAll
	for _, j := range gather(d, plan) {
		w := p.wire(j, long, end, &steps)
		p.Wires = append(p.Wires, w)
		if w.Bought > 0 {
			p.Buy = append(p.Buy, Buy{w.Name, w.Bought, long})
		}
	}
	p.Wires = design.Exact(p.Wires)
	return p
}

func positive(l unit.Length) unit.Length {
	if !unit.Finite(l) || l < 0 {
		return 0
	}
	return l
}

// gather sorts the cuts and samples of all sections by what they are cut from. Screens put on at the bench come on no reel of wire.
func gather(d *design.Job, plan *bench.Plan) []job {
	at := map[kind]int{}
	var out []job
	of := func(k kind) *job {
		n, ok := at[k]
		if !ok {
			n = len(out)
			at[k], out = n, append(out, job{kind: k})
		}
		return &out[n]
	}
	for i := range plan.Sections {
		s := &plan.Sections[i]
		for n := range s.Cuts {
			c := &s.Cuts[n]
			if c.Screen {
				continue
			}
			k := kind{c.Family, c.Size, c.Colour}
			if len(c.Cores) > 0 {
				k = kind{family: c.Family}
			}
			j := of(k)
			if !(c.Length > 0) || !unit.Finite(c.Length) || c.Length > 1e9 {
				j.unknown++
				continue
			}
			j.cuts = append(j.cuts, Cut{Section: s.Name, Name: c.Name, Label: c.Label, Count: 1, Length: c.Length, Wire: c.Wire, index: n})
		}
		for _, k := range s.Samples {
			if k.Count > 0 && k.Length > 0 {
				j := of(kind{k.Family, k.Size, k.Colour})
				j.cuts = append(j.cuts, Cut{Section: s.Name, Name: k.For, Sample: true, Count: k.Count, Length: k.Length, Wire: -1, index: -1})
			}
		}
	}
	for _, k := range d.Stocks {
		if n, ok := at[kind{k.Wire, k.Size, k.Colour}]; ok {
			for _, l := range k.Lengths {
				if l > 0 && l < 1e9 {
					out[n].stock = append(out[n].stock, l)
				}
			}
		}
	}
	for i := range out {
		slices.SortStableFunc(out[i].cuts, func(a, b Cut) int {
			return cmp.Or(cmp.Compare(b.Length, a.Length), design.Natural(a.Section, b.Section), design.Natural(a.Name, b.Name))
		})
		slices.Sort(out[i].stock)
	}
	slices.SortStableFunc(out, func(a, b job) int {
		return cmp.Or(design.Natural(a.family, b.family), cmp.Compare(b.size.Area(), a.size.Area()), design.Natural(a.size.String(), b.size.String()), design.Natural(a.colour, b.colour))
	})
	return out
}

// wire lays out one kind.
func (p *Plan) wire(j job, long, end unit.Length, steps *int) Wire {
	w := Wire{Family: j.family, Size: j.size, Colour: j.colour, Name: j.family, Unknown: j.unknown}
	if !j.size.IsZero() {
		w.Name += " " + j.size.String() + " " + j.colour
	}
	t := task{reel: down(long), end: up(end)}
	var of []int // cut of each piece
	for i, c := range j.cuts {
		for range c.Count {
			t.pieces = append(t.pieces, up(c.Length))
			of = append(of, i)
		}
		w.Pieces += c.Count
	}
	for _, l := range j.stock {
		t.stock = append(t.stock, down(l))
		w.Stock += l
	}
	a, proved := t.solve(steps)
	w.Bound, w.Proved = t.bound(), proved

	most := long
	for _, l := range j.stock {
		most = max(most, l)
	}
	reels := make([]Reel, len(t.stock)+a.score.bought)
	count := map[unit.Length]int{}
	for i := range reels {
		r := &reels[i]
		if r.Bought = i >= len(t.stock); r.Bought {
			r.Length, r.Name = long, "new reel "+unit.Number(float64(i-len(t.stock)+1), 0)+" of "+metres(long)
		} else {
			r.Length = j.stock[i]
			count[r.Length]++
			r.Name = "stock " + metres(r.Length)
			if n := count[r.Length]; n > 1 {
				r.Name += ", no " + unit.Number(float64(n), 0)
			}
		}
		r.Rest = r.Length
	}
	for n, bin := range a.bin {
		c := j.cuts[of[n]]
		if bin < 0 {
			p.TooLong = addLong(p.TooLong, Long{c, w.Name, most})
			continue
		}
		r := &reels[bin]
		r.Rest -= c.Length
		w.Need += c.Length
		if k := len(r.Cuts) - 1; k >= 0 && c.Sample && r.Cuts[k].Sample && r.Cuts[k].Name == c.Name && r.Cuts[k].Section == c.Section {
			r.Cuts[k].Count++
		} else {
			c.Count = 1
			r.Cuts = append(r.Cuts, c)
		}
		if c.index >= 0 {
			p.where[place{c.Section, c.index}] = r.Name
		}
	}
	for i := range reels {
		r := &reels[i]
		r.Cuts = design.Exact(r.Cuts)
		r.Rest = max(0, r.Rest)
		r.Kept = r.Rest >= end
		switch {
		case len(r.Cuts) == 0:
		case r.Kept:
			w.Kept += r.Rest
		default:
			w.Thrown += r.Rest
		}
		if r.Bought {
			w.Bought++
		}
	}
	w.Reels = reels
	w.How = how(&w, t.lower(a.score.bought))
	switch n := a.score.unplaced; {
	case n == 1:
		w.How += "; 1 piece is longer than any reel"
	case n > 1:
		w.How += "; " + unit.Number(float64(n), 0) + " pieces are longer than what is left of any reel"
	}
	return w
}

func addLong(list []Long, l Long) []Long {
	if n := len(list) - 1; n >= 0 && list[n].Sample && l.Sample && list[n].Name == l.Name && list[n].Section == l.Section {
		list[n].Count++
		return list
	}
	l.Count = 1
	return append(list, l)
}

// how says what is proved of a plan. Least is what any plan with as many reels throws away.
func how(w *Wire, least int64) string {
	s := "nothing to buy"
	switch {
	case w.Bought == 1:
		s = "1 reel to buy"
	case w.Bought > 1:
		s = unit.Number(float64(w.Bought), 0) + " reels to buy"
	}
	if w.Bought > 0 {
		if w.Bought == w.Bound || w.Proved {
			s += ", fewer cannot do"
		} else {
			s += ", at least " + unit.Number(float64(w.Bound), 0) + " by the sum of the lengths"
		}
	}
	s += "; " + unit.Number(float64(w.Thrown), 0) + " mm thrown away"
	switch {
	case w.Proved && w.Thrown > 0:
		s += ", less cannot be"
	case w.Thrown > 0:
		s += ", at least " + unit.Number(float64(least)/tenths, 0) + " mm"
	}
	if !w.Proved {
		s += "; laid out by rule, not searched to the end"
	}
	return s
}

func metres(l unit.Length) string { return unit.Number(float64(l)/1000, 3) + " m" }

func up(l unit.Length) int64   { return int64(math.Ceil(float64(l)*tenths - 1e-6)) }
func down(l unit.Length) int64 { return int64(math.Floor(min(float64(l), 1e12)*tenths + 1e-6)) }
