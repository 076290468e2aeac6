package assembly

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/diag"
)

// solve orders the section, and says what cannot be ordered.
func (s *sheet) solve() (Section, []Against) {
	order, taken, against := s.graph.plan(s.choices)
	for i := range s.slides {
		x := &s.slides[i]
		if x.thing < 0 {
			continue
		}
		t := &s.things[x.thing]
		if taken[i] < 0 {
			t.Note = strings.TrimPrefix(t.Note+"; there is no order in which it can go on", "; ")
			continue
		}
		w := x.ways[taken[i]]
		if p := s.m.sleeve[t.Part]; p != nil && w.size >= 0 {
			t.Size = p.Sizes[w.size]
		}
		t.From = x.sides[w.side].name
	}
	waits := s.together(s.waits(taken))
	if again, ok := (&graph{rank: s.graph.rank, before: waits}).sorted(nil); ok {
		order = again
	}
	at := make([]int, len(s.acts))
	for i, a := range order {
		at[a] = i
	}
	for i := range s.slides {
		if taken[i] >= 0 && s.slides[i].thing >= 0 {
			s.things[s.slides[i].thing].Before = s.firstOf(s.choices[i].ways[taken[i]], at)
		}
	}
	sec := Section{Name: s.name}
	sec.Places, sec.Order = s.steps(order, waits)
	sec.Things = s.merge(order)
	return sec, s.contradictions(against)
}

// firstOf is the earliest of the acts that something must come before, in words.
func (s *sheet) firstOf(acts []int, at []int) string {
	if len(acts) == 0 {
		return ""
	}
	a := &s.acts[slices.MinFunc(acts, func(a, b int) int { return cmp.Compare(at[a], at[b]) })]
	title := s.places[a.place].Title
	switch a.kind {
	case crimp:
		return "the first contact is crimped at " + title
	case insert:
		return "contacts go into " + title
	case layUp:
		return title + " is laid up"
	case crimpJoint:
		return title + " is crimped"
	case slideBoot:
		return "the boot goes on at " + title
	case slideRun:
		return "the sleeve goes on " + title
	case mark:
		return "the mark goes on at " + title
	case slideEnd, slideSeal:
		return "anything else goes on at " + title
	}
	return title
}

// merge is the things, those alike as one, in the order in which they go on.
func (s *sheet) merge(order []int) []Thing {
	var out []Thing
	seen := map[string]int{}
	for _, a := range order {
		k := s.acts[a].thing
		if k < 0 {
			continue
		}
		t := s.things[k]
		if t.Kind == "mark" {
			t.Before, t.From = "the ends are crimped", ""
		}
		if t.Kind == "sleeve over an end" {
			t.Before = "that end is crimped"
			t.Where = s.places[t.Places[0]].Title
		}
		key := strings.Join([]string{t.Kind, t.Part, t.Size.String(), t.Length.String(), t.Where, t.From, t.Before, t.Note}, "\n")
		if n, ok := seen[key]; ok {
			o := &out[n]
			o.Count += t.Count
			o.Over, o.Grips = max(o.Over, t.Over), min(o.Grips, t.Grips)
			for _, p := range t.Places {
				if !slices.Contains(o.Places, p) {
					o.Places = append(o.Places, p)
				}
			}
			continue
		}
		seen[key] = len(out)
		t.Places = slices.Clone(t.Places)
		out = append(out, t)
	}
	return out
}

// contradictions words what cannot be ordered.
func (s *sheet) contradictions(all []contradiction) (out []Against) {
	for _, c := range all {
		a := Against{Section: s.name, Whole: c.whole}
		for i, k := range c.stuck {
			x := &s.slides[k]
			act := &s.acts[x.act]
			name := s.places[act.place].Title
			if x.thing >= 0 {
				t := &s.things[x.thing]
				name = t.Kind + " " + t.Part + ", " + t.Where
				if t.Kind == "mark" {
					name = "mark " + t.Part + " at " + s.m.endText(act.at)
				}
			}
			a.Things = append(a.Things, name)
			if i == 0 {
				a.Why, a.Subject = x.said, s.subject(act)
			}
			a.Spans = append(a.Spans, s.places[act.place].Span)
		}
		out = append(out, a)
	}
	return out
}

// subject is what an act that cannot be done is about.
func (s *sheet) subject(a *act) diag.Subject {
	for i := range s.pieces {
		if s.pieces[i].place == a.place {
			return diag.Subject{Kind: "run", Name: s.pieces[i].run.Name}
		}
	}
	for i := range s.plugs {
		if s.plugs[i].place == a.place && a.at.wire < 0 {
			return s.plugs[i].subject
		}
	}
	w := a.at.wire
	if w < 0 && a.kind == slideWire {
		for _, i := range s.wires {
			if s.byKey["wire "+s.m.net.Wires[i].Name] == a.place && s.m.net.Wires[i].Sleeve != "" {
				w = i
			}
		}
	}
	if w >= 0 {
		x := &s.m.net.Wires[w]
		return diag.Subject{Kind: "circuit", Name: x.Circuit, From: x.From, To: x.To}
	}
	return diag.Subject{Kind: "section", Name: s.name}
}
