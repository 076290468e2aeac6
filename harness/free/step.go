package free

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// steps works out each thing undone, in order: what it is, what it breaks, what is lost with it.
func (p *part) steps() {
	f := p.f
	g := p.ground()
	g.keep(p.undo)
	before := g.start()
	feed := before.unlisted()
	border := p.holding(nil)
	if len(p.undo) > 0 {
		p.Steps = make([]Step, 0, len(p.undo))
	}
	for k, u := range p.undo {
		after := before.with(u)
		s := Step{Number: k + 1, Undo: u, Span: u.Span}
		if s.Span.IsZero() {
			s.Span = p.Span
		}
		p.title(&s)
		p.lines(&s, border, before)
		p.judge(&s, before, after)
		left := after.unlisted()
		s.beside(left)
		s.Needed = p.needed(u, border) || p.terminal(u) || before.ended(after) || len(left) < len(feed)
		if !s.Needed {
			s.Why = p.why(u)
		}
		s.Losses = p.losses(f.touched(u), before, after)
		p.tails(&s)
		s.caution(k > 0 && p.Steps[k-1].Dead, k == len(p.undo)-1)
		p.Steps = append(p.Steps, s)
		before, feed = after, left
	}
}

// needed tells whether something undone is on the border.
func (p *part) needed(u design.Undo, border []int) bool {
	if b := p.f.breaks[u.Name]; u.Kind == "break" && b != nil && p.parts(b) {
		return true
	}
	return slices.ContainsFunc(border, func(i int) bool { return p.f.g.links[i].by(u) })
}

// why says what is wrong with something undone that is not on the border.
func (p *part) why(u design.Undo) string {
	f := p.f
	if b := f.breaks[u.Name]; u.Kind == "break" && b != nil {
		x, y := b.Halves[0].Section, b.Halves[1].Section
		switch side := p.sideOf(x); {
		case x == y:
			return fmt.Sprintf("Both halves of %s are of section %s.", u.Name, x)
		case side == goes:
			return fmt.Sprintf("Both halves of %s, of sections %s and %s, come away.", u.Name, x, y)
		}
		return fmt.Sprintf("The halves of %s are of sections %s and %s: neither comes away.", u.Name, x, y)
	}
	any := len(f.by(u)) > 0
	name := undoText(u)
	switch {
	case !any:
		return fmt.Sprintf("No wire ends on %s.", name)
	case p.deviceSide(u.Name) == goes:
		return fmt.Sprintf("%s and all its wires come away together.", name)
	}
	return fmt.Sprintf("%s and all its wires stay, and it cuts off no supply.", name)
}

func undoText(u design.Undo) string {
	if u.Pin != "" {
		return u.Name + "." + u.Pin
	}
	return u.Name
}

// title words what is undone.
func (p *part) title(s *Step) {
	f, u := p.f, s.Undo
	switch u.Kind {
	case "break":
		b := f.breaks[u.Name]
		if b == nil {
			return
		}
		s.Place = placeText(b.Panel, b.Spot)
		off, on := b.Halves[0], b.Halves[1]
		if p.sideOf(on.Section) == goes && p.sideOf(off.Section) != goes {
			off, on = on, off
		}
		if t := f.thread(b); t != "" {
			s.Lug, s.Size = true, nutText(t)
			s.Title = fmt.Sprintf("Stud post %s: take the lugs of the %s half off", b.Name, off.Section)
			return
		}
		switch {
		case off.Mount == "fixed" && on.Mount == "fixed":
			s.Title = fmt.Sprintf("Break %s: part the %s half from the %s half; both are fixed", b.Name, off.Section, on.Section)
		case off.Mount == "fixed":
			s.Title = fmt.Sprintf("Break %s: pull the %s half, which stays, off the %s half", b.Name, on.Section, off.Section)
		case on.Mount == "fixed":
			s.Title = fmt.Sprintf("Break %s: pull the %s half off the %s half, which stays fixed", b.Name, off.Section, on.Section)
		default:
			s.Title = fmt.Sprintf("Break %s: pull the %s half and the %s half apart", b.Name, off.Section, on.Section)
		}
	case "stud":
		s.Lug = true
		_, s.Place = f.pinPlace(u.Name, u.Pin)
		s.Title = fmt.Sprintf("Stud %s: take the lugs off", undoText(u))
		if d := f.devices[u.Name]; d != nil {
			for i := range d.Pins {
				if d.Pins[i].Name == u.Pin {
					s.Size = nutText(d.Pins[i].Stud)
				}
			}
		}
		if p.terminal(u) {
			s.Title = fmt.Sprintf("Stud %s: take the lugs off, keep them clear of it and of one another", undoText(u))
		}
	default:
		_, s.Place = f.pinPlace(u.Name, "")
		s.Title = fmt.Sprintf("Device %s: %s", u.Name, p.f.deviceActs(u))
		if d := f.devices[u.Name]; d != nil {
			var sizes []string
			for i := range d.Pins {
				if t := nutText(d.Pins[i].Stud); t != "" && !slices.Contains(sizes, t) && f.used(u.Name, d.Pins[i].Name) {
					sizes = append(sizes, t)
				}
			}
			s.Size = strings.Join(sizes, ", ")
		}
	}
}

func (f *finder) used(device, pin string) bool {
	return f.index.used[[2]string{device, pin}]
}

// deviceActs is what is done to a device: plugs, lugs or both.
func (f *finder) deviceActs(u design.Undo) string {
	plug, lug := false, false
	for _, l := range f.by(u) {
		plug, lug = plug || l.undo.Kind == "device", lug || l.undo.Kind == "stud"
	}
	switch {
	case plug && lug:
		return "pull its plugs and take its lugs off"
	case lug:
		return "take its lugs off"
	}
	return "pull its plug"
}

func nutText(thread string) string {
	if thread == "" {
		return ""
	}
	if n, ok := data.NutOf(thread); ok {
		return fmt.Sprintf("nut %s, %s across (%s)", thread, n.Across, n.Basis)
	}
	return "nut " + thread
}

// ways marks the wires on the ways of the loads of a case.
func ways(v *view, wires int) []Role {
	out := make([]Role, wires)
	for i := range v.Loads {
		for _, x := range v.Loads[i].Return {
			if w := v.Net.Elements[x.Element].Wire; w >= 0 && out[w] != Feed {
				out[w] = Return
			}
		}
		for _, x := range v.Loads[i].Feed {
			if w := v.Net.Elements[x.Element].Wire; w >= 0 {
				out[w] = Feed
			}
		}
	}
	return out
}

// rolesOf says what each wire does in some cases, of which the ways and the currents are given.
func rolesOf(f *finder, marks [][]Role, amps [][]unit.Current) []Role {
	out := make([]Role, len(f.nt.Wires))
	for _, m := range marks {
		for i, r := range m {
			if out[i] == Signal || r == Feed {
				out[i] = r
			}
		}
	}
	// Of parallel wires a way names one: the others that carry current do what their circuit does.
	type strand struct {
		circuit     string
		link, piece int
	}
	of := map[strand]Role{}
	key := func(i int) strand {
		w := &f.nt.Wires[i]
		return strand{w.Circuit, w.Link, w.Piece}
	}
	for i, r := range out {
		if r != Signal {
			of[key(i)] = r
		}
	}
	for i := range out {
		if out[i] == Signal && carries(amps, i) {
			out[i] = of[key(i)]
		}
	}
	for i := range out {
		if f.nt.Wires[i].Class == "signal" || f.nt.Wires[i].Kind != net.Plain {
			out[i] = Signal
		}
	}
	return out
}

// carries tells whether a wire carries current in some case.
func carries(amps [][]unit.Current, wire int) bool {
	return slices.ContainsFunc(amps, func(a []unit.Current) bool { return wire < len(a) && magnitude(a[wire]) > trickle })
}

// lines lists the wires of a step and what they carry just before.
func (p *part) lines(s *Step, border []int, before *snap) {
	f := p.f
	tied := map[int]bool{}
	for _, i := range border {
		tied[i] = true
	}
	var ends [][2]int // wire and end of each line
	for _, i := range f.index.undone[s.Undo.Name] {
		l := &f.g.links[i]
		if !l.by(s.Undo) {
			continue
		}
		wire, end := f.g.knots[l.a].wire, l.end
		switch k := &f.g.knots[l.b]; k.kind {
		case aWire:
			if p.knotSide(l.b) == goes {
				wire, end = k.wire, endAt(&f.nt.Wires[k.wire], s.Undo.Name, 1)
			}
		case aPostHalf:
			if p.knotSide(l.a) == stays && p.knotSide(l.b) == goes && f.onPost(s.Undo.Name, k.section) {
				continue // the lugs of the half that stays are left on the post
			}
		}
		if slices.Contains(ends, [2]int{wire, end}) {
			continue
		}
		ends = append(ends, [2]int{wire, end})
		w := &f.nt.Wires[wire]
		x := Line{Wire: w.Name, Label: w.Label, Cable: w.Cable, At: l.cavity, Off: tied[i] || p.terminal(s.Undo), Role: before.g.roles[wire]}
		for c, of := range before.g.cases {
			if before.alive[c] {
				if a := magnitude(before.through(wire, c)); unit.Worse(a, max(x.Amps, trickle)) {
					x.Amps, x.InCase = a, of.Name
				}
			}
		}
		s.Lines = append(s.Lines, x)
		list := &s.Signals
		switch x.Role {
		case Feed:
			list = &s.Feeds
		case Return:
			list = &s.Returns
		}
		if !slices.Contains(*list, w.Circuit) {
			*list = append(*list, w.Circuit)
		}
	}
	if back := slices.ContainsFunc(s.Lines, func(x Line) bool { return !x.Off }); back && s.Undo.Kind != "break" && len(s.Lines) > 0 && p.needed(s.Undo, border) {
		var names []string
		for _, x := range s.Lines {
			if !x.Off {
				names = append(names, x.Wire)
			}
		}
		s.After = append(s.After, fmt.Sprintf("Put back what stays on it: %s.", strings.Join(names, ", ")))
	}
	for _, l := range []*[]string{&s.Feeds, &s.Returns, &s.Signals} {
		slices.SortFunc(*l, design.Natural)
	}
	slices.SortStableFunc(s.Lines, func(a, b Line) int {
		return cmp.Or(design.Natural(a.At, b.At), design.Natural(a.Wire, b.Wire))
	})
}

// onPost tells whether some wire of a section has its lug on a stud post.
func (f *finder) onPost(name, section string) bool {
	return slices.ContainsFunc(f.index.ends[broken(name)], func(e wireEnd) bool { return f.nt.Wires[e.wire].Section == section })
}

// judge holds the worst contact or lug of a step against what may be broken. Lugs whose undoing leaves a case without any supply are not
// judged in it: that is how a battery is cut off.
func (p *part) judge(s *Step, before, after *snap) {
	f := p.f
	at := design.Scope{}
	if s.Undo.Kind == "break" {
		at.Break = s.Undo.Name
		if b := f.breaks[s.Undo.Name]; b != nil {
			at.Class, at.Panel = b.Class, b.Panel
		}
	} else {
		at.Device = s.Undo.Name
		if d := f.devices[s.Undo.Name]; d != nil {
			at.Class, at.Zone, at.Section = d.Class, d.Zone, d.Section
		}
	}
	s.Ruling = f.ruling("pull-current", at)
	s.Limit = unit.Current(s.Ruling.Value.Quantity.Value)
	s.Dead, s.Kills = true, true
	cases := before.g.cases
	for c := range cases {
		if !after.alive[c] {
			continue
		}
		s.Dead = false
		s.Kills = s.Kills && !before.alive[c]
		for _, n := range after.feeding(c) {
			if !slices.Contains(s.Live, n) {
				s.Live = append(s.Live, n)
			}
		}
	}
	s.Kills = s.Kills && before.anyAlive()
	slices.SortFunc(s.Live, design.Natural)
	type pull struct {
		amps unit.Current
		line *Line
		name string
		lug  bool
	}
	var worst, over pull
	for _, i := range p.linesOf(s) {
		x := &s.Lines[i.line]
		for c := range cases {
			if !before.alive[c] {
				continue
			}
			a := pull{magnitude(before.through(i.wire, c)), x, cases[c].Name, strings.HasPrefix(x.At, "lug")}
			if unit.Worse(a.amps, max(worst.amps, trickle)) {
				worst = a
			}
			if unit.Worse(a.amps, max(over.amps, trickle)) && !(a.lug && !after.alive[c]) {
				over = a
			}
		}
	}
	s.Over = s.Ruling.Known && over.line != nil && over.amps > s.Limit
	if s.Over {
		worst = over
	}
	if worst.line != nil {
		s.Pulled, s.PulledAt, s.PulledWire, s.PulledCase, s.Lug = worst.amps, worst.line.At, worst.line.Wire, worst.name, worst.lug
	}
}

// ruling is what rules a setting, the same one wherever the same rules.
func (f *finder) ruling(name string, at design.Scope) *design.Ruling {
	r := f.job.Settings.Get(name, at)
	one := f.rulings[r]
	if one == nil {
		one = &r
		f.rulings[r] = one
	}
	return one
}

// unlisted is which supplies that no case lists can still feed something.
func (s *snap) unlisted() []string {
	if s.g.others == nil {
		return nil
	}
	return s.feeding(len(s.g.cases))
}

// beside adds supplies that no case lists: a step after which one can feed is not dead.
func (s *Step) beside(others []string) {
	for _, n := range others {
		if !slices.Contains(s.Live, n) {
			s.Live = append(s.Live, n)
		}
		s.Dead = false
	}
	slices.SortFunc(s.Live, design.Natural)
}

// caution words what the fitter must know of a step.
func (s *Step) caution(wasDead, last bool) {
	if s.Ruling.Known && s.Pulled > s.Limit {
		s.Cautions = append(s.Cautions, fmt.Sprintf("Switch everything off first: up to %s runs through %s of %s, in case %s.", s.Pulled, s.PulledAt, s.PulledWire, s.PulledCase))
	}
	switch {
	case s.Dead && !wasDead:
		s.Cautions = append(s.Cautions, "From here on nothing is fed. Contacts, posts and studs on a battery's side can be live all the same: cover them, and verify with a meter.")
	case !s.Dead && last:
		s.Cautions = append(s.Cautions, fmt.Sprintf("Something is still live: %s can feed.", strings.Join(s.Live, ", ")))
	}
}

type lineWire struct{ line, wire int }

// linesOf pairs the lines of a step with their wires.
func (p *part) linesOf(s *Step) (out []lineWire) {
	for k := range s.Lines {
		if i, ok := p.f.index.wires[s.Lines[k].Wire]; ok {
			out = append(out, lineWire{k, i})
		}
	}
	return out
}
