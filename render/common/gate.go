package common

import (
	"errors"
	"fmt"

	"loomsheet/render/font"
)

// Gate collects the texts of a job that cannot be printed, each with the thing it belongs to.
type Gate struct{ errs []error }

// Text looks at texts that belong to one thing, named as a person would: "wire inj-feed box.f2 - A". Each is held
// against every face that the books set names in.
func (g *Gate) Text(where string, texts ...string) {
	for _, s := range texts {
		for _, f := range []font.Face{font.Sans, font.Bold, font.Narrow} {
			if err := font.Check(f, s); err != nil {
				g.errs = append(g.errs, fmt.Errorf("%s cannot be printed: %w", where, err))
				break
			}
		}
	}
}

// Err is nil when all can be printed; else each text that cannot, joined.
func (g *Gate) Err() error { return errors.Join(g.errs...) }

// Gate looks at the texts of the head.
func (h Head) Gate(g *Gate) {
	g.Text("the title of the job", h.Job)
	g.Text("the head of the job", h.Revision, h.Date, h.Datum, h.Digest)
}
