package assembly

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// endKey names the connector, or the stud, that an end is at; empty for a splice and an end that is cut back.
func endKey(t *net.Termination) string {
	switch t.Kind {
	case net.InCavity:
		return "device " + t.Device + "\n" + strconv.Itoa(t.Housing)
	case net.OnStud:
		return "stud " + t.Device + "\n" + t.Pin
	case net.InHalf, net.OnPost:
		return "half " + t.Break + "\n" + strconv.Itoa(t.Half)
	}
	return ""
}

// halfKey is the same for the half of a break of the bench plan.
func halfKey(c *bench.Connector) string { return "half " + c.Break + "\n" + strconv.Itoa(c.Half) }

// title is a connector's as the pin tables have it, and a stud's as the cut list has it.
func (m *maker) title(key, section string, t *net.Termination) string {
	if t.Kind == net.InCavity {
		if d := m.device[t.Device]; d != nil && len(d.Housings) > 1 && t.Housing >= 0 && t.Housing < len(d.Housings) {
			return d.Name + ", housing " + cmp.Or(d.Housings[t.Housing].As, d.Housings[t.Housing].Part)
		}
		return t.Device
	}
	if t.Kind == net.OnStud {
		return "stud " + t.Pin + " of " + t.Device
	}
	return cmp.Or(m.text[key+"\n"+section], t.Break, t.Device)
}

// cavityOf is what an end is called within its connector.
func (m *maker) cavityOf(a at) string { return m.net.Wires[a.wire].Ends[a.end].Cavity }

// endText is an end in words, as the cut list has it.
func (m *maker) endText(a at) string {
	t := &m.net.Wires[a.wire].Ends[a.end]
	return cmp.Or(m.cut[a].Text, t.Device+t.Break+t.Splice)
}

// placeText is the thing an end is at.
func (m *maker) placeText(a at) string {
	t := &m.net.Wires[a.wire].Ends[a.end]
	switch {
	case t.Splice != "":
		return "splice " + t.Splice
	case t.Kind == net.CutBack && t.Near != "":
		return "beside " + t.Near
	}
	return cmp.Or(t.Device, t.Break, "its other end")
}

// wayText is a way in words: "rail towards inj2".
func (m *maker) wayText(edge, to int) string {
	if edge < 0 {
		return "those that stay there"
	}
	return m.geo.Edges[edge].Run + " towards " + m.geo.Text(to)
}

// lugSize is how wide the lug of an end is at its barrel and its palm.
func (m *maker) lugSize(a at) (barrel, palm unit.Length, ok bool) {
	return data.LugSize(m.conductor(a.wire).Size.Area(), m.thread(&m.net.Wires[a.wire].Ends[a.end]))
}

// thingText names a thing with its size: "marker 3.2 mm".
func (s *sheet) thingText(thing int) string {
	if thing < 0 {
		return ""
	}
	t := &s.things[thing]
	name := cmp.Or(t.Part, t.Kind)
	if t.Size > 0 {
		name += " " + t.Size.String()
	}
	return name
}

// whatShort is what is crimped on, without how.
func (a *act) whatShort() string {
	w, _, _ := strings.Cut(a.what, ", ")
	return w
}

// list is things in a sentence: "a, b and c".
func list(all []string) string {
	if len(all) < 2 {
		return strings.Join(all, "")
	}
	return strings.Join(all[:len(all)-1], ", ") + " and " + all[len(all)-1]
}

// span names many cavities in short: numbers that follow one another as "1 to 6".
func span(names []string) string {
	names = slices.Clone(names)
	slices.SortFunc(names, design.Natural)
	names = slices.Compact(names)
	var out []string
	for i := 0; i < len(names); {
		k := i
		for k+1 < len(names) && follows(names[k], names[k+1]) {
			k++
		}
		switch {
		case k-i >= 2:
			out = append(out, names[i]+" to "+names[k])
		case k > i:
			out = append(out, names[i], names[k])
		default:
			out = append(out, names[i])
		}
		i = k + 1
	}
	return strings.Join(out, ", ")
}

func follows(a, b string) bool {
	x, err := strconv.Atoi(a)
	y, err2 := strconv.Atoi(b)
	return err == nil && err2 == nil && y == x+1
}
