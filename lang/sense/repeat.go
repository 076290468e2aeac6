package sense

import (
	"fmt"
	"slices"

	"loomsheet/harness/diag"
	"loomsheet/lang/expand"
	"loomsheet/lang/syntax"
)

// isList tells whether what a line is about is one list, so that a range there does not repeat the line.
func isList(s *Stmt) bool {
	switch s.Path() {
	case "device joins", "run from", "circuit from":
		return true
	}
	return false
}

// Repeat takes the short forms of a statement apart, which is used up by it. A range or a list in what a line is about repeats the line; every other range in
// it and in its block then goes in step. Elsewhere a range is a list.
func (r *Reader) Repeat(s *Stmt) []*Stmt { return r.repeat(s, nil) }

// pace is the range that other ranges go in step with.
type pace struct {
	of   diag.Span
	as   string
	hazy bool // some of it could not be made out
	n    int
	i    int // the member at hand
}

func (r *Reader) repeat(s *Stmt, p *pace) []*Stmt {
	if !r.spend(s.At, 1) {
		return nil
	}
	about, ranged := r.list(s.About, p)
	var cavities []syntax.Value
	pins := s.Path() == "device pin"
	switch {
	case pins:
		cavities = r.cavities(s, about, p)
	case isList(s) || len(about) < 2 && (!ranged || p != nil):
		c := s
		if p != nil { // there are more members
			c, about = s.copyOf(), slices.Clone(about)
		}
		c.About = about
		return []*Stmt{r.member(c, p)}
	}
	if p == nil && (len(about) > 1 || ranged) {
		p = &pace{of: Spanned(s.About), as: said(s.About), n: len(about), hazy: s.Torn || s.Lost}
	}
	own := p != nil && p.of == Spanned(s.About)
	out := make([]*Stmt, 0, len(about))
	for i, v := range about {
		if !r.spend(s.At, 1) {
			break
		}
		c := s.copyOf()
		c.About, c.Member = []syntax.Value{v}, i
		if o := c.Find("cavity"); o != nil && pins {
			o.Values = nil
			if i < len(cavities) {
				o.Values = []syntax.Value{cavities[i]}
			}
		}
		at := p
		if own {
			q := *p
			q.i, at = i, &q
		}
		out = append(out, r.member(c, at))
	}
	return out
}

// said names what other ranges go in step with.
func said(about []syntax.Value) string {
	if len(about) > 1 {
		return fmt.Sprintf("the list beginning with `%s`", short(about[0].Text))
	}
	return "`" + short(about[0].Text) + "`"
}

// cavities is the cavities of a line of pins, one for each, whether in a range or a list.
func (r *Reader) cavities(s *Stmt, about []syntax.Value, p *pace) []syntax.Value {
	o := s.Find("cavity")
	if o == nil {
		return nil
	}
	out, _ := r.list(o.Values, p)
	if o.Lost || s.Lost || s.Torn {
		return nil
	}
	if len(out) != len(about) && len(out) > 0 && len(about) > 0 {
		r.Msgs.Mistake(o.Span, "out-of-step", fmt.Sprintf("here %s for %s", counted(len(out), "cavity", "cavities"), counted(len(about), "pin", "pins")),
			"Each pin has one cavity of its own, in the same order.").Point(Spanned(s.About), "the pins")
		return nil
	}
	return out
}

// member fills in the options and the block of one member; without a pace every range is a list.
func (r *Reader) member(s *Stmt, p *pace) *Stmt {
	n := len(s.About)
	s.About = r.checked(s.About, s, nil)
	s.Lost = s.Lost || len(s.About) < n
	kept := s.Opts[:0]
	for _, o := range s.Opts {
		vs, _ := r.list(o.Values, p)
		o.Values = r.checked(vs, s, &o)
		o.Lost = o.Lost || len(o.Values) < len(vs)
		if len(o.Values) > 0 {
			kept = append(kept, o)
		} else {
			s.Wrong = append(s.Wrong, o.Name)
		}
	}
	s.Opts = kept
	var block []*Stmt
	for _, b := range s.Block {
		block = append(block, r.repeat(b, p)...)
	}
	s.Block = block
	return s
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func ranged(v syntax.Value) bool {
	switch v.Kind {
	case syntax.Place:
		return slices.ContainsFunc(v.Items, ranged)
	case syntax.Text:
		return false
	}
	return expand.HasRange(v.Text)
}

// list takes the ranges of a list apart. With a pace each gives its one member, else all. any tells whether there was a range.
func (r *Reader) list(vs []syntax.Value, p *pace) (out []syntax.Value, any bool) {
	if !slices.ContainsFunc(vs, ranged) {
		return vs, false
	}
	for _, v := range vs {
		if !ranged(v) {
			out = append(out, v)
			continue
		}
		any = true
		if v.Kind == syntax.Place {
			if w, ok := r.place(v, p); ok {
				out = append(out, w)
			}
			continue
		}
		members, _, err := expand.Members(v.Text)
		if err != nil {
			r.Msgs.Mistake(v.Span, err.Code, err.Title, err.How)
			continue
		}
		if p == nil {
			if !r.spend(v.Span, len(members)) {
				return out, true
			}
			for _, m := range members {
				out = append(out, plain(v, m))
			}
			continue
		}
		if len(members) != p.n && p.hazy {
			continue
		}
		if len(members) != p.n {
			r.outOfStep(v, len(members), p)
			continue
		}
		out = append(out, plain(v, members[p.i]))
	}
	return out, any
}

func (r *Reader) outOfStep(v syntax.Value, n int, p *pace) {
	r.Msgs.Mistake(v.Span, "out-of-step", fmt.Sprintf("`%s` has %s, %s has %d", short(v.Text), counted(n, "member", "members"), p.as, p.n),
		"A range goes in step with what its line is about and must have as many members. For a list write the names with commas.").
		Point(p.of, "it goes in step with this")
}

// place takes a range inside round brackets apart; without a pace it has no meaning there.
func (r *Reader) place(v syntax.Value, p *pace) (syntax.Value, bool) {
	v.Items = slices.Clone(v.Items)
	for i, it := range v.Items {
		if !ranged(it) {
			continue
		}
		vs, _ := r.list([]syntax.Value{it}, p)
		if len(vs) > 1 {
			r.Msgs.Mistake(it.Span, "place-unclear", "a coordinate is one number", "A range in a place goes in step with a range in what the line is about.")
		}
		if len(vs) != 1 {
			return v, false
		}
		v.Items[i] = vs[0]
	}
	return v, true
}

// plain is a value with its range replaced by one member.
func plain(v syntax.Value, text string) syntax.Value {
	v.Text = text
	v.Kind = syntax.Name
	return v
}

// checked looks once more at values that came out of ranges.
func (r *Reader) checked(vs []syntax.Value, s *Stmt, o *Opt) []syntax.Value {
	arg, name, lost := &s.Word.About, s.Word.Name, s.Lost
	if o != nil {
		arg, name, lost = o.Arg, o.Name, o.Lost
	}
	if arg == nil {
		return vs
	}
	kept := vs
	for i, v := range vs {
		switch ok := r.value(v, arg, name); {
		case !ok && len(kept) == len(vs):
			kept = slices.Clone(vs[:i])
		case ok && len(kept) < len(vs):
			kept = append(kept, v)
		}
	}
	lost = lost || len(kept) < len(vs)
	switch n := len(kept); {
	case n > 1 && !arg.Many:
		r.several(kept, name, o == nil)
		kept = kept[:1]
	case n > 0 && n < arg.Least && !lost:
		r.Msgs.Mistake(Spanned(kept), "too-few-values", fmt.Sprintf("`%s` wants at least %d values, here %s", name, arg.Least, isAre(n)), "`"+name+"` is "+arg.Wants()+".")
	case arg.Most > 0 && n > arg.Most:
		r.Msgs.Mistake(Spanned(kept), "several-values", fmt.Sprintf("`%s` takes at most %d values, here are %d", name, arg.Most, n), "Take some away.")
		kept = kept[:arg.Most]
	}
	return kept
}

func isAre(n int) string {
	if n == 1 {
		return "is 1"
	}
	return fmt.Sprintf("are %d", n)
}

// Spend takes from the budget of lines and values that a job may stand for; false once it is used up, after a message.
func (r *Reader) Spend(at diag.Span, n int) bool { return r.spend(at, n) }

// spend takes from the budget; false once it is used up.
func (r *Reader) spend(at diag.Span, n int) bool {
	r.budget -= n
	if r.budget >= 0 {
		return true
	}
	if !r.spent {
		r.spent = true
		r.Msgs.Mistake(at, "too-much", fmt.Sprintf("ranges and templates stand for more than %d lines", Budget), "No harness is that large: look for a number that is too large.")
	}
	return false
}
