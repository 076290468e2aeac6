package free

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// ties lists what the net still ties once all is undone.
func (p *part) ties() {
	g := p.f.g
	posts := map[string]bool{} // whose going wires are listed
	list := p.holding(p.undo)
	for _, i := range list {
		if l := &g.links[i]; g.knots[l.b].kind == aPostHalf && p.knotSide(l.a) != stays {
			posts[g.knots[l.b].name] = true
		}
	}
	seen := map[[2]int]bool{}
	for _, i := range list {
		l := &g.links[i]
		wire, end := g.knots[l.a].wire, l.end
		switch k := &g.knots[l.b]; {
		case k.kind == aPlug && p.knotSide(l.a) == stays:
			continue // told from the side that goes
		case k.kind == aPostHalf && p.knotSide(l.a) == stays && posts[k.name]:
			continue // told from the side that goes
		case k.kind == aWire && p.knotSide(l.b) == goes:
			wire, end = k.wire, endAt(&p.f.nt.Wires[k.wire], l.undo.Name, 1)
		}
		if seen[[2]int{wire, end}] {
			continue
		}
		seen[[2]int{wire, end}] = true
		p.Ties = append(p.Ties, p.tie(l, wire, end))
	}
	for _, i := range p.within(func(s *within) []int { return s.breaks }) {
		b := p.f.job.Breaks[i]
		u := design.Undo{Kind: "break", Name: b.Name}
		if p.f.breaks[b.Name] != b || !p.parts(b) || slices.Contains(undoNames(p.undo), undoNames([]design.Undo{u})[0]) ||
			slices.ContainsFunc(p.Ties, func(t Tie) bool { return t.Group == "break "+b.Name }) {
			continue
		}
		p.Ties = append(p.Ties, Tie{Kind: ByHalf, Name: b.Name, At: "break " + b.Name, Group: "break " + b.Name, Place: placeText(b.Panel, b.Spot), Span: p.Span,
			Text: fmt.Sprintf("The halves of break %s are mated, though no wire passes it.", b.Name), Mend: fmt.Sprintf("Add %s to `undo`.", b.Name)})
	}
	for _, i := range p.within(func(s *within) []int { return s.lays }) {
		y := g.lays[i]
		w := &p.f.nt.Wires[y.wire]
		if a, b := p.sideOf(w.Section), p.sideOf(y.to); a == b || a == unsure || b == unsure {
			continue
		}
		t := p.wireTie(y.wire)
		t.Kind, t.At, t.Group = ByLay, "run "+y.run, "run "+y.run
		t.Mend = fmt.Sprintf("Lead it along a run of section %s.", w.Section)
		t.Text = fmt.Sprintf("%s lies in run %s of section %s.", p.f.wireText(y.wire), y.run, y.to)
		p.Ties = append(p.Ties, t)
	}
}

func (p *part) wireTie(wire int) Tie {
	w := &p.f.nt.Wires[wire]
	t := Tie{Kind: ByWire, Name: w.Name, Label: w.Label, Cable: w.Cable, Ends: [2]string{w.From, w.To}, Span: p.Span}
	switch {
	case w.Kind == net.Screen:
		t.Kind = ByScreen
	case w.Loose:
		t.Kind = ByLead
	case w.Cable != "":
		t.Kind = ByCore
	}
	return t
}

func (p *part) tie(l *link, wire, end int) Tie {
	f := p.f
	t := p.wireTie(wire)
	t.At, t.Group = l.at, l.group
	k := &f.g.knots[l.b]
	_, t.Place = f.placeOf(&f.nt.Wires[wire].Ends[end])
	what := f.wireText(wire)
	switch {
	case k.kind == aSplice:
		t.Kind = BySplice
		t.Text = fmt.Sprintf("%s is crimped into splice %s.", what, k.name)
		t.Mend = fmt.Sprintf("Lead it through a break between splice %s and section %s, or put the splice on the other side.", k.name, strings.Join(p.Sections, ", "))
	case k.kind == aPlug:
		t.Text = fmt.Sprintf("%s shares a plug of %s with wires of what stays.", what, k.name)
		t.Mend = "Give each section a plug of its own there."
	case l.undo.Kind == "":
		t.Text = fmt.Sprintf("%s has its lug on the half of %s that belongs to the other side.", what, k.name)
		t.Mend = fmt.Sprintf("Change the sections of the halves of break %s.", k.name)
	case l.undo.Kind == "break":
		t.Text = fmt.Sprintf("%s passes %s.", what, l.at)
		t.Mend = fmt.Sprintf("Add %s to `undo`.", l.undo.Name)
	case l.undo.Kind == "stud":
		if f.earths[l.undo.Name+"."+l.undo.Pin] && t.Kind == ByWire {
			t.Kind = ByEarth
		}
		t.Text = fmt.Sprintf("%s has its lug on %s, on %s.", what, l.at, p.standing(l.undo.Name))
		t.Mend = fmt.Sprintf("Add %s.%s to `undo`, or a break to its circuit.", l.undo.Name, l.undo.Pin)
	default:
		t.Text = fmt.Sprintf("%s ends in the %s, on %s.", what, l.at, p.standing(l.undo.Name))
		t.Mend = fmt.Sprintf("Add %s to `undo`, or a break to its circuit.", l.undo.Name)
	}
	if s := f.bodies.home[l.undo.Name]; k.kind == aDevice && s == "" && p.deviceSide(l.undo.Name) == stays {
		t.Mend += fmt.Sprintf(" If %s comes away, write its `section`.", l.undo.Name)
	}
	return t
}

// standing says with what a device goes.
func (p *part) standing(device string) string {
	switch s := p.f.bodies.home[device]; {
	case p.deviceSide(device) == goes:
		return fmt.Sprintf("what comes away with section %s", s)
	case s != "":
		return fmt.Sprintf("what stays with section %s", s)
	}
	return "what stays"
}

// wireText names a wire as the workshop does: with its mark, and as part of its cable.
func (f *finder) wireText(i int) string {
	w := &f.nt.Wires[i]
	s := "wire "
	switch {
	case w.Kind == net.Screen:
		s = "screen "
	case w.Loose:
		s = "loose lead "
	}
	s += w.Name
	var more []string
	if w.Label != "" {
		more = append(more, "marked "+w.Label)
	}
	if w.Cable != "" && w.Kind == net.Plain {
		more = append(more, "of cable "+w.Cable)
	}
	if len(more) > 0 {
		s += " (" + strings.Join(more, ", ") + ")"
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// placeOf is where an end of a wire is: its panel, and the whole in words.
func (f *finder) placeOf(t *net.Termination) (panel, text string) {
	switch t.Kind {
	case net.InHalf, net.OnPost:
		if b := f.breaks[t.Break]; b != nil {
			return b.Panel, placeText(b.Panel, b.Spot)
		}
	case net.InCavity, net.OnStud:
		return f.pinPlace(t.Device, t.Pin)
	}
	if g := f.nt.Space; g != nil && t.Node >= 0 && t.Node < len(g.Nodes) && g.Nodes[t.Node].Known {
		return "", placeText("", design.Spot{At: g.Nodes[t.Node].At, Known: true})
	}
	return "", ""
}

// pinPlace is where a pin is: its own place, that of its housing, or that of its device.
func (f *finder) pinPlace(device, pin string) (panel, text string) {
	d := f.devices[device]
	if d == nil {
		return "", ""
	}
	panel, at := d.Panel, d.Spot
	if i := slices.IndexFunc(d.Pins, func(p design.Pin) bool { return p.Name == pin }); i >= 0 {
		x := &d.Pins[i]
		if h := x.Housing; h >= 0 && h < len(d.Housings) && d.Housings[h].Known {
			at = d.Housings[h].Spot
		}
		if x.Known {
			at = x.Spot
		}
		if x.Panel != "" {
			panel = x.Panel
		}
	}
	return panel, placeText(panel, at)
}

// placeText is a place in words.
func placeText(panel string, s design.Spot) string {
	var out []string
	if panel != "" {
		out = append(out, "panel "+panel)
	}
	if s.Known {
		out = append(out, fmt.Sprintf("(%s, %s, %s mm)", unit.Number(float64(s.At.X), 0), unit.Number(float64(s.At.Y), 0), unit.Number(float64(s.At.Z), 0)))
	}
	return strings.Join(out, " at ")
}
