package assembly

import (
	"cmp"
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// plugActs puts the contacts in, blanks what stays empty, and slides on and fits the boot; lugs are laid on their studs in the vehicle.
func (s *sheet) plugActs() {
	for i := range s.plugs {
		p := &s.plugs[i]
		if p.studs {
			n := s.add(bolt, p.place, "", -1)
			for _, a := range p.ends {
				s.before(s.of(a, crimp), n)
				s.before(s.of(a, shrinkEnd), n)
			}
			continue
		}
		in := p.comes
		if !p.fitted {
			p.insert = s.add(insert, p.place, "", -1)
			in = p.insert
			for _, a := range p.ends {
				for _, k := range []kind{crimp, shrinkEnd, shrinkMark} {
					s.before(s.of(a, k), in)
				}
			}
			if n := s.m.blanks[s.places[p.place].Title+"\n"+s.name]; n > 0 {
				s.before(in, s.add(blank, p.place, fmt.Sprint(n), -1))
			}
		}
		b := s.m.boot[p.boot]
		if b == nil {
			continue
		}
		wires := p.wires()
		t := Thing{Kind: "boot", Part: p.boot, Length: b.Length, Count: 1, Where: s.places[p.place].Title, Grips: b.Bundle[0], Heat: b.Kind() == "shrink", HasHeat: b.Heat.Given, Rated: b.Heat.Nominal, Places: []int{p.place}}
		if b.Kind() == "backshell" {
			t.Kind = "backshell"
		}
		if b.Kind() == "split" {
			t.Note = "split: put on at any time"
		}
		_, t.Over = s.m.band(wires)
		s.things = append(s.things, t)
		s.bootFits(p, b, wires)
		fitted := s.add(fitBoot, p.place, p.boot, -1)
		s.before(in, fitted)
		p.loose = unknown
		if b.Passes > 0 {
			p.loose = looser(b.Passes, s.m.setting("sleeve-wall", design.Scope{Section: s.name}))
		}
		if b.Kind() != "split" {
			p.slide = s.add(slideBoot, p.place, p.boot, len(s.things)-1)
			s.before(p.slide, fitted)
		} else {
			s.acts[fitted].thing = len(s.things) - 1
		}
	}
}

func (p *plug) wires() (out []int) {
	for _, a := range p.ends {
		if !slices.Contains(out, a.wire) {
			out = append(out, a.wire)
		}
	}
	return out
}

// bootFits holds a boot against the whole band of its bundle, and against the back of its connector where that is known.
func (s *sheet) bootFits(p *plug, b *design.Boot, wires []int) {
	miss := Misfit{Section: s.name, Kind: "boot", Part: b.Name, Where: s.places[p.place].Title, Subject: p.subject, Span: p.span}
	least, top := s.m.band(wires)
	out := func(what string, grips, over unit.Length, range2 [2]unit.Length) {
		if over > 0 && range2[1] > 0 && (grips < range2[0]*(1-1e-9) || over > range2[1]*(1+1e-9)) {
			miss.What, miss.Grips, miss.Over, miss.Recovered, miss.Expanded = what, grips, over, range2[0], range2[1]
			s.m.misfits = append(s.m.misfits, miss)
		}
	}
	out("bundle", least, top, b.Bundle)
	if p.housing != nil {
		out("body", p.housing.Back, p.housing.Back, b.Body)
	}
}

// boots says from where each boot can come: from its connector, or from the other ends of its wires.
func (s *sheet) boots() {
	for i := range s.plugs {
		p := &s.plugs[i]
		if p.slide < 0 {
			continue
		}
		b := s.m.boot[p.boot]
		var far []at
		for _, a := range p.ends {
			far = append(far, at{a.wire, 1 - a.end})
		}
		opens := b.Passes
		if opens <= 0 {
			_, opens = s.m.band(p.wires()) // it passes its wires and nothing else for sure
		}
		beyond := view{name: "from the far ends of its wires", wires: p.wires(), ends: far, but: i}
		joined := s.joined(p.wires())
		for _, w := range p.wires() {
			s.onward(&beyond, -1, s.m.net.Wires[w].Path, joined)
		}
		thing := s.acts[p.slide].thing
		s.choose(thing, p.slide, []fit{{size: -1, expanded: opens}}, []side{
			s.side(view{name: "from its connector", wires: p.wires(), ends: p.ends, but: i}),
			s.side(beyond),
		})
	}
}

// wireSleeves slides a sleeve over each wire that has one of its own, from either end. A bought cable has one.
func (s *sheet) wireSleeves() {
	m, seen := s.m, map[string]bool{}
	for _, w := range s.wires {
		x := &m.net.Wires[w]
		part := m.bought(x)
		if x.Sleeve == "" || s.isScreen(w) || part != nil && seen[x.Cable] {
			continue
		}
		d, what, wires := m.conductor(w).Outside, x.Name, []int{w}
		if part != nil {
			seen[x.Cable], d, what = true, part.Outside, "cable "+x.Cable
			wires = m.cores(x.Cable, s.wires)
		}
		length := m.length[w]
		for e := range x.Ends {
			tail, _ := net.EndAllowance(m.job, x, e)
			length -= tail
		}
		place := s.place("wire "+what, "wire", what, x.Span)
		thing, sizes := s.sleeve(cover{kind: "sleeve over a wire", part: x.Sleeve, where: what, least: d, most: d, length: max(0, length), scope: scope(x),
			subject: diag.Subject{Kind: "circuit", Name: x.Circuit, From: x.From, To: x.To}, span: x.Span, place: place})
		n := s.add(slideWire, place, "", thing)
		if p := m.sleeve[x.Sleeve]; p != nil && p.Kind() == "slit" {
			s.settle(thing, sizes[0])
			continue
		}
		sides := s.bothEnds(wires)
		for k := range sides {
			sides[k].base = known(d) // what it goes over does not lie in it yet
		}
		s.choose(thing, n, sizes, sides)
	}
}

// bothEnds is the two sides of wires that lie together all the way.
func (s *sheet) bothEnds(wires []int) []side {
	var ends [2][]at
	first := &s.m.net.Wires[wires[0]]
	for _, w := range wires {
		x := &s.m.net.Wires[w]
		turned := x.Ends[0].Node == first.Ends[1].Node && x.Ends[0].Node != first.Ends[0].Node
		for e := range 2 {
			k := e
			if turned {
				k = 1 - e
			}
			ends[k] = append(ends[k], at{w, e})
		}
	}
	var out []side
	for k := range ends {
		out = append(out, s.side(view{name: "from " + s.m.placeText(ends[k][0]), wires: wires, ends: ends[k], but: -1}))
	}
	return out
}

// cores is those of a cable among wires, its screen left out.
func (m *maker) cores(cable string, wires []int) (out []int) {
	for _, w := range wires {
		if x := &m.net.Wires[w]; x.Cable == cable && x.Kind != net.Screen {
			out = append(out, w)
		}
	}
	return out
}

// screens puts the screen of a cable that is made on the bench over its cores before either of its ends is made.
func (s *sheet) screens() {
	seen := map[string]bool{}
	for _, w := range s.wires {
		x := &s.m.net.Wires[w]
		if !s.isScreen(w) || s.m.bought(x) != nil || seen[x.Cable] {
			continue
		}
		seen[x.Cable] = true
		wires := s.m.cores(x.Cable, s.wires)
		if len(wires) == 0 {
			continue
		}
		place := s.place("cable "+x.Cable, "cable", "cable "+x.Cable, x.Span)
		_, over := s.m.band(wires)
		s.things = append(s.things, Thing{Kind: "screen", Length: s.m.length[w], Count: 1, Where: "cable " + x.Cable, Over: over, Places: []int{place}})
		n := s.add(slideScreen, place, "", len(s.things)-1)
		s.choose(len(s.things)-1, n, []fit{{size: -1, expanded: over}}, s.bothEnds(wires))
	}
}

// fittedMarks says from where a mark comes whose end came with its plug on: from the other end of its wire.
func (s *sheet) fittedMarks() {
	for i := range s.acts {
		a := s.acts[i]
		if a.kind != mark {
			continue
		}
		k, ok := s.plugOf[a.at]
		p := s.m.sleeve[s.things[a.thing].Part]
		if !ok || !s.plugs[k].fitted || p == nil || p.Kind() == "slit" {
			continue
		}
		far := at{a.at.wire, 1 - a.at.end}
		least := s.m.conductor(a.at.wire).Outside
		sizes, _ := s.m.fits(p, least, least, scope(&s.m.net.Wires[a.at.wire]))
		if len(sizes) == 0 {
			continue
		}
		s.choose(a.thing, i, sizes, []side{
			s.side(view{name: "from " + s.m.placeText(a.at), wires: []int{a.at.wire}, ends: []at{a.at}, but: -1}),
			s.side(view{name: "from " + s.m.placeText(far), wires: []int{a.at.wire}, ends: []at{far}, but: -1}),
		})
	}
}

// markOutside is how thick the mark on an end is. One that must be shrunk for another sleeve to pass is shrunk before.
func (s *sheet) markOutside(a at) unit.Length {
	n := s.of(a, mark)
	if n < 0 {
		return 0
	}
	t := &s.things[s.acts[n].thing]
	p := s.m.sleeve[t.Part]
	if p == nil || t.Size <= 0 {
		return unknown
	}
	i := slices.Index(p.Sizes, t.Size)
	if i < 0 {
		return unknown
	}
	wall := cmp.Or(p.Wall(i), s.m.setting("sleeve-wall", design.Scope{Section: s.name}))
	if p.Kind() == "shrink" {
		return known(s.m.conductor(a.wire).Outside) + 2*wall
	}
	_, opens := p.Band(i)
	return looser(opens, wall)
}
