// Package resolve turns the text of a job into its declared facts: it reads the files, takes short forms apart, finds every name and
// tells what contradicts itself. The order of statements never shows in the result.
package resolve

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/lang/parts"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// Job reads the job whose first file is main. Load gives the text of a file by its name relative to the job's folder; for a name that
// leads out of the folder (by a link, say) it returns ErrOutside. Library is read last and gives way to the job's own names. Known lists
// the keys of findings that can be accepted; nil takes any. With mistakes the job is usable though incomplete.
func Job(main string, load func(path string) ([]byte, error), library []parts.File, known []string) (*design.Job, *Sources, diag.List) {
	b := &builder{
		sense:     sense.NewReader(),
		job:       &design.Job{},
		src:       &Sources{},
		names:     map[string]map[string]*thing{},
		ghosts:    map[string]bool{},
		nameless:  map[string]bool{},
		lib:       openLibrary(library),
		misses:    map[missKey]*miss{},
		parts:     map[string]any{},
		devices:   map[string]*device{},
		breaks:    map[string]*design.Break{},
		spots:     map[string]*spotState{},
		merged:    map[*thing]*sense.Stmt{},
		merging:   map[*thing]bool{},
		templates: map[string]*sense.Template{},
		known:     known,
		holders:   map[string][]int{},
		among:     map[string][]string{},
	}
	b.read(main, load)
	b.declare()
	b.lookAlike()
	b.build()
	b.large()
	b.manyNames()
	b.finish()
	return b.job, b.src, b.msgs
}

// builder is the state of resolving one job.
type builder struct {
	sense     *sense.Reader
	msgs      diag.List
	shape     diag.List // mistakes in the shape of the text
	job       *design.Job
	src       *Sources
	stmts     []*sense.Stmt // all statements of the job, without any short form
	names     map[string]map[string]*thing
	order     []*thing // in the order they were read
	ghosts    map[string]bool
	nameless  map[string]bool // spaces with a thing whose name could not be read
	shapes    [][2]string     // beginnings and ends of such names
	blind     bool            // a file could not be read: nobody knows what it declares
	lib       *library
	misses    map[missKey]*miss
	parts     map[string]any // by word and name; nil for one that is being built
	devices   map[string]*device
	breaks    map[string]*design.Break
	spots     map[string]*spotState
	merged    map[*thing]*sense.Stmt
	merging   map[*thing]bool
	templates map[string]*sense.Template
	liked     map[string]bool // devices that others are like
	known     []string
	holders   map[string][]int    // by circuit: which cables hold it
	among     map[string][]string // the sections, and the zones, of the job
	crowded   bool                // that there are too many settings was told
}

// thing is a declared name.
type thing struct {
	kind string
	name string
	st   *sense.Stmt
	lib  bool
}

// places is the words whose names are one kind, because `at`, `from`, `to` and `via` may name any of them.
var places = []string{"device", "point", "break", "splice", "run"}

func space(kind string) string {
	if slices.Contains(places, kind) {
		return "place"
	}
	return kind
}

// named is the words that declare names.
var named = []string{"section", "zone", "panel", "tube", "point", "run", "hazard", "device", "break", "splice", "circuit", "cable", "case", "removal",
	"hole", "fixing", "housing", "contact", "seal", "wire", "fuse", "sleeve", "boot", "barrel", "clip", "fastener"}

// declare enters every name.
func (b *builder) declare() {
	// Lines that could not be read to their end come last: what they seem to declare gives way.
	whole := func(s *sense.Stmt) int {
		if s.Torn {
			return 1
		}
		return 0
	}
	stmts := slices.Clone(b.stmts)
	slices.SortStableFunc(stmts, func(x, y *sense.Stmt) int { return whole(x) - whole(y) })
	for _, s := range stmts {
		if !slices.Contains(named, s.Word.Name) {
			continue
		}
		if s.Name() == "" || s.Torn && s.Lost {
			b.nameless[space(s.Word.Name)] = true
		}
		if s.Name() == "" {
			continue
		}
		t := &thing{kind: s.Word.Name, name: s.Name(), st: s}
		sp := space(t.kind)
		if b.names[sp] == nil {
			b.names[sp] = map[string]*thing{}
		}
		if first := b.names[sp][t.name]; first != nil {
			b.twice(t, first)
			continue
		}
		b.names[sp][t.name] = t
		b.order = append(b.order, t)
	}
}

func (b *builder) twice(t, first *thing) {
	title := "there is a second " + t.kind + " `" + t.name + "`"
	detail := "Give one of the two another name."
	if t.kind != first.kind {
		title = "`" + t.name + "` is the name of a " + first.kind + " already"
		detail = "Points, devices, breaks, splices and runs share one set of names, because `at`, `from` and `to` may name any of them."
	}
	if !t.st.Origin.IsZero() {
		detail = "Every name made in a template must hold a parameter, or its second use makes the same name again."
	}
	d := b.mistake(t.st, t.st.NameSpan(), "name-twice", title, detail).Point(first.st.NameSpan(), "first declared here")
	if !first.st.Origin.IsZero() && first.st.Origin != t.st.Origin {
		d.Point(first.st.Origin, "by this use of the template")
	}
}

// each calls f for every declared thing of a kind, in the order of its names.
func (b *builder) each(kind string, f func(t *thing)) {
	var ts []*thing
	for _, t := range b.order {
		if t.kind == kind {
			ts = append(ts, t)
		}
	}
	slices.SortStableFunc(ts, func(x, y *thing) int { return design.Natural(x.name, y.name) })
	for _, t := range ts {
		f(t)
	}
}

// build makes the facts in an order in which each finds what it needs.
func (b *builder) build() {
	b.harness()
	b.simple()
	b.each("housing", func(t *thing) { b.housing(t.name, t.st.NameSpan()) })
	for _, kind := range []string{"contact", "seal", "wire", "fuse", "sleeve", "boot", "barrel", "clip", "fastener"} {
		b.each(kind, func(t *thing) { b.part(kind, t.name, t.st.NameSpan()) })
	}
	b.likes()
	b.each("panel", b.panel)
	b.each("device", b.declareDevice)
	b.each("break", b.declareBreak)
	b.each("point", b.point)
	b.each("device", b.placeDevice)
	b.each("break", b.placeBreak)
	b.each("splice", b.splice)
	b.each("tube", b.tube)
	b.each("run", b.run)
	b.each("hazard", b.hazard)
	b.each("device", b.wireDevice)
	b.each("circuit", b.circuit)
	b.each("cable", b.cable)
	b.each("case", b.caseOf)
	b.each("removal", b.removal)
	b.each("hole", b.hole)
	b.each("fixing", b.fixing)
	for _, s := range b.stmts {
		switch s.Word.Name {
		case "accept":
			b.accept(s)
		case "cavity":
			b.cavity(s)
		case "label":
			b.label(s)
		case "stock":
			b.stock(s)
		case "seat":
			b.seat(s)
		}
	}
	b.seatEnds()
	b.settings()
	b.common()
	b.sort()
}

// finish gathers all messages, one for each mistake.
func (b *builder) finish() {
	b.tellMisses()
	b.msgs.Add(b.sense.Msgs...)
	b.untear()
	b.oddLetters(b.msgs)
	b.msgs.Add(b.shape...)
	b.msgs.Add(b.lib.msgs...)
	for _, f := range b.lib.read {
		b.src.Files = append(b.src.Files, Source{Name: f.file.Name, Text: f.file.Text, Library: true})
	}
	b.msgs.Sort()
	type key struct {
		code string
		span diag.Span
	}
	seen := map[key]bool{}
	kept := b.msgs[:0]
	for _, d := range b.msgs {
		k := key{d.Code, d.Span}
		if !seen[k] || d.Span.IsZero() {
			kept = append(kept, d)
		}
		seen[k] = true
	}
	b.msgs = syntax.Told(kept)
}

// untear takes out what seems wrong in lines that could not be read to their end: one mistake, one message.
func (b *builder) untear() {
	torn := slices.Clone(b.sense.Torn)
	slices.SortFunc(torn, diag.Span.Compare)
	b.msgs = slices.DeleteFunc(b.msgs, func(d diag.Diagnostic) bool {
		i, found := slices.BinarySearchFunc(torn, d.Span, diag.Span.Compare)
		if !found {
			i--
		}
		return i >= 0 && torn[i].File == d.Span.File && d.Span.Start < torn[i].End
	})
}

// mistake reports at a place of a statement; one that came out of a template also shows where that is used.
func (b *builder) mistake(s *sense.Stmt, span diag.Span, code, title, detail string) *diag.Diagnostic {
	d := b.msgs.Mistake(span, code, title, detail)
	if s != nil && !s.Origin.IsZero() {
		d.Point(s.Origin, "the template is used here")
	}
	return d
}
