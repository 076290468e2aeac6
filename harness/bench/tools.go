package bench

import (
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/unit"
)

// Tool is one thing that must be at hand before the work on a section begins.
type Tool struct {
	Name string // "torque wrench"
	For  string // what it must do: "3 Nm to 12 Nm"; empty: nothing more is known
}

// Others is what of a section's tools does not follow from its plan: sleeves that shrink, the torques of its studs, and its board.
type Others struct {
	Heat          bool
	Torques       []unit.Torque
	Width, Height unit.Length // of the forming board; 0: none
	Pegs          int
}

// Tools lists what the work on a section asks for, in the order in which it is first taken up.
func (s *SectionPlan) Tools(o Others) []Tool {
	var out []Tool
	add := func(name, what string) { out = append(out, Tool{name, what}) }
	var sizes []unit.Size
	longest := unit.Length(0)
	for i := range s.Cuts {
		c := &s.Cuts[i]
		longest = max(longest, c.Length)
		if !c.Size.IsZero() {
			sizes = append(sizes, c.Size)
		}
		for _, k := range c.Cores {
			if !k.Size.IsZero() {
				sizes = append(sizes, k.Size)
			}
		}
	}
	if len(s.Cuts) > 0 {
		what := "for pieces up to " + millimetres(longest) + " mm"
		if longest <= 0 {
			what = ""
		}
		add("tape or cutting stop", what)
	}
	if len(sizes) > 0 {
		slices.SortFunc(sizes, bySize)
		what := sizes[0].String()
		if last := sizes[len(sizes)-1]; bySize(sizes[0], last) != 0 {
			what += " to " + last.String()
		}
		add("cutter and stripper", what)
	}
	if len(s.Markers) > 0 {
		add("label printer", "")
	}
	out = append(out, crimpTools(s)...)
	if lo, hi := pulls(s); hi > 0 {
		add("pull tester", span(lo.String(), hi.String()))
	}
	if o.Width > 0 && o.Height > 0 {
		add("forming board", millimetres(o.Width)+" x "+millimetres(o.Height)+" mm, "+strconv.Itoa(o.Pegs)+" pegs")
	}
	if o.Heat {
		add("heat gun", "for sleeves and marks that shrink")
	}
	var torques []unit.Torque
	for _, t := range o.Torques {
		if t > 0 {
			torques = append(torques, t)
		}
	}
	if len(torques) > 0 {
		add("torque wrench", span(slices.Min(torques).String(), slices.Max(torques).String()))
	}
	if len(s.Inspection.Rings) > 0 {
		what := "that rings"
		for _, r := range s.Inspection.Rings {
			if slices.ContainsFunc(r.To, func(e RingEnd) bool { return e.Known }) {
				what = "that rings and reads milliohms"
			}
		}
		add("meter", what)
	}
	return out
}

// crimpTools are the tools that the parts name, each with its settings, then one line for the contacts whose tool only their own sheets tell.
func crimpTools(s *SectionPlan) []Tool {
	type tool struct {
		name     string
		settings []string
	}
	var known []tool
	var open []string
	for i := range s.Crimps {
		c := &s.Crimps[i]
		if c.Tool == NotStated || c.Tool == "" {
			if !slices.Contains(open, c.Contact) {
				open = append(open, c.Contact)
			}
			continue
		}
		k := slices.IndexFunc(known, func(t tool) bool { return t.name == c.Tool })
		if k < 0 {
			k, known = len(known), append(known, tool{name: c.Tool})
		}
		if c.Setting != NotStated && c.Setting != "" && !slices.Contains(known[k].settings, c.Setting) {
			known[k].settings = append(known[k].settings, c.Setting)
		}
	}
	var out []Tool
	for _, t := range known {
		what := t.name
		if len(t.settings) > 0 {
			what += ", set to " + strings.Join(t.settings, " or ")
		}
		out = append(out, Tool{"crimp tool", what})
	}
	if len(open) > 0 {
		out = append(out, Tool{"crimp tools by their own sheets", strings.Join(open, ", ")})
	}
	return out
}

// pulls is the range of the least forces of the section's samples; 0 where none is known.
func pulls(s *SectionPlan) (lo, hi unit.Force) {
	for i := range s.Crimps {
		if c := &s.Crimps[i]; c.Samples > 0 && len(c.Pull) > 0 {
			f := c.Pull[0].Force
			if hi == 0 || f < lo {
				lo = f
			}
			hi = max(hi, f)
		}
	}
	return lo, hi
}

func span(lo, hi string) string {
	if lo == hi {
		return lo
	}
	return lo + " to " + hi
}
