package shell

import (
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// masks lists what the painter keeps bare: the threads of rivet nuts, studs and bolts, the seats of flanges that seal against wet or earth
// a screen, and the pads of earth studs, each with the torque of what is bolted there later. A stud post is insulated and gets none.
func (m *maker) masks(s *Shell, holes []need) {
	mounts := map[string]*Mount{}
	for i := range s.Mounts {
		mounts[s.Mounts[i].Hole] = &s.Mounts[i]
	}
	for i := range holes {
		h := &holes[i]
		if h.Panel == "" && h.pin == nil && h.stated == nil {
			continue // a clip on no panel is not settled yet
		}
		x := Mask{Mark: h.Mark, Panel: h.Panel, At: h.At, Known: h.Known, Side: h.From}
		if h.pin != nil {
			s.Masks = append(s.Masks, m.pad(x, h))
			continue
		}
		if f := m.fastener[h.Fastener]; f != nil && f.Thread != "" && slices.Contains([]string{"rivet-nut", "stud", "bolt", ""}, h.FastenerKind) {
			y := x
			y.What = "thread " + f.Thread + " of " + strings.ReplaceAll(or(h.FastenerKind, f.Name), "-", " ")
			if h.FastenerKind == "" {
				y.Note = "what sort of fastener it is, is not stated: masked if it has a thread in the body"
			}
			s.Masks = append(s.Masks, y)
		}
		if c := mounts[h.Mark]; c != nil && c.Kind == "connector" && h.brk != nil && h.main {
			wet := m.wet(c.Side)
			if !c.Bond && wet == "" {
				continue
			}
			y := x
			y.What, y.Size, y.Side = "seat under the flange of "+c.Name, c.Flange[0], c.Side
			if c.Bond {
				y.What = "bare " + y.What
			}
			if c.Flange[1] > 0 {
				y.What += ", " + unit.Number(float64(c.Flange[0]), 1) + " x " + mm(c.Flange[1])
				y.Size = max(c.Flange[0], c.Flange[1])
			}
			var why []string
			if c.Bond {
				why = append(why, "it earths a screen")
			}
			if wet != "" {
				why = append(why, "it seals against "+wet+" on an even face")
			}
			if !(y.Size > 0) {
				why = append(why, "the size of its flange is not known: take it from the part")
			}
			y.Note = strings.Join(why, "; ")
			s.Masks = append(s.Masks, y)
		}
	}
}

// pad is the bare metal about an earth stud, or the thread of another one.
func (m *maker) pad(x Mask, h *need) Mask {
	times, _ := m.number("earth-pad", design.Scope{Panel: h.Panel, Device: h.name})
	x.Torque = clean(h.pin.Torque)
	if h.Kind == "stud" {
		x.What, x.Note = "thread of the stud "+h.pin.Stud, "it is not on the minus side: the paint about it stays"
		return x
	}
	d, ok := threadSize(h.pin.Stud)
	if x.Size = unit.Length(times * float64(d)); ok && x.Size > 0 {
		x.What = "bare earth pad " + mm(x.Size) + " round, and the thread of the stud " + h.pin.Stud
		return x
	}
	x.Size = 0
	x.What, x.Note = "bare earth pad and the thread of the stud "+h.pin.Stud, "its size is not known: as wide as the lug and a little more"
	return x
}

// threadSize is the diameter of a metric thread (M8, M10x1.25), or of one in inches (1/4, 5/16-18).
func threadSize(thread string) (unit.Length, bool) {
	s := strings.TrimSpace(thread)
	if rest, ok := strings.CutPrefix(strings.ToUpper(s), "M"); ok {
		rest, _, _ = strings.Cut(rest, "X")
		x, err := strconv.ParseFloat(rest, 64)
		return unit.Length(x), err == nil && x > 0 && x < 1000
	}
	s, _, _ = strings.Cut(s, "-")
	over, under, ok := strings.Cut(s, "/")
	a, errA := strconv.ParseFloat(over, 64)
	b, errB := strconv.ParseFloat(under, 64)
	if !ok || errA != nil || errB != nil || !(a > 0) || !(b > 0) || a/b > 10 {
		return 0, false
	}
	return unit.Length(a / b * 25.4), true
}

// wet is what a zone has that must not come through: empty for a dry one.
func (m *maker) wet(zone string) string {
	if z := m.zone[zone]; z != nil {
		for _, w := range []string{"wet", "splash", "salt"} {
			if slices.Contains(z.With, w) {
				return w
			}
		}
	}
	return ""
}
