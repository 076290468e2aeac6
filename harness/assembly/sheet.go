package assembly

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// kind is what an act is; its number is its rank in the work, where nothing else decides.
type kind int

// The acts, in the order in which they are usually done.
const (
	comes kind = iota // with its wires, from its maker
	mark
	slideWire // a sleeve over a whole wire
	slideScreen
	slideEnd
	slideSeal
	crimp
	shrinkMark
	shrinkEnd
	slideJoint
	crimpJoint
	shrinkJoint
	layUp
	slideRun
	shrinkRun
	slideBoot
	lead // through a bush, in the vehicle
	insert
	blank
	fitBoot
	bolt // lugs on studs, in the vehicle
)

// act is one thing that is done.
type act struct {
	kind  kind
	place int // of the sheet
	at    at  // the end it is done to; wire -1: the place as a whole
	what  string
	thing int // of the sheet: what is put on; -1: nothing
}

// sheet is a section as it is worked out.
type sheet struct {
	m       *maker
	name    string
	wires   []int
	acts    []act
	graph   graph
	choices []choice
	slides  []slide // in step with choices
	things  []Thing
	places  []Place
	byKey   map[string]int
	plugs   []plug
	plugOf  map[at]int
	done    map[at]map[kind]int // acts by end
	joints  []splice
	jointOf map[string]int
	pieces  []piece
	onPiece map[int]int // piece by edge
	laid    int         // the act of laying up what lies under no closed sleeve; -1: there are no runs
	lays    []int       // all acts of laying up
	layRun  map[int]int // those of runs without a sleeve that had to be told apart, by place
	first   []int       // acts of what comes with its wires
}

// slide is what a choice is about: each of its ways with the size of the part that it takes, the side it comes from and what is there.
type slide struct {
	thing int
	act   int
	ways  []way
	sides []side
	said  []string // of each side, what it would have to pass
}

type way struct {
	size int // of the part; -1: none
	side int
}

// plug is a connector, or a stud, with what is done to it as a whole.
type plug struct {
	place   int
	ends    []at
	housing *design.Housing
	boot    string
	fitted  bool
	studs   bool
	subject diag.Subject
	span    diag.Span
	insert  int // acts; -1: none
	slide   int
	comes   int
	loose   unit.Length // of the boot while it is not fitted
}

func newSheet(m *maker, name string) *sheet {
	s := &sheet{m: m, name: name, byKey: map[string]int{}, plugOf: map[at]int{}, done: map[at]map[kind]int{}, jointOf: map[string]int{}, onPiece: map[int]int{}, layRun: map[int]int{}, laid: -1}
	for i := range m.net.Wires {
		if m.net.Wires[i].Section == name {
			s.wires = append(s.wires, i)
		}
	}
	return s
}

// build makes all acts of the section, what must be before what, and what can be slid on from where.
func (s *sheet) build() {
	s.findPlugs()
	s.findJoints()
	s.findPieces()
	for _, w := range s.wires {
		for e := range 2 {
			s.end(at{w, e})
		}
	}
	s.jointActs()
	s.plugActs()
	s.pieceActs()
	s.wireSleeves()
	s.screens()
	s.fittedMarks()
	s.boots()
	s.chooseRuns()
	s.leads()
	for i := range s.acts {
		if k := s.acts[i].kind; k == slideWire || k == slideScreen {
			for _, n := range s.lays {
				s.before(i, n)
			}
		}
	}
	for _, c := range s.first {
		for a := range s.acts {
			if s.acts[a].kind != comes && s.acts[a].kind != crimp {
				s.graph.edge(c, a)
			}
		}
	}
}

// place is the index of a place, made when it is first asked for.
func (s *sheet) place(key, kind, title string, span diag.Span) int {
	if p, ok := s.byKey[key]; ok {
		return p
	}
	s.byKey[key] = len(s.places)
	s.places = append(s.places, Place{Title: title, Kind: kind, Span: span})
	return len(s.places) - 1
}

// add makes an act of the place as a whole.
func (s *sheet) add(k kind, place int, what string, thing int) int {
	s.acts = append(s.acts, act{kind: k, place: place, at: at{-1, 0}, what: what, thing: thing})
	s.graph.rank, s.graph.before = append(s.graph.rank, int(k)), append(s.graph.before, nil)
	return len(s.acts) - 1
}

// addEnd makes an act of one end.
func (s *sheet) addEnd(k kind, place int, a at, what string, thing int) int {
	n := s.add(k, place, what, thing)
	s.acts[n].at = a
	if s.done[a] == nil {
		s.done[a] = map[kind]int{}
	}
	s.done[a][k] = n
	return n
}

// of is the act of a kind at an end; -1 if there is none.
func (s *sheet) of(a at, k kind) int {
	if n, ok := s.done[a][k]; ok {
		return n
	}
	return -1
}

// before makes an edge where both acts are there.
func (s *sheet) before(a, b int) {
	if a >= 0 && b >= 0 {
		s.graph.edge(a, b)
	}
}

// findPlugs gathers the ends of the section by the connector, or the studs, they are at.
func (s *sheet) findPlugs() {
	by := map[string]int{}
	for _, w := range s.wires {
		for e := range 2 {
			t := &s.m.net.Wires[w].Ends[e]
			key := endKey(t)
			if key == "" {
				continue
			}
			k, ok := by[key]
			if !ok {
				k = len(s.plugs)
				by[key] = k
				p := plug{insert: -1, slide: -1, comes: -1, studs: t.Kind == net.OnStud || t.Kind == net.OnPost}
				p.housing, p.boot, p.fitted = s.m.housingOf(t)
				p.subject, p.span = diag.Subject{Kind: "device", Name: t.Device}, diag.Span{}
				what := "connector"
				if p.studs {
					what = "stud"
				}
				if t.Kind == net.InHalf || t.Kind == net.OnPost {
					p.subject = diag.Subject{Kind: "break", Name: t.Break}
					if b := s.m.brk[t.Break]; b != nil {
						p.span = b.Span
						if x := b.Halves[t.Half&1].Span; !x.IsZero() {
							p.span = x
						}
					}
				} else if d := s.m.device[t.Device]; d != nil {
					p.span = d.Span
					p.fitted = d.Fitted && !p.studs
				}
				p.place = s.place(key, what, s.m.title(key, s.name, t), p.span)
				s.plugs = append(s.plugs, p)
			}
			s.plugs[k].ends = append(s.plugs[k].ends, at{w, e})
			s.plugOf[at{w, e}] = k
		}
	}
	for i := range s.plugs {
		slices.SortStableFunc(s.plugs[i].ends, func(a, b at) int {
			return design.Natural(s.m.cavityOf(a), s.m.cavityOf(b))
		})
		if s.plugs[i].fitted {
			s.plugs[i].comes = s.add(comes, s.plugs[i].place, "", -1)
			s.first = append(s.first, s.plugs[i].comes)
		}
	}
}

// end makes the acts of one end of a wire: its mark, what is slid on, its seal, what is crimped on.
func (s *sheet) end(a at) {
	w := &s.m.net.Wires[a.wire]
	t := &w.Ends[a.end]
	if t.Kind == net.CutBack {
		return
	}
	place, fitted := -1, false
	if k, ok := s.plugOf[a]; ok {
		place, fitted = s.plugs[k].place, s.plugs[k].fitted
	} else if j, ok := s.jointOf[t.Splice]; ok && t.Kind == net.InSplice {
		place = s.joints[j].place
	}
	if place < 0 {
		return
	}
	label := s.marks(a, place, fitted)
	var on, after []int
	if !fitted {
		on, after = s.endSleeves(a, place)
	}
	if fitted || t.Kind == net.InSplice {
		return
	}
	c := s.m.cut[a]
	seal := -1
	if c.Seal != "" {
		seal = s.addEnd(slideSeal, place, a, c.Seal, -1)
	}
	what := c.Contact
	if what == "" {
		what = "its contact, which is not known"
	}
	if c.Strip > 0 {
		what += ", strip " + c.Strip.String()
	}
	done := s.addEnd(crimp, place, a, what, -1)
	s.before(label, seal)
	s.before(label, done)
	s.before(seal, done)
	for _, x := range on {
		s.before(label, x)
		s.before(x, seal)
		s.before(x, done)
	}
	for _, x := range after {
		s.before(done, x)
	}
	s.before(done, s.of(a, shrinkMark))
}

// isScreen tells whether a wire is the screen of a cable.
func (s *sheet) isScreen(wire int) bool { return s.m.net.Wires[wire].Kind == net.Screen }

// looser is the outside of a sleeve that lies loose about what it will cover: open, with its walls.
func looser(expanded, wall unit.Length) unit.Length { return expanded + 2*wall }
