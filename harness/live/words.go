package live

import (
	"fmt"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

func (f *finder) fuse(r protect.FuseRef) (*design.DeviceFuse, bool) {
	d := f.device[r.Device]
	if d == nil || r.Index < 0 || r.Index >= len(d.Fuses) {
		return nil, false
	}
	return &d.Fuses[r.Index], true
}

// rating of a fuse; 0 not known.
func (f *finder) rating(r protect.FuseRef) unit.Current {
	if x, ok := f.fuse(r); ok {
		for _, p := range f.job.Parts.Fuses {
			if p.Name == x.Part {
				return p.Rating
			}
		}
	}
	return 0
}

// behind is the last fuse of a way in words, or the source that none protects.
func (f *finder) behind(w *protect.Way) string {
	n := len(w.Fuses)
	if n == 0 {
		s := "no fuse: " + w.Source.Device
		if w.Source.Own {
			s += "'s own supply"
		}
		if w.Source.Most > 0 {
			s += ", limit " + w.Source.Most.String()
		}
		return s
	}
	r := w.Fuses[n-1]
	x, ok := f.fuse(r)
	if !ok {
		return "fuse of " + r.Device
	}
	s := fmt.Sprintf("fuse %s %s - %s", r.Device, x.From, x.To)
	if a := f.rating(r); a > 0 {
		s += ", " + a.String()
	}
	return s
}

// cautions is what the person who undoes it must know first.
func cautions(u *Unplugged) (out []string) {
	name := func(c *Cavity) string {
		if c.Name == "" {
			return "the wire without a cavity"
		}
		return c.Name
	}
	for side := range u.Halves {
		h := &u.Halves[side]
		var bare, loads, own []string
		for i := range h.Live {
			c := &h.Live[i]
			if !c.Counts {
				continue
			}
			if c.Exposed {
				bare = append(bare, name(c))
			}
			if c.Kind == Through && len(c.Feeds) > 0 && len(c.Feeds[0].Loads) > 0 {
				loads = append(loads, name(c))
			}
			if c.Kind == Fed && len(c.Feeds) > 0 {
				for k := range c.Feeds {
					if x := &c.Feeds[k]; x.Fuse == nil && !x.Source.Own {
						own = append(own, fmt.Sprintf("%s (%s A)", name(c), unit.Number(float64(x.Amps), 0)))
						break
					}
				}
			}
		}
		if len(own) > 0 {
			out = append(out, fmt.Sprintf("%s: no fuse before %s. A tool from there to metal draws what stands in brackets and does not stop.", h.Title, strings.Join(own, ", ")))
		}
		switch {
		case len(bare) == 0:
		case u.Post:
			out = append(out, h.Title+": the bare stud and its lugs can be live. Cover them before anything else is touched.")
		default:
			out = append(out, fmt.Sprintf("%s: %s can be live and %s open. Cap it as soon as it is off.", h.Title, strings.Join(bare, ", "), either(len(bare), "lies", "lie")))
		}
		if len(loads) > 0 {
			out = append(out, fmt.Sprintf("%s: %s can be live through a load, which runs when %s to metal.", h.Title, strings.Join(loads, ", "), either(len(loads), "it is laid", "they are laid")))
		}
	}
	return out
}

func either(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
