package resolve

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// hands is the kinds of things that are mirrored as a whole; of what sits at one place `mirror` belongs to that.
var hands = []string{"panel", "tube", "hazard"}

// likes takes over what things state by way of `like`.
func (b *builder) likes() {
	b.liked = map[string]bool{}
	for _, t := range b.order {
		switch t.kind {
		case "device", "break", "case", "panel", "tube", "hazard":
			if o := t.st.Find("like"); o != nil && t.kind == "device" {
				b.liked[o.Values[0].Text] = true
			}
			b.merge(t, nil)
		}
	}
}

// merge is the statement of a thing with all that it takes over; chain is the things being merged.
func (b *builder) merge(t *thing, chain []*thing) *sense.Stmt {
	if m := b.merged[t]; m != nil {
		return m
	}
	s := t.st
	if t.kind == "device" {
		s = b.split(s)
	}
	o := s.Find("like")
	if o == nil {
		b.merged[t] = s
		return s
	}
	if b.merging[t] {
		i := slices.Index(chain, t)
		d := b.mistake(t.st, o.Span, "like-circle", fmt.Sprintf("%s %s is like itself", t.kind, t.name), "Of the things that are like one another one must state everything.")
		for _, c := range chain[i+1 : min(len(chain), i+4)] {
			d.Point(c.st.NameSpan(), "by way of "+c.name)
		}
		return nil
	}
	var from *thing
	if t.kind == "device" && b.names["place"][o.Values[0].Text] == nil {
		from = b.lib.find("device", o.Values[0].Text)
	}
	if from == nil {
		if t.kind == "device" && b.names["place"][o.Values[0].Text] == nil {
			b.noDevice(s, o.Values[0])
		} else {
			from = b.find(s, o.Values[0], t.kind)
		}
	}
	var parent *sense.Stmt
	if from != nil {
		b.merging[t] = true
		parent = b.merge(from, append(chain, t))
		delete(b.merging, t)
	}
	if m := b.merged[t]; m != nil {
		return m // a circle has been told and broken on the way
	}
	m := s
	if parent != nil && b.sense.Spend(s.At, len(parent.Block)+len(parent.Opts)) {
		if m = takeOver(s, parent, from); slices.Contains(hands, t.kind) {
			b.flip(t, m, parent)
		}
	} else {
		c := *s
		c.Broken = true // what it should have taken over is not known
		m = &c
	}
	b.merged[t] = m
	return m
}

func (b *builder) noDevice(s *sense.Stmt, v syntax.Value) {
	b.miss(s, missKey{"place", v.Text}, v.Span, "no-such-device", fmt.Sprintf("there is no device `%s`", v.Text), func(d *diag.Diagnostic) {
		d.Detail = "Neither the job nor the library has it."
		d.Near(diag.Nearest(v.Text, append(b.namesOf("device"), b.lib.list("device")...)))
	})
}

// notTaken is options that concern the one thing alone.
var notTaken = []string{"note", "source", "only", "frozen", "like", "faces"}

// shapes is options that together say where a thing lies: one of one's own replaces them all.
var shapes = map[string][]string{"panel": {"corners", "points"}, "tube": {"from", "to"}, "hazard": {"between", "from", "to"}}

// ownShape tells whether a statement says itself what the option is about.
func ownShape(s *sense.Stmt, option string) bool {
	of := shapes[s.Word.Name]
	return slices.Contains(of, option) && slices.ContainsFunc(of, func(n string) bool { return s.Find(n) != nil })
}

// flip turns over for the other hand what a statement has taken over; the parent stays as it is.
func (b *builder) flip(t *thing, m, parent *sense.Stmt) {
	o := t.st.Find("mirror")
	if o == nil {
		return
	}
	turn := axis(o.Values[0].Text)
	over := func(x *sense.Opt) {
		for i := range turn {
			x.Flip[i] = x.Flip[i] != turn[i]
		}
	}
	any := false
	for i := range m.Opts {
		if t.st.Find(m.Opts[i].Name) == nil {
			over(&m.Opts[i])
			any = any || slices.Contains(shapes[t.kind], m.Opts[i].Name) || m.Opts[i].Name == "keep-out"
		}
	}
	for i, l := range m.Block {
		if slices.Contains(t.st.Block, l) {
			continue
		}
		c := *l
		c.Opts = slices.Clone(l.Opts)
		for k := range c.Opts {
			over(&c.Opts[k])
		}
		m.Block[i] = &c
		any = true
	}
	if !any && slices.ContainsFunc(shapes[t.kind], func(n string) bool { return t.st.Find(n) != nil }) {
		b.mistake(t.st, o.Span, "mirror-unneeded", fmt.Sprintf("`mirror` turns nothing over: %s %s says itself where it lies", t.kind, t.name), fmt.Sprintf("It turns over what the other %s says of that. Leave one of the two out.", t.kind))
	}
}

// placing is options that belong to `at`: a place of one's own replaces them all.
var placing = []string{"at", "offset", "mirror", "step"}

// takeOver adds what the other states to a statement, unless that says it itself.
func takeOver(s, parent *sense.Stmt, from *thing) *sense.Stmt {
	c := *s
	c.Opts = slices.DeleteFunc(slices.Clone(s.Opts), func(o sense.Opt) bool { return o.Name == "like" })
	c.Broken = s.Broken || parent.Broken
	c.Wrong = slices.Concat(s.Wrong, parent.Wrong)
	placed := s.Find("at") != nil
	for _, o := range parent.Opts {
		switch {
		case slices.Contains(notTaken, o.Name) || s.Find(o.Name) != nil || ownShape(s, o.Name):
		case o.Name == "at" && !placed:
			// It sits where the other one sits, whatever that is put at.
			o.Values = []syntax.Value{{Kind: syntax.Name, Text: from.name, Span: o.Values[0].Span}}
			if from.kind != "case" {
				c.Opts = append(c.Opts, o)
			}
		case slices.Contains(placing, o.Name):
		case o.Name == "housing" && slices.ContainsFunc(s.Block, func(l *sense.Stmt) bool { return l.Word.Name == "housing" }):
		default:
			c.Opts = append(c.Opts, o)
		}
	}
	own := map[string]bool{}
	halves := 0
	for _, l := range s.Block {
		for _, k := range append(replaces(l), key(l)) {
			own[k] = true
		}
		if l.Word.Name == "half" {
			halves++
		}
	}
	c.Block = nil
	for _, l := range parent.Block {
		if l.Word.Name == "half" && halves >= 2 || own[key(l)] {
			continue
		}
		c.Block = append(c.Block, l)
	}
	c.Block = append(c.Block, s.Block...)
	return &c
}

// key is what a line in a block is about: a line of the copy about the same replaces it.
func key(l *sense.Stmt) string {
	n := l.Word.Name
	switch n {
	case "supply", "draw", "coil", "fuse", "diode", "reads":
		if l.Word.In == "device" {
			return n + " " + l.Text("from") + " " + l.Text("to")
		}
	case "housing":
		return n + " " + l.Text("as")
	case "inner":
		return "pin " + l.Name()
	case "joins":
		pins := make([]string, len(l.About))
		for i, v := range l.About {
			pins[i] = v.Text
		}
		slices.Sort(pins)
		return n + " " + strings.Join(pins, " ")
	}
	return n + " " + l.Name()
}

// replaces is what else a line of a case contradicts: what rests neither works nor supplies.
func replaces(l *sense.Stmt) []string {
	switch {
	case l.Word.In != "case":
	case l.Word.Name == "off":
		return []string{"supply " + l.Name(), "works " + l.Name()}
	case l.Word.Name == "supply", l.Word.Name == "works":
		return []string{"off " + l.Name()}
	}
	return nil
}

// split takes lines with a list of ends apart, one line for each pair of ends.
func (b *builder) split(s *sense.Stmt) *sense.Stmt {
	c := *s
	c.Block = nil
	for _, l := range s.Block {
		switch l.Word.Name {
		case "supply", "draw", "coil", "fuse", "diode":
			c.Block = append(c.Block, b.pairs(l)...)
		default:
			c.Block = append(c.Block, l)
		}
	}
	return &c
}

func (b *builder) pairs(l *sense.Stmt) []*sense.Stmt {
	from, to := l.Find("from"), l.Find("to")
	if from == nil || to == nil || len(from.Values) == 1 && len(to.Values) == 1 {
		return []*sense.Stmt{l}
	}
	if len(from.Values) > 1 && len(to.Values) > 1 {
		b.mistake(l, from.Span, "lists-both-sides", "both ends are lists", "A list on one side is one for each: `from 2, 3, 4 to 5`. Write a line for each pair.").Point(to.Span, "the other list")
		return nil
	}
	var out []*sense.Stmt
	for i := range max(len(from.Values), len(to.Values)) {
		c := *l
		c.Opts = slices.Clone(l.Opts)
		one := func(o *sense.Opt) {
			o.Values = o.Values[min(i, len(o.Values)-1):][:1]
		}
		one(c.Find("from"))
		one(c.Find("to"))
		out = append(out, &c)
	}
	return out
}
