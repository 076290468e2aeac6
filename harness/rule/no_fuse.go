package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/protect"
)

var noFuse = &Rule{
	Key: "no-fuse", Title: "a wire has nothing that protects it", Severity: diag.Finding,
	Why:     "A short on a wire without a protector ends in a fire: a battery drives over a thousand amperes into it.",
	Formula: "each conductor is traced back to its sources through every state of every switch: a fuse must stand between, or the source's own limit, `most`, must be within the wire's ampacity; what feeds no load may be bare for as long as unfused-most",
	Source:  "33 CFR 183.455, which leaves out the starting motor's cables alone; common practice",
	Do:      "Put a fuse at the source, or have a competent person accept the wire with its sheath and clearance.",
	Fires:   with(smallJob, "  inner cell\n  fuse blade-10 from cell to pos\n", "", "from cell to neg", "from pos to neg"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		if m.Protect == nil {
			return
		}
		for i := range m.Protect.Unfused {
			u := &m.Protect.Unfused[i]
			if u.Met || len(u.Fuses) > 0 && len(u.Loads) == 0 || len(u.Wires) == 0 || starterCable(u) && u.Sheathed {
				continue
			}
			first := &m.Net.Wires[u.Wires[0]]
			about := diag.Subject{Kind: "circuit", Name: first.Circuit}
			span := first.Span
			loads := list(u.Loads, 4)
			draws := fmt.Sprintf("A dead short at its far end draws %s%s.", map[bool]string{false: "up to "}[u.Loop], u.Amps)
			var title, detail string
			switch {
			case starterCable(u):
				title = fmt.Sprintf("nothing clears a short on the starter's bare cable, from %s to %s", u.Source.Device, loads)
				detail = draws + " If there is to be no fuse it needs a sleeve all the way, clearance from metal, edges and heat, nothing else fed from it, and a named person who accepts it: with the sleeve this is the finding starter-unfused."
			case u.Source.Own:
				title = fmt.Sprintf("nothing says what limits the supply of %s that feeds %s", u.Source.Device, loads)
				detail = "Say what it delivers at most, `most`; its wires must carry that, or take a fuse."
				if u.Source.Most > 0 {
					title = fmt.Sprintf("%s delivers up to %s into wires that do not carry it", u.Source.Device, u.Source.Most)
					detail = "Nothing else protects them. Thicker wires, or a fuse."
				}
				about, span = diag.Subject{Kind: "device", Name: u.Source.Device}, own(m, u.Source.Device, diag.Span{})
			case len(u.Loads) > 0:
				title = fmt.Sprintf("%s: nothing protects it between %s and %s", first.Name, u.Source.Device, loads)
				detail = draws
				if u.Source.Most > 0 {
					detail = fmt.Sprintf("%s delivers up to %s, more than it carries.", u.Source.Device, u.Source.Most)
				}
			default:
				title = fmt.Sprintf("%s is live from %s with no protector, %s long as far as %s", first.Name, u.Source.Device, u.Length, u.Far)
				detail = fmt.Sprintf("Without one at most %s, %s. %s", u.Most, u.Ruling.Source(), draws)
			}
			detail += " Wires: " + wireNames(m, u) + "."
			if u.Unknown {
				detail += " A part of its way has no known length."
			}
			out.Finding(span, "", title, strings.TrimSpace(detail), about)
		}
	},
}

// starterCable tells whether a bare stretch feeds a starting motor and nothing else, with no fuse anywhere.
func starterCable(u *protect.Unfused) bool { return u.Starter && len(u.Fuses) == 0 }

func wireNames(m *Model, u *protect.Unfused) string {
	var names []string
	for _, w := range u.Wires {
		names = append(names, m.Net.Wires[w].Name)
	}
	return list(names, 6)
}

func fuseName(m *Model, f protect.FuseRef) string {
	x := m.Protect.Fuse(f)
	if x == nil {
		return f.Device
	}
	return fmt.Sprintf("%s: fuse %s from %s to %s", x.Device, x.Part, x.From, x.To)
}
