package resolve

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

func (b *builder) colour(s *sense.Stmt, v syntax.Value) string {
	if wrong, ok := noColour(v.Text); ok {
		b.mistake(s, v.Span, "no-such-colour", fmt.Sprintf("`%s` is no colour", wrong), "Colours are "+join(data.ColourNames(), "and")+"; a stripe follows after a slash: red/white.").
			Near(diag.Nearest(wrong, data.ColourNames()))
		return ""
	}
	return v.Text
}

// end is an end of a wire: a pin, a splice or the stud of a break.
func (b *builder) end(s *sense.Stmt, v syntax.Value) (design.End, bool) {
	head, pin, dotted := strings.Cut(v.Text, ".")
	t := b.names["place"][head]
	if t == nil {
		span := v.Span
		span.End = min(span.End, span.Start+int32(len(head)))
		if v.Kind == syntax.Ref && int(span.End-span.Start) != len(head) {
			span = v.Span
		}
		b.miss(s, missKey{"place", head}, span, "no-such-end", fmt.Sprintf("there is no device, splice or break `%s`", head), func(d *diag.Diagnostic) {
			d.Detail = "A wire ends at a pin of a device, at a splice or on a stud post."
			if o := b.elsewhere(head, "device"); o != nil {
				d.Detail = fmt.Sprintf("`%s` is a %s. %s", head, o.kind, d.Detail)
			}
			d.Near(diag.Nearest(head, b.namesOf("device", "splice", "break")))
		})
		return design.End{}, false
	}
	if t.st.Torn && t.kind != "device" {
		return design.End{}, false // nobody knows what it is
	}
	switch t.kind {
	case "device":
		return b.deviceEnd(s, v, b.devices[head], pin, dotted)
	case "splice", "break":
		if !dotted {
			return design.End{Kind: map[string]design.EndKind{"splice": design.AtSplice, "break": design.AtBreak}[t.kind], Name: head, Span: v.Span}, true
		}
		detail := fmt.Sprintf("A splice has no pins: write just `%s`.", head)
		if t.kind == "break" {
			detail = fmt.Sprintf("A wire passes a break; which cavity it takes is said by a line `cavity %s circuit ..`.", v.Text)
		}
		b.mistake(s, v.Span, "wrong-kind", fmt.Sprintf("`%s` is a %s, wanted is a pin", head, t.kind), detail).Point(t.st.NameSpan(), "declared here")
	default:
		b.mistake(s, v.Span, "wrong-kind", fmt.Sprintf("`%s` is a %s, wanted is an end of a wire", head, t.kind),
			fmt.Sprintf("A wire ends at a pin, a splice or a stud post. What it passes is said by `via %s`.", head)).Point(t.st.NameSpan(), "declared here")
	}
	return design.End{}, false
}

func (b *builder) deviceEnd(s *sense.Stmt, v syntax.Value, d *device, pin string, dotted bool) (design.End, bool) {
	if d.Pattern {
		b.mistake(s, v.Span, "pattern-used", fmt.Sprintf("%s is a pattern, there is no such device in the vehicle", d.Name), "It has no place and others are `like` it. Give it an `at`, or name one of those.").
			Point(d.t.st.NameSpan(), "declared here")
		return design.End{}, false
	}
	at := -1
	if dotted {
		i, ok := d.find(pin)
		if !ok {
			b.noPin(s, d, v, pin)
			return design.End{}, false
		}
		at = i
	} else {
		var usable []string
		for i, p := range d.Pins {
			if !p.Inner && !p.Unused {
				usable, at = append(usable, p.Name), i
			}
		}
		if len(usable) != 1 {
			if !d.vague() {
				m := b.mistake(s, v.Span, "pin-unsaid", fmt.Sprintf("%s has %s: which pin is meant?", d.Name, pinCount(len(usable))), "").Point(d.t.st.NameSpan(), "declared here")
				if len(usable) > 0 {
					m.Detail = fmt.Sprintf("Write it with a dot, as in `%s.%s`.", d.Name, usable[0])
				} else {
					m.Detail = "Give it a housing, or studs with `pin name stud M6`."
				}
			}
			return design.End{}, false
		}
	}
	p := d.Pins[at]
	if p.Inner {
		b.mistake(s, v.Span, "pin-inner", fmt.Sprintf("%s.%s is a joint inside that nobody can reach", d.Name, p.Name), "Take a pin, or declare it as one.").Point(p.Span, "declared here")
		return design.End{}, false
	}
	return design.End{Kind: design.AtPin, Name: d.Name, Pin: p.Name, Span: v.Span}, true
}

func pinCount(n int) string {
	if n == 0 {
		return "no pins"
	}
	return fmt.Sprintf("%d pins", n)
}

// way is the lists of a `from .. to .. to`, in order. ok is false when a list stands on both sides of a `to`.
func (b *builder) way(s *sense.Stmt, first []syntax.Value) (groups [][]syntax.Value, ok bool) {
	groups = [][]syntax.Value{first}
	for _, o := range s.Opts {
		if o.Name != "to" {
			continue
		}
		prev := groups[len(groups)-1]
		if len(prev) > 1 && len(o.Values) > 1 {
			b.mistake(s, o.Span, "lists-both-sides", "both ends are lists", "A list may stand on one side, `from a, b to c`: it is one for each. To join several in step, put a range in what the line is about, or write a line for each pair.").
				Point(sense.Spanned(prev), "the other list")
			return nil, false
		}
		groups = append(groups, o.Values)
	}
	return groups, true
}

func (b *builder) circuit(t *thing) {
	s := t.st
	c := &design.Circuit{Name: t.name, Common: own(s), Class: b.class(s)}
	b.job.Circuits = append(b.job.Circuits, c)
	all := b.linkOptions(s, nil, &design.Link{Parallel: 1})
	from := s.Find("from")
	if from != nil {
		b.links(c, s, from.Values, all)
	} else if o := s.Find("to"); o != nil && s.Missing("from") {
		b.mistake(s, o.Span, "option-missing", fmt.Sprintf("circuit %s says `to` but not `from`", t.name), "A link has two ends: `from battery.pos to isolator.1`.")
	}
	lines := 0
	for _, l := range s.Block {
		if l.Word.Name == "from" {
			lines++
			b.links(c, l, l.About, b.linkOptions(l, s, all))
		}
	}
	if from == nil && lines == 0 && s.Missing("from", "to") {
		b.mistake(s, s.NameSpan(), "circuit-empty", fmt.Sprintf("circuit %s has no ends", t.name), "Say from where to where: `from battery.pos to isolator.1`.")
	}
	slices.SortStableFunc(c.Links, func(x, y design.Link) int {
		return cmp.Or(design.Natural(x.From.String(), y.From.String()), design.Natural(x.To.String(), y.To.String()), cmp.Compare(viaText(x.Via), viaText(y.Via)),
			cmp.Compare(x.Size.String(), y.Size.String()), cmp.Compare(x.Colour, y.Colour), cmp.Compare(x.LooseLength.Nominal, y.LooseLength.Nominal))
	})
	c.Links = slices.Clone(c.Links) // without the room it grew into
}

func viaText(vs []design.Via) string {
	names := make([]string, len(vs))
	for i, v := range vs {
		names[i] = v.Name
	}
	return strings.Join(names, ",")
}

// links makes the links of one line.
func (b *builder) links(c *design.Circuit, s *sense.Stmt, first []syntax.Value, with *design.Link) {
	groups, ok := b.way(s, first)
	if !ok {
		return
	}
	if len(groups) == 1 && s.Missing("to") && s.Word.In == "" {
		b.mistake(s, sense.Spanned(first), "option-missing", fmt.Sprintf("circuit %s says `from` but not `to`", c.Name), "A link has two ends: `from battery.pos to isolator.1`.")
	}
	ends := make([][]design.End, len(groups))
	for i, g := range groups {
		for _, v := range g {
			if e, ok := b.end(s, v); ok {
				ends[i] = append(ends[i], e)
			}
		}
	}
	for i := 1; i < len(ends); i++ {
		for _, f := range ends[i-1] {
			for _, t := range ends[i] {
				if f.Kind == t.Kind && f.Name == t.Name && f.Pin == t.Pin {
					b.mistake(s, t.Span, "ends-same", fmt.Sprintf("both ends of this link are %s", t), "Write two different ends.")
					continue
				}
				l := *with
				l.From, l.To = f, t
				l.Common = own(s)
				l.Span = diag.Span{File: f.Span.File, Start: min(f.Span.Start, t.Span.Start), End: max(f.Span.End, t.Span.End)}
				if f.Span.File != t.Span.File {
					l.Span = f.Span
				}
				l.Via = slices.Clone(with.Via)
				c.Links = append(c.Links, l)
			}
		}
	}
}

// linkOptions is what a line states for its links; what it does not state is taken from base.
func (b *builder) linkOptions(s, outer *sense.Stmt, base *design.Link) *design.Link {
	l := *base
	if o := s.Find("via"); o != nil {
		l.Via = b.via(s, o.Values)
	}
	if o := s.Find("size"); o != nil {
		l.Size, l.SizeSpan = b.size(s, o.Values[0]), o.Values[0].Span
	}
	if s.Find("wire") != nil {
		l.Wire = b.partIn(s, "wire", "wire")
	}
	if o := s.Find("colour"); o != nil {
		l.Colour = b.colour(s, o.Values[0])
	}
	if s.Find("class") != nil {
		l.Class = b.class(s)
	}
	if n := b.count(s, "parallel"); n > 0 {
		l.Parallel = n
	}
	if s.Find("carries") != nil {
		l.Carries = fact[unit.Current](s, "carries")
	}
	if s.Find("sleeve") != nil {
		l.Sleeve = b.partIn(s, "sleeve", "sleeve")
	}
	if s.Find("section") != nil {
		l.LooseSection = b.refer(s, "section", "section")
	}
	if s.Find("zone") != nil {
		l.LooseZone = b.refer(s, "zone", "zone")
	}
	if o := s.Find("length"); o != nil {
		l.Loose, l.LooseLength = true, fact[unit.Length](s, "length")
		if l.LooseLength.Given && l.LooseLength.Nominal == 0 {
			b.zero(s, o.Values[0], "the length of a lead")
		}
	} else if !l.Loose && s.Missing("length") && (outer == nil || outer.Missing("length")) {
		for _, n := range []string{"section", "zone"} {
			if o := s.Find(n); o != nil && !laterLoose(s) {
				b.mistake(s, o.Span, "loose-length", fmt.Sprintf("`%s` is said of a loose lead only, and this has no `length`", n),
					"Every other wire has the section and the zone of the runs it follows. A loose lead says `length 350 mm section tub zone bay`.")
				break
			}
		}
	}
	return &l
}

// laterLoose tells whether a line in the block of a circuit says a length of its own.
func laterLoose(s *sense.Stmt) bool {
	return slices.ContainsFunc(s.Block, func(l *sense.Stmt) bool { return l.Find("length") != nil })
}

// via is the things a link must pass.
func (b *builder) via(s *sense.Stmt, vs []syntax.Value) []design.Via {
	var out []design.Via
	for _, v := range vs {
		head, _, dotted := strings.Cut(v.Text, ".")
		w := v
		w.Text = head
		t := b.find(s, w, "break", "point", "run", "device", "splice")
		if t == nil {
			continue
		}
		x := design.Via{Kind: "point", Name: v.Text, Span: v.Span}
		switch {
		case t.kind == "run" || t.kind == "break":
			x.Kind = t.kind
			if dotted {
				b.mistake(s, v.Span, "wrong-kind", fmt.Sprintf("`%s` is a %s and has no pins to pass", head, t.kind), fmt.Sprintf("Write just `via %s`.", head)).Point(t.st.NameSpan(), "declared here")
				continue
			}
			if t.kind == "break" {
				x.Node = b.spotOf(t).Node
			}
		default:
			x.Node = b.at(s, v).Node
		}
		out = append(out, x)
	}
	return out
}

func (b *builder) cable(t *thing) {
	s := t.st
	c := &design.Cable{Name: t.name, Common: own(s), As: "pair", Wire: b.partIn(s, "wire", "wire"), Twist: length(s, "twist")}
	if as := s.Text("as"); as != "" {
		c.As = as
	}
	b.job.Cables = append(b.job.Cables, c)
	if o := s.Find("holds"); o != nil {
		seen := map[string]bool{}
		for _, v := range o.Values {
			h := b.find(s, v, "circuit")
			switch {
			case h == nil:
			case seen[h.name]:
				b.mistake(s, v.Span, "held-twice", fmt.Sprintf("cable %s holds circuit %s twice", t.name, h.name), "A circuit has one core of a cable.")
			default:
				seen[h.name] = true
				c.Holds = append(c.Holds, h.name)
			}
		}
		if n := len(o.Values); n != 2 && c.As == "pair" && !o.Lost && !s.Broken {
			b.mistake(s, o.Span, "pair-of-two", fmt.Sprintf("a pair holds two circuits, here %s", isAreCount(n)), "Say `as multicore` or `as bus` for more.")
		}
	}
	if o := s.Find("screen"); o != nil {
		for _, v := range o.Values {
			if e, ok := b.end(s, v); ok {
				if e.Kind != design.AtPin {
					b.mistake(s, v.Span, "wrong-kind", fmt.Sprintf("`%s` is no pin", v.Text), "A screen is earthed at a pin, such as ecu.4.")
					continue
				}
				c.Screen = append(c.Screen, design.PinRef{Device: e.Name, Pin: e.Pin, Span: e.Span})
			}
		}
		slices.SortFunc(c.Screen, func(x, y design.PinRef) int { return design.Natural(x.String(), y.String()) })
	}
	c.From, c.To = b.endOpt(s, "from"), b.endOpt(s, "to")
	b.heldElsewhere(s, c)
}

// heldElsewhere reports circuits that an earlier cable holds as well, unless each of the two says which of their wires it takes.
func (b *builder) heldElsewhere(s *sense.Stmt, c *design.Cable) {
	first, shared := -1, ""
	for _, held := range c.Holds {
		for _, i := range b.holders[held] {
			if other := b.job.Cables[i]; other == c || (c.From != nil || c.To != nil) && (other.From != nil || other.To != nil) {
				continue
			}
			if first < 0 || i < first {
				first, shared = i, held
			}
			break
		}
	}
	if first >= 0 {
		other := b.job.Cables[first]
		b.mistake(s, s.Find("holds").Span, "held-twice", fmt.Sprintf("cables %s and %s both hold circuit %s", other.Name, c.Name, shared),
			"Keep one of them, or say with `from` and `to` in both which wires of the circuit each takes.").Point(other.Span, "the other cable")
	}
	for _, held := range c.Holds {
		b.holders[held] = append(b.holders[held], len(b.job.Cables)-1)
	}
}

func isAreCount(n int) string {
	if n == 1 {
		return "is 1"
	}
	return fmt.Sprintf("are %d", n)
}

// endOpt is the end of a wire that an option names; a break counts.
func (b *builder) endOpt(s *sense.Stmt, option string) *design.End {
	o := s.Find(option)
	if o == nil {
		return nil
	}
	if e, ok := b.end(s, o.Values[0]); ok {
		return &e
	}
	return nil
}

// noColour finds the part of a colour such as red/white that is none; the whole of it if its parts are not what is wrong.
func noColour(text string) (wrong string, ok bool) {
	if _, fine := data.ColourCode(text); fine {
		return "", false
	}
	for part := range strings.SplitSeq(text, "/") {
		if _, fine := data.ColourCode(part); part != "" && !fine {
			return part, true
		}
	}
	return text, true
}
