package rule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/diag"
)

var bushSmall = &Rule{
	Key: "bush-small", Title: "a bundle is thicker than the bore of its bush", Severity: diag.Finding,
	Why:     "A bundle that is pulled through a bore too small for it strips its insulation, or the bush is left out.",
	Formula: "the bore at least the top of the band of what passes the bush, with sleeves; several bundles together as 1.2 sqrt(sum d2)",
	Source:  "the bundle's band: closest packing up to the trade's figure 1.2 sqrt(sum d2); bore of a bush as stated",
	Do:      "Take a bush of a larger bore, or lead a run through one of its own.",
	Fires: with(breakJob, "break P", "panel rib thickness 1.5 mm zone cabin, cabin {\n  corners (200, -300, -300 mm), (200, 300, -300 mm), (200, 300, 300 mm), (200, -300, 300 mm)\n}\npoint grommet at (200, 0, 0 mm) panel rib bush 4 mm\nbreak P",
		"run rear from battery to P", "run rear from battery to grommet to P"),
	Silent: with(breakJob, "break P", "panel rib thickness 1.5 mm zone cabin, cabin {\n  corners (200, -300, -300 mm), (200, 300, -300 mm), (200, 300, 300 mm), (200, -300, 300 mm)\n}\npoint grommet at (200, 0, 0 mm) panel rib bush 16 mm\nbreak P",
		"run rear from battery to P", "run rear from battery to grommet to P"),
	Check: func(m *Model, out *diag.List) {
		g := m.Net.Space
		if g == nil || m.Bundles == nil {
			return
		}
		for _, p := range m.Job.Points {
			if !(p.Bush > 0) {
				continue
			}
			most, edges, known := m.Bundles.Through(g.Find(cmp.Or(p.Node, p.Name)))
			if !known || !(most > p.Bush) {
				continue
			}
			var runs []string
			for _, e := range edges {
				if r := g.Edges[e].Run; !slices.Contains(runs, r) {
					runs = append(runs, r)
				}
			}
			what, about := "run "+runs[0], diag.Subject{Kind: "run", Name: runs[0]}
			if len(runs) > 1 {
				what = "runs " + strings.Join(runs, ", ") + " together"
			}
			if p.Panel != "" {
				about = diag.Subject{Kind: "panel", Name: p.Panel}
			}
			out.Finding(p.Span, "", fmt.Sprintf("bush %s has a bore of %s, and what passes it is up to %s thick", p.Name, p.Bush, most),
				fmt.Sprintf("It is %s. Laid by hand and sleeved that is the most; the bore must take it without force.", what), about).Measured(mm(most), mm(p.Bush), false).
				Point(g.Edges[edges[0]].Span, "what passes")
		}
	},
}
