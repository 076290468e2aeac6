package fit

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// parts are what of a net has no electrical influence on one another (solve.Districts), and how far each has come. What they do share is the heat of the
// places where they lie together: a part that a neighbour warms or cools by more than the settling limit goes on as any other that moves.
type parts struct {
	districts *solve.Districts
	of        []int // by wire
	all       []part
}

type part struct {
	still   int  // rounds in which only temperatures moved
	calm    int  // rounds in a row in which it was quiet
	rounds  int  // in which it was awake
	trims   int  // how often it was trimmed
	quiet   bool // in this round nothing moved by more than the settling limit
	rested  bool // and hardly at all, or for long
	trimmed bool // quiet, and nothing can be taken back
	asleep  bool // it keeps the temperatures it was solved at until it is quiet no more
}

const (
	// restsWithin is by how much the temperature of a wire may be off that at which its resistance was taken last without its being taken anew: 4 millionths
	// of a resistance. Without it the last digits of one lead would have everything joined to it, and all that lies beside that, solved and heated
	// again in every round.
	restsWithin = settledWhen / 100
	// sleepsWithin is how near its temperatures a part must have come to sleep; one that creeps sleeps after a few quiet rounds. It goes by this however long
	// the others need, so that what has nothing to do with it changes nothing in it, to the bit.
	sleepsWithin = settledWhen / 10
	mostCalm     = 4
)

// newParts takes all wires that carry nothing in any position for one part.
func newParts(job *design.Job, nt *net.Net, sizes size.Sizes) *parts {
	d := solve.NewDistricts(job, nt, sizes)
	p := &parts{districts: d, of: make([]int, len(nt.Wires))}
	at := map[int]int{}
	for i := range p.of {
		g := d.Of(i)
		k, ok := at[g]
		if !ok {
			k = len(p.all)
			at[g], p.all = k, append(p.all, part{})
		}
		p.of[i] = k
	}
	return p
}

// differing are the parts in which a wire has another size.
func (p *parts) differing(a, b size.Sizes) []bool {
	out := make([]bool, len(p.all))
	for i := range a {
		if a[i].Size != b[i].Size {
			out[p.of[i]] = true
		}
	}
	return out
}

// look finds out which parts are quiet after a round: sizes stay, and no temperature is further than the settling limit off what it was solved at.
func (p *parts) look(sizes, grown size.Sizes, temps, now map[string][]unit.Temperature) {
	moved := make([]float64, len(p.all))
	for c, t := range now {
		was := temps[c]
		for i := range t {
			d := math.Inf(1)
			if i < len(was) {
				d = math.Abs(float64(was[i] - t[i]))
			}
			moved[p.of[i]] = max(moved[p.of[i]], d)
		}
	}
	changed := p.differing(sizes, grown)
	for k := range p.all {
		x := &p.all[k]
		x.quiet = !changed[k] && moved[k] <= float64(settledWhen)
		if x.quiet && !x.asleep {
			x.rounds++
			x.calm++
			x.rested = moved[k] <= float64(sleepsWithin) || x.calm >= mostCalm
			x.asleep = x.trimmed && x.rested
		}
		if x.quiet {
			continue
		}
		x.trimmed, x.asleep, x.calm = false, false, 0
		x.rounds++
		x.still++
		if changed[k] {
			x.still = 0
		}
	}
}

// done tells whether every part sleeps.
func (p *parts) done() bool {
	for k := range p.all {
		if !p.all[k].asleep {
			return false
		}
	}
	return true
}

// again lets parts whose sizes were changed begin anew.
func (p *parts) again(which []bool) {
	for k := range p.all {
		if which[k] {
			x := &p.all[k]
			x.still, x.calm, x.trimmed, x.asleep = 0, 0, false, false
		}
	}
}

// step is the temperatures to go on with, and those before them: the new ones, but for a wire that turned back only part of the way to them. A load of constant
// power behind a wire far too thin swings between hot and starved; what creeps to its end one way is let go. A wire that hardly moved, and those of parts
// that sleep or stay, keep theirs.
func (p *parts) step(older, old, new map[string][]unit.Temperature, stay []bool) (before, out map[string][]unit.Temperature) {
	before, out = map[string][]unit.Temperature{}, map[string][]unit.Temperature{}
	for c, t := range new {
		b, x := make([]unit.Temperature, len(t)), make([]unit.Temperature, len(t))
		copy(x, t)
		copy(b, t)
		if o := old[c]; len(o) == len(t) {
			copy(b, o)
			for i := range x {
				k, d := &p.all[p.of[i]], t[i]-o[i]
				switch {
				case stay[p.of[i]] || k.asleep:
					if x[i] = o[i]; len(older[c]) == len(t) {
						b[i] = older[c][i]
					}
				case math.Abs(float64(d)) <= float64(restsWithin):
					x[i] = o[i]
				case k.still > 3 && len(older[c]) == len(t) && d*(o[i]-older[c][i]) < 0:
					share := unit.Temperature(0.5)
					if k.still > 8 {
						share = 0.2
					}
					x[i] = o[i] + share*d
				}
			}
		}
		before[c], out[c] = b, x
	}
	return before, out
}
