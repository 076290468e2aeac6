package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/harness/diag"
)

var cavityOpen = &Rule{
	Key: "cavity-open", Title: "an empty cavity in the wet that nothing plugs", Severity: diag.Finding,
	Why:     "One open cavity lets in the water that every seal beside it keeps out.",
	Formula: "every empty cavity of a sealed housing, or of a connector that can be sealed, in a wet place has a part with `plugs` for a contact that it takes",
	Source:  "common practice",
	Do:      "Declare the plug: `seal NAME plugs CONTACT`, or take a housing without spare cavities.",
	Fires:   openJob,
	Silent:  openJob + "seal stopper plugs own-16\n",
	Check: func(m *Model, out *diag.List) {
		for s := range m.Plan.Sections {
			for i := range m.Plan.Sections[s].Connectors {
				c := &m.Plan.Sections[s].Connectors[i]
				var open []string
				for _, r := range c.Rows {
					if r.Plug == "" && (r.Blank == bench.PlugIt || r.Blank == bench.LeftEmpty+"; plug it") {
						open = append(open, r.Cavity)
					}
				}
				if len(open) == 0 {
					continue
				}
				about := diag.Subject{Kind: "device", Name: c.Device}
				wet := false
				if c.Break != "" {
					about = diag.Subject{Kind: "break", Name: c.Break}
					if b := findBreak(m.Job, c.Break); b != nil {
						wet = wetBreak(m, b)
					}
				} else {
					wet = wetDevice(m, m.device(c.Device))
				}
				if wet {
					out.Finding(c.Span, "", fmt.Sprintf("%s: nothing plugs %s %s", c.Title, plural(len(open), "cavity", "cavities"), strings.Join(open, ", ")),
						fmt.Sprintf("It is empty, %s sits in the wet, and no part plugs what it takes.", c.Housing), about)
				}
			}
		}
	},
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// A wet wall, and a housing whose contacts no plug of the library knows.
var openJob = with(breakJob, "zone cabin air 40 C", "zone cabin air 40 C with splash\ncontact own-16 rating 13 A takes 0.5 mm2, 2 mm2 insulation 1 mm, 4 mm\nhousing own-sealed-5 keys A, B cut-out 24 mm flange 36 mm { cavity [1..5] takes own-16 }",
	"panel wall housing sealed-4", "panel wall housing own-sealed-5")
