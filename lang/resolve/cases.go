package resolve

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

func (b *builder) caseOf(t *thing) {
	s := b.merged[t]
	c := &design.Case{Name: t.name, Common: own(t.st)}
	c.Air, c.HasAir = amount[unit.Temperature](s, "air")
	c.For, _ = amount[unit.Time](s, "for")
	b.job.Cases = append(b.job.Cases, c)
	said := map[string]*sense.Stmt{}
	for _, l := range s.Block {
		if len(l.About) == 0 {
			continue
		}
		switch l.Word.Name {
		case "supply":
			b.caseSupply(c, l, said)
		case "set":
			b.caseSet(c, l, said)
		case "off":
			if d := b.real(l, l.About[0]); d != nil && b.firstSaid(c, l, said) {
				if len(d.Draws)+len(d.Coils)+len(d.Supplies) == 0 && !d.vague() && !d.partial {
					b.mistake(l, l.NameSpan(), "nothing-to-rest", fmt.Sprintf("%s neither draws nor supplies", d.Name), "`off` names loads that rest although fed, or supplies that are disconnected. A switch is opened with `set`.").
						Point(d.t.st.NameSpan(), "declared here")
					continue
				}
				c.Off = append(c.Off, d.Name)
			}
		case "works":
			if d := b.real(l, l.About[0]); d != nil && b.firstSaid(c, l, said) {
				if len(d.Draws)+len(d.Coils) == 0 && !d.vague() && !d.partial {
					b.mistake(l, l.NameSpan(), "no-load", fmt.Sprintf("%s draws nothing, so nobody can tell whether it works", d.Name), "`works` names loads; give it a `draw`.").Point(d.t.st.NameSpan(), "declared here")
					continue
				}
				c.Works = append(c.Works, d.Name)
			}
		case "zone":
			z := b.find(l, l.About[0], "zone")
			air, ok := amount[unit.Temperature](l, "air")
			if z != nil && ok && b.firstSaid(c, l, said) {
				c.ZoneAir = append(c.ZoneAir, design.ZoneAir{Zone: z.name, Air: air, Span: l.Span})
			}
		}
	}
	slices.SortFunc(c.Off, design.Natural)
	slices.SortFunc(c.Works, design.Natural)
	slices.SortFunc(c.Supplies, func(x, y design.CaseSupply) int { return design.Natural(x.Device, y.Device) })
	slices.SortFunc(c.States, func(x, y design.CaseState) int {
		return cmp.Or(design.Natural(x.Device, y.Device), design.Natural(x.Group, y.Group))
	})
	slices.SortFunc(c.ZoneAir, func(x, y design.ZoneAir) int { return design.Natural(x.Zone, y.Zone) })
}

// firstSaid tells whether a case says something for the first time; to say it again, or the contrary, is a mistake.
func (b *builder) firstSaid(c *design.Case, l *sense.Stmt, said map[string]*sense.Stmt) bool {
	for _, k := range append(replaces(l), key(l)) {
		if first := said[k]; first != nil {
			b.mistake(l, l.NameSpan(), "case-twice", fmt.Sprintf("case %s says twice how %s stands", c.Name, l.Name()), "Keep one of the two.").Point(first.NameSpan(), "first said here")
			return false
		}
	}
	said[key(l)] = l
	return true
}

// real finds a device that is no pattern.
func (b *builder) real(s *sense.Stmt, v syntax.Value) *device {
	t := b.find(s, v, "device")
	if t == nil {
		return nil
	}
	d := b.devices[t.name]
	if d.Pattern {
		b.mistake(s, v.Span, "pattern-used", fmt.Sprintf("%s is a pattern, there is no such device in the vehicle", d.Name), "Name one of the devices that are `like` it.").Point(t.st.NameSpan(), "declared here")
		return nil
	}
	return d
}

func (b *builder) caseSupply(c *design.Case, l *sense.Stmt, said map[string]*sense.Stmt) {
	d := b.real(l, l.About[0])
	if d == nil {
		return
	}
	if len(d.Supplies) == 0 {
		if !d.vague() && !d.partial {
			b.mistake(l, l.NameSpan(), "no-supply", fmt.Sprintf("%s is no supply", d.Name), "Only a device with a `supply` line can be live.").Point(d.t.st.NameSpan(), "declared here")
		}
		return
	}
	if !b.firstSaid(c, l, said) {
		return
	}
	s := design.CaseSupply{Device: d.Name, At: fact[unit.Voltage](l, "at"), Inside: fact[unit.Resistance](l, "inside"), Span: l.Span}
	b.volts(l, s.At)
	if s.At.Given && s.At.Nominal == 0 {
		b.zero(l, l.Find("at").Values[0], "a supply")
		s.At = design.Fact[unit.Voltage]{}
	}
	c.Supplies = append(c.Supplies, s)
}

func (b *builder) caseSet(c *design.Case, l *sense.Stmt, said map[string]*sense.Stmt) {
	v := l.About[0]
	head, group, dotted := strings.Cut(v.Text, ".")
	w := v
	w.Text = head
	d := b.real(l, w)
	if d == nil {
		return
	}
	groups := d.groups()
	switch {
	case len(groups) == 0:
		if !d.vague() {
			b.mistake(l, v.Span, "no-such-state", fmt.Sprintf("%s has no states to set", head), "A switch or relay says its states: `state on joins 1, 2`.").Point(d.t.st.NameSpan(), "declared here")
		}
		return
	case !slices.Contains(groups, group):
		if d.vague() {
			return
		}
		m := b.mistake(l, v.Span, "no-such-group", fmt.Sprintf("%s has no group of states `%s`", head, group), "").Point(d.t.st.NameSpan(), "declared here")
		named := slices.DeleteFunc(slices.Clone(groups), func(g string) bool { return g == "" })
		switch {
		case !dotted:
			m.Title = fmt.Sprintf("%s has several groups of states: which is meant?", head)
			m.Detail = fmt.Sprintf("Write it with a dot, as in `%s.%s`.", head, named[0])
		case len(named) == 0:
			m.Detail = fmt.Sprintf("Its states stand in one group: write just `%s`.", head)
		default:
			m.Detail = "Its groups are " + join(named[:min(len(named), 12)], "and") + "."
			m.Near(diag.Nearest(group, named))
		}
		return
	}
	state := l.Text("to")
	if state == "" {
		if !l.Missing("to") {
			return
		}
		state = "off"
	}
	if ref := (design.StateRef{Group: group, State: state}); state != "off" && !d.hasState[ref] {
		b.noState(l, d, l.Find("to").Values[0], ref.String())
		return
	}
	if b.firstSaid(c, l, said) {
		c.States = append(c.States, design.CaseState{Device: head, Group: group, State: state, Span: l.Span})
	}
}

// groups lists the groups of states of a device; the empty one is that of states without a group.
func (d *device) groups() []string {
	var out []string
	for _, s := range d.states {
		if !slices.Contains(out, s.Group) {
			out = append(out, s.Group)
		}
	}
	slices.SortFunc(out, design.Natural)
	return out
}

func (b *builder) removal(t *thing) {
	s := t.st
	r := &design.Removal{Name: t.name, Common: own(s), Sections: b.refers(s, "section", "section")}
	b.job.Removals = append(b.job.Removals, r)
	slices.SortFunc(r.Sections, design.Natural)
	o := s.Find("undo")
	if o == nil {
		return
	}
	seen := map[[2]string]bool{}
	for _, v := range o.Values {
		u, ok := b.undo(s, v)
		if !ok {
			continue
		}
		if seen[[2]string{u.Name, u.Pin}] {
			b.mistake(s, v.Span, "undone-twice", fmt.Sprintf("removal %s undoes %s twice", t.name, v.Text), "Take one away.")
			continue
		}
		seen[[2]string{u.Name, u.Pin}] = true
		r.Undo = append(r.Undo, u)
	}
}

func (b *builder) undo(s *sense.Stmt, v syntax.Value) (design.Undo, bool) {
	head, pin, dotted := strings.Cut(v.Text, ".")
	w := v
	w.Text = head
	t := b.find(s, w, "break", "device")
	if t == nil {
		return design.Undo{}, false
	}
	u := design.Undo{Kind: t.kind, Name: head, Span: v.Span}
	if t.kind == "device" && b.real(s, w) == nil {
		return u, false
	}
	if !dotted {
		return u, true
	}
	if t.kind == "break" {
		b.mistake(s, v.Span, "wrong-kind", fmt.Sprintf("`%s` is a break and is undone as a whole", head), fmt.Sprintf("Write just `%s`.", head)).Point(t.st.NameSpan(), "declared here")
		return u, false
	}
	d := b.devices[head]
	i, ok := d.find(pin)
	if !ok {
		b.noPin(s, d, v, pin)
		return u, false
	}
	if d.Pins[i].Stud == "" {
		b.mistake(s, v.Span, "no-stud", fmt.Sprintf("%s.%s is no stud", head, d.Pins[i].Name), fmt.Sprintf("A single contact is not undone by itself: undo the whole plug, `%s`.", head)).Point(d.Pins[i].Span, "the pin")
		return u, false
	}
	u.Kind, u.Pin = "stud", d.Pins[i].Name
	return u, true
}
