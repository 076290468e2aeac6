package reviewbook

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/solve"
)

// shared is what a ladder has in common with earlier ones of the same case and state.
type shared struct {
	twin       bool // one passes most of its joints
	feed, back reference
}

// reference is the earlier ladder that has most joints of this one, from the supply on or up to the supply's minus, and how many. An earlier ladder may
// itself refer further back: the lines keep their numbers there.
type reference struct{ other, joints int }

// sameWay is the share of joints from which two ways are alike enough that one is printed.
const sameWay = 0.8

// leastShared is from how many joints on a reference is shorter than the lines.
const leastShared = 3

// alike tells whether two steps pass the same joint with the same current at the same volts: two loads solved at corners of their own may not.
func alike(a, b solve.Step) bool {
	return a.Element == b.Element && math.Abs(float64(a.Amps-b.Amps)) < nearly && math.Abs(float64(a.Volts-b.Volts)) < nearly
}

const nearly = 1e-7

// state is what was solved: a case, by itself or while a device starts.
type state struct {
	c     *solve.CaseResult
	start string
}

// share finds what each ladder has in common with those before it.
func (b *book) share() {
	ways := map[state]*passed{}
	feeds, backs := map[begin][]int{}, map[begin][]int{}
	for n := range b.ladders {
		l := &b.ladders[n]
		at := state{l.c, l.start}
		if ways[at] == nil {
			ways[at] = &passed{by: map[int][]int{}}
		}
		l.own.twin = ways[at].add(n, l.steps())
		l.own.feed = b.most(n, at, feeds, func(n int) []solve.Step { return b.ladders[n].load.Feed })
		l.own.back = b.most(n, at, backs, func(n int) []solve.Step {
			out := slices.Clone(b.ladders[n].load.Return)
			slices.Reverse(out)
			return out
		})
	}
}

// passed is the ladders of a state by the joints that they pass.
type passed struct {
	by  map[int][]int        // by joint, in order
	has map[int]map[int]bool // by ladder
}

// add takes a ladder in, and tells whether one before it passes most of its joints.
func (p *passed) add(n int, steps []solve.Step) (twin bool) {
	if p.has == nil {
		p.has = map[int]map[int]bool{}
	}
	// One that lacks no more than a fifth of the joints passes at least one of any more than that: the rarest are asked first.
	rare := slices.Clone(steps)
	slices.SortFunc(rare, func(a, b solve.Step) int { return cmp.Compare(len(p.by[a.Element]), len(p.by[b.Element])) })
	rare = rare[:min(len(rare), len(rare)-int(math.Ceil(sameWay*float64(len(rare))))+1)]
	asked := map[int]bool{}
	for _, r := range rare {
		for _, o := range p.by[r.Element] {
			if twin || asked[o] {
				continue
			}
			asked[o] = true
			both := 0
			for _, s := range steps {
				if p.has[o][s.Element] {
					both++
				}
			}
			twin = float64(both) >= sameWay*float64(len(steps))
		}
	}
	on := map[int]bool{}
	for _, s := range steps {
		if !on[s.Element] {
			on[s.Element] = true
			p.by[s.Element] = append(p.by[s.Element], n)
		}
	}
	p.has[n] = on
	return twin
}

// begin is the first joints of a way, as many as a reference must have, and the volts after them, in steps that are wider than what counts as the same.
type begin struct {
	at       state
	elements [leastShared]int
	volts    float64
}

// most finds the earlier ladder that shares most joints of ladder n from the start of a way on, the first of those that share as many, and notes n by how its way begins.
func (b *book) most(n int, at state, known map[begin][]int, way func(n int) []solve.Step) (r reference) {
	mine := way(n)
	if len(mine) < leastShared {
		return r
	}
	k := begin{at: at, volts: math.Floor(float64(mine[leastShared-1].Volts) / (10 * nearly))}
	for i := range k.elements {
		k.elements[i] = mine[i].Element
	}
	for _, by := range []float64{-1, 0, 1} {
		near := k
		near.volts += by
		for _, o := range known[near] {
			other, joints := way(o), 0
			for joints < len(other) && joints < len(mine) && alike(other[joints], mine[joints]) {
				joints++
			}
			if joints >= leastShared && (joints > r.joints || joints == r.joints && o < r.other) {
				r = reference{o, joints}
			}
		}
	}
	known[k] = append(known[k], n)
	return r
}
