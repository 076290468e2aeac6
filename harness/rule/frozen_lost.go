package rule

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var frozenLost = &Rule{
	Key: "frozen-lost", Title: "a frozen decision concerns a wire, a splice or a panel that is no longer there", Severity: diag.Finding,
	Why:     "What is frozen is copper or holes: a wire or a panel that disappears from the text is still in the vehicle.",
	Formula: "each frozen cavity and label finds its wire, each frozen seat its splice and run, each frozen hole its panel and the part in it",
	Source:  "common practice",
	Do:      "Bring it back, or take it out of the vehicle and the frozen line out of its file.",
	Fires:   breakJob + "label \"L1\" circuit feed from battery.pos to horn.1 frozen A\n",
	Silent:  breakJob + "label \"L1\" circuit feed from battery.pos to P frozen A\n",
	Check: func(m *Model, out *diag.List) {
		problems(net.FrozenLost, func(p *net.Problem) string { return "no wire is left for what is decided of " + link(p) })(m, out)
		for _, s := range m.Job.Seats {
			if s.Lost {
				out.Finding(s.Span, "", fmt.Sprintf("splice %s is frozen %s along run %s, and one of the two is no longer there", s.Splice, s.After, s.Along), "It is in the harness since revision "+s.Frozen+".", diag.Subject{Kind: "splice", Name: s.Splice})
			}
		}
		for _, h := range m.Job.Holes {
			if h.Frozen == "" {
				continue
			}
			about := diag.Subject{Kind: "hole", Name: h.Name}
			if h.Panel != "" && !slices.ContainsFunc(m.Job.Panels, func(p *design.Panel) bool { return p.Name == h.Panel }) {
				out.Finding(h.Span, "", fmt.Sprintf("hole %s is frozen in panel %s, which is no longer there", h.Name, h.Panel), "It is in the body since revision "+h.Frozen+".", about)
			}
			if h.Fastener != "" && !slices.ContainsFunc(m.Job.Parts.Fasteners, func(f *design.Fastener) bool { return f.Name == h.Fastener }) {
				out.Finding(h.Span, "", fmt.Sprintf("%s is frozen in hole %s, and there is no such part any more", h.Fastener, h.Name), "It is in the body since revision "+h.Frozen+".", about)
			}
		}
	},
}
