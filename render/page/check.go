package page

import (
	"errors"
	"fmt"
	"math"

	"loomsheet/render/font"
)

// Ready is Check for a printer: the pages of a book that came out of a Flow are not looked at again.
func (d *Doc) Ready() error {
	if d.sound {
		return font.Check(font.Sans, d.Title)
	}
	return d.Check()
}

// Check is the gate before printing: nil when the book has pages, each text passes the font gate, stays in its cell
// and on its page, each drawn thing lies on the page, and the bookmarks point at pages. All faults are joined; a
// character that is missing in many places is named once.
func (d *Doc) Check() error {
	var errs []error
	said := map[string]bool{}
	add := func(err error) {
		if err != nil && !said[err.Error()] {
			said[err.Error()] = true
			errs = append(errs, err)
		}
	}
	if len(d.Pages) == 0 {
		add(errors.New("the book has no page"))
	}
	add(font.Check(font.Sans, d.Title))
	for i := range d.Pages {
		for _, err := range checkPage(&d.Pages[i], i+1) {
			add(err)
		}
	}
	d.titles(len(d.Pages), add)
	return errors.Join(errs...)
}

// CheckTitles is Check for the title and the bookmarks of a book of so many pages.
func (d *Doc) CheckTitles(pages int) error {
	var errs []error
	d.titles(pages, func(err error) {
		if err != nil {
			errs = append(errs, err)
		}
	})
	return errors.Join(append(errs, font.Check(font.Sans, d.Title))...)
}

func (d *Doc) titles(pages int, add func(error)) {
	last := 0
	for _, b := range d.Bookmarks {
		add(font.Check(font.Sans, b.Title))
		if b.Page < 0 || b.Page >= pages {
			add(fmt.Errorf("bookmark %q points at no page", b.Title))
		}
		if b.Level < 1 || b.Level > last+1 {
			add(fmt.Errorf("bookmark %q has level %d, under one of level %d", b.Title, b.Level, last))
		}
		last = b.Level
	}
}

// checkPage is the faults of one page.
func checkPage(p *Page, n int) (errs []error) {
	sheet := Box{0, 0, p.Size.W, p.Size.H}
	if !finite(sheet) || p.Size.W <= 0 || p.Size.H <= 0 {
		return []error{fmt.Errorf("page %d has no size", n)}
	}
	if len(p.Items) == 0 {
		errs = append(errs, fmt.Errorf("page %d is empty", n))
	}
	for _, item := range p.Items {
		if err := checkItem(item, n, sheet); err != nil {
			errs = append(errs, err)
		}
	}
	return errs
}

func finite(b Box) bool {
	for _, v := range []MM{b.X, b.Y, b.W, b.H} {
		if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
			return false
		}
	}
	return true
}

func checkItem(item Item, n int, sheet Box) error {
	b := item.Bounds()
	t, isText := item.(Text)
	if isText {
		if err := font.Check(t.Face, t.S); err != nil {
			return err
		}
		if !(t.Size > 0) || t.S == "" {
			return fmt.Errorf("page %d: a text without size or letters", n)
		}
	}
	if a, ok := item.(Arc); ok && !(math.Abs(float64(a.From)) <= 720 && math.Abs(float64(a.To)) <= 720) {
		return fmt.Errorf("page %d: an arc from %g to %g degrees", n, float64(a.From), float64(a.To))
	}
	switch {
	case !finite(b):
		return fmt.Errorf("page %d: a %T lies nowhere", n, item)
	case isText && !sheet.Holds(b):
		return fmt.Errorf("page %d: %q runs off the page", n, t.S)
	case isText && t.Cell != (Box{}) && !t.Cell.Holds(b):
		return fmt.Errorf("page %d: %q leaves its place", n, t.S)
	case !sheet.Holds(b):
		return fmt.Errorf("page %d: a %T runs off the page", n, item)
	}
	return nil
}

// Overlaps lists the pairs of text runs on the page that print over each other, by their measured boxes. A test of a
// book asks that there is none.
func (p Page) Overlaps() [][2]Text {
	var texts []Text
	for _, i := range p.Items {
		if t, ok := i.(Text); ok {
			texts = append(texts, t)
		}
	}
	var out [][2]Text
	for i, a := range texts {
		for _, b := range texts[i+1:] {
			if a.Bounds().Meets(b.Bounds()) {
				out = append(out, [2]Text{a, b})
			}
		}
	}
	return out
}
