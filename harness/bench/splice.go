package bench

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/joint"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// splices lists the joints of a section.
func (m *maker) splices(section string) []Splice {
	joints := m.in(section).joints
	if len(joints) == 0 {
		return nil
	}
	out := make([]Splice, 0, len(joints))
	for _, i := range joints {
		j := &m.net.Joints[i]
		s := Splice{Name: j.Splice, Where: m.jointPlace(j), Status: j.Status}
		made := m.made[j.Splice]
		s.Sleeve, s.Area, s.Wires = made.Sleeve, made.Area, slices.Grow(s.Wires, len(j.Wires))
		for _, w := range j.Wires {
			for e := range m.net.Wires[w].Ends {
				if t := &m.net.Wires[w].Ends[e]; t.Kind != net.InSplice || t.Splice != j.Splice {
					continue
				}
				x := m.spliceWire(w, e)
				if k := slices.Index(made.Wires, w); k >= 0 {
					x.Side = made.Sides[k].String()
				}
				s.Wires = append(s.Wires, x)
			}
		}
		m.wordJoint(&s, made)
		out = append(out, s)
	}
	return out
}

// wordJoint puts into words what a joint is made of.
func (m *maker) wordJoint(s *Splice, made joint.Made) {
	s.Made, s.Left, s.Right, s.Tool, s.Smallest = made, made.Towards[0], made.Towards[1], made.Tool, made.Smallest
	if made.Lie != "" {
		s.Lie = "wires " + made.Lie
		if made.Lie != "from both sides" {
			s.Lie = "all wires from one side"
		}
	}
	if b := m.barrels[made.Barrel]; b != nil {
		s.Barrel = fmt.Sprintf("%s, %s long", b.Name, b.Length)
		if b.Outside > 0 {
			s.Barrel += fmt.Sprintf(", %s across", b.Outside)
		}
		s.Barrel += ", for " + rangeText(made.Range)
	}
	if made.Strip > 0 {
		s.Strip = made.Strip.String()
	}
	if made.SleeveSize > 0 {
		s.SleeveSize = fmt.Sprintf("%s %s, %s long", made.Sleeve, made.SleeveSize, made.SleeveLength)
	}
	if made.Passes > 0 {
		s.SleeveOver = fmt.Sprintf("passes over %s, closes on %s", made.Passes, made.Grips)
	}
	if len(made.Wires) < 2 {
		return
	}
	if why := made.BarrelWhy(); why != "" {
		s.Wrong = append(s.Wrong, why)
	}
	if made.SleeveWhy != "" {
		s.Wrong = append(s.Wrong, made.SleeveWhy)
	}
}

func rangeText(r [2]unit.Area) string {
	if r[0] <= 0 {
		return "up to " + r[1].String()
	}
	return r[0].String() + " to " + r[1].String()
}

func (m *maker) spliceWire(wire, end int) SpliceWire {
	w := &m.net.Wires[wire]
	_, code, _ := Colour(m.job, w)
	return SpliceWire{Wire: wire, Label: w.Label, Name: w.Name, Code: code, Size: m.conductor(wire).Size,
		To: m.endText(&w.Ends[1-end]), Leaves: m.same(m.leaves(w, end))}
}

// leaves is the way a wire leaves its end: "rail towards inj2".
func (m *maker) leaves(w *net.Wire, end int) string {
	if len(w.Path) == 0 {
		return "stays here"
	}
	s := w.Path[0]
	if end == 1 {
		s = w.Path[len(w.Path)-1]
		s.Reverse = !s.Reverse
	}
	e := &m.geo.Edges[s.Edge]
	to := e.To
	if s.Reverse {
		to = e.From
	}
	return e.Run + " towards " + m.geo.Text(to)
}

// jointPlace says where a splice sits: "at inj3 (rail, 262 mm from valley)", "rail, 60 mm from valley" or "at dash-hub".
func (m *maker) jointPlace(j *net.Joint) string {
	place, along := "", ""
	if j.Node >= 0 && j.Node < len(m.geo.Nodes) {
		if n := m.geo.Nodes[j.Node]; m.splice[n.Key] == nil && n.Key != j.Splice {
			place = "at " + m.geo.Text(j.Node)
		} else if n.Known && j.Run == "" {
			place = "at (" + millimetres(n.At.X) + ", " + millimetres(n.At.Y) + ", " + millimetres(n.At.Z) + " mm)"
		}
	}
	if j.Run != "" {
		from, stretch, run := "its beginning", 0, j.Run
		if r := m.run[j.Run]; r != nil && j.To != "" {
			run += " to " + j.To
			stretch = slices.IndexFunc(r.Stretches, func(x design.Stretch) bool { return len(x.Nodes) > 0 && x.Nodes[len(x.Nodes)-1].Node == j.To })
		}
		if es := m.geo.Stretch(j.Run, stretch); len(es) > 0 {
			from = m.geo.Text(m.geo.Edges[es[0]].From)
		}
		along = run + ", " + millimetres(j.After) + " mm from " + from
	}
	switch {
	case along == "" && place == "":
		return "place not known"
	case along == "" || place != "" && j.After < 0.5:
		return place
	case place == "":
		return along
	}
	return place + " (" + along + ")"
}
