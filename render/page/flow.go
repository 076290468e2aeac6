package page

import (
	"errors"
	"fmt"
	"time"
)

// Keep ties a part to the one after it.
type Keep uint8

const (
	Free   Keep = iota // a page may end here
	Loose              // only when the whole tied group is longer than a page
	Firmly             // never, while the tied parts fit on a page at all: a heading and what follows
)

// Part is a piece of a block that is never broken: a line of a paragraph, a row of a table, a figure. Its height is
// known before anything is drawn.
type Part struct {
	Height  MM
	Gap     MM // left free above it, unless it opens a page
	Keep    Keep
	Again   *Part // drawn above the part when it opens a page: the repeated head of a table
	Limit   int   // at most so many parts with a Limit of one block stand on a page; 0 is no limit
	Stretch bool  // takes the rest of its page
	Mark    *Bookmark
	Draw    func(c *Canvas) // on a canvas of the body's width and the part's height
}

// Block is anything that a Flow can place: it measures itself into parts for a body of the given width and height.
type Block interface {
	Parts(width, height MM) ([]Part, error)
}

// Flow collects the blocks of a book. Nothing is laid out before Doc.
type Flow struct {
	steps  []step
	groups int    // that were opened
	group  int    // that is open, 0 for none
	kept   int    // parts that are held from one layout to the next
	shapes shapes // of the parts that are not
	sheets []Size // of the pages of the last layout
	head   string // the heading that stands last
}

// step is one block, or the order to go on upon a new page, perhaps in another frame.
type step struct {
	block   Block
	heading bool
	group   int
	fresh   bool
	frame   *Frame
	later   func(fl *Flow)
	head    string // the heading before later
	parts   []Part // as they were measured
	known   bool   // they were
	made    *Flow  // of later
	contour *contour
}

// Changing is a block that has to be measured anew each time a book is laid out; any other is measured once.
type Changing interface {
	Block
	Changes()
}

// NewFlow begins a book in the given frame.
func NewFlow(f Frame) *Flow { return &Flow{steps: []step{{fresh: true, frame: &f}}} }

// Continuing is a block that says above each of its later pages what it goes on with, unless it has a title of its own: the heading over it.
type Continuing interface {
	Block
	ContinueAs(heading string)
}

// Add appends a block.
func (fl *Flow) Add(b Block) {
	if c, ok := b.(Continuing); ok {
		c.ContinueAs(fl.head)
	}
	fl.add(step{block: b})
}

func (fl *Flow) add(s step) {
	s.group = fl.group
	fl.steps = append(fl.steps, s)
}

// Together keeps all that add puts into the flow on one page, unless it is longer than one: a figure and its table.
func (fl *Flow) Together(add func()) {
	outer := fl.group
	if outer == 0 {
		fl.groups++
		fl.group = fl.groups
	}
	add()
	fl.group = outer
}

// NewPage goes on upon a new page, unless the present one is still empty.
func (fl *Flow) NewPage() { fl.turn(step{fresh: true}) }

// SetFrame goes on upon a new page in another frame: another section, a larger sheet.
func (fl *Flow) SetFrame(f Frame) { fl.turn(step{fresh: true, frame: &f}) }

// turn puts the new page before headings that wait for what follows them.
func (fl *Flow) turn(s step) {
	at := len(fl.steps)
	for at > 0 && fl.steps[at-1].heading {
		at--
	}
	fl.steps = append(fl.steps, step{})
	copy(fl.steps[at+1:], fl.steps[at:])
	fl.steps[at] = s
}

// Later adds what make puts into a flow of its own. In a long book that is made anew each time the book is laid out, when its turn comes, and let go
// when it is on its pages: so no more than a piece of such a book is in memory. It may not stand within Together, nor begin with a new page after a heading.
func (fl *Flow) Later(make func(fl *Flow)) {
	fl.add(step{later: make, head: fl.head})
	fl.head = "" // another may stand last by then
}

// mostKept is how many parts a book may have to be held from one layout to the next; a row of a table is a part.
const mostKept = 5_000

// placed is a part with what the flow knows of it.
type placed struct {
	Part
	block int
	group int
	fresh bool
	frame *framing // of the page that this part begins; nil to go on in the same
}

// Doc lays the book out, gives each page its frame with "page n of m", and checks it (Doc.Check). Errors: a block that
// fits no page, text that cannot be printed, an empty book. The title and the date may be set on the result.
func (fl *Flow) Doc(title string, date time.Time) (*Doc, error) {
	if _, err := fl.Marks(); err != nil {
		return &Doc{Title: title, Date: date}, err
	}
	doc := &Doc{Title: title, Date: date}
	l := &layout{of: len(fl.sheets), to: func(p Page) error {
		doc.Pages = append(doc.Pages, p)
		return nil
	}}
	err := fl.layOut(l)
	doc.Bookmarks = l.marks
	if err == nil {
		err = doc.Check()
		doc.sound = err == nil
	}
	return doc, err
}

// Marks is the headings of the book on the pages on which Doc will print them. Nothing is drawn for it.
func (fl *Flow) Marks() ([]Bookmark, error) {
	l := &layout{}
	err := fl.layOut(l)
	fl.sheets = l.sheets
	return l.marks, err
}

// Sheets is the sizes of the pages of the book as it was laid out by Marks.
func (fl *Flow) Sheets() []Size { return fl.sheets }

// Each hands over the pages of a book one after another, drawn and checked, and holds none of them. It must have been laid out by Marks before. note is
// printed at the foot of each page, where it says anything.
func (fl *Flow) Each(note func(page int) string, to func(Page) error) error {
	n := 0
	return fl.layOut(&layout{of: len(fl.sheets), note: note, to: func(p Page) error {
		n++
		if err := errors.Join(checkPage(&p, n)...); err != nil {
			return err
		}
		return to(p)
	}})
}

// layOut breaks the book into pages.
func (fl *Flow) layOut(l *layout) error {
	m := measuring{keep: fl.kept <= mostKept, draws: l.to != nil, flow: fl, groups: fl.groups}
	fl.kept = 0
	var held []placed // parts that are tied to each other
	m.to = func(p placed) {
		if n := len(held); n > 0 {
			last := &held[n-1]
			if last.group > 0 && last.group == p.group {
				last.Keep = max(last.Keep, Loose)
			}
			if last.Keep < Loose || p.fresh {
				l.next(held)
				held = held[:0]
			}
		}
		held = append(held, p)
	}
	m.steps(fl, 0)
	if len(held) > 0 {
		l.next(held)
	}
	l.dropEmpty()
	l.emit()
	return errors.Join(append(l.errs, m.errs...)...)
}

// measuring turns the steps of a book into one row of parts.
type measuring struct {
	flow    *Flow
	to      func(placed)
	errs    []error
	block   int
	groups  int
	keep    bool
	draws   bool // and does not only break pages
	tracing *contour
	ahead
}

// ahead is what holds for the steps that follow.
type ahead struct {
	frame   framing
	fresh   bool     // the next part begins a page
	next    *framing // of that page
	heading bool     // the step before is one
}

// chapter makes what comes later, unless it is held or its contour will do.
func (m *measuring) chapter(s *step) {
	made := s.made
	if !m.keep {
		s.made = nil
		if s.contour != nil && !m.draws {
			m.retrace(s.contour)
			m.hold(len(s.contour.parts))
			return
		}
	}
	if made == nil {
		made = &Flow{head: s.head}
		s.later(made)
		if m.keep {
			s.made = made
		}
	}
	groups := m.groups
	m.groups += made.groups
	if m.draws || m.tracing != nil || s.contour != nil {
		m.steps(made, groups)
		return
	}
	faults := len(m.errs)
	if c := m.trace(func() { m.steps(made, groups) }); !c.broken && len(m.errs) == faults {
		s.contour = c
	}
}

// hold counts parts, and tells whether they are held to the next layout.
func (m *measuring) hold(parts int) bool {
	m.flow.kept += parts
	m.keep = m.keep && m.flow.kept <= mostKept
	return m.keep
}

func (m *measuring) steps(fl *Flow, groups int) {
	for n := range fl.steps {
		s := &fl.steps[n]
		if s.frame != nil {
			m.frame = s.frame.measure()
			f := m.frame
			m.next = &f
		}
		m.fresh = m.fresh || s.fresh
		switch {
		case s.later != nil:
			m.chapter(s)
			continue
		case s.block == nil:
			m.heading = false
			continue
		}
		m.block++
		parts := s.parts
		_, changes := s.block.(Changing)
		if m.tracing != nil && changes {
			m.tracing.broken = true
		}
		if changes || !s.known {
			var err error
			if parts, err = s.block.Parts(m.frame.body.W, m.frame.body.H); err != nil {
				m.errs = append(m.errs, err)
			}
			if s.heading && m.heading {
				parts[0].Gap *= 0.4
			}
			s.parts, s.known = parts, err == nil
		}
		m.heading = s.heading
		if !m.hold(len(parts)) {
			s.parts, s.known = nil, false
		}
		group := s.group
		if group > 0 {
			group += groups
		}
		for _, p := range parts {
			m.to(placed{p, m.block, group, m.fresh, m.next})
			m.fresh, m.next = false, nil
		}
	}
}

// layout is the book as far as it is placed.
type layout struct {
	marks  []Bookmark
	count  int    // pages begun
	sheets []Size // of them
	begun  bool   // the last of them is in work
	frame  framing
	items  []Item // of that page
	drawn  framing
	y      MM // used of the body
	block  int
	rows   int // parts with a limit of that block on this page
	errs   []error

	of   int                   // how many pages there will be
	note func(page int) string // at the foot
	to   func(Page) error      // takes the pages; nil: nothing is drawn
}

// emit hands over the page in work.
func (l *layout) emit() {
	items := l.items
	l.items = l.items[:0]
	if !l.begun || l.to == nil || len(l.errs) > 0 {
		l.begun = false
		return
	}
	l.begun = false
	const frame = 24 // items of a frame, or more
	p := Page{Size: l.drawn.frame.size(), Items: make([]Item, 0, frame+len(items))}
	note := ""
	if l.note != nil {
		note = l.note(l.count - 1)
	}
	l.drawn.draw(NewCanvas(&p, Box{0, 0, p.Size.W, p.Size.H}), l.count, l.of, note)
	p.Items = append(p.Items, items...)
	if err := l.to(p); err != nil {
		l.errs = append(l.errs, err)
	}
}

func (l *layout) empty() bool { return !l.begun || l.y == 0 }

// dropEmpty takes back a page on which nothing was drawn.
func (l *layout) dropEmpty() {
	if l.begun && l.empty() {
		l.begun, l.items = false, l.items[:0]
		l.count--
		l.sheets = l.sheets[:l.count]
	}
}

func (l *layout) turn() {
	l.emit()
	l.begun, l.drawn = true, l.frame
	l.count++
	l.sheets = append(l.sheets, l.frame.frame.size())
	l.y, l.rows = 0, 0
}

// next places parts that are tied to each other, breaking the page before them if need be.
func (l *layout) next(ps []placed) {
	if ps[0].frame != nil {
		l.frame = *ps[0].frame
	}
	if ps[0].fresh {
		l.dropEmpty()
		l.turn()
	}
	if l.place(ps) {
		return
	}
	for i := 0; i < len(ps); { // the group is longer than a page: only firm ties hold
		chain := tied(ps, i, Firmly)
		for !l.place(ps[i:chain]) {
			chain--
			if chain == i {
				l.errs = append(l.errs, fmt.Errorf("a block %.0f mm high does not fit on a page with room for %.0f mm", float64(ps[i].Height), float64(l.frame.body.H)))
				chain = i + 1
				break
			}
		}
		i = chain
	}
}

// tied is the end of the run of parts from i on that are held together at least so strongly.
func tied(ps []placed, i int, k Keep) int {
	for i+1 < len(ps) && ps[i].Keep >= k && !ps[i+1].fresh {
		i++
	}
	return i + 1
}

// place draws the parts on this page or the next; false, with nothing drawn, when they fit on no page together.
func (l *layout) place(ps []placed) bool {
	switch {
	case l.fits(ps, l.y, l.block, l.rows):
	case !l.empty() && l.fits(ps, 0, -1, 0):
		l.turn()
	default:
		return false
	}
	for i, p := range ps {
		l.draw(p, i == len(ps)-1)
	}
	return true
}

// fits walks the parts as draw would.
func (l *layout) fits(ps []placed, y MM, block, count int) bool {
	for _, p := range ps {
		if p.block != block {
			block, count = p.block, 0
		}
		if p.Limit > 0 {
			if count++; count > p.Limit {
				return false
			}
		}
		y += p.needs(y == 0)
		if p.blank() {
			y = min(y, l.frame.body.H)
		}
		if y > l.frame.body.H+tolerance {
			return false
		}
	}
	return true
}

// blank tells a mere space, which never pushes a page over.
func (p Part) blank() bool { return p.Height == 0 && p.Draw == nil }

// needs is the height that a part takes up, at the top of a page or below.
func (p Part) needs(top bool) MM {
	switch {
	case !top:
		return p.Gap + p.Height
	case p.Again != nil:
		return p.Again.Height + p.Height
	}
	return p.Height
}

func (l *layout) draw(p placed, last bool) {
	if p.block != l.block {
		l.block, l.rows = p.block, 0
	}
	if p.Limit > 0 {
		l.rows++
	}
	if l.y > 0 {
		l.y += p.Gap
	} else if p.Again != nil {
		l.paint(*p.Again, p.Again.Height)
	}
	if p.blank() {
		l.y = min(l.y, l.frame.body.H)
		return
	}
	h := p.Height
	if p.Stretch && last {
		h = max(h, l.frame.body.H-l.y)
	}
	if p.Mark != nil {
		m := *p.Mark
		m.Page, m.Y = l.count-1, l.frame.body.Y+l.y
		if n := len(l.marks); n == 0 {
			m.Level = 1
		} else {
			m.Level = min(max(m.Level, 1), l.marks[n-1].Level+1)
		}
		l.marks = append(l.marks, m)
	}
	l.paint(p.Part, h)
}

func (l *layout) paint(p Part, h MM) {
	b := l.frame.body
	if p.Draw != nil && l.to != nil {
		p.Draw(&Canvas{Box{b.X, b.Y + l.y, b.W, h}, &l.items})
	}
	l.y += h
}

// Place draws a block at the top of a canvas without breaking pages, and returns the height it took; the caller sees
// to it that there is room.
func Place(c *Canvas, b Block) (MM, error) {
	parts, err := b.Parts(c.W(), c.H())
	y := MM(0)
	for _, p := range parts {
		if y > 0 {
			y += p.Gap
		}
		if p.Draw != nil {
			p.Draw(c.Sub(Box{0, y, c.W(), p.Height}))
		}
		y += p.Height
	}
	return y, err
}

// Height is what a block takes in the given width when no page ends inside it.
func Height(b Block, width MM) (MM, error) {
	parts, err := b.Parts(width, 1e6)
	y := MM(0)
	for i, p := range parts {
		if i > 0 {
			y += p.Gap
		}
		y += p.Height
	}
	return y, err
}
