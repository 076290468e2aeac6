package protect

import (
	"slices"

	"loomsheet/harness/solve"
)

// Again is what a look may take over from another at the same job and net, with other sizes.
type Again struct {
	Laid []*solve.Laid // the cases as they were laid before, by case; nil where they were not
	Last *Look         // nil: all is looked at. It is of no more use afterwards
	// Same tells whether a wire's conductor, and all that heats it wherever it lies, is to the bit what it was in Last. It may be asked by several at a time.
	Same func(wire int) bool
}

// takenOver is what is taken over from a look.
type takenOver struct {
	res   *Result
	order []order
	parts []bool
}

// takeOver takes over the parts in which every wire is the same as in the last look and is protected by the same fuses, and lets go of all else of that look.
// Where a relay stands otherwise than then, or a supply that follows lives or does not, nothing is; nor where other fuses lie next to a source, by whose places
// the shorts to the body are in order.
func (g *weigher) takeOver(last *Look, same func(wire int) bool) *takenOver {
	if last == nil || !slices.EqualFunc(g.nets, last.by.nets, (*solve.Faults).Alike) || !slices.Equal(g.mains, last.by.mains) {
		return nil
	}
	k := &takenOver{res: last.Result, order: last.order, parts: make([]bool, g.apart.n)}
	for p := range k.parts {
		k.parts[p] = true
	}
	for i := range g.res.Wires {
		if p := g.apart.of[i]; k.parts[p] {
			k.parts[p] = same(i) && g.res.Wires[i].protectedAs(&k.res.Wires[i])
		}
	}
	for i := range g.res.Fuses {
		f := &g.res.Fuses[i]
		if p := g.partOf(f); k.parts[p] {
			k.parts[p] = f.opensAs(&k.res.Fuses[i])
		}
	}
	last.drop(k.parts)
	for i := range g.res.Wires {
		if !k.parts[g.apart.of[i]] {
			continue
		}
		w, x := &g.res.Wires[i], &k.res.Wires[i]
		w.Overload, w.Short, w.OverloadCourse, w.ShortCourse = x.Overload, x.Short, x.OverloadCourse, x.ShortCourse
		g.res.rests[i], g.most[i], g.through[i] = k.res.rests[i], last.by.most[i], last.by.through[i]
	}
	pairs := map[[2]FuseRef]*Pair{}
	for i := range k.res.Pairs {
		p := &k.res.Pairs[i]
		pairs[[2]FuseRef{p.Up, p.Down}] = p
	}
	for i := range g.res.Fuses {
		f := &g.res.Fuses[i]
		if !k.parts[g.partOf(f)] {
			continue
		}
		g.res.Curves[i] = k.res.Curves[i]
		for _, p := range g.downs[f.FuseRef] {
			p.best = *pairs[[2]FuseRef{p.best.Up, p.best.Down}]
		}
	}
	return k
}

// protectedAs tells whether what is before a wire is what is before another.
func (w *WireResult) protectedAs(x *WireResult) bool {
	return w.Wire == x.Wire && w.Return == x.Return && w.Reached == x.Reached && slices.Equal(w.By, x.By) && slices.Equal(w.Beside, x.Beside)
}

// opensAs tells whether a fuse opens as another, and lies in the same place.
func (f *FuseResult) opensAs(x *FuseResult) bool {
	return f.FuseRef == x.FuseRef && f.Rating == x.Rating && f.Verified == x.Verified && slices.Equal(f.Gate, x.Gate) && slices.Equal(f.Ahead, x.Ahead) && slices.Equal(f.Wires, x.Wires)
}

// Keep lets go of all that no other look may take over: of what has only to do with what was looked at, and of the parts of the net in which some wire is not the
// same any more.
func (l *Look) Keep(same func(wire int) bool) {
	parts := make([]bool, l.by.apart.n)
	for p := range parts {
		parts[p] = true
	}
	for i, p := range l.by.apart.of {
		if parts[p] {
			parts[p] = same(i)
		}
	}
	l.drop(parts)
}

// drop lets go of all but some parts.
func (l *Look) drop(keep []bool) {
	for i := range l.Wires {
		if !keep[l.by.apart.of[i]] {
			w := &l.Wires[i]
			w.Overload, w.Short, w.OverloadCourse, w.ShortCourse, w.Unfused = nil, nil, nil, nil, nil
			l.by.through[i] = nil
		}
	}
	for n := range l.Shorts {
		if !keep[l.order[n].part] {
			l.Shorts[n] = Short{}
		}
	}
	for i := range l.Curves {
		if !keep[l.by.apart.part(thing{solve.Fuse, l.Curves[i].Fuse.Device, l.Curves[i].Fuse.Index})] {
			l.Curves[i].Points = nil
		}
	}
	l.Unfused = nil
	l.by.warm, l.by.sizes, l.by.fuses, l.by.downs, l.by.downOf, l.by.sites = nil, nil, nil, nil, nil, nil
	for n, f := range l.by.nets {
		l.by.nets[n] = f.Shell()
	}
}
