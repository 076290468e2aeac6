package rule

import (
	"fmt"
	"slices"

	"loomsheet/harness/diag"
	"loomsheet/harness/heat"
	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

var fuseOverWire = &Rule{
	Key: "fuse-over-wire", Title: "a fuse does not protect its thinnest wire", Severity: diag.Finding,
	Why: "A fuse protects every thinner wire downstream of it up to the next fuse, or none.",
	Formula: "at each listed multiple of the rating, 1.1 to 6: the current just below the next one, for as long as the fuse may take, keeps the wire within its rating + short-rise; " +
		"what the fuse need never open at, for good, within rating + overload-rise; at a dead short the energy let through <= k2S2 of the wire",
	Source: "ISO 8820 gates as makers print them, latest time at the next lower listed multiple; heat balance; IEC 60364-5-54; ISO 6722-1 overload temperatures, from memory",
	Do:     "Take a smaller fuse or a thicker wire.",
	Fires:  with(smallJob, "fuse blade-10", "fuse blade-30", "to lamp.1 colour red", "to lamp.1 size 0.5 mm2 colour red"),
	Silent: with(smallJob, "fuse blade-10", "fuse blade-5", "to lamp.1 colour red", "to lamp.1 size 0.5 mm2 colour red"),
	Check: func(m *Model, out *diag.List) {
		if m.Protect == nil {
			return
		}
		of := suspects(m)
		for i := range m.Protect.Fuses {
			f := &m.Protect.Fuses[i]
			var worst *protect.WireResult
			var most unit.Ratio
			var others []string
			for _, k := range of[f.FuseRef] {
				w := &m.Protect.Wires[k]
				used, ok := overloaded(m, w, f.FuseRef)
				if !ok {
					continue
				}
				others = append(others, m.Net.Wires[w.Wire].Name)
				if worst == nil || unit.Worse(used, most) {
					worst, most = w, used
				}
			}
			if worst == nil {
				continue
			}
			detail, value, limit := tooThin(m, worst, f.FuseRef)
			if i := slices.Index(others, m.Net.Wires[worst.Wire].Name); len(others) > 1 {
				detail += " So it is with " + list(slices.Delete(others, i, i+1), 6) + "."
			}
			detail += larger(m, worst.Wire)
			if o := worst.Overload; !f.Verified || o != nil && !o.Verified {
				detail += " The figure rests on values that are not verified."
			}
			w := &m.Net.Wires[worst.Wire]
			out.Finding(w.Span, "", fmt.Sprintf("%s, %s, is too thin for %s, %s", w.Name, m.Sizes[worst.Wire].Size, fuseName(m, f.FuseRef), f.Rating), detail, wireSubject(w)).
				Measured(value, limit, false).Point(own(m, f.Device, f.Span), "the fuse")
		}
	},
}

// tooThin words what an overload, and a dead short besides, do to a wire behind a fuse.
func tooThin(m *Model, w *protect.WireResult, f protect.FuseRef) (detail string, value, limit unit.Quantity) {
	o, h := w.Overload, w.Short
	if o != nil && !o.Met && o.Fuse == f {
		if o.Latest == protect.Never {
			detail = fmt.Sprintf("At up to %s of its rating the fuse need never open. That is %s in this wire, which stands %s for good before it is past %s.", o.Times, o.Amps, o.Stands, o.Limit)
			value, limit = amps(o.Amps), amps(o.Stands)
		} else {
			detail = fmt.Sprintf("At up to %s of its rating the fuse may take %s. %s in this wire bring it to %s by then, at most %s; it is there after %s.", o.Times, o.Latest, o.Amps, heat.Words(o.Reaches), o.Limit, o.Lasts)
			value, limit = degrees(o.Reaches), degrees(o.Limit)
		}
	}
	if o != nil && !o.Met && o.Fuse == f && o.Beside > 0 {
		detail += fmt.Sprintf(" In that are %s of limited sources that come in at the same end.", o.Beside)
	}
	if h != nil && !h.Met && h.Latest != protect.Never && h.Short >= 0 && h.Short < len(m.Protect.Shorts) {
		s := &m.Protect.Shorts[h.Short]
		if detail == "" {
			value, limit = degrees(h.Reaches), degrees(h.Limit)
		} else {
			detail += " "
		}
		detail += fmt.Sprintf("A dead short at %s in case %s drives %s: %.4g A2s, it stands %.4g A2s from %s on, and reaches %s, at most %s.",
			s.At, s.Case, course(h), float64(h.Energy), float64(h.Stands), h.Start, heat.Words(h.Reaches), h.Limit)
	}
	return detail, value, limit
}

// course words what a wire carries in a short, one current after the other where fuses open one after the other.
func course(h *protect.ShortHeat) string {
	if len(h.Steps) < 2 {
		return fmt.Sprintf("%s through it for up to %s", h.Amps, h.Latest)
	}
	text := ""
	for i, s := range h.Steps {
		if i > 0 {
			text += ", then "
		}
		text += s.Amps.String() + " "
		if i == 0 {
			text += "through it "
		}
		if s.For == protect.Never {
			text += "for good"
		} else {
			text += "for up to " + s.For.String()
		}
	}
	return text
}

// larger is the size that would do in place of a stated one, where the program could find one.
func larger(m *Model, wire int) string {
	w := &m.Net.Wires[wire]
	if w.Stated.IsZero() && w.Cable == "" {
		return " It is left to the program and as large as the contacts at its ends take, or as its family has."
	}
	if m.Freed == nil {
		return ""
	}
	to, ok := m.Freed.Sizes[w.Name]
	if !ok || !m.Sizes[wire].Size.Less(to) {
		return ""
	}
	if m.Freed.Loose[w.Name] {
		return fmt.Sprintf(" It would take %s, and no contact at its ends takes that.", to)
	}
	return fmt.Sprintf(" It would take %s.", to)
}

// overloaded tells whether a wire is past its limit behind a fuse, by how much, and that it is told here: not by the heat of its steady state, nor by
// a short that never clears. A short that is cleared too late heats no more than the overload up to the same current, so both are one finding; alone
// it is told where the fuse that clears it is another than the wire's own.
func overloaded(m *Model, w *protect.WireResult, f protect.FuseRef) (used unit.Ratio, ok bool) {
	if w.Wire < 0 || w.Wire >= len(m.Net.Wires) || w.Wire >= len(m.Sizes) {
		return 0, false
	}
	if o := w.Overload; o != nil && !o.Met {
		if o.Fuse != f || hotAlready(m, w.Wire, o.Limit) {
			return 0, false
		}
		if o.Latest == protect.Never {
			for i := range m.Protect.Shorts {
				if s := &m.Protect.Shorts[i]; hottest(m, s) == w.Wire && nearest(s).Fuse == f {
					return 0, false
				}
			}
		}
		return o.Used, true
	}
	h := w.Short
	if h == nil || h.Met || h.Latest == protect.Never || h.Short < 0 || h.Short >= len(m.Protect.Shorts) || hotAlready(m, w.Wire, h.Limit) {
		return 0, false
	}
	s := &m.Protect.Shorts[h.Short]
	return h.Used, len(s.Fuses) > 0 && s.Fuses[0].Fuse == f
}

// suspects lists by fuse the wires that it may be told of, ascending: overloaded tells nothing of any other.
func suspects(m *Model) map[protect.FuseRef][]int {
	out := map[protect.FuseRef][]int{}
	for i := range m.Protect.Wires {
		w := &m.Protect.Wires[i]
		switch h := w.Short; {
		case w.Overload != nil && !w.Overload.Met:
			out[w.Overload.Fuse] = append(out[w.Overload.Fuse], i)
		case h != nil && !h.Met && h.Short >= 0 && h.Short < len(m.Protect.Shorts):
			if s := &m.Protect.Shorts[h.Short]; len(s.Fuses) > 0 {
				out[s.Fuses[0].Fuse] = append(out[s.Fuses[0].Fuse], i)
			}
		}
	}
	return out
}

// hottest is the wire that short-too-weak tells of; -1 if it tells nothing.
func hottest(m *Model, s *protect.Short) int {
	if !tooWeak(m, s) {
		return -1
	}
	wire, _ := least(s)
	return wire
}

// hotAlready tells whether a wire is past a limit before anything goes wrong: that is too-hot's to tell.
func hotAlready(m *Model, wire int, limit unit.Temperature) bool {
	return m.Heat != nil && wire < len(m.Heat.Wires) && m.Heat.Wires[wire].Hottest >= limit
}

func degrees(t unit.Temperature) unit.Quantity {
	return unit.Quantity{Value: float64(t), Dim: unit.DimTemperature}
}
