// Package reel cuts the wires of a job from the reels in stock with the least waste, and says what to buy.
package reel

import (
	"loomsheet/harness/unit"
)

// Plan is what is cut from which reel.
type Plan struct {
	Wires   []Wire // by family, thickest first, colour; bought cables among them
	Buy     []Buy  // reels to buy, in the same order
	TooLong []Long // cuts that no reel holds, longest first within each wire

	where map[place]string
}

// place is a cut of a section, or for a negative one its samples.
type place struct {
	section string
	cut     int
}

// Reel is the name of the reel from which a cut of a section's list is taken; empty if its length is not known or no reel holds it.
func (p *Plan) Reel(section string, cut int) string {
	if p == nil {
		return ""
	}
	return p.where[place{section, cut}]
}

// Wire is the cutting of one wire, in one size and colour, or of one bought cable.
type Wire struct {
	Family string
	Size   unit.Size // zero for a bought cable
	Colour string    // empty for a bought cable
	Name   string    // in words: "thin-wall 0.5 mm2 red"

	Pieces  int         // cuts with a known length, samples among them
	Unknown int         // cuts whose length is not known, which are in none of the sums
	Need    unit.Length // of all pieces, those that no reel holds left out
	Stock   unit.Length // on the reels at hand
	Reels   []Reel      // those that are cut from, and those at hand that are not; the ones at hand first, shortest first
	Bought  int         // reels to buy
	// Bound is how many reels have to be bought at the least, whatever the cutting.
	Bound  int
	Thrown unit.Length // rests shorter than reel-end
	Kept   unit.Length // the other rests of reels that were cut from
	Proved bool        // nothing is better: no plan buys fewer reels, of those none throws less away, and of those none leaves longer rests
	How    string      // what is proved, in words
}

// Reel is one reel and what is cut from it.
type Reel struct {
	Name   string // "stock 37 m", "new reel 1 of 100 m"
	Bought bool
	Length unit.Length
	Cuts   []Cut // longest first
	Rest   unit.Length
	Kept   bool // Rest is long enough to be used again
}

// Cut is equal pieces of one wire.
type Cut struct {
	Section string
	Name    string // of the wire or cable; of samples what they are for
	Label   string
	Sample  bool
	Count   int
	Length  unit.Length // of each
	Wire    int         // of the net; -1 for samples
	index   int         // of the section's cuts; -1 for samples
}

// Buy is reels to buy of one wire.
type Buy struct {
	Name   string
	Count  int
	Length unit.Length // of each
}

// Long is a cut that no reel holds.
type Long struct {
	Cut
	Of      string      // the wire in words: "thin-wall 0.5 mm2 red"
	Longest unit.Length // of the reels at hand and to be bought
}
