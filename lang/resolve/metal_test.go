package resolve

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The metal of a body between its studs, by its figure per length and by the places of the studs.
func TestMetalOfABody(t *testing.T) {
	for name, c := range map[string]struct {
		text, source string
		ohms         float64
	}{
		// sqrt(1200² + 900²) = 1500 mm, by a right triangle of 3, 4, 5.
		"two studs":      {"device shell at (0, 0, 0 mm) {\n  pin nose at (100, 100, 50 mm) stud M6\n  pin rear at (1300, 1000, 50 mm) stud M8\n  joins nose, rear resistance 2 mohm/m\n}\n", "2 mohm/m over 1500 mm", 3e-3},
		"three ways":     {"device shell at (0, 0, 0 mm) {\n  pin nose at (10, 20, 20 mm) stud M6\n  pin rear at (1010, 2020, 2020 mm) stud M8\n  joins rear, nose resistance 0.001 ohm/m\n}\n", "0.001 ohm/m over 3000 mm", 3e-3},
		"own place":      {"device shell at (0, 0, 0 mm) {\n  pin nose stud M6\n  pin rear at (2, 0, 0 m) stud M8\n  joins nose, rear resistance 1 mohm/m\n}\n", "1 mohm/m over 2000 mm", 2e-3},
		"by a name":      {"point tail at (0, 500, 0 mm)\ndevice shell at tail mirror y {\n  pin nose at tail stud M6\n  pin rear stud M8\n  joins nose, rear resistance 4 ohm/km\n}\n", "4 ohm/km over 1000 mm", 4e-3},
		"housing":        {"device shell at (0, 0, 0 mm) {\n  housing sealed-2 as a at (0, 250, 0 mm)\n  pin nose stud M6\n  joins a.1, nose resistance 1 mohm/m\n  unused a.2\n}\n", "1 mohm/m over 250 mm", 0.25e-3},
		"source":         {"device shell at (0, 0, 0 mm) {\n  pin nose stud M6\n  pin rear at (2, 0, 0 m) stud M8\n  joins nose, rear resistance 1 mohm/m source \"measured on the shell\"\n}\n", "1 mohm/m over 2000 mm, measured on the shell", 2e-3},
		"a stated joint": {"device shell at (0, 0, 0 mm) {\n  pin nose stud M6\n  pin rear stud M8\n  joins nose, rear resistance 3 mohm\n}\n", "", 3e-3},
		"a pattern":      {"device shape {\n  pin nose stud M6\n  pin rear at (0, 0, 500 mm) stud M8\n  joins nose, rear resistance 1 mohm/m\n}\ndevice shell like shape at (0, 0, 200 mm)\n", "1 mohm/m over 300 mm", 0.3e-3},
	} {
		t.Run(name, func(t *testing.T) {
			for _, d := range clean(t, base+c.text).Devices {
				if d.Name != "shell" {
					continue
				}
				if len(d.Joins) != 1 {
					t.Fatalf("%+v", d.Joins)
				}
				r := d.Joins[0].Resistance
				if !r.Given || r.Source != c.source || math.Abs(float64(r.Nominal)-c.ohms) > 1e-12 || r.Low != r.Nominal || r.High != r.Nominal {
					t.Errorf("%+v, want %v from %q", r, c.ohms, c.source)
				}
			}
		})
	}
}

// A place that is a mistake already gives no second message where it is measured from.
func TestMetalTellsAMistakeOnce(t *testing.T) {
	for want, rear := range map[string]string{
		"no-such-place": "at nowhere",
		"no-place":      "at s-a",
		"place-unclear": "at (1, 2 mm)",
		"unit-missing":  "at (1, 2, 3)",
		"place-circle":  "at shell.rear",
	} {
		j, src, ds := text(t, "harness \"Test\"\n"+base+"splice s-a section tub\ndevice shell at (0, 0, 0 mm) {\n  pin nose stud M6\n  pin rear "+rear+" stud M8\n  joins nose, rear resistance 1 mohm/m\n}\n")
		if codes(ds) != want || len(j.Devices[0].Joins) != 0 {
			t.Errorf("%s: %s", want, show(src, ds))
		}
	}
	// A place may be moved away from a splice along a run, and be no better known for it.
	_, src, ds := text(t, "harness \"Test\"\n"+base+"run loom from (0, 0, 0 mm) to (900, 0, 0 mm) section tub\nsplice s-a section tub along loom after 60 mm\npoint p at s-a offset (10, 0, 0 mm)\n"+
		"device shell at p {\n  pin nose stud M6\n  pin rear at (1, 2, 3 mm) stud M8\n  joins rear, nose resistance 1 mohm/m\n}\n")
	if codes(ds) != "no-place" {
		t.Error(show(src, ds))
	}
	_, src, ds = text(t, "harness \"Test\"\n"+base+"device shell at (0, 0, 0 mm) {\n  pin nose stud M6\n  pin rear at (1"+fmt.Sprintf("%030d", 0)+", 0, 0 mm) stud M8\n  joins nose, rear resistance 1"+fmt.Sprintf("%010d", 0)+" ohm/m\n}\n")
	if codes(ds) != "too-much" {
		t.Error(show(src, ds))
	}
}

// The metal between two studs is the same from either end, wherever the body stands, and in proportion to its figure.
func TestMetalIsStraight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(name string) int { return rapid.IntRange(-3000, 3000).Draw(t, name) }
		p, q, off := [3]int{n("px"), n("py"), n("pz")}, [3]int{n("qx"), n("qy"), n("qz")}, [3]int{n("ox"), n("oy"), n("oz")}
		if p == q {
			return
		}
		per := rapid.IntRange(1, 50).Draw(t, "per")
		ohms := func(order string, p, q, o [3]int, per int) float64 {
			at := func(x [3]int) string { return fmt.Sprintf("(%d, %d, %d mm)", x[0]+o[0], x[1]+o[1], x[2]+o[2]) }
			loom := fmt.Sprintf("harness \"T\"\n%sdevice shell at (0, 0, 0 mm) {\n  pin a at %s stud M6\n  pin b at %s stud M6\n  joins %s resistance %d mohm/m\n}\n", base, at(p), at(q), order, per)
			j, src, ds := Job("t.loom", files(map[string]string{"t.loom": loom}), nil, nil)
			if len(ds) > 0 {
				t.Fatal(show(src, ds))
			}
			return float64(j.Devices[0].Joins[0].Resistance.Nominal)
		}
		x := ohms("a, b", p, q, [3]int{}, 1)
		far := math.Sqrt(math.Pow(float64(p[0]-q[0]), 2) + math.Pow(float64(p[1]-q[1]), 2) + math.Pow(float64(p[2]-q[2]), 2))
		if math.Abs(x-far*1e-6) > 1e-12 {
			t.Errorf("%v ohm over %v mm at 1 mohm/m", x, far)
		}
		if y := ohms("b, a", p, q, off, per); math.Abs(y-x*float64(per)) > 1e-9*y {
			t.Errorf("%v ohm, want %d times %v", y, per, x)
		}
	})
}
