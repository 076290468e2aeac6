package route

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// joint is a connector, one half of a break, or a splice, with the ways that meet there.
type joint struct {
	key        jointKey
	thing      string
	kind, name string
	span       diag.Span
	faces      solid.Vector // where its wire side looks; no length: along the run
	sides      []waterSide
}

// jointKey tells joints apart and sorts them.
type jointKey struct {
	node int
	kind string
	name string
}

// waterSide is the wires of a joint that leave along one edge.
type waterSide struct {
	edge  int
	half  int   // of a break
	wires []end // of the net
}

type end struct {
	wire    int
	reverse bool // its path is followed from its second end
}

// faces is where the wire side looks on one side of a joint; no length where it is not said. Of a break it is said of one half: the one whose way
// leaves that way; the other looks the other way.
func (f *finder) faces(j *joint, side *waterSide) solid.Vector {
	if j.kind != "break" || j.faces.Length() == 0 {
		return j.faces
	}
	var along [2]unit.Length
	for i := range j.sides {
		s := &j.sides[i]
		if d, ok := f.begins(s.edge, j.key.node); ok {
			along[s.half] += d.Dot(j.faces)
		}
	}
	if one := along[0] < along[1]; one == (side.half == 1) {
		return j.faces
	}
	return j.faces.Scale(-1)
}

// joints lists every connector and splice to which wires come along runs, by place.
func (f *finder) joints() []joint {
	index := map[jointKey]int{}
	var out []joint
	for i := range f.net.Wires {
		w := &f.net.Wires[i]
		if len(w.Path) == 0 {
			continue
		}
		for k := range w.Ends {
			t := &w.Ends[k]
			edge := w.Path[0].Edge
			if k == 1 {
				edge = w.Path[len(w.Path)-1].Edge
			}
			key := jointKey{node: t.Node}
			switch t.Kind {
			case net.InCavity:
				key.kind, key.name = "device", t.Device
			case net.InHalf:
				key.kind, key.name = "break", t.Break
			case net.InSplice:
				key.kind, key.name = "splice", t.Splice
			default:
				continue
			}
			if t.Node < 0 || t.Node >= len(f.geo.Nodes) || edge < 0 || edge >= len(f.geo.Edges) || f.geo.Edges[edge].From != t.Node && f.geo.Edges[edge].To != t.Node {
				continue
			}
			at, ok := index[key]
			if !ok {
				at = len(out)
				index[key] = at
				out = append(out, joint{key: key, kind: key.kind, name: key.name, thing: key.kind + " " + key.name})
			}
			out[at].add(edge, t.Half&1, end{i, k == 1})
		}
	}
	slices.SortFunc(out, func(a, b joint) int {
		return cmp.Or(cmp.Compare(a.key.node, b.key.node), cmp.Compare(a.key.kind, b.key.kind), design.Natural(a.key.name, b.key.name))
	})
	f.describe(out)
	return out
}

func (j *joint) add(edge, half int, e end) {
	for i := range j.sides {
		if s := &j.sides[i]; s.edge == edge && s.half == half {
			s.wires = append(s.wires, e)
			return
		}
	}
	j.sides = append(j.sides, waterSide{edge, half, []end{e}})
	slices.SortStableFunc(j.sides, func(a, b waterSide) int { return cmp.Or(cmp.Compare(a.half, b.half), cmp.Compare(a.edge, b.edge)) })
}

// describe adds what the job says of each joint.
func (f *finder) describe(js []joint) {
	devices, breaks, splices := map[string]*design.Device{}, map[string]*design.Break{}, map[string]*design.Splice{}
	for _, d := range f.job.Devices {
		devices[d.Name] = d
	}
	for _, b := range f.job.Breaks {
		breaks[b.Name] = b
	}
	for _, s := range f.job.Splices {
		splices[s.Name] = s
	}
	look := func(from, to design.Spot) solid.Vector {
		if !from.Known || !to.Known {
			return solid.Vector{}
		}
		v, _ := solid.Minus(to.At, from.At).Unit()
		return v
	}
	for i := range js {
		j := &js[i]
		switch d, b, s := devices[j.name], breaks[j.name], splices[j.name]; {
		case j.kind == "device" && d != nil:
			j.span, j.faces = d.Span, look(d.Spot, d.Faces)
		case j.kind == "break" && b != nil:
			j.span, j.faces = b.Span, look(b.Spot, b.Faces)
		case j.kind == "splice" && s != nil:
			j.span = s.Span
		}
	}
}
