package net

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
)

// name names every wire: its circuit, then its two ends as written. Wires that would have one name (parallel strands, the sides of a
// ring, pieces of several links between the same two places) get an ordinal, in the order of what their links say.
func (b *builder) name() {
	for _, d := range b.drafts {
		prefix := d.Circuit
		if d.Kind == Screen {
			prefix += " screen"
		}
		if d.Kind == Spare {
			prefix += " spare"
			if d.Colour != "" {
				prefix += " " + d.Colour
			}
		}
		d.base = prefix + " " + d.From + " - " + d.To
	}
	slices.SortStableFunc(b.drafts, func(x, y *draft) int {
		return cmp.Or(design.Natural(x.base, y.base), cmp.Compare(x.sort, y.sort), cmp.Compare(x.Link, y.Link), cmp.Compare(x.Piece, y.Piece),
			cmp.Compare(x.Core, y.Core), cmp.Compare(x.Strand, y.Strand))
	})
	for i := 0; i < len(b.drafts); {
		j := i + 1
		for j < len(b.drafts) && b.drafts[j].base == b.drafts[i].base {
			j++
		}
		for k, d := range b.drafts[i:j] {
			d.Name = d.base
			if j-i > 1 {
				d.Ordinal = k + 1
				d.Name += " #" + strconv.Itoa(k+1)
			}
			if o := b.drafts[i]; d.circuit != o.circuit && d.Kind == Plain {
				b.problem(Problem{Kind: NameTwice, Circuit: d.Circuit, From: d.From, To: d.To,
					Detail: fmt.Sprintf("Two circuits are both named %s.", d.Circuit), Span: d.Span})
			}
		}
		i = j
	}
	for i, d := range b.drafts {
		d.at = i
	}
}

// label gives short marks. A stated one wins. The rest are made of the circuit's name and, where it has several wires, the number of the
// wire among them in natural order of their names: inj-feed.3. A screen is NAME.s, a spare NAME.x, numbered alike. No name holds a dot, so
// only a stated label can be in the way; then the next free number is taken. Among wires of one name labels rise with ordinals, so that
// lines that do not tell them apart still give each its own again: beside a stated TAG the next is TAG.2.
func (b *builder) label() {
	taken := map[string]*draft{}
	spans := map[*draft]*design.LabelDecision{}
	b.statedLabels(taken, spans)
	groups := map[string][]*draft{}
	var order []string
	for _, d := range b.drafts {
		stem := d.Circuit + [...]string{"", ".s", ".x"}[d.Kind]
		if groups[stem] == nil {
			order = append(order, stem)
		}
		groups[stem] = append(groups[stem], d)
	}
	for _, stem := range order {
		group := groups[stem]
		next := len(group)
		for i, d := range group {
			if d.Label != "" {
				continue
			}
			text := stem
			if len(group) > 1 {
				text = numbered(stem, d.Kind, i+1)
			}
			var before *draft
			if d.Ordinal > 1 {
				before = group[i-1]
			}
			if lead := b.statedBefore(group[:i], d); lead != "" {
				for n := d.Ordinal; ; n++ {
					if text = lead + "." + strconv.Itoa(n); taken[text] == nil {
						break
					}
				}
			} else {
				for taken[text] != nil || before != nil && design.Natural(text, before.Label) <= 0 {
					next++
					text = numbered(stem, d.Kind, next)
				}
			}
			d.Label, d.LabelStatus = text, design.Computed
			taken[text] = d
		}
	}
}

// statedBefore is the last label decided by hand for a wire of the same name.
func (b *builder) statedBefore(before []*draft, d *draft) string {
	out := ""
	for _, o := range before {
		if o.base == d.base && o.LabelStatus != design.Computed {
			out = o.Label
		}
	}
	return out
}

func numbered(stem string, kind WireKind, n int) string {
	if kind == Plain {
		stem += "."
	}
	return stem + strconv.Itoa(n)
}

// statedLabels applies label decisions, frozen ones first. One line names a wire by circuit and ends; several lines for wires of one name
// take them in order, labels and ordinals alike in natural order.
func (b *builder) statedLabels(taken map[string]*draft, by map[*draft]*design.LabelDecision) {
	decisions := slices.Clone(b.job.Labels)
	slices.SortStableFunc(decisions, func(x, y *design.LabelDecision) int {
		return cmp.Or(frozenFirst(x.Frozen, y.Frozen), design.Natural(x.Text, y.Text), design.Natural(x.Circuit, y.Circuit), design.Natural(x.From, y.From),
			design.Natural(x.To, y.To), bySpan(x.Span, y.Span))
	})
	for _, l := range decisions {
		if l.Text == "" {
			continue
		}
		if !b.circuitKnown(l.Circuit) {
			if l.Frozen != "" {
				b.problem(Problem{Kind: FrozenLost, Circuit: l.Circuit, From: l.From, To: l.To, Other: l.Text, Span: l.Span,
					Detail: fmt.Sprintf("It has carried label %s since revision %s, and there is no circuit of that name.", l.Text, l.Frozen)})
			}
			continue
		}
		var hit *draft
		same, free := false, false
		best := stranger
		for _, d := range b.drafts {
			best = max(best, d.answers(l.Circuit, l.From, l.To))
		}
		for _, d := range b.drafts {
			if best == stranger || d.answers(l.Circuit, l.From, l.To) != best {
				continue
			}
			if d.Label == l.Text {
				same = true
				break
			}
			if d.Label == "" && !free {
				hit, free = d, true
			}
			if hit == nil {
				hit = d
			}
		}
		switch {
		case same:
			continue
		case hit == nil:
			kind := LabelUnknown
			if l.Frozen != "" {
				kind = FrozenLost
			}
			b.problem(Problem{Kind: kind, Circuit: l.Circuit, From: l.From, To: l.To, Other: l.Text, Span: l.Span,
				Detail: fmt.Sprintf("Label %s: %s", l.Text, b.wiresOf(l.Circuit))})
			continue
		case !free:
			p := Problem{Kind: LabelTwice, Circuit: l.Circuit, From: l.From, To: l.To, Other: l.Text, Span: l.Span,
				Detail: fmt.Sprintf("Wire %s is labelled %s already.", hit.Name, hit.Label)}
			if o := by[hit]; o != nil {
				p.Related = related(o.Span, "labelled "+o.Text+" here")
			}
			b.problem(p)
			continue
		}
		if other := taken[l.Text]; other != nil {
			p := Problem{Kind: LabelTwice, Circuit: l.Circuit, From: l.From, To: l.To, Other: l.Text, Span: l.Span,
				Detail: fmt.Sprintf("Wires %s and %s both carry it.", other.Name, hit.Name)}
			if o := by[other]; o != nil {
				p.Related = related(o.Span, "given to "+other.Name+" here")
			}
			b.problem(p)
		}
		hit.Label, hit.LabelStatus = l.Text, l.Status()
		taken[l.Text], by[hit] = hit, l
	}
}

// frozenFirst puts the older revisions first and what is not frozen last.
func frozenFirst(x, y string) int {
	switch {
	case (x == "") == (y == ""):
		return design.Natural(x, y)
	case x == "":
		return 1
	}
	return -1
}

// match is how well a wire answers to a decision about a circuit, or about one wire of it.
type match uint8

const (
	stranger match = iota
	backward       // its ends are written the other way round
	exact
)

// answers tells how well a wire answers. For a screen or a spare the cable's name stands for the circuit's.
func (d *draft) answers(circuit, from, to string) match {
	switch {
	case d.Circuit != circuit:
		return stranger
	case (d.From == from || from == "") && (d.To == to || to == ""):
		return exact
	case (d.From == to || to == "") && (d.To == from || from == ""):
		return backward
	}
	return stranger
}

// bySpan is the last resort where two lines say the very same.
func bySpan(x, y diag.Span) int {
	return x.Compare(y)
}

func (b *builder) circuitKnown(name string) bool {
	for _, c := range b.circuits {
		if c.Name == name {
			return true
		}
	}
	for _, c := range b.cables {
		if c.Name == name {
			return true
		}
	}
	return false
}

// wiresOf tells which wires a circuit has, for a decision that found none.
func (b *builder) wiresOf(circuit string) string {
	var ends []string
	for _, d := range b.drafts {
		if d.Circuit == circuit {
			ends = append(ends, d.From+" - "+d.To)
		}
	}
	ends = slices.Compact(ends)
	switch {
	case len(ends) == 0:
		return "the circuit has no wire."
	case len(ends) > 6:
		return fmt.Sprintf("the circuit's wires are %s and %d more.", join(ends[:6]), len(ends)-6)
	case len(ends) == 1:
		return "the circuit's only wire is " + ends[0] + "."
	}
	return "the circuit's wires are " + join(ends) + "."
}
