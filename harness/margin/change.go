package margin

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// try is a change that is not solved yet.
type try struct {
	kind       Kind
	what, note string
	t          trial
}

// changes lists the single changes to a way, those of the wires that take most first within each kind.
func (t trial) changes(c *solve.CaseResult, l *solve.LoadResult, limit string) []try {
	var out []try
	way := t.stretches(c, sides(l, limit))
	slices.SortStableFunc(way, func(a, b stretch) int { return unit.Compare(b.drop, a.drop) })
	if limit != "feed-drop" {
		out = append(out, t.secondEarths(c, l)...)
	}
	if limit != "return-drop" {
		if x, ok := t.ownFeed(c, l); ok {
			out = append(out, x)
		}
	}
	if x, ok := t.betterJoint(c, sides(l, limit)); ok {
		out = append(out, x)
	}
	for i := range way {
		if x, ok := t.sized(way[i:i+1], Larger); ok {
			out = append(out, x)
		}
	}
	return out
}

// sized puts every wire of the stretches, parallel ones with it, one size up or down; ok is false where none has such a size. A core of a
// bought cable has no other.
func (t trial) sized(way []stretch, kind Kind) (x try, ok bool) {
	sizes := slices.Clone(t.sizes)
	var misfit []string
	for _, s := range way {
		for _, i := range s.strands {
			w := &t.nt.Wires[i]
			if i >= len(sizes) || !sizes[i].Known || sizes[i].Why == size.ByCable || w.Kind != net.Plain {
				continue
			}
			c := next(size.Ladder(t.job, t.nt, w), sizes[i].Size, kind)
			if c == nil {
				continue
			}
			if !size.CouldFit(t.job, w, c) {
				misfit = append(misfit, w.Name)
			}
			if i == s.wire {
				x.what = fmt.Sprintf("%s %s in place of %s", w.Name, c.Size, sizes[i].Size)
				if len(s.strands) > 1 {
					x.what += fmt.Sprintf(", each of %d in parallel", len(s.strands))
				}
				ok = true
			}
			c.Why, c.Status = sizes[i].Why, sizes[i].Status
			c.Contacts, c.Fits = size.Contacts(t.job, w, c)
			sizes[i] = *c
		}
	}
	switch {
	case len(misfit) == 1 && len(way) == 1:
		x.note = "its contacts do not take it"
	case len(misfit) > 0:
		x.note = "the contacts of " + strings.Join(misfit, ", ") + " do not take it"
	}
	x.kind, x.t = kind, t
	x.t.sizes = sizes
	return x, ok
}

// next is the size above or below one that can be bought.
func next(ladder []size.Conductor, s unit.Size, kind Kind) (c *size.Conductor) {
	for i := range ladder {
		switch x := &ladder[i]; {
		case kind == Larger && s.Less(x.Size):
			return x
		case kind == Smaller && x.Size.Less(s):
			c = x
		}
	}
	return c
}

// secondEarths doubles the last wire of the return, and the one on it that takes most where that is another.
func (t trial) secondEarths(c *solve.CaseResult, l *solve.LoadResult) (out []try) {
	back := t.stretches(c, l.Return)
	if len(back) == 0 {
		return nil
	}
	most := 0
	for i := range back {
		if unit.Worse(back[i].drop, back[most].drop) {
			most = i
		}
	}
	last := len(back) - 1
	out = append(out, t.doubled(back[last].wire))
	if most != last {
		out = append(out, t.doubled(back[most].wire))
	}
	return out
}

// doubled lays a wire once more beside itself: same ends, same way, same conductor.
func (t trial) doubled(i int) try {
	w := t.nt.Wires[i]
	x := try{kind: SecondEarth, what: "a second earth beside " + w.Name, t: t.withWires()}
	if i < len(t.sizes) && !t.sizes[i].Size.IsZero() {
		x.what += ", also of " + t.sizes[i].Size.String()
	}
	x.t.laid = nil
	n := len(t.nt.Wires)
	w.Name += " (second)"
	x.t.nt.Wires = append(x.t.nt.Wires, w)
	x.t.sizes = slices.Clone(t.sizes)
	if i < len(t.sizes) {
		for len(x.t.sizes) < n {
			x.t.sizes = append(x.t.sizes, size.Conductor{})
		}
		x.t.sizes = append(x.t.sizes, t.sizes[i])
	}
	if i < len(t.temps) {
		x.t.temps = append(slices.Clone(t.temps[:min(n, len(t.temps))]), t.temps[i])
	}
	for _, k := range t.nt.Crossings {
		for side := range k.Wires {
			if k.Wires[side] == i {
				k.Wires[side] = n
				x.t.nt.Crossings = append(slices.Clip(x.t.nt.Crossings), k)
				x.note = "it takes one more cavity of " + k.Break
				break
			}
		}
	}
	return x
}

// shared is by how much more than a load's own current a wire carries that feeds others as well.
const shared = 1.05

// ownFeed joins a load's own wire straight to the nearest stud upstream of the largest drop that it shares with others. The wire keeps its
// size and is longer by what it passes by.
func (t trial) ownFeed(c *solve.CaseResult, l *solve.LoadResult) (x try, ok bool) {
	if len(l.Feed) == 0 {
		return x, false
	}
	own := math.Abs(float64(l.Feed[len(l.Feed)-1].Amps)) * shared
	worst, mine := -1, -1
	for k, s := range l.Feed {
		if wireOf(c, s) < 0 {
			continue
		}
		if math.Abs(float64(s.Amps)) > own {
			mine = -1
			if worst < 0 || unit.Worse(s.Drop, l.Feed[worst].Drop) {
				worst = k
			}
		} else if mine < 0 {
			mine = k
		}
	}
	if worst < 0 || mine < worst {
		return x, false
	}
	stud := worst - 1
	for ; stud >= 0; stud-- {
		if e := &c.Net.Elements[l.Feed[stud].Element]; e.Kind == solve.Lug && e.Device != "" && wireOf(c, l.Feed[stud+1]) >= 0 {
			break
		}
	}
	if stud < 0 {
		return x, false
	}
	end := func(s solve.Step) int { // where current comes in
		if s.Reverse {
			return 1
		}
		return 0
	}
	first := l.Feed[stud+1]
	from := t.nt.Wires[wireOf(c, first)].Ends[end(first)]
	if from.Kind != net.OnStud {
		return x, false
	}
	var more unit.Length
	var passed []string
	for _, s := range l.Feed[stud+1 : mine] {
		if i := wireOf(c, s); i >= 0 {
			more += wireLength(&t.nt.Wires[i])
			continue
		}
		switch k := c.Net.Elements[s.Element].Kind; k {
		case solve.Fuse, solve.Switch, solve.Diode:
			if word := "a " + k.String() + " of its own"; !slices.Contains(passed, word) {
				passed = append(passed, word)
			}
		}
	}
	x = try{kind: OwnFeed, t: t.withWires()}
	x.t.laid = nil
	x.t.sizes = slices.Clone(t.sizes)
	i, k := wireOf(c, l.Feed[mine]), end(l.Feed[mine])
	old := t.nt.Wires[i].Ends[k]
	for _, j := range strands(t.nt, i) {
		w := &x.t.nt.Wires[j]
		w.Ends[k] = from
		w.Ends[k].Contact = ""
		w.Length, w.Copper, w.LooseLength = w.Length+more, wireLength(w)+more, w.LooseLength+more
		if j < len(x.t.sizes) {
			x.t.sizes[j].Contacts[k] = ""
		}
	}
	x.what = fmt.Sprintf("%s fed from %s.%s in place of %s, %s longer", t.nt.Wires[i].Name, from.Device, from.Pin, place(&old), unit.Length(math.Round(float64(more))))
	if len(passed) > 0 {
		x.note = "it then needs " + strings.Join(passed, " and ")
	}
	return x, true
}

func place(e *net.Termination) string {
	switch {
	case e.Device != "":
		return e.Device + "." + e.Pin
	case e.Break != "":
		return e.Break
	}
	return e.Splice
}

// half is what a better joint is taken to have of the old one's resistance; the answer says so.
const half = 0.5

// betterJoint halves the resistance of the lugs, contacts or crimps of the joint on a way that takes most.
func (t trial) betterJoint(c *solve.CaseResult, way []solve.Step) (x try, ok bool) {
	worst := -1
	for k, s := range way {
		if s.Element < 0 || s.Element >= len(c.Net.Elements) {
			continue
		}
		switch c.Net.Elements[s.Element].Kind {
		case solve.Contact, solve.Lug, solve.SpliceJoint:
			if s.Drop > 0 && (worst < 0 || unit.Worse(s.Drop, way[worst].Drop)) {
				worst = k
			}
		}
	}
	if worst < 0 {
		return x, false
	}
	e, ohms := &c.Net.Elements[way[worst].Element], c.Net.Resistance(way[worst].Element)
	for _, k := range []int{worst - 1, worst + 1} {
		if k < 0 || k >= len(way) {
			continue
		}
		i := wireOf(c, way[k])
		if i < 0 || i >= len(t.nt.Wires) {
			continue
		}
		for end := range t.nt.Wires[i].Ends {
			if y, found := t.joint(e, i, end); found {
				x.t, ok = y, true
			}
		}
		if ok {
			break
		}
	}
	x.kind = BetterJoint
	x.what = fmt.Sprintf("the %s at %s with %s in place of %s", e.Kind, e.Name, unit.Resistance(half*float64(ohms)), ohms)
	return x, ok
}

// joint halves one kind of joint for a circuit where it ends: by its part where that states a resistance, else by the setting.
func (t trial) joint(e *solve.Element, i, end int) (trial, bool) {
	w := &t.nt.Wires[i]
	k := &w.Ends[end]
	at := design.Scope{Circuit: w.Circuit, Device: k.Device, Break: k.Break, Class: w.Class, Section: w.Section, Case: t.c.Name}
	for _, d := range t.job.Devices {
		if d.Name == k.Device && !d.Pattern {
			at.Zone = d.Zone
			if at.Class == "" {
				at.Class = d.Class
			}
		}
	}
	scope := map[string]string{"circuit": w.Circuit}
	if k.Device != "" {
		scope["device"] = k.Device
	}
	if k.Break != "" {
		scope["break"] = k.Break
	}
	name := ""
	switch {
	case e.Kind == solve.SpliceJoint && k.Kind == net.InSplice && e.Name == k.Splice:
		name = "splice-resistance"
	case e.Kind == solve.Lug && k.Kind == net.OnStud && e.Device == k.Device && e.Name == k.Device+"."+k.Pin, e.Kind == solve.Lug && k.Kind == net.OnPost && e.Name == k.Break:
		name = "lug-resistance"
	case e.Kind == solve.Contact && k.Kind == net.InCavity && e.Name == k.Device+"."+k.Pin, e.Kind == solve.Contact && k.Kind == net.InHalf && e.Device == "" && strings.HasPrefix(e.Name, k.Break):
		name = "contact-resistance"
	default:
		return t, false
	}
	r := t.job.Settings.Get(name, at)
	q := r.Value.Quantity
	q.Value *= half
	t = t.ruled(name, q, scope)
	if name == "contact-resistance" {
		t = t.halvedPart(i, end)
	}
	return t, true
}

// halvedPart gives a wire's end, and in a break what it mates with, a contact like its own of half the resistance.
func (t trial) halvedPart(i, end int) trial {
	ends := [][2]int{{i, end}}
	for _, k := range t.nt.Crossings {
		e := &t.nt.Wires[i].Ends[end]
		if e.Kind != net.InHalf || k.Break != e.Break || k.Cavity != e.Cavity || !slices.Contains(k.Wires[:], i) {
			continue
		}
		for _, j := range k.Wires {
			if j < 0 || j >= len(t.nt.Wires) || j == i {
				continue
			}
			for n := range t.nt.Wires[j].Ends {
				if f := &t.nt.Wires[j].Ends[n]; f.Kind == net.InHalf && f.Break == k.Break {
					ends = append(ends, [2]int{j, n})
				}
			}
		}
	}
	job := *t.job
	job.Parts.Contacts = slices.Clone(job.Parts.Contacts)
	sizes := slices.Clone(t.sizes)
	for _, at := range ends {
		if at[0] >= len(sizes) {
			continue
		}
		name := sizes[at[0]].Contacts[at[1]]
		if name == "" {
			name = t.nt.Wires[at[0]].Ends[at[1]].Contact
		}
		k := slices.IndexFunc(t.job.Parts.Contacts, func(p *design.Contact) bool { return p.Name == name })
		if k < 0 || !t.job.Parts.Contacts[k].Resistance.Given {
			continue
		}
		better := *t.job.Parts.Contacts[k]
		better.Name += " of half the resistance"
		better.Resistance = scaled(better.Resistance, half)
		job.Parts.Contacts = append(job.Parts.Contacts, &better)
		sizes[at[0]].Contacts[at[1]] = better.Name
	}
	t.job, t.sizes, t.laid = &job, sizes, nil
	return t
}
