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
	groups int // that were opened
	group  int // that is open, 0 for none
}

// step is one block, or the order to go on upon a new page, perhaps in another frame.
type step struct {
	block   Block
	heading bool
	group   int
	fresh   bool
	frame   *Frame
	parts   []Part // as they were measured
	known   bool   // they were
}

// Changing is a block that has to be measured anew each time a book is laid out; any other is measured once.
type Changing interface {
	Block
	Changes()
}

// NewFlow begins a book in the given frame.
func NewFlow(f Frame) *Flow { return &Flow{steps: []step{{fresh: true, frame: &f}}} }

// Add appends a block.
func (fl *Flow) Add(b Block) { fl.add(step{block: b}) }

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
	l, err := fl.layOut(title, false)
	l.doc.Date = date
	for i := range l.doc.Pages {
		p := &l.doc.Pages[i]
		body := p.Items
		p.Items = nil
		l.frames[i].draw(NewCanvas(p, Box{0, 0, p.Size.W, p.Size.H}), i+1, len(l.doc.Pages))
		p.Items = append(p.Items, body...)
	}
	err = errors.Join(append(l.errs, err)...)
	if err == nil {
		err = l.doc.Check()
		l.doc.sound = err == nil
	}
	return l.doc, err
}

// Marks is the headings of the book on the pages on which Doc will print them. Nothing is drawn for it.
func (fl *Flow) Marks() ([]Bookmark, error) {
	l, err := fl.layOut("", true)
	return l.doc.Bookmarks, errors.Join(append(l.errs, err)...)
}

// layOut breaks the book into pages; bare draws nothing on them.
func (fl *Flow) layOut(title string, bare bool) (*layout, error) {
	parts, err := fl.measure()
	l := &layout{doc: &Doc{Title: title}, bare: bare}
	for i := 0; i < len(parts); {
		i = l.next(parts, i)
	}
	l.dropEmpty()
	return l, err
}

// measure turns the steps into one row of parts.
func (fl *Flow) measure() ([]placed, error) {
	var (
		out   []placed
		errs  []error
		frame framing
		fresh bool
		next  *framing
	)
	for n := range fl.steps {
		s := &fl.steps[n]
		if s.frame != nil {
			frame = s.frame.measure()
			f := frame
			next = &f
		}
		fresh = fresh || s.fresh
		if s.block == nil {
			continue
		}
		if _, changes := s.block.(Changing); changes || !s.known {
			parts, err := s.block.Parts(frame.body.W, frame.body.H)
			if err != nil {
				errs = append(errs, err)
			}
			if s.heading && n > 0 && fl.steps[n-1].heading {
				parts[0].Gap *= 0.4
			}
			s.parts, s.known = parts, err == nil
		}
		for _, p := range s.parts {
			out = append(out, placed{p, n, s.group, fresh, next})
			fresh, next = false, nil
		}
	}
	for i := range out {
		if out[i].group > 0 && i+1 < len(out) && out[i+1].group == out[i].group {
			out[i].Keep = max(out[i].Keep, Loose)
		}
	}
	return out, errors.Join(errs...)
}

// layout is the book as far as it is placed.
type layout struct {
	doc    *Doc
	frames []framing
	frame  framing
	y      MM // used of the body
	block  int
	count  int // parts with a limit of that block on this page
	errs   []error
	bare   bool // nothing is drawn
}

func (l *layout) empty() bool { return len(l.frames) == 0 || l.y == 0 }

// dropEmpty takes back a page on which nothing was drawn.
func (l *layout) dropEmpty() {
	if n := len(l.frames); n > 0 && l.empty() {
		l.frames, l.doc.Pages = l.frames[:n-1], l.doc.Pages[:n-1]
	}
}

func (l *layout) turn() {
	l.frames = append(l.frames, l.frame)
	l.doc.Pages = append(l.doc.Pages, Page{Size: l.frame.frame.size()})
	l.y, l.count = 0, 0
}

// next places the parts that are tied to part i, breaking the page before them if need be, and returns the index of
// the first part that is left.
func (l *layout) next(ps []placed, i int) int {
	if ps[i].frame != nil {
		l.frame = *ps[i].frame
	}
	if ps[i].fresh {
		l.dropEmpty()
		l.turn()
	}
	group := tied(ps, i, Loose)
	if l.place(ps[i:group]) {
		return group
	}
	for i < group { // the group is longer than a page: only firm ties hold
		chain := min(tied(ps, i, Firmly), group)
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
	return group
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
	case l.fits(ps, l.y, l.block, l.count):
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
		l.block, l.count = p.block, 0
	}
	if p.Limit > 0 {
		l.count++
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
		m.Page, m.Y = len(l.frames)-1, l.frame.body.Y+l.y
		if n := len(l.doc.Bookmarks); n == 0 {
			m.Level = 1
		} else {
			m.Level = min(max(m.Level, 1), l.doc.Bookmarks[n-1].Level+1)
		}
		l.doc.Bookmarks = append(l.doc.Bookmarks, m)
	}
	l.paint(p.Part, h)
}

func (l *layout) paint(p Part, h MM) {
	b := l.frame.body
	if p.Draw != nil && !l.bare {
		p.Draw(NewCanvas(&l.doc.Pages[len(l.doc.Pages)-1], Box{b.X, b.Y + l.y, b.W, h}))
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
