package shellbook

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/unit"
)

// distances are those that a stretch's strip shows, in order.
func distances(r *fix.RunPlan) []string {
	var out []string
	s := newStrip(r)
	if s == nil {
		return nil
	}
	for i := 0; i < len(s.stops)-1; {
		j := s.fill(i, 178)
		for k := i; k < j; k++ {
			out = append(out, coordinate(s.stops[k+1].at-s.stops[k].at, 0))
		}
		i = j
	}
	return out
}

func TestStripDistances(t *testing.T) {
	r := &fix.RunPlan{Nodes: []fix.Station{{After: 0, What: "a"}, {After: 300, What: "hub"}, {After: 500, What: "b"}},
		Clips: []fix.Clip{{Mark: "r-1", After: 60}, {Mark: "r-2", After: 300, Status: design.Frozen}, {Mark: "r-3", After: 440}, {Mark: "lost", After: unit.Length(-1)}}}
	if got, want := distances(r), []string{"60", "240", "140", "60"}; !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	s := newStrip(r)
	if p := s.stops[2]; p.above != "hub" || p.below != "r-2" || !p.held {
		t.Errorf("the stop at 300 is %+v", p)
	}
	for _, r := range []*fix.RunPlan{{}, {Nodes: []fix.Station{{What: "a"}}}, {Nodes: []fix.Station{{What: "a"}, {What: "b"}}}} {
		if newStrip(r) != nil {
			t.Errorf("a strip of %v", r.Nodes)
		}
	}
}

func TestStripShowsBendsAndDiameters(t *testing.T) {
	r := &fix.RunPlan{Nodes: []fix.Station{{After: 0, What: "a"}, {After: 300, What: "(1, 2, 3)"}, {After: 500, What: "b"}},
		Bends:     []fix.BendAt{{After: 297, Turn: 90, Radius: 40}, {After: 420, Turn: 12.4, Radius: 55}},
		Diameters: []fix.Diameter{{From: 0, To: 300, Least: bundle.LeastOf(8.2), Most: 9.9}, {From: 300, To: 450, Most: 6}, {From: 450, To: 500, Least: bundle.LeastOf(4), Most: 5}}}
	s := newStrip(r)
	var got []string
	for _, p := range s.stops {
		got = append(got, strings.Join([]string{coordinate(p.at, 0), p.above, p.turn, p.over}, "|"))
	}
	want := []string{"0|a||Ø 8.2–9.9", "300|waypoint|90° R 40|Ø 6", "420||12° R 55|Ø 6", "450|||Ø 4–5", "500|b||"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	var listed []string
	for _, w := range between(r) {
		listed = append(listed, coordinate(w.at, 0)+" "+w.what)
	}
	if want := []string{"300 waypoint, bend 90° R 40", "420 bend 12° R 55"}; !reflect.DeepEqual(listed, want) {
		t.Errorf("%q, want %q", listed, want)
	}
}

// Rows of a strip cover every stop, in order, and the stops of a row stand in the order of their stations with room for
// their names.
func TestStripRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := &fix.RunPlan{}
		for at := unit.Length(0); rapid.Bool().Draw(t, "more"); {
			from := at
			at += unit.Length(rapid.Float64Range(1, 5000).Draw(t, "piece"))
			r.Diameters = append(r.Diameters, fix.Diameter{From: from, To: at, Least: bundle.LeastOf(9.9), Most: unit.Length(rapid.Float64Range(10, 99).Draw(t, "thick"))})
			r.Bends = append(r.Bends, fix.BendAt{After: at, Turn: 90, Radius: 40})
		}
		at := unit.Length(0)
		for range rapid.IntRange(2, 40).Draw(t, "stops") {
			at += unit.Length(rapid.Float64Range(0, 5000).Draw(t, "step"))
			name := rapid.StringMatching(`[a-zW]{1,30}`).Draw(t, "name")
			if rapid.Bool().Draw(t, "clip") {
				r.Clips = append(r.Clips, fix.Clip{Mark: name, After: at})
			} else {
				r.Nodes = append(r.Nodes, fix.Station{What: name, After: at})
			}
		}
		s := newStrip(r)
		if s == nil {
			return
		}
		for i := 0; i < len(s.stops)-1; {
			j := s.fill(i, 178)
			if j <= i || j >= len(s.stops) {
				t.Fatalf("row %d to %d of %d", i, j, len(s.stops))
			}
			xs := spread(s.stops[i:j+1], 178)
			for k := range xs[1:] {
				if xs[k+1]-xs[k] < need(s.stops[i+k], s.stops[i+k+1])-1e-9 {
					t.Fatalf("stops at %v and %v of %v", xs[k], xs[k+1], s.stops[i:j+1])
				}
			}
			if last := xs[len(xs)-1]; last > 178 || xs[0] < 0 {
				t.Fatalf("a row from %v to %v", xs[0], last)
			}
			i = j
		}
	})
}
