package reel

import "testing"

func TestSummary(t *testing.T) {
	p := &Plan{Wires: []Wire{{Name: "thin-wall 0.5 mm2 red", Bought: 2, Bound: 1, Thrown: 900}, {Name: "thin-wall 1 mm2 blue", Bought: 1, Bound: 1, Thrown: 400, Proved: true}}}
	want := "Reels to buy for the whole job: 3; whatever the cutting, at the least 2. Thrown away as rests too short to use: 1.3 m. Proved that no cutting is better, but for thin-wall 0.5 mm2 red."
	if got := p.Summary(); got != want {
		t.Errorf("%s", got)
	}
	if got := (*Plan)(nil).Summary(); got != "" {
		t.Error(got)
	}
}
