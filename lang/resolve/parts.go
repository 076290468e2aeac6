package resolve

import (
	"fmt"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// partThing finds a part: the job's own, else the library's.
func (b *builder) partThing(kind, name string) *thing {
	if t := b.names[kind][name]; t != nil {
		return t
	}
	return b.lib.find(kind, name)
}

// part makes a part the first time it is named; false after a message if there is none.
func (b *builder) part(kind, name string, span diag.Span) bool {
	k := kind + " " + name
	if p, done := b.parts[k]; done {
		return p != nil
	}
	t := b.partThing(kind, name)
	if t == nil {
		b.noPart(kind, name, span)
		return false
	}
	b.parts[k] = t
	base := design.Part{Name: name, Own: !t.lib, Common: own(t.st)}
	s := t.st
	ps := &b.job.Parts
	switch kind {
	case "housing":
		b.buildHousing(s, base)
	case "contact":
		ps.Contacts = append(ps.Contacts, b.contact(s, base))
	case "seal":
		least, most := b.range2(s, "insulation")
		v := &design.Seal{Part: base, InsulLeast: least, InsulMost: most}
		if o := s.Find("plugs"); o != nil {
			for _, x := range o.Values { // a plug is no reason to make the contact
				if b.partThing("contact", x.Text) == nil {
					b.noPart("contact", x.Text, x.Span)
				} else {
					v.Plugs = append(v.Plugs, x.Text)
				}
			}
			if i := s.Find("insulation"); i != nil {
				b.mistake(s, i.Span, "plug-with-wire", fmt.Sprintf("seal %s plugs empty cavities, and yet it is for a wire", name), "Keep `plugs` for a blanking plug, or `insulation` for a seal round a wire.").Point(o.Span, "a plug")
			}
		}
		ps.Seals = append(ps.Seals, v)
	case "wire":
		ps.Wires = append(ps.Wires, b.wire(s, base))
	case "fuse":
		f := &design.Fuse{Part: base, Resistance: fact[unit.Resistance](s, "resistance"), Kind: s.Text("kind")}
		f.Rating, _ = amount[unit.Current](s, "rating")
		ps.Fuses = append(ps.Fuses, f)
	case "sleeve":
		ps.Sleeves = append(ps.Sleeves, b.sleeve(s, base))
	case "barrel":
		ps.Barrels = append(ps.Barrels, b.barrel(s, base))
	case "boot":
		ps.Boots = append(ps.Boots, b.boot(s, base))
	case "clip":
		c := &design.Clip{Part: base, Holds: lengths(s, "holds"), Heat: fact[unit.Temperature](s, "heat"), Thick: length(s, "thick"), As: s.Text("as"), Fastener: b.partIn(s, "fastener", "fastener")}
		slices.Sort(c.Holds)
		ps.Clips = append(ps.Clips, c)
	case "fastener":
		ps.Fasteners = append(ps.Fasteners, b.fastener(s, base))
	}
	return true
}

func (b *builder) noPart(kind, name string, span diag.Span) {
	b.miss(nil, missKey{kind, name}, span, "no-such-"+kind, fmt.Sprintf("there is no %s `%s`", kind, name), func(d *diag.Diagnostic) {
		d.Detail = fmt.Sprintf("Neither the job nor the library has it. A %s of your own is declared with a line `%s %s ..`.", kind, kind, name)
		if t := b.elsewhere(name, kind); t != nil {
			d.Detail = fmt.Sprintf("`%s` is a %s.", name, t.kind)
		}
		d.Near(diag.Nearest(name, append(b.namesOf(kind), b.lib.list(kind)...)))
	})
}

// partIn is the part that an option names, if it exists.
func (b *builder) partIn(s *sense.Stmt, option, kind string) string {
	o := s.Find(option)
	if o == nil || !b.part(kind, o.Values[0].Text, o.Values[0].Span) {
		return ""
	}
	return o.Values[0].Text
}

// range2 is a least and a most; a single value is the most.
func (b *builder) range2(s *sense.Stmt, option string) (least, most unit.Length) {
	ls := lengths(s, option)
	switch len(ls) {
	case 0:
		return 0, 0
	case 1:
		return 0, ls[0]
	}
	if ls[0] > ls[1] {
		b.turned(s, s.Find(option))
		return ls[1], ls[0]
	}
	return ls[0], ls[1]
}

func (b *builder) turned(s *sense.Stmt, o *sense.Opt) {
	b.mistake(s, o.Span, "least-above-most", fmt.Sprintf("`%s` begins with the larger value", o.Name), fmt.Sprintf("Write the least first: `%s %s, %s`.", o.Name, o.Values[1].Text, o.Values[0].Text))
}

func (b *builder) fastener(s *sense.Stmt, base design.Part) *design.Fastener {
	f := &design.Fastener{Part: base, Thread: s.Text("thread"), As: s.Text("as"), Engage: length(s, "engage"), Screws: lengths(s, "screws")}
	f.Least, f.Drill = b.range2(s, "drill")
	f.Grips[0], f.Grips[1] = b.range2(s, "grips")
	slices.Sort(f.Screws)
	b.aboveZero(s, "drill", "a hole")
	if o := s.Find("drill"); o != nil && (f.As == "tie" || f.As == "adhesive") {
		b.mistake(s, o.Span, "drill-unneeded", fmt.Sprintf("fastener %s is %s, and yet it wants a hole", base.Name, map[string]string{"tie": "a tie", "adhesive": "glued on"}[f.As]), "Leave `drill` out, or say what it is: `as rivet-nut`, `as screw`.").
			Point(s.Find("as").Span, "what it is")
		f.Least, f.Drill = 0, 0
	}
	return f
}

func (b *builder) contact(s *sense.Stmt, base design.Part) *design.Contact {
	c := &design.Contact{Part: base, Rating: fact[unit.Current](s, "rating"), Strip: length(s, "strip"), Resistance: fact[unit.Resistance](s, "resistance"),
		Tool: s.Text("tool"), Plating: s.Text("plating"), Outside: length(s, "outside")}
	c.InsulLeast, c.InsulMost = b.range2(s, "insulation")
	if o := s.Find("rated-on"); o != nil {
		c.RatedOn = b.size(s, o.Values[0])
	}
	if o := s.Find("takes"); o != nil {
		c.WireMost = b.size(s, o.Values[len(o.Values)-1])
		c.WireLeast = b.size(s, o.Values[0])
		if c.WireMost.Less(c.WireLeast) && !c.WireMost.IsZero() {
			b.turned(s, o)
			c.WireLeast, c.WireMost = c.WireMost, c.WireLeast
		}
	}
	b.crimps(s, c)
	return c
}

func (b *builder) wire(s *sense.Stmt, base design.Part) *design.Wire {
	w := &design.Wire{Part: base, Outside: length(s, "outside"), Bend: length(s, "bend")}
	w.Heat, _ = amount[unit.Temperature](s, "heat")
	at := map[string]diag.Span{}
	for _, l := range s.Block {
		if len(l.About) == 0 {
			continue
		}
		z := design.WireSize{Outside: length(l, "outside"), Source: l.Text("source")}
		z.Resistance, _ = amount[unit.LinearResistance](l, "resistance")
		switch l.Word.Name {
		case "size":
			z.Size = b.size(l, l.About[0])
			k := z.Size.String()
			if first, twice := at[k]; twice {
				b.mistake(l, l.NameSpan(), "name-twice", fmt.Sprintf("wire %s has size %s twice", base.Name, k), "Keep one of the two.").Point(first, "first said here")
				continue
			}
			at[k] = l.NameSpan()
			w.Sizes = append(w.Sizes, z)
		case "core":
			if o := l.Find("size"); o != nil {
				z.Size = b.size(l, o.Values[0])
			}
			b.colour(l, l.About[0])
			w.Cores = append(w.Cores, design.WireCore{Colour: l.Name(), WireSize: z})
		case "screen":
			w.Screen = &design.WireScreen{Kind: l.Name()}
			w.Screen.Resistance, _ = amount[unit.LinearResistance](l, "resistance")
		}
	}
	slices.SortStableFunc(w.Sizes, func(x, y design.WireSize) int {
		switch {
		case x.Size.Less(y.Size):
			return -1
		case y.Size.Less(x.Size):
			return 1
		}
		return 0
	})
	if len(w.Sizes) == 0 && len(w.Cores) == 0 && !s.Broken {
		b.mistake(s, s.NameSpan(), "wire-empty", fmt.Sprintf("wire %s has neither a size nor a core", base.Name), "A family of wires lists its sizes, a bought cable its cores: `size 1 mm2 resistance 18.5 mohm/m outside 2.1 mm`.")
	}
	return w
}

// housing makes a housing the first time it is named; nil after a message.
func (b *builder) housing(name string, span diag.Span) *design.Housing {
	if !b.part("housing", name, span) {
		return nil
	}
	h, _ := b.parts["housing "+name].(*design.Housing)
	return h
}

func (b *builder) buildHousing(s *sense.Stmt, base design.Part) {
	h := &design.Housing{Part: base, Nut: length(s, "nut"), Behind: length(s, "behind"), Room: length(s, "room"), Metal: s.Text("shell") == "metal", Rating: fact[unit.Current](s, "rating"), Heat: fact[unit.Temperature](s, "heat")}
	h.Back, h.Boot = length(s, "back"), b.partIn(s, "boot", "boot")
	h.CutOut, h.CutHigh = wideHigh(s, "cut-out")
	h.Flange[0], h.Flange[1] = wideHigh(s, "flange")
	h.Grips[0], h.Grips[1] = b.range2(s, "grips")
	b.aboveZero(s, "cut-out", "a cut-out")
	b.aboveZero(s, "flange", "a flange")
	b.covers(s, h)
	if o := s.Find("keys"); o != nil {
		for _, v := range o.Values {
			h.Keys = append(h.Keys, v.Text)
		}
	}
	if o := s.Find("keyway"); o != nil {
		h.Keyway[0], h.Keyway[1], h.Keyed = face(o.Values[0])
	}
	if o := s.Find("mates"); o != nil {
		for _, v := range o.Values {
			if b.partThing("housing", v.Text) == nil {
				b.noPart("housing", v.Text, v.Span)
			} else if v.Text != h.Name {
				h.Mates = append(h.Mates, v.Text)
			}
		}
	}
	at := map[string]diag.Span{}
	for _, l := range s.Block {
		if l.Name() == "" {
			continue
		}
		k := l.Word.Name + " " + l.Name()
		if first, twice := at[k]; twice {
			b.mistake(l, l.NameSpan(), "name-twice", fmt.Sprintf("housing %s has a second %s `%s`", h.Name, l.Word.Name, l.Name()), "Give one of the two another name.").Point(first, "first declared here")
			continue
		}
		at[k] = l.NameSpan()
		if l.Word.Name == "hole" {
			b.aboveZero(l, "drill", "a hole")
			if x, y, ok := stepped(l); ok {
				h.Fixings = append(h.Fixings, design.HousingHole{Name: l.Name(), At: [2]unit.Length{x, y}, Drill: length(l, "drill")})
			}
			continue
		}
		c := design.HousingCavity{Name: l.Name(), Stud: l.Text("stud"), Resistance: fact[unit.Resistance](l, "resistance")}
		if o := l.Find("takes"); o != nil {
			for _, v := range o.Values {
				if b.part("contact", v.Text, v.Span) {
					c.Takes = append(c.Takes, v.Text)
				}
			}
		}
		if x, y, ok := stepped(l); ok {
			c.At, c.Placed = [2]unit.Length{x, y}, true
		}
		h.Cavities = append(h.Cavities, c)
	}
	slices.SortStableFunc(h.Fixings, func(x, y design.HousingHole) int { return design.Natural(x.Name, y.Name) })
	slices.SortStableFunc(h.Cavities, func(x, y design.HousingCavity) int { return design.Natural(x.Name, y.Name) })
	if len(h.Cavities) == 0 && !s.Broken {
		b.mistake(s, s.NameSpan(), "housing-empty", fmt.Sprintf("housing %s has no cavity", h.Name), "Name its cavities: `cavity [1..4] takes size-16`, or `cavity 1 stud M8` for a stud post.")
	}
	b.parts["housing "+h.Name] = h
	b.job.Parts.Housings = append(b.job.Parts.Housings, h)
}

// covers checks that a flange is larger than its cut-out.
func (b *builder) covers(s *sense.Stmt, h *design.Housing) {
	o := s.Find("flange")
	if o == nil || h.CutOut == 0 || h.Flange[0] == 0 {
		return
	}
	wide, high := h.CutOut, h.CutHigh
	covers := h.Flange
	switch {
	case high == 0:
		high = wide
	case covers[1] == 0: // round over corners
		wide = unit.Length(math.Hypot(float64(wide), float64(high)))
		high = wide
	}
	if covers[1] == 0 {
		covers[1] = covers[0]
	}
	if covers[0] <= wide || covers[1] <= high {
		b.mistake(s, o.Span, "flange-too-small", fmt.Sprintf("the flange of housing %s does not cover its cut-out", h.Name), "Write the width and then the height of both, or one diameter where they are round.").
			Point(s.Find("cut-out").Span, "the cut-out")
	}
}

// wideHigh is a diameter, or a width and a height.
func wideHigh(s *sense.Stmt, option string) (wide, high unit.Length) {
	switch ls := lengths(s, option); len(ls) {
	case 0:
		return 0, 0
	case 1:
		return ls[0], 0
	default:
		return ls[0], ls[1]
	}
}

// stepped is the place on a face that a line gives, a step further for each member of a range.
func stepped(l *sense.Stmt) (x, y unit.Length, ok bool) {
	o := l.Find("at")
	if o == nil {
		return 0, 0, false
	}
	x, y, ok = face(o.Values[0])
	if st := l.Find("step"); st != nil {
		dx, dy, okStep := face(st.Values[0])
		x, y, ok = x+dx*unit.Length(l.Member), y+dy*unit.Length(l.Member), ok && okStep
	}
	return x, y, ok
}

// face is a place on the face of a housing: across and up.
func face(v syntax.Value) (x, y unit.Length, ok bool) {
	c, ok := coordinates(v)
	if !ok || len(c) < 2 {
		return 0, 0, false
	}
	return c[0], c[1], true
}

// common makes the parts that a job needs although it does not name them: those of the settings' defaults, and all seals, barrels, clips and
// fasteners, among which one is chosen by the wire, the copper, the heat, the thread.
func (b *builder) common() {
	for i := range design.SettingDefs {
		d := &design.SettingDefs[i]
		if d.Kind == design.SetPart && d.Default != "" && b.partThing(d.Part, d.Default) != nil {
			b.part(d.Part, d.Default, diag.Span{})
		}
	}
	for _, kind := range []string{"seal", "barrel", "clip", "fastener"} {
		for _, n := range b.lib.list(kind) {
			b.part(kind, n, diag.Span{})
		}
	}
}
