package net

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/space"
)

// TestRoutedAsBuilt: wires that are only routed lie and end as those that are built, and splices are where they are there.
func TestRoutedAsBuilt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		geo := space.Lay(j)
		told := func(n *Net) (wires, joints []string) {
			for i := range n.Wires {
				w := &n.Wires[i]
				line := fmt.Sprint(w.Circuit, w.Link, w.Section)
				for _, x := range w.Path {
					line += fmt.Sprint(" ", x.Edge, x.Reverse)
				}
				for _, e := range w.Ends {
					line += fmt.Sprint(" ", e.Kind, e.Node, e.Device, e.Splice)
				}
				wires = append(wires, line)
			}
			for i := range n.Joints {
				x := &n.Joints[i]
				joints = append(joints, fmt.Sprint(x.Splice, x.Section, x.Node, x.Status))
			}
			slices.SortFunc(wires, cmp.Compare[string])
			return wires, joints
		}
		wires, joints := told(Routed(j, geo))
		wantWires, wantJoints := told(Build(j, geo, nil))
		if !reflect.DeepEqual(wires, wantWires) || !reflect.DeepEqual(joints, wantJoints) {
			t.Fatalf("%v %v\nin place of\n%v %v", wires, joints, wantWires, wantJoints)
		}
	})
}
