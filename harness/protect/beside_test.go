package protect_test

import (
	"math"
	"testing"

	"loomsheet/harness/unit"
)

// An alternator comes in bare on a bus behind the battery's fuse. A wire from the bus may carry what both let pass: up to 1.35 times 30 A for good
// and the alternator's 50 A. The fuse's own feed carries the fuse's share at one end and the alternator's at the other, never both at one place.
func TestOverloadOfAFuseAndAnAlternator(t *testing.T) {
	f := find(t, battery+lamp+`
device alt at spot section body {
  pin b, e stud M8
  supply 14.4 V inside 20 mohm most 50 A from b to e
}
device f at spot section body {
  pin in, out stud M8
  fuse blade-30 from in to out
}
device bus at spot section body { pin s stud M8 }
circuit main from bat.pos to f.in size 16 mm2 length 100 mm
circuit feed from f.out to bus.s size 16 mm2 length 1 m
circuit charge from alt.b to bus.s size 16 mm2 length 1 m
circuit load from bus.s to lamp.1 size 16 mm2 length 1 m
circuit e from alt.e to bat.neg size 16 mm2 length 1 m
circuit back from lamp.2 to bat.neg size 16 mm2 length 1 m
case run { supply bat, alt }
`)
	for circuit, want := range map[string]unit.Current{"load": 50, "feed": 0} {
		for i := range f.nt.Wires {
			if f.nt.Wires[i].Circuit != circuit {
				continue
			}
			o := f.Wires[i].Overload
			if o == nil || math.Abs(float64(o.Beside-want)) > 1e-9 {
				t.Fatalf("%s: %+v", circuit, o)
			}
			if got := float64(o.Amps) - float64(o.Times)*30 - float64(want); math.Abs(got) > 1e-6 {
				t.Errorf("%s: %v at %v times 30 A with %v beside", circuit, o.Amps, o.Times, want)
			}
		}
	}
}
