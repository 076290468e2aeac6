package route

import (
	"reflect"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/unit"
)

// rocking is a run of 1 m to an engine, which moves 20 mm, with slack of 40 mm and clips at the given stations; before it a fixed run of 500 mm
// with clips of its own.
func rocking(t *testing.T, on, before []float64) *rig {
	f := run("f", spot("c", -500, 0, 0), spot("a", 0, 0, 0))
	m := run("m", spot("a", 0, 0, 0), spot("b", 1000, 0, 0))
	m.Stretches[0].Moves, m.Stretches[0].Slack = 20, 40
	r := newRig(t, f, m)
	r.wire(4, "c", "a", "b")
	r.held = &fix.Plan{Runs: []fix.RunPlan{{Run: "f"}, {Run: "m"}}}
	for i, x := range before {
		r.held.Runs[0].Clips = append(r.held.Runs[0].Clips, fix.Clip{Mark: "f-" + string(rune('1'+i)), After: unit.Length(x), At: at(-500+x, 0, 0), Known: true})
	}
	for i, x := range on {
		r.held.Runs[1].Clips = append(r.held.Runs[1].Clips, fix.Clip{Mark: "m-" + string(rune('1'+i)), After: unit.Length(x), At: at(x, 0, 0), Known: true})
	}
	return r
}

func TestMove(t *testing.T) {
	for _, c := range []struct {
		name           string
		on, before     []float64
		from, to       string
		free, straight unit.Length
		tied           []string
	}{
		{"clips at both ends", []float64{50, 950}, []float64{400}, "clip m-1", "clip m-2", 900 + 36, 900, nil},
		{"the engine's plug, and a clip on the run before", nil, []float64{100, 400}, "clip f-2", "b", 1100 + 40, 1100, nil},
		{"plugs at both ends", nil, nil, "c", "b", 1500 + 40, 1500, nil},
		{"tied in the middle", []float64{50, 480, 700, 950}, nil, "clip m-1", "clip m-4", 900 + 36, 900, []string{"m-2", "m-3"}},
		{"one in the middle holds neither end", []float64{500}, []float64{400}, "clip f-1", "b", 1100 + 40, 1100, []string{"m-1"}},
		{"one near the end", []float64{930}, []float64{400}, "clip f-1", "clip m-1", 930 + 37.2 + 100, 1030, nil},
	} {
		got := rocking(t, c.on, c.before).find().Moves
		if len(got) != 1 {
			t.Errorf("%s: %s", c.name, text(got))
			continue
		}
		m := got[0]
		if m.From != c.from || m.To != c.to || !near(m.Free, c.free) || !near(m.Straight, c.straight) || !reflect.DeepEqual(m.Tied, c.tied) || !near(m.Needed, c.straight+20+10) || m.Source == "" {
			t.Errorf("%s: %+v", c.name, m)
		}
	}
}

// A way with a bend in it has length to spare: 300 + 400 less the corner cut by the arc, against 500 across.
func TestMoveRoundACorner(t *testing.T) {
	m := bent(run("m", spot("a", 0, 0, 0), spot("k", 300, 0, 0), spot("b", 300, 400, 0)), 0)
	m.Stretches[0].Moves = 30
	r := newRig(t, m)
	r.wire(4, "a", "k", "b")
	got := r.find().Moves
	if len(got) != 1 || !near(got[0].Straight, 500) || !near(got[0].Free, 700) || !near(got[0].Needed, 540) {
		t.Error(text(got))
	}
}

// A splice holds nothing, what does not move is not asked, and nothing is said of unknown places or of runs without wires.
func TestNoMove(t *testing.T) {
	r := rocking(t, nil, nil)
	r.wires[0].Path = r.wires[0].Path[:1]
	if got := r.find().Moves; len(got) != 0 {
		t.Errorf("no wires in it: %s", text(got))
	}
	r = rocking(t, nil, nil)
	r.job.Runs[1].Stretches[0].Moves = 0
	r.lay()
	if got := r.find().Moves; len(got) != 0 {
		t.Errorf("it does not move: %s", text(got))
	}
	m := run("m", spot("a", 0, 0, 0), design.Spot{Node: "b"})
	m.Stretches[0].Moves = 20
	m.Stretches[0].Length.Given, m.Stretches[0].Length.Spread = true, unit.Exactly(unit.Length(800))
	r = newRig(t, m)
	r.wire(4, "a", "b")
	if got := r.find().Moves; len(got) != 0 {
		t.Errorf("no place: %s", text(got))
	}
}
