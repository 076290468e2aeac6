// Package reel cuts the wires of a job from the reels in stock with the least waste, and says what to buy.
package reel

import (
	"loomsheet/harness/bench"
	"loomsheet/harness/design"
)

// Plan is what is cut from which reel.
type Plan struct{}

// Find plans the cutting.
func Find(job *design.Job, plan *bench.Plan) *Plan { return &Plan{} }
