package rule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
)

var alikeWires = &Rule{
	Key: "alike-wires", Title: "two wires of one colour and gauge in a housing, and no marker", Severity: diag.Finding,
	Why:     "Nothing tells them apart at the housing: which of the two goes where is found by ringing, or not at all.",
	Formula: "in one housing no two wires of one section have one colour and one gauge, where `set markers to none` holds for one of them and no `label` line marks it",
	Source:  "common practice",
	Do:      "Mark them (`set markers to all`, or a `label` line), or take another colour.",
	Fires:   with(breakJob, "horn.1 colour brown", "horn.1 colour red") + "set markers to none\n",
	Silent:  with(breakJob, "horn.2 colour black", "horn.2 colour white") + "set markers to none\n",
	Check: func(m *Model, out *diag.List) {
		for s := range m.Plan.Sections {
			for i := range m.Plan.Sections[s].Connectors {
				c := &m.Plan.Sections[s].Connectors[i]
				alike := map[string][]string{}
				var order []string
				for _, r := range c.Rows {
					for _, w := range r.Wires {
						x := &m.Net.Wires[w]
						if r.Colour == "" || x.Cable != "" || c.Housing == "" || m.marked(w) {
							continue
						}
						k := r.Size.String() + " " + r.Colour
						if alike[k] == nil {
							order = append(order, k)
						}
						alike[k] = append(alike[k], fmt.Sprintf("%s in %s", x.Circuit, r.Cavity))
					}
				}
				slices.SortStableFunc(order, func(a, b string) int { return cmp.Compare(len(alike[b]), len(alike[a])) })
				for _, k := range order {
					if len(alike[k]) < 2 {
						continue
					}
					about := diag.Subject{Kind: "device", Name: c.Device}
					if c.Break != "" {
						about = diag.Subject{Kind: "break", Name: c.Break}
					}
					out.Finding(c.Span, "", fmt.Sprintf("%s: %d wires of %s", c.Title, len(alike[k]), k), strings.Join(alike[k], ", ")+": nothing tells them apart.", about)
				}
			}
		}
	},
}

// marked tells whether a wire gets a marker: all do, but where `set markers to none` holds and no line states its mark.
func (m *Model) marked(wire int) bool {
	w := &m.Net.Wires[wire]
	return w.LabelStatus != design.Computed || m.Job.Settings.Get("markers", design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section}).Value.Name != "none"
}
