package resolve

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

func (b *builder) harness() {
	var first *sense.Stmt
	for _, s := range b.stmts {
		if s.Word.Name != "harness" {
			continue
		}
		if first != nil {
			b.mistake(s, s.At, "harness-twice", "there is a second `harness` line", "A job has one, in one of its files.").Point(first.At, "the first one")
			continue
		}
		first = s
		j := b.job
		j.Title, j.Revision, j.Date, j.Datum, j.Common = s.Name(), s.Text("revision"), s.Text("date"), s.Text("datum"), own(s)
		j.Sheet, j.Up, j.Painted = s.Text("sheet"), s.Text("up"), s.Text("painted")
		if j.Painted != "" && j.Revision != "" && design.Earlier(j.Revision, j.Painted) {
			b.mistake(s, s.Find("painted").Span, "painted-later", fmt.Sprintf("painted since revision %s, but this is revision %s", j.Painted, j.Revision),
				"Write the revision that was in force when the body was painted, this one or one before it.")
		}
	}
	if b.job.Sheet == "" {
		b.job.Sheet = "A4"
	}
	if first == nil && !b.blind && !b.broken("harness") && len(b.src.Files) > 0 {
		b.msgs.Mistake(diag.SpanOf(b.src.Files[0].Name, 0, 0), "no-harness", "the job has no `harness` line", "Begin with its title, which stands on every page: harness \"Kestrel trials car\" revision A")
	}
}

// broken tells whether a line that begins with a word could not be read at all.
func (b *builder) broken(w string) bool { return b.ghosts["word "+w] }

// simple makes sections and zones.
func (b *builder) simple() {
	b.each("section", func(t *thing) {
		b.job.Sections = append(b.job.Sections, &design.Section{Name: t.name, Common: own(t.st)})
	})
	b.each("zone", func(t *thing) {
		z := &design.Zone{Name: t.name, Common: own(t.st)}
		z.Air, z.HasAir = amount[unit.Temperature](t.st, "air")
		if o := t.st.Find("with"); o != nil {
			for _, v := range o.Values {
				if !slices.Contains(z.With, v.Text) {
					z.With = append(z.With, v.Text)
				}
			}
		}
		b.job.Zones = append(b.job.Zones, z)
	})
}

func (b *builder) point(t *thing) {
	s := t.st
	p := &design.Point{Name: t.name, Spot: b.spotOf(t), Panel: b.refer(s, "panel", "panel"), Bush: length(s, "bush"), Common: own(s)}
	if o := s.Find("bush"); o != nil && s.Missing("panel") {
		b.mistake(s, o.Span, "option-missing", fmt.Sprintf("`point %s` has a bush but no panel", t.name), "Say which panel the wires cross there: `panel firewall bush 20 mm`.")
	}
	b.job.Points = append(b.job.Points, p)
}

// declareBreak makes a break with its halves.
func (b *builder) declareBreak(t *thing) {
	s := b.merged[t]
	k := &design.Break{Name: t.name, Common: own(t.st), Panel: b.refer(s, "panel", "panel"), Key: s.Text("key"), Class: b.class(s), Flange: b.flange(t, s), Turn: turn(s)}
	b.breaks[t.name] = k
	b.job.Breaks = append(b.job.Breaks, k)
	var halves []design.Half
	var lines []*sense.Stmt
	for _, l := range s.Block {
		if l.Word.Name != "half" || len(l.About) == 0 {
			continue
		}
		h := design.Half{Contacts: l.Text("contacts"), Mount: l.Text("mount"), Boot: b.partIn(l, "boot", "boot"), Fitted: l.Text("fitted") == "yes", Span: l.Span}
		if h.Mount == "" {
			h.Mount = "free"
		}
		if x := b.find(l, l.About[0], "section"); x != nil {
			h.Section = x.name
		}
		at, of := l, l.Find("housing")
		if of == nil {
			at, of = s, s.Find("housing")
		}
		var part *design.Housing
		if of != nil {
			if part = b.housing(of.Values[0].Text, of.Values[0].Span); part != nil {
				h.Housing = part.Name
				if o := s.Find("key"); o != nil {
					b.key(s, o, part)
				}
			}
		} else if l.Missing("housing") && at.Missing("housing") {
			b.mistake(t.st, t.st.NameSpan(), "option-missing", fmt.Sprintf("`break %s` does not say its `housing`", t.name), "Say which connector, or which stud post, parts here: `housing round-24`, `housing stud-post-m10`.")
		}
		if part != nil {
			b.contacts(t, l, h, part)
		}
		halves, lines = append(halves, h), append(lines, l)
	}
	if len(halves) != 2 {
		if !s.Broken {
			b.mistake(t.st, t.st.NameSpan(), "two-halves", fmt.Sprintf("break %s has %s", t.name, halfCount(len(halves))), "A break has two halves, one in each of the sections it parts: `half tub contacts sockets mount fixed`.")
		}
		halves = append(halves, design.Half{}, design.Half{})
		copy(k.Halves[:], halves)
		return
	}
	b.compare(t, halves, lines)
	slices.SortStableFunc(halves, func(x, y design.Half) int { return design.Natural(x.Section, y.Section) })
	copy(k.Halves[:], halves)
}

func halfCount(n int) string {
	switch n {
	case 0:
		return "no halves"
	case 1:
		return "one half"
	}
	return fmt.Sprintf("%d halves", n)
}

// post tells whether a housing is a stud post.
func post(h *design.Housing) bool { return len(h.Cavities) == 1 && h.Cavities[0].Stud != "" }

// contacts checks what a half carries against its housing.
func (b *builder) contacts(t *thing, l *sense.Stmt, h design.Half, part *design.Housing) {
	o := l.Find("contacts")
	switch {
	case post(part) && o != nil:
		b.mistake(l, o.Span, "post-contacts", fmt.Sprintf("%s is a stud post: its halves carry lugs, neither pins nor sockets", part.Name), "Leave `contacts` out.")
	case !post(part) && l.Missing("contacts"):
		b.mistake(l, l.Span, "option-missing", fmt.Sprintf("this half of %s does not say its `contacts`", t.name), "Say whether it carries pins or sockets. The half that can stay live takes sockets.")
	}
}

// compare checks the two halves of a break against each other.
func (b *builder) compare(t *thing, hs []design.Half, ls []*sense.Stmt) {
	if hs[0].Contacts != "" && hs[0].Contacts == hs[1].Contacts {
		b.mistake(ls[1], ls[1].Find("contacts").Span, "same-contacts", fmt.Sprintf("both halves of %s carry %s", t.name, hs[0].Contacts), "One half carries pins and the other sockets, or they cannot be mated.").
			Point(ls[0].Find("contacts").Span, "the other half")
	}
	if hs[0].Section != "" && hs[0].Section == hs[1].Section {
		b.mistake(ls[1], ls[1].NameSpan(), "same-section", fmt.Sprintf("both halves of %s are in section %s", t.name, hs[0].Section), "A break parts two sections.").
			Point(ls[0].NameSpan(), "the other half")
	}
	p, _ := b.parts["housing "+hs[0].Housing].(*design.Housing)
	q, _ := b.parts["housing "+hs[1].Housing].(*design.Housing)
	if p == nil || q == nil || p == q {
		return
	}
	name := func(c design.HousingCavity) string { return c.Name }
	if !slices.Equal(names(p.Cavities, name), names(q.Cavities, name)) {
		b.mistake(t.st, t.st.NameSpan(), "halves-differ", fmt.Sprintf("the two halves of %s have different cavities", t.name), fmt.Sprintf("%s has %s; %s has %s.", p.Name, cavityList(names(p.Cavities, name)), q.Name, cavityList(names(q.Cavities, name)))).
			Point(hs[0].Span, "one half").Point(hs[1].Span, "the other half")
	}
}

func names[T any](list []T, f func(T) string) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = f(x)
	}
	return out
}

func (b *builder) placeBreak(t *thing) {
	s := b.merged[t]
	b.breaks[t.name].Spot, b.breaks[t.name].Faces = b.spotOf(t), b.faces(s)
	if s.Missing("at") {
		b.mistake(t.st, t.st.NameSpan(), "no-place", fmt.Sprintf("break %s has no place", t.name), "Say where it parts: `at (1180, 120, 600 mm)`, or `at` and the name of a point.")
	}
}

func (b *builder) splice(t *thing) {
	s := t.st
	p := &design.Splice{Name: t.name, Common: own(s), Spot: b.spotOf(t), Section: b.belongs(s, "section"), Along: b.refer(s, "along", "run"), After: length(s, "after"),
		To: s.Text("to"), Sleeve: b.partIn(s, "sleeve", "sleeve"), Barrel: b.partIn(s, "barrel", "barrel")}
	along, after, at := s.Find("along"), s.Find("after"), s.Find("at")
	switch {
	case at != nil && along != nil:
		b.mistake(s, along.Span, "place-twice", fmt.Sprintf("splice %s has two places", t.name), "Write either `at`, or `along` a run and `after` a length.").Point(at.Span, "the other place")
		p.Along, p.To, p.After = "", "", 0
	case along != nil && s.Missing("after"):
		b.mistake(s, along.Span, "option-missing", fmt.Sprintf("splice %s lies along a run, but it does not say how far", t.name), "Say how far from the beginning of the run: `after 60 mm`.")
	case after != nil && s.Missing("along"):
		b.mistake(s, after.Span, "option-missing", fmt.Sprintf("splice %s says `after`, but not in which run", t.name), "Say `along` and the run.")
	case s.Find("to") != nil && s.Missing("along"):
		b.mistake(s, s.Find("to").Span, "option-missing", fmt.Sprintf("splice %s says `to`, but not in which run", t.name), "Say `along` and the run, and `after` and a length.")
	}
	b.job.Splices = append(b.job.Splices, p)
}

func (b *builder) run(t *thing) {
	s := t.st
	r := &design.Run{Name: t.name, Common: own(s), Section: b.belongs(s, "section"), Zone: b.belongs(s, "zone"), Panel: b.refer(s, "panel", "panel"),
		Tube: b.refer(s, "tube", "tube"), Sleeve: b.partIn(s, "sleeve", "sleeve"), Clip: b.partIn(s, "clip", "clip"), Fastener: b.partIn(s, "fastener", "fastener"),
		Bend: fact[unit.Length](s, "bend")}
	if o, p := s.Find("tube"), s.Find("panel"); o != nil && p != nil {
		b.mistake(s, o.Span, "held-twice", fmt.Sprintf("run %s is held by a panel and by a tube", t.name), "Keep one of the two; where it changes from one to the other write two runs.").Point(p.Span, "the panel")
		r.Tube = ""
	}
	b.aboveZero(s, "bend", "a bend radius")
	b.aboveZero(s, "length", "a measured length")
	b.job.Runs = append(b.job.Runs, r)
	lines := 0
	if from := s.Find("from"); from != nil {
		b.stretches(r, s, nil, from.Values)
	} else if o := s.Find("to"); o != nil && s.Missing("from") {
		b.mistake(s, o.Span, "option-missing", fmt.Sprintf("run %s says `to` but not `from`", t.name), "A run goes from one place to another: `from T to hub`.")
	}
	for _, l := range s.Block {
		if l.Word.Name == "from" {
			lines++
			b.aboveZero(l, "length", "a measured length")
			b.stretches(r, l, s, l.About)
		}
	}
	if s.Find("from") == nil && lines == 0 && s.Missing("from", "to") {
		b.mistake(s, s.NameSpan(), "run-empty", fmt.Sprintf("run %s goes nowhere", t.name), "Say from where to where: `from T to hub to battery`.")
	}
	if o := s.Find("length"); o != nil && len(r.Stretches) > 1 {
		b.mistake(s, o.Span, "length-of-several", fmt.Sprintf("run %s has %d stretches, but one length", t.name, len(r.Stretches)), "Write the length on the line of the stretch it was measured on: `from a to b length 520 mm`.")
		for i := range r.Stretches {
			if r.Stretches[i].Length.Span == o.Values[0].Span {
				r.Stretches[i].Length = design.Fact[unit.Length]{}
			}
		}
	}
}

// stretches makes the stretches of one line: one way through single places, and a straight one for each place of a list.
func (b *builder) stretches(r *design.Run, s, outer *sense.Stmt, first []syntax.Value) {
	groups, ok := b.way(s, first)
	if !ok {
		return
	}
	if len(groups) == 1 && s.Missing("to") && s.Word.In == "" {
		b.mistake(s, sense.Spanned(first), "option-missing", fmt.Sprintf("run %s says `from` but not `to`", r.Name), "A run goes from one place to another: `from T to hub`.")
	}
	spots := make([][]design.Spot, len(groups))
	lists := false
	for i, g := range groups {
		lists = lists || len(g) > 1
		for _, v := range g {
			if sp := b.at(s, v); sp.Node != "" {
				spots[i] = append(spots[i], sp)
			}
		}
		if len(spots[i]) < len(g) {
			r.Span = own(s).Span
		}
	}
	base := design.Stretch{Length: fact[unit.Length](s, "length"), Date: s.Text("date"), Slack: length(s, "slack"), Moves: length(s, "moves"), Span: s.Span}
	if outer != nil {
		if s.Find("slack") == nil {
			base.Slack = length(outer, "slack")
		}
		if s.Find("moves") == nil {
			base.Moves = length(outer, "moves")
		}
		if s.Find("date") == nil {
			base.Date = outer.Text("date")
		}
		if !base.Length.Given {
			base.Length = fact[unit.Length](outer, "length")
		}
	}
	if o := s.Find("length"); o != nil && lists {
		b.mistake(s, o.Span, "length-of-several", "one length for several stretches", "Write a line for each stretch that was measured.")
		base.Length = design.Fact[unit.Length]{}
	}
	var chain []design.Spot
	flush := func() {
		b.stretch(r, s, base, chain)
		chain = nil
	}
	for i, g := range groups {
		if len(spots[i]) < len(g) && len(g) == 1 {
			flush()
			continue
		}
		if len(g) == 1 && (i == 0 || len(groups[i-1]) == 1) {
			chain = append(chain, spots[i][0])
			continue
		}
		flush()
		if i > 0 {
			for _, f := range spots[i-1] {
				for _, t := range spots[i] {
					b.stretch(r, s, base, []design.Spot{f, t})
				}
			}
		}
		if len(g) == 1 {
			chain = spots[i][:1:1]
		}
	}
	flush()
}

// stretch adds a stretch. Places that share a node are one; a stretch between two things at one place has no length and is none.
func (b *builder) stretch(r *design.Run, s *sense.Stmt, base design.Stretch, way []design.Spot) {
	var nodes []design.Spot
	for i, sp := range way {
		if i > 0 && sp.Where.Start != way[i-1].Where.Start && sp.Node == way[i-1].Node {
			continue
		}
		nodes = append(nodes, sp)
	}
	if len(nodes) < 2 {
		return
	}
	base.Nodes = nodes
	r.Stretches = append(r.Stretches, base)
}
