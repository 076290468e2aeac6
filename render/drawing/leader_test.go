package drawing

import "testing"

// A leader keeps off arrows and what is cut where a way round is no dearer than crossing another leader.
func TestLeadersKeepOffArrows(t *testing.T) {
	d := &Drawing{Labels: []Label{{At: Place{0, 0}, Text: "a label of some width", Free: true}}}
	// A bundle all round it; above and to the right, where labels stand first, an arrow besides.
	d.Strokes = append(d.Strokes, Stroke{Layer: Run, Places: []Place{{-3, -3}, {-3, 3}, {3, 3}, {3, -3}}, Closed: true},
		Stroke{Layer: Dim, Places: []Place{{4, -30}, {4, 4}, {-30, 4}}})
	l := d.Lay(180, 120, 1)
	for _, p := range l.pieces(nil) {
		for _, led := range l.leaders {
			if p.firm && led.crosses(&p) {
				t.Errorf("leader %v crosses %v", led, p)
			}
		}
	}
	if len(l.leaders) != 1 {
		t.Errorf("%d leaders", len(l.leaders))
	}
}

// Lines are no thicker at smaller scales, and those of bundles never vanish among outlines.
func TestPensAtScales(t *testing.T) {
	for i := 1; i < len(ladder)+3; i++ {
		s, before := Scale(100*(i-len(ladder)+1)), Scale(100)
		if i < len(ladder) {
			s, before = ladder[i], ladder[i-1]
		}
		for _, p := range pens {
			if p.at(s).width > p.at(before).width {
				t.Errorf("%s at %v is wider than at %v", p.layer, s, before)
			}
		}
		if penOf(Run).at(s).width <= penOf(Outline).at(s).width {
			t.Errorf("at %v a bundle is no wider than an outline", s)
		}
	}
}
