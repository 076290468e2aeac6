package board_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/board"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// ring is a job in which two ways lead between two hubs, one with more wires than the other, and nine switches share a place.
const ring = `harness "Invented ring" revision A
section body
zone cabin air 40 C
point one at (500, 0, 0 mm)
point two at (1500, 0, 0 mm)
point over at (1000, 400, 0 mm)
run in from battery to one section body zone cabin
run low from one to two section body zone cabin sleeve braid
run high from one to over to two section body zone cabin
run out from two to lamp, horn section body zone cabin
run strap from battery to engine section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-10 from cell to pos
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device engine at (0, 300, 0 mm) { pin e stud M8 }
device lamp at (2000, 100, 0 mm) housing sealed-2 { draw 2 A at 12 V from 1 to 2 }
device horn at (2000, -100, 0 mm) housing sealed-2 { draw 2 A at 12 V from 1 to 2 }
circuit lamp-feed from battery.pos to lamp.1 via low
circuit lamp-back from battery.neg to lamp.2 via low
circuit horn-feed from battery.pos to horn.1 via high
circuit horn-back from battery.neg to horn.2 via low
circuit earth from battery.neg to engine.e
case on { supply battery }
`

func compiled(t *testing.T, text string) *harness.Result {
	t.Helper()
	d, _, said := resolve.Job("job.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	return harness.Compile(d)
}

// Two wires that cross at a hub and share nothing are two pieces: the peg of each says that there is more at the hub. One piece says nothing.
func TestPlaceLaidTwice(t *testing.T) {
	const cross = `harness "Invented crossing" revision A
section body
zone cabin air 40 C
point hub at (500, 500, 0 mm)
device a at (0, 500, 0 mm) housing plain-2
device b at (1000, 500, 0 mm) housing plain-2
device c at (500, 0, 0 mm) housing plain-2
device d at (500, 1000, 0 mm) housing plain-2
run star from hub to a, b, c, d section body zone cabin
circuit one from a.1 to b.1
circuit two from c.1 to d.1
`
	for _, c := range []struct {
		text string
		want int
	}{{cross, 2}, {cross + "circuit three from b.2 to c.2\n", 0}} {
		got := 0
		for _, b := range compiled(t, c.text).Boards {
			for _, p := range b.Pegs {
				if strings.HasPrefix(p.Text, "hub") && strings.Contains(p.Text, "other bundles of this place are laid apart") {
					got++
				}
			}
		}
		if got != c.want {
			t.Errorf("%d pegs tell of the other bundles of the hub, want %d", got, c.want)
		}
	}
}

// A ring is laid open in the bundle with the fewest wires, once, and the wire that passes there is told.
func TestRing(t *testing.T) {
	r := compiled(t, ring)
	if len(r.Boards) != 1 {
		t.Fatalf("%d boards", len(r.Boards))
	}
	b := &r.Boards[0]
	if len(b.Left) > 0 {
		t.Errorf("left: %v", b.Left)
	}
	joins := 0
	for _, p := range b.Pieces {
		for _, l := range p.Limbs {
			for _, s := range l.Spans {
				if s.Joins != "" {
					joins++
					if s.Run != "high" {
						t.Errorf("the ring is open on run %s", s.Run)
					}
				}
			}
		}
	}
	if joins != 1 {
		t.Errorf("%d open ends", joins)
	}
	over := 0
	for _, x := range b.Reaches {
		if len(x.OverGap) > 0 {
			over++
			if x.Name != "horn-feed battery.pos - horn.1" {
				t.Errorf("%s passes the open end", x.Name)
			}
		}
	}
	if over != 1 {
		t.Errorf("%d wires pass the open end", over)
	}
	// The strap to the engine has a lug of its own on the battery: a piece of its own.
	if len(b.Pieces) != 2 {
		t.Errorf("%d pieces", len(b.Pieces))
	}
}

// Each bundle is as long on the board as in the geometry, and each peg's tapes come from the two lower corners.
func TestTrue(t *testing.T) {
	r := compiled(t, ring)
	b := &r.Boards[0]
	seen := map[int]bool{}
	for _, p := range b.Pieces {
		for _, l := range p.Limbs {
			for _, s := range l.Spans {
				e := &r.Space.Edges[s.Edge]
				long := 0.0
				for i := 1; i < len(s.Line); i++ {
					long += math.Hypot(float64(s.Line[i].X-s.Line[i-1].X), float64(s.Line[i].Y-s.Line[i-1].Y))
				}
				if math.Abs(long-float64(e.Length+e.Slack)) > 0.01 {
					t.Errorf("%s to %s: %.3f on the board, %s in the vehicle", s.From, s.To, long, e.Length+e.Slack)
				}
				seen[s.Edge] = true
			}
		}
	}
	if len(seen) != len(r.Space.Edges) {
		t.Errorf("%d bundles of %d", len(seen), len(r.Space.Edges))
	}
	for i, p := range b.Pegs {
		if p.Number != i+1 {
			t.Errorf("peg %d has number %d", i+1, p.Number)
		}
		left, right := math.Hypot(float64(p.At.X), float64(p.At.Y)), math.Hypot(float64(b.Width-p.At.X), float64(p.At.Y))
		if math.Abs(left-float64(p.Left))+math.Abs(right-float64(p.Right)) > 1e-6 {
			t.Errorf("peg %d: tapes %s and %s", p.Number, p.Left, p.Right)
		}
	}
	if again := board.Find(r.Job, r.Net, r.Bundles, r.Plan); !reflect.DeepEqual(again, r.Boards) {
		t.Error("another run lays another board")
	}
}

// Along each limb no stretch between two pegs is longer than the setting, and what starts ends.
func TestPegs(t *testing.T) {
	r := compiled(t, ring)
	b := &r.Boards[0]
	starts, ends := 0, 0
	for _, m := range b.Marks {
		switch m.Kind {
		case "sleeve starts":
			starts++
		case "sleeve ends":
			ends++
		}
	}
	if starts != 1 || ends != 1 {
		t.Errorf("%d sleeves start, %d end", starts, ends)
	}
	for _, p := range b.Pieces {
		for _, l := range p.Limbs {
			for i := 1; i < len(l.Line); i++ {
				a, z := l.Line[i-1], l.Line[i]
				for k := range 11 {
					x, y := float64(a.X)+float64(z.X-a.X)*float64(k)/10, float64(a.Y)+float64(z.Y-a.Y)*float64(k)/10
					best := math.Inf(1)
					for _, q := range b.Pegs {
						best = min(best, math.Hypot(float64(q.At.X)-x, float64(q.At.Y)-y))
					}
					if best > float64(b.PegSpan)/2+10 {
						t.Errorf("limb %s: no peg within %.0f mm", l.Name, best)
					}
				}
			}
		}
	}
}
