package fix

import (
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// runs lists every stretch with its clips.
func (m *maker) runs(all []held) []RunPlan {
	clips := map[stretchKey][]Clip{}
	for _, h := range all {
		k := stretchKey{h.run, h.stretch}
		clips[k] = append(clips[k], h.Clip)
	}
	same := design.Once{}
	var out []RunPlan
	for _, r := range m.job.Runs {
		for i := range r.Stretches {
			if es := m.geo.Stretch(r.Name, i); len(es) > 0 {
				rp := m.runPlan(r, i, es)
				rp.Clips = design.Exact(clips[stretchKey{r.Name, i}])
				for k := range rp.Clips {
					c := &rp.Clips[k]
					same.Texts(&c.ScrewSum, &c.EarSide, &c.KindWhy, &c.ClipWhy)
				}
				rp.Nodes, rp.Diameters = design.Exact(rp.Nodes), design.Exact(rp.Diameters)
				same.Texts(&rp.SpanSource, &rp.Note)
				out = append(out, rp)
			}
		}
	}
	return design.Exact(out)
}

func (m *maker) runPlan(r *design.Run, i int, es []int) RunPlan {
	first := &m.geo.Edges[es[0]]
	rp := RunPlan{Run: r.Name, Stretch: i, Section: first.Section, Zone: first.Zone, Panel: r.Panel, Tube: r.Tube, LengthStatus: first.Status}
	var spans []limit
	for _, e := range es {
		ed := &m.geo.Edges[e]
		if known(ed) {
			rp.Length += ed.Length
		}
		rp.Outside, rp.Wires = max(rp.Outside, m.sleeved(e)), max(rp.Wires, m.bundles.Edges[e].Wires)
		if len(rp.Nodes) == 0 {
			rp.Nodes = append(rp.Nodes, m.nodeStation(ed.From, ed.Station))
		}
		rp.Nodes = append(rp.Nodes, m.nodeStation(ed.To, ed.Station+ed.Length))
		rp.Diameters = m.band(rp.Diameters, e)
		if len(m.bundles.On(e)) > 0 {
			spans = append(spans, m.spanOf(e))
		}
	}
	if len(spans) == 0 {
		spans = append(spans, m.spanOf(es[0]))
	}
	least, most := m.least(spans), spans[0]
	for _, l := range spans {
		if l.most > most.most {
			most = l
		}
	}
	rp.SpanLimit, rp.SpanSource = most.most, most.source
	if least.most > 0 && least.most < most.most {
		rp.SpanSource += "; in part " + number(least.most) + " mm, " + least.source
	}
	var notes []string
	if !m.knownStretch[stretchKey{r.Name, i}] {
		rp.Length = 0
		notes = append(notes, "length not known: no clips")
	}
	if rp.Wires == 0 {
		notes = append(notes, "no wire lies here: no clips")
	}
	if c := m.chainAt[es[0]].chain; c >= 0 && m.chains[c].grid < 0 && m.chains[c].length > mostGrid {
		notes = append(notes, "a piece without a node is too long to be settled: no clips")
	}
	if first.Moves > 0 {
		notes = append(notes, "one end moves "+first.Moves.String()+" in use: nothing may tie it between the clips at its ends")
	}
	if rp.Wires > 0 {
		rp.Sleeves = m.sleeves(r, i)
	}
	rp.Bends = m.bends[stretchKey{r.Name, i}]
	rp.Note = strings.Join(notes, "; ")
	return rp
}

func (m *maker) nodeStation(node int, after unit.Length) Station {
	n := m.geo.Nodes[node]
	s := Station{After: after, At: n.At, Known: n.Known, What: m.geo.Text(node), Ends: m.ends[node]}
	laden := 0
	for _, t := range m.tips[node] {
		if len(m.bundles.On(t.edge())) > 0 {
			laden++
		}
	}
	s.Breakout = laden > 2
	return s
}

// band adds the bundle of an edge to those along a stretch.
func (m *maker) band(list []Diameter, e int) []Diameter {
	ed := &m.geo.Edges[e]
	d := Diameter{From: ed.Station, To: ed.Station + ed.Length, Wires: m.bundles.Edges[e].Wires}
	d.Least, d.Most = m.bundles.Edges[e].Over()
	if n := len(list) - 1; n >= 0 {
		if x := list[n]; x.Most == d.Most && x.Wires == d.Wires && (x.Least == d.Least || x.Least.Length() == d.Least.Length()) {
			list[n].To = d.To
			return list
		}
	}
	return append(list, d)
}
