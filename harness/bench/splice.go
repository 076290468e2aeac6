package bench

import "loomsheet/harness/net"

// splices lists the joints of a section.
func (m *maker) splices(section string) []Splice {
	var out []Splice
	for i := range m.net.Joints {
		j := &m.net.Joints[i]
		if j.Section != section {
			continue
		}
		s := Splice{Name: j.Splice, Where: m.jointPlace(j), Status: j.Status}
		if d := m.splice[j.Splice]; d != nil {
			s.Sleeve = d.Sleeve
		}
		for _, w := range j.Wires {
			for e := range m.net.Wires[w].Ends {
				if t := &m.net.Wires[w].Ends[e]; t.Kind != net.InSplice || t.Splice != j.Splice {
					continue
				}
				s.Wires = append(s.Wires, m.spliceWire(w, e))
				s.Area += m.conductor(w).Size.Area()
			}
		}
		out = append(out, s)
	}
	return out
}

func (m *maker) spliceWire(wire, end int) SpliceWire {
	w := &m.net.Wires[wire]
	_, code, _ := Colour(m.job, w)
	return SpliceWire{Wire: wire, Label: w.Label, Name: w.Name, Code: code, Size: m.conductor(wire).Size,
		To: m.endText(&w.Ends[1-end]), Leaves: m.leaves(w, end)}
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
		from := "its beginning"
		if es := m.geo.Stretch(j.Run, 0); len(es) > 0 {
			from = m.geo.Text(m.geo.Edges[es[0]].From)
		}
		along = j.Run + ", " + millimetres(j.After) + " mm from " + from
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
