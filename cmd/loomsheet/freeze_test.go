package main

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness"
	"loomsheet/harness/rule"
	"loomsheet/lang/freeze"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// floorOf is a job on a floor: a run that lies on it by way of the given places, another one that leaves it half way, and a connector on a wall.
func floorOf(revision string, ways []string) string {
	return `harness "Floor" revision ` + revision + `
section body, nose
zone cabin air 40 C
zone bay air 60 C
panel floor thickness 1.5 mm zone cabin, bay {
  corners (-300, -900, 0 mm), (1500, -900, 0 mm), (1500, 900, 0 mm), (-300, 900, 0 mm)
}
panel wall thickness 1.5 mm zone cabin, bay {
  corners (1500, -900, 0 mm), (1500, 900, 0 mm), (1500, 900, 500 mm), (1500, -900, 500 mm)
}
break W at (1500, 300, 250 mm) panel wall housing sealed-6 {
  half body contacts sockets mount fixed
  half nose contacts pins
}
break P at (1480, 0, 15 mm) housing sealed-6 {
  half body contacts sockets
  half nose contacts pins
}
device battery at (0, 0, 15 mm) {
  pin plus, minus stud M8
  inner cell
  supply 12.6 V inside 10 mohm from cell to minus
  fuse blade-10 from cell to plus
}
device lamp at (1560, 0, 15 mm) housing sealed-2 { draw 2 A at 12 V as resistance from 1 to 2 }
device horn at (500, 700, 15 mm) housing sealed-2 { draw 2 A at 12 V as resistance from 1 to 2 }
point mid at ` + ways[0] + `
run rear from battery to mid to ` + strings.Join(append(ways[1:], "P"), " to ") + ` section body zone cabin panel floor
run side from mid to horn section body zone cabin panel floor
run front from P to lamp section nose zone bay
circuit feed from battery.plus to lamp.1 colour red
circuit back from battery.minus to lamp.2 colour black
circuit horn-feed from battery.plus to horn.1 colour brown
circuit horn-back from battery.minus to horn.2 colour black
case on { supply battery }
`
}

func compiledFloor(t interface{ Fatalf(string, ...any) }, text string) *harness.Result {
	j, _, said := resolve.Job("job.loom", loadOne("job.loom", text), parts.Files(), rule.Keys())
	if said.HasMistakes() {
		t.Fatalf("%+v\n%s", said, text)
	}
	return harness.Compile(j)
}

// Frozen once, nothing is new: every hole stands where it stood. Frozen and led another way, a run leaves its holes where they are, and the
// painter's list holds each of them once.
func TestHolesFrozenOnce(t *testing.T) {
	seen := 0
	rapid.Check(t, func(t *rapid.T) {
		place := func(x0, x1 int) string {
			return fmt.Sprintf("(%d, %d, 15 mm)", rapid.IntRange(x0, x1).Draw(t, "x"), rapid.IntRange(-500, 500).Draw(t, "y"))
		}
		ways := []string{place(200, 600), place(800, 1100)}
		first := compiledFloor(t, floorOf("A", ways))
		frozen, n, stated, _ := freeze.Holes(first.Shell.Decisions, "A")
		if n.Holes != len(first.Shell.Decisions) || len(stated) > 0 {
			t.Fatalf("%d of %d, %v", n.Holes, len(first.Shell.Decisions), stated)
		}
		seen = max(seen, n.Holes)
		again := compiledFloor(t, floorOf("B", ways)+string(frozen))
		if more, n, _, _ := freeze.Holes(again.Shell.Decisions, "B"); n.All() > 0 {
			t.Fatalf("frozen:\n%snew:\n%s", frozen, more)
		}
		for _, h := range again.Shell.Holes {
			if h.New && h.Panel != "" {
				t.Fatalf("%s in %s is new", h.Mark, h.Panel)
			}
		}
		moved := compiledFloor(t, floorOf("B", []string{place(200, 600), place(800, 1100)})+string(frozen))
		marks := map[string]int{}
		for _, h := range moved.Shell.Holes {
			marks[h.Mark]++
		}
		for _, d := range first.Shell.Decisions {
			if marks[d.Name] != 1 {
				t.Fatalf("%s stands %d times on the list of holes", d.Name, marks[d.Name])
			}
		}
		for _, d := range moved.Shell.Decisions {
			if strings.HasPrefix(string(frozen), "hole "+d.Name+" ") && !d.Old {
				t.Fatalf("%s is written twice", d.Name)
			}
		}
	})
	if seen < 10 {
		t.Errorf("no job had more than %d holes", seen)
	}
}
