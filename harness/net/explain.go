package net

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
)

// linkProblem records a problem of one link and returns it for further detail.
func (b *builder) linkProblem(kind ProblemKind, w *way, detail string) *Problem {
	span := w.link.Span
	if span.IsZero() {
		span = w.circuit.Span
	}
	b.problem(Problem{Kind: kind, Circuit: w.circuit.Name, From: w.link.From.String(), To: w.link.To.String(), Detail: detail, Span: span})
	return &b.problems[len(b.problems)-1]
}

// noWay says why a link has no route: an end or a via lies beside the runs, the sections are not joined where they meet, or the runs
// do not hang together.
func (b *builder) noWay(w *way, q *ask) {
	var why []string
	var related []diag.Related
	quiet := false
	for _, e := range []design.End{w.link.From, w.link.To} {
		text, rel, said := b.offRun(e)
		quiet = quiet || said
		if text != "" {
			why = append(why, text)
			related = append(related, rel...)
		}
	}
	for _, v := range q.vias {
		if v.Kind != "run" && v.Kind != "break" && b.geo.Find(v.Node) < 0 && v.Node != "" {
			text := v.Name + ", which it must pass, lies on no run"
			if p, ok := b.spotNamed(v.Node); ok {
				text += "; " + b.nearestRun(v.Name, p)
			}
			why = append(why, text+".")
		}
	}
	if len(why) > 0 {
		b.linkProblem(NoWay, w, strings.Join(why, "\n")).Related = related
		return
	}
	if quiet {
		return
	}
	if len(q.vias) > 0 {
		bare := *q
		bare.vias = nil
		for _, v := range q.vias {
			// A post named by via stays open.
			if v.Kind == "break" {
				bare.posts = append(slices.Clone(bare.posts), v.Name)
			}
		}
		if _, ok := b.g.find(&bare); ok {
			p := b.linkProblem(NoWay, w, "There is a way, but none by "+viaWords(q.vias)+" in this order."+b.shutVias(q))
			for _, v := range q.vias {
				p.Related = append(p.Related, diag.Related{Span: v.Span, Text: "it must pass " + v.Name})
			}
			return
		}
	}
	free := *q
	free.free = true
	if r, ok := b.g.find(&free); ok {
		detail, rel := b.apart(r, q)
		p := b.linkProblem(SectionsApart, w, detail)
		p.Related = rel
		return
	}
	b.linkProblem(NoWay, w, fmt.Sprintf("Runs reach %s and %s, but no chain of runs leads from the one to the other.", w.link.From, w.link.To))
}

func viaWords(vias []design.Via) string {
	var names []string
	for _, v := range vias {
		names = append(names, v.Name)
	}
	return strings.Join(names, ", ")
}

// shutVias says which breaks named by via do not take the link.
func (b *builder) shutVias(q *ask) string {
	out := ""
	for _, v := range q.vias {
		if x := b.breaks[v.Name]; v.Kind == "break" && x != nil && x.Class != "" && x.Class != q.class {
			out += " Break " + x.Name + " is kept for class " + x.Class + "."
		}
	}
	return out
}

// offRun says that an end lies on no run, or on none of its section, and how far the nearest is; said tells that a message about it exists
// already or is for another rule.
func (b *builder) offRun(e design.End) (text string, rel []diag.Related, said bool) {
	if len(b.statesOf(e)) > 0 {
		return "", nil, false
	}
	s := b.splices[e.Name]
	if e.Kind == design.AtSplice && !s.placed {
		if s.Section != "" {
			return fmt.Sprintf("Splice %s has no place, and no run of section %s leads to what it joins.", s.Name, s.Section), nil, false
		}
		return fmt.Sprintf("Splice %s has no place, and none of its links leads to a place.", s.Name), nil, false
	}
	node := b.nodeOf(e)
	if node >= 0 && e.Kind == design.AtSplice {
		var here []string
		for _, i := range b.g.at(node) {
			here = append(here, b.g.sectionOf(i))
		}
		rel = append(rel, diag.Related{Span: s.Span, Text: "splice " + s.Name + " is of section " + s.Section})
		return fmt.Sprintf("Splice %s is of section %s, but the runs at %s are of section %s.", s.Name, s.Section, b.geo.Nodes[node].Key, strings.Join(here, ", ")), rel, false
	}
	if node >= 0 {
		return fmt.Sprintf("%s lies at %s, where no run joins it.", e, b.geo.Nodes[node].Key), nil, false
	}
	_, spot := b.spotOf(e)
	if !spot.Known {
		if len(b.geo.Edges) == 0 {
			return fmt.Sprintf("No run reaches %s.", e), nil, false
		}
		return fmt.Sprintf("No run reaches %s, and where it sits is not known.", e), nil, false
	}
	near := b.nearestRun(e.String(), spot.At)
	if i, _ := b.geo.Nearest(spot.At); i >= 0 {
		rel = append(rel, diag.Related{Span: b.geo.Edges[i].Span, Text: "the run nearest to " + e.String()})
	}
	return fmt.Sprintf("%s lies on no run; %s.", e, near), rel, false
}

// nearestRun is "the nearest run to coil1.2 is plugs, 30 mm off".
func (b *builder) nearestRun(name string, p design.Point3) string {
	i, off := b.geo.Nearest(p)
	if i < 0 {
		return "no run has a known place"
	}
	return fmt.Sprintf("the nearest run to %s is %s, %s off", name, b.geo.Edges[i].Run, off)
}

// spotNamed is the place of whatever has the given node.
func (b *builder) spotNamed(node string) (design.Point3, bool) {
	for _, p := range b.job.Points {
		if placeKey(p.Name, p.Spot) == node && p.Known {
			return p.At, true
		}
	}
	for _, d := range b.job.Devices {
		if placeKey(d.Name, d.Spot) == node && d.Known {
			return d.At, true
		}
	}
	for _, s := range b.spliceList {
		if placeKey(s.Name, s.Spot) == node && s.Known {
			return s.At, true
		}
	}
	for _, x := range b.breakList {
		if placeKey(x.Name, x.Spot) == node && x.Known {
			return x.At, true
		}
	}
	return design.Point3{}, false
}

// apart says where a way that minded no sections would change them, and what shuts the breaks there.
func (b *builder) apart(r route, q *ask) (string, []diag.Related) {
	var lines []string
	var rel []diag.Related
	at := r.start
	for _, a := range r.arcs {
		from := at
		at = a.to
		if a.edge >= 0 || a.door >= 0 && b.g.open(&b.g.doors[a.door], &ask{vias: q.vias, class: q.class, posts: q.posts}) {
			continue
		}
		node := b.g.nodeOf(from)
		key := b.geo.Nodes[node].Key
		s, t := b.g.sectionOf(from), b.g.sectionOf(at)
		shut := b.shut(node, from, at, q)
		if shut == "" {
			shut = "no break joins them there"
		}
		lines = append(lines, fmt.Sprintf("At %s it would pass from section %s to section %s: %s.", key, s, t, shut))
		for _, state := range []int{from, at} {
			for _, e := range b.geo.Around(node) {
				if ed := &b.geo.Edges[e]; ed.Section == b.g.sectionOf(state) {
					rel = append(rel, diag.Related{Span: ed.Span, Text: fmt.Sprintf("run %s of section %s ends here", ed.Run, ed.Section)})
					break
				}
			}
		}
	}
	if len(lines) == 0 {
		return "The sections on its way are not joined by a break that takes it.", nil
	}
	return strings.Join(lines, "\n"), rel
}

// shut says why the breaks that join two states do not take a link.
func (b *builder) shut(node, from, to int, q *ask) string {
	var why []string
	for i := range b.g.doors {
		d := &b.g.doors[i]
		if !(d.states[0] == from && d.states[1] == to || d.states[1] == from && d.states[0] == to) {
			continue
		}
		switch x := d.of; {
		case d.post && !q.names(x):
			why = append(why, fmt.Sprintf("%s is a stud post, which a wire takes only when `via` names it", x.Name))
		case x.Class != "" && x.Class != q.class:
			why = append(why, fmt.Sprintf("break %s is kept for class %s", x.Name, x.Class))
		default:
			if k := b.g.keptFor(d, q.class); k != nil && q.class != "" {
				why = append(why, fmt.Sprintf("class %s has break %s of its own, so %s is shut for it unless `via` names it", q.class, k.Name, x.Name))
			}
		}
	}
	return strings.Join(why, "; ")
}
