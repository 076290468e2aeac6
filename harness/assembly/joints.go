package assembly

import (
	"cmp"

	"loomsheet/harness/joint"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// splice is one with what is done to it.
type splice struct {
	*joint.Made
	place   int
	ends    []at
	outside unit.Length // of its barrel; unknown
	crimp   int
	shrink  int // -1: it has no sleeve
}

// findJoints lists the splices of the section.
func (s *sheet) findJoints() {
	for i := range s.m.made {
		j := splice{Made: &s.m.made[i], crimp: -1, shrink: -1}
		if j.Section != s.name {
			continue
		}
		j.outside = known(j.Outside)
		for _, w := range j.Wires {
			for e := range 2 {
				if t := &s.m.net.Wires[w].Ends[e]; t.Kind == net.InSplice && t.Splice == j.Splice {
					j.ends = append(j.ends, at{w, e})
				}
			}
		}
		j.place = s.place("splice "+j.Splice, "splice", "splice "+j.Splice, j.Span)
		s.jointOf[j.Splice] = len(s.joints)
		s.joints = append(s.joints, j)
	}
}

// jointAt is the splice an end is in.
func (s *sheet) jointAt(a at) (int, bool) {
	t := &s.m.net.Wires[a.wire].Ends[a.end]
	if t.Kind != net.InSplice {
		return 0, false
	}
	j, ok := s.jointOf[t.Splice]
	return j, ok
}

// jointActs crimps every splice, with the sleeve slid on before, over the side where it has least to pass, and shrunk after. What its barrel and
// its sleeve are was settled with its place.
func (s *sheet) jointActs() {
	for i := range s.joints {
		j := &s.joints[i]
		what := cmp.Or(j.Barrel, "a barrel")
		if j.Strip > 0 {
			what += ", strip " + j.Strip.String()
		}
		j.crimp = s.add(crimpJoint, j.place, what, -1)
		for _, a := range j.ends {
			s.before(s.of(a, mark), j.crimp)
			s.before(s.of(a, slideEnd), j.crimp)
			s.before(j.crimp, s.of(a, shrinkEnd))
		}
		part := s.m.sleeve[j.Sleeve]
		if j.Sleeve == "" {
			continue
		}
		t := Thing{Kind: "sleeve over a splice", Part: j.Sleeve, Size: j.SleeveSize, Length: j.SleeveLength, Count: 1, Where: "splice " + j.Splice, Over: j.Passes, Grips: j.Grips, Note: j.SleeveWhy, Places: []int{j.place}}
		if part != nil {
			t.Heat, t.HasHeat, t.Rated = part.Kind() == "shrink", part.Heat.Given, part.Heat.Nominal
		}
		slit := part != nil && part.Kind() == "slit"
		if !slit {
			t.From, t.Before = s.slimmer(j), "its wires are crimped"
		}
		s.things = append(s.things, t)
		thing := len(s.things) - 1
		slide := s.add(slideJoint, j.place, s.thingText(thing), thing)
		j.shrink = s.add(shrinkJoint, j.place, s.thingText(thing), -1)
		s.before(j.crimp, j.shrink)
		s.before(slide, j.shrink)
		if slit {
			s.before(j.crimp, slide)
		} else {
			s.before(slide, j.crimp)
		}
	}
}

// slimmer is the side of a splice whose wires are the thinner bunch: over them its sleeve waits.
func (s *sheet) slimmer(j *splice) string {
	var wires [3][]int
	for k, w := range j.Wires {
		if k < len(j.Sides) {
			wires[j.Sides[k]] = append(wires[j.Sides[k]], w)
		}
	}
	best, slim := joint.Stays, unknown
	for _, side := range []joint.Side{joint.Left, joint.Right} {
		if d := most(s.m.circles(wires[side]), nil, 0); len(wires[side]) > 0 && d < slim {
			best, slim = side, d
		}
	}
	if best == joint.Stays {
		return "over one of its wires"
	}
	if len(wires[best]) == len(j.Wires) {
		return "over all its wires"
	}
	if to := j.Towards[best-joint.Left]; to != "" {
		return "over the wires of " + to
	}
	return "over its wires on the " + best.String()
}

// leaves is the edge in which a wire leaves an end, and the node it goes to; no edge for one that stays.
func (m *maker) leaves(a at) (edge, to int) {
	w := &m.net.Wires[a.wire]
	if len(w.Path) == 0 {
		return -1, w.Ends[1-a.end].Node
	}
	step := w.Path[0]
	if a.end == 1 {
		step = w.Path[len(w.Path)-1]
		step.Reverse = !step.Reverse
	}
	e := &m.geo.Edges[step.Edge]
	if step.Reverse {
		return step.Edge, e.From
	}
	return step.Edge, e.To
}
