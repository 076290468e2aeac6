// Package resolve turns the text of a job into its declared facts: it reads the files, takes short forms apart, finds every name and
// tells what contradicts itself. The order of statements never shows in the result.
package resolve

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/lang/expand"
	"loomsheet/lang/parts"
	"loomsheet/lang/sense"
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
	}
	b.read(main, load)
	b.declare()
	b.build()
	b.finish()
	return b.job, b.src, b.msgs
}

// builder is the state of resolving one job.
type builder struct {
	sense     *sense.Reader
	msgs      diag.List
	job       *design.Job
	src       *Sources
	stmts     []*sense.Stmt // all statements of the job, without any short form
	names     map[string]map[string]*thing
	order     []*thing // in the order they were read
	ghosts    map[string]bool
	shapes    [][2]string // beginnings and ends of such names
	blind     bool        // a file could not be read: nobody knows what it declares
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
var named = []string{"section", "zone", "panel", "point", "run", "hazard", "device", "break", "splice", "circuit", "cable", "case", "removal",
	"hole", "fixing", "housing", "contact", "seal", "wire", "fuse", "sleeve", "clip", "fastener"}

// declare enters every name.
func (b *builder) declare() {
	for _, s := range b.stmts {
		if !slices.Contains(named, s.Word.Name) || s.Name() == "" {
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
	for _, kind := range []string{"contact", "seal", "wire", "fuse", "sleeve", "clip", "fastener"} {
		b.each(kind, func(t *thing) { b.part(kind, t.name, t.st.NameSpan()) })
	}
	b.likes()
	b.each("device", b.declareDevice)
	b.each("break", b.declareBreak)
	b.each("point", b.point)
	b.each("device", b.placeDevice)
	b.each("break", b.placeBreak)
	b.each("splice", b.splice)
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
		}
	}
	b.settings()
	b.common()
	b.sort()
}

// finish gathers all messages, one for each mistake.
func (b *builder) finish() {
	b.tellMisses()
	b.msgs.Add(b.sense.Msgs...)
	for _, f := range b.lib.read {
		b.msgs.Add(f.msgs...)
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
	b.msgs = kept
}

// mistake reports at a place of a statement; one that came out of a template also shows where that is used.
func (b *builder) mistake(s *sense.Stmt, span diag.Span, code, title, detail string) *diag.Diagnostic {
	d := b.msgs.Mistake(span, code, title, detail)
	if s != nil && !s.Origin.IsZero() {
		d.Point(s.Origin, "the template is used here")
	}
	return d
}

type missKey struct{ code, name string }

// miss is a name that was looked for in vain, with all the places it was named at.
type miss struct {
	title  string
	help   func() (detail string, among []string)
	spans  []diag.Span
	origin diag.Span
}

// patient is how many messages get their hints worked out; nobody reads more in one go.
const patient = 300

// many tells whether so much is wrong already that hints are no help.
func (b *builder) many() bool { return len(b.msgs) > patient }

func (b *builder) near(name string, names []string) []string {
	if b.many() {
		return nil
	}
	return diag.Nearest(name, names)
}

// miss records a name that does not exist; all its places make one message. Help says what to do and among which names it may be.
func (b *builder) miss(s *sense.Stmt, code, name string, span diag.Span, title string, help func() (detail string, among []string)) {
	k := missKey{code, name}
	m := b.misses[k]
	if m == nil {
		m = &miss{title: title, help: help}
		b.misses[k] = m
	}
	m.spans = append(m.spans, span)
	if s != nil && m.origin.IsZero() {
		m.origin = s.Origin
	}
}

func (b *builder) tellMisses() {
	keys := make([]missKey, 0, len(b.misses))
	for k := range b.misses {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(x, y missKey) int { return cmp.Or(cmp.Compare(x.code, y.code), cmp.Compare(x.name, y.name)) })
	told := 0
	for _, k := range keys {
		if b.blind && k.code != "no-such-template" || b.hidden(k.name) {
			continue
		}
		m := b.misses[k]
		slices.SortFunc(m.spans, func(x, y diag.Span) int { return cmp.Or(cmp.Compare(x.File, y.File), cmp.Compare(x.Start, y.Start)) })
		m.spans = slices.Compact(m.spans)
		d := b.msgs.Mistake(m.spans[0], k.code, m.title, "")
		if told++; told <= patient {
			detail, among := m.help()
			d.Detail = detail
			d.Near(diag.Nearest(k.name, among))
		}
		for _, sp := range m.spans[1:min(len(m.spans), 5)] {
			d.Point(sp, "also named here")
		}
		if !m.origin.IsZero() {
			d.Point(m.origin, "the template is used here")
		}
	}
}

// hidden tells whether a name may stand in a part of the job that could not be read.
func (b *builder) hidden(name string) bool {
	if b.ghosts[name] {
		return true
	}
	if head, _, dotted := strings.Cut(name, "."); dotted && b.ghosts[head] {
		return true
	}
	return slices.ContainsFunc(b.shapes, func(s [2]string) bool {
		return len(name) >= len(s[0])+len(s[1]) && strings.HasPrefix(name, s[0]) && strings.HasSuffix(name, s[1])
	})
}

// ghostShapes notes what the names of a template look like of which a copy could not be made.
func (b *builder) ghostShapes(t *sense.Template) {
	for _, l := range t.Body {
		for _, v := range l.About {
			head, _, _ := strings.Cut(v.Text, "[")
			tail := v.Text[strings.LastIndexByte(v.Text, ']')+1:]
			if tail == v.Text {
				tail = ""
			}
			b.shapes = append(b.shapes, [2]string{head, tail})
		}
	}
}

// ghost notes names that stood in a line nobody could read.
func (b *builder) ghost(texts []string) {
	for _, t := range texts {
		if ms, _, err := expand.Members(t); err == nil && len(ms) <= 1000 {
			for _, m := range ms {
				b.ghosts[m] = true
			}
		}
	}
}
