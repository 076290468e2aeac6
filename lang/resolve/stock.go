package resolve

import (
	"cmp"
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
)

// stock is reels of a wire that are at hand. A family has sizes and colours, a bought cable has neither.
func (b *builder) stock(s *sense.Stmt) {
	if s.Name() == "" || !b.part("wire", s.Name(), s.NameSpan()) {
		return
	}
	var part *design.Wire
	for _, w := range b.job.Parts.Wires {
		if w.Name == s.Name() {
			part = w
		}
	}
	if part == nil {
		return // of another kind, which was told
	}
	k := &design.Stock{Wire: part.Name, Lengths: lengths(s, "length"), Common: own(s)}
	b.aboveZero(s, "length", "what is on a reel")
	k.Lengths = slices.DeleteFunc(k.Lengths, func(l unit.Length) bool { return l <= 0 })
	slices.SortFunc(k.Lengths, func(x, y unit.Length) int { return cmp.Compare(y, x) })
	size, colour := s.Find("size"), s.Find("colour")
	if len(part.Cores) > 0 {
		for _, o := range []*sense.Opt{size, colour} {
			if o != nil {
				b.mistake(s, o.Span, "stock-of-cable", fmt.Sprintf("%s is a bought cable: it has no %s to choose", part.Name, o.Name), "Write the cable and the lengths only: its cores are what the part says.")
				return
			}
		}
		b.job.Stocks = append(b.job.Stocks, k)
		return
	}
	for _, x := range []struct {
		name string
		o    *sense.Opt
	}{{"size", size}, {"colour", colour}} {
		if x.o == nil {
			if s.Missing(x.name) {
				b.mistake(s, s.NameSpan(), "option-missing", fmt.Sprintf("this stock of %s has no `%s`", part.Name, x.name), "A reel holds one size in one colour: `stock thin-wall size 0.5 mm2 colour red length 100 m`.")
			}
			return
		}
	}
	k.Size, k.Colour = b.size(s, size.Values[0]), b.colour(s, colour.Values[0])
	if k.Size.IsZero() || k.Colour == "" {
		return
	}
	if len(part.Sizes) > 0 && !slices.ContainsFunc(part.Sizes, func(z design.WireSize) bool { return z.Size == k.Size }) {
		var has []string
		for _, z := range part.Sizes {
			has = append(has, z.Size.String())
		}
		b.mistake(s, size.Span, "no-such-size", fmt.Sprintf("wire %s is not had in %s", part.Name, k.Size), "It is had in "+join(has, "and")+".")
		return
	}
	b.job.Stocks = append(b.job.Stocks, k)
}

// crimps reads the lines of a contact that say how it is crimped.
func (b *builder) crimps(s *sense.Stmt, c *design.Contact) {
	at := map[unit.Size]diag.Span{}
	for _, l := range s.Block {
		if l.Word.Name != "crimp" {
			continue
		}
		var k design.ContactCrimp
		k.Height[0], k.Height[1] = b.range2(l, "height")
		b.aboveZero(l, "height", "the height of a crimp")
		k.Setting, k.Source, k.Span = l.Text("setting"), l.Text("source"), l.Span
		for _, v := range l.About {
			k.Size = b.size(l, v)
			if k.Size.IsZero() {
				continue
			}
			if first, twice := at[k.Size]; twice {
				b.mistake(l, v.Span, "name-twice", fmt.Sprintf("contact %s says twice how it is crimped on %s", c.Name, k.Size), "Keep one of the two.").Point(first, "first said here")
				continue
			}
			at[k.Size] = v.Span
			if !c.WireMost.IsZero() && (c.WireMost.Less(k.Size) || k.Size.Less(c.WireLeast)) {
				o := s.Find("takes")
				b.mistake(l, v.Span, "crimp-beyond", fmt.Sprintf("contact %s does not take %s", c.Name, k.Size), fmt.Sprintf("It takes %s to %s.", c.WireLeast, c.WireMost)).Point(o.Span, "said here")
				continue
			}
			c.Crimps = append(c.Crimps, k)
		}
	}
	slices.SortStableFunc(c.Crimps, func(x, y design.ContactCrimp) int {
		switch {
		case x.Size.Less(y.Size):
			return -1
		case y.Size.Less(x.Size):
			return 1
		}
		return 0
	})
}
