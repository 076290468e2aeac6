package resolve

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// subjects is the words a finding can be about.
var subjects = []string{"run", "circuit", "device", "break", "splice", "cable", "panel", "section", "hazard", "hole"}

func (b *builder) accept(s *sense.Stmt) {
	if s.Name() == "" {
		return
	}
	a := &design.Accept{Key: s.Name(), Common: own(s), Reason: s.Text("reason"), By: s.Text("by"), Until: s.Text("until")}
	if b.known != nil && !slices.Contains(b.known, a.Key) {
		b.miss(s, missKey{"finding", a.Key}, s.NameSpan(), "no-such-finding", fmt.Sprintf("there is no finding `%s`", a.Key), func(d *diag.Diagnostic) {
			d.Detail = "Write the key that stands before the finding in the report."
			d.Near(diag.Nearest(a.Key, b.known))
		})
		return
	}
	for _, x := range []struct{ option, title, detail string }{
		{"by", "an acceptance names who takes responsibility, this one names nobody", "Write the name of that person: `by \"checker 2\"`."},
		{"reason", "an acceptance says why, this one does not", "Write what makes the value good enough: `reason \"moulded boot fitted\"`."},
	} {
		if o := s.Find(x.option); o != nil && strings.TrimSpace(o.Values[0].Text) == "" {
			b.mistake(s, o.Span, "acceptance-blank", x.title, x.detail)
		}
	}
	var first *sense.Opt
	for i := range s.Opts {
		o := &s.Opts[i]
		if !slices.Contains(subjects, o.Name) {
			continue
		}
		if first != nil {
			b.mistake(s, o.Span, "subject-twice", "an acceptance is about one thing", "Write a line for each.").Point(first.Span, "the other one")
			return
		}
		first = o
		if o.Name == "hole" { // most holes are the program's own and declared nowhere
			a.Subject = diag.Subject{Kind: "hole", Name: o.Values[0].Text}
		} else if t := b.find(s, o.Values[0], o.Name); t != nil {
			a.Subject = diag.Subject{Kind: o.Name, Name: t.name}
		}
	}
	ok := true
	a.Subject.From, a.Subject.To, ok = b.wireEnds(s)
	if o := s.Find("value"); o != nil {
		a.Value, a.HasValue = quantity(o.Values[0])
	}
	if a.Subject.Name != "" && ok {
		b.job.Accepts = append(b.job.Accepts, a)
	}
}

// wireEnds is the two ends that name one wire of a circuit.
func (b *builder) wireEnds(s *sense.Stmt) (from, to string, ok bool) {
	f, t := s.Find("from"), s.Find("to")
	if f != nil && t == nil && s.Missing("to") || t != nil && f == nil && s.Missing("from") {
		o := f
		if o == nil {
			o = t
		}
		b.mistake(s, o.Span, "option-missing", "a wire is named by both its ends", "Write `from` and `to`, as in the list of wires.")
		return "", "", false
	}
	if o := s.Find("circuit"); o == nil && f != nil && s.Missing("circuit") {
		b.mistake(s, f.Span, "option-missing", "a wire is named by its circuit and its two ends", "Write `circuit` before `from` and `to`.")
		return "", "", false
	}
	ok = true
	for _, o := range []*sense.Opt{f, t} {
		if o == nil {
			continue
		}
		e, good := b.end(s, o.Values[0])
		if !good {
			ok = false
			continue
		}
		if o == f {
			from = e.String()
		} else {
			to = e.String()
		}
	}
	return from, to, ok
}

func (b *builder) cavity(s *sense.Stmt) {
	if len(s.About) == 0 {
		return
	}
	c := &design.CavityDecision{Common: own(s), Order: b.count(s, "order")}
	if !b.cavityOf(s, s.About[0], c) {
		return
	}
	spare := s.Find("spare")
	circuit := s.Find("circuit")
	if spare != nil {
		c.Spare = spare.Values[0].Text
		if circuit != nil {
			b.mistake(s, spare.Span, "spare-taken", fmt.Sprintf("%s is taken by a circuit and spare at once", s.Name()), "Keep one of the two.").Point(circuit.Span, "the circuit")
			return
		}
	}
	if circuit != nil {
		ok := true
		if c.Circuit, c.From, c.To, ok = b.decided(s); !ok {
			return
		}
	}
	c.Contact, c.Seal = b.partIn(s, "contact", "contact"), b.partIn(s, "seal", "seal")
	if c.Angle = fact[unit.Angle](s, "angle"); c.Angle.Nominal > 180 {
		b.mistake(s, s.Find("angle").Span, "wrong-value", "a lug turns from its wire by 180 deg at the most", "Count from straight on, 0 deg: a lug square to its wire has `angle 90 deg`.")
		c.Angle = design.Fact[unit.Angle]{}
	}
	if o := s.Find("slid-on"); o != nil {
		for _, v := range o.Values {
			if b.part("sleeve", v.Text, v.Span) {
				c.SlidOn = append(c.SlidOn, v.Text)
			}
		}
	}
	b.job.Cavities = append(b.job.Cavities, c)
}

// cavityOf finds the cavity of a break, or the pin of a device, that a decision is about.
func (b *builder) cavityOf(s *sense.Stmt, v syntax.Value, c *design.CavityDecision) bool {
	head, cav, dotted := strings.Cut(v.Text, ".")
	w := v
	w.Text = head
	t := b.find(s, w, "break", "device")
	if t == nil {
		return false
	}
	if !dotted {
		b.mistake(s, v.Span, "cavity-unsaid", fmt.Sprintf("which cavity of %s is meant?", head), fmt.Sprintf("Write it with a dot, as in `%s.1`.", head))
		return false
	}
	if t.kind == "device" {
		d := b.devices[head]
		if b.real(s, w) == nil {
			return false
		}
		i, ok := d.find(cav)
		if !ok {
			b.noPin(s, d, v, cav)
			return false
		}
		c.Device, c.Cavity = head, d.Pins[i].Name
		return true
	}
	k := b.breaks[head]
	c.Break, c.Cavity = head, cav
	for _, h := range k.Halves {
		part, _ := b.parts["housing "+h.Housing].(*design.Housing)
		if part == nil {
			return false
		}
		ns := names(part.Cavities, func(x design.HousingCavity) string { return x.Name })
		if !slices.Contains(ns, cav) {
			m := b.mistake(s, v.Span, "no-such-cavity", fmt.Sprintf("break %s has no cavity %s", head, cav), fmt.Sprintf("Its housing, %s, has %s.", part.Name, cavityList(ns))).
				Near(nearPin(cav, ns)).Point(h.Span, "the half")
			meantRange(m, cav)
			return false
		}
	}
	return true
}

func (b *builder) label(s *sense.Stmt) {
	if len(s.About) == 0 {
		return
	}
	l := &design.LabelDecision{Text: s.Name(), Common: own(s)}
	if strings.TrimSpace(l.Text) == "" {
		b.mistake(s, s.NameSpan(), "label-empty", "a label has no text", "Write the mark that stands on the wire, or take the line away.")
		return
	}
	ok := true
	if l.Circuit, l.From, l.To, ok = b.decided(s); ok {
		b.job.Labels = append(b.job.Labels, l)
	}
}

// decided is the wire that a decision is about: a circuit, or for a screen or a spare its cable, and perhaps two ends. What is frozen is copper:
// a frozen line whose names are gone stands as it is, so that a check can say what is still in the vehicle.
func (b *builder) decided(s *sense.Stmt) (circuit, from, to string, ok bool) {
	o := s.Find("circuit")
	if o == nil {
		return b.refer(s, "circuit", "circuit"), "", "", false
	}
	if s.Find("frozen") != nil && !b.standing(s, o) {
		end := func(name string) string {
			if e := s.Find(name); e != nil {
				return e.Values[0].Text
			}
			return ""
		}
		return o.Values[0].Text, end("from"), end("to"), true
	}
	kind := "circuit"
	if name := o.Values[0].Text; b.names["circuit"][name] == nil && b.names["cable"][name] != nil {
		kind = "cable"
	}
	t := b.find(s, o.Values[0], kind)
	if t == nil {
		return "", "", "", false
	}
	from, to, ok = b.wireEnds(s)
	return t.name, from, to, ok
}

// standing tells whether all that a frozen line names of a wire is still declared.
func (b *builder) standing(s *sense.Stmt, circuit *sense.Opt) bool {
	name := circuit.Values[0].Text
	if b.names["circuit"][name] == nil && b.names["cable"][name] == nil {
		return false
	}
	for _, o := range []string{"from", "to"} {
		e := s.Find(o)
		if e == nil {
			continue
		}
		head, pin, dotted := strings.Cut(e.Values[0].Text, ".")
		t := b.names[space("device")][head]
		if t == nil {
			return false
		}
		if d := b.devices[head]; dotted && d != nil {
			if _, ok := d.find(pin); !ok {
				return false
			}
		}
	}
	return true
}

// hole is a hole or a stud. A frozen one is in the body: it stands as it is although its panel or its part is no longer declared, so that a
// check can say that it is left over.
func (b *builder) hole(t *thing) {
	s := t.st
	h := &design.Hole{Name: t.name, Common: own(s), Spot: b.spot(s, t.name)}
	h.Drill, h.High = wideHigh(s, "drill")
	b.aboveZero(s, "drill", "a hole")
	panel, fastener := s.Find("panel"), s.Find("fastener")
	if s.Find("frozen") == nil || panel != nil && b.names["panel"][panel.Values[0].Text] != nil {
		h.Panel = b.refer(s, "panel", "panel")
	} else {
		h.Panel = s.Text("panel")
	}
	if s.Find("frozen") == nil || fastener != nil && b.partThing("fastener", fastener.Values[0].Text) != nil {
		h.Fastener = b.partIn(s, "fastener", "fastener")
	} else {
		h.Fastener = s.Text("fastener")
	}
	b.job.Holes = append(b.job.Holes, h)
}

func (b *builder) fixing(t *thing) {
	s := t.st
	f := &design.Fixing{Name: t.name, Common: own(s), Run: b.refer(s, "run", "run"), After: length(s, "after"), Clip: b.partIn(s, "clip", "clip"),
		Hole: b.refer(s, "hole", "hole"), Fastener: b.partIn(s, "fastener", "fastener"), Screw: length(s, "screw"), Panel: b.refer(s, "panel", "panel")}
	if f.Run != "" {
		b.job.Fixings = append(b.job.Fixings, f)
	}
}
