package reel

import (
	"strconv"
	"strings"

	"loomsheet/harness/unit"
)

// Summary says for the whole job how many reels are bought, how many it takes at the least whatever the cutting, what is thrown away, and for which
// wires nothing better is proved not to exist; empty where nothing is cut.
func (p *Plan) Summary() string {
	if p == nil || len(p.Wires) == 0 {
		return ""
	}
	bought, bound := 0, 0
	var thrown unit.Length
	var open []string
	for i := range p.Wires {
		w := &p.Wires[i]
		bought, bound, thrown = bought+w.Bought, bound+w.Bound, thrown+w.Thrown
		if !w.Proved {
			open = append(open, w.Name)
		}
	}
	s := "Reels to buy for the whole job: " + strconv.Itoa(bought) + "; whatever the cutting, at the least " + strconv.Itoa(bound) + ". Thrown away as rests too short to use: " + unit.Fixed(float64(thrown)/1000, 1) + " m. "
	if len(open) == 0 {
		return s + "No cutting is better, proved for every wire."
	}
	return s + "Proved that no cutting is better, but for " + strings.Join(open, ", ") + "."
}
