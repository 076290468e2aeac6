package bench

import (
	"slices"
	"testing"
)

func listed(terms Terms) (out []Term) {
	for _, t := range terms.All() {
		out = append(out, t)
	}
	return out
}

// Terms come back as they were put in, whatever their texts begin with.
func TestTermsComeBack(t *testing.T) {
	in := []Term{{"rail 0 to 400", 400, WayTerm}, {"tail at A", 60, EndTerm}, {"loop at A", 50.5, LoopTerm}, {"crimp waste at A", 3, WasteTerm}, {"breakout at tail at A", 2, BreakoutTerm},
		{"tail at ", 1, WayTerm}, {"tail at", 1, EndTerm}, {"A", 7, RoundTerm}, {"", 8, ToleranceTerm}}
	if got := listed(TermsOf(in...)); !slices.Equal(got, in) {
		t.Errorf("%+v", got)
	}
	if TermsOf().Len() != 0 || listed(Terms{}) != nil {
		t.Error("terms out of nothing")
	}
}
