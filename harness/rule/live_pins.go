package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
)

// mostPins is how many live pins a message lists.
const mostPins = 6

var livePins = &Rule{
	Key: "live-pins", Title: "the half that stays live has its pins exposed", Severity: diag.Finding,
	Why:     "Whoever pulls the plug touches metal that is still live, or lays it against the body: a spark, a burnt wire, a load that starts.",
	Formula: "with every supply of the job attached, in no state of any switch or relay has a pin of an unplugged half live-least volts or more, over metal or through loads of at most live-through",
	Source:  "common practice: the half that can be live carries the sockets; solved from the net",
	Do:      "Exchange pins and sockets of the break. Where both halves can be live, lead one half's feeds through a break of their own, switch them off with something that is always undone first, or accept the finding with a cap for the pins.",
	Fires:   with(breakJob, "half body contacts sockets", "half body contacts pins", "half nose contacts pins", "half nose contacts sockets"),
	Silent:  breakJob,
	Check: func(m *Model, out *diag.List) {
		if m.Live == nil {
			return
		}
		for i := range m.Live.Breaks {
			u := &m.Live.Breaks[i]
			for side := range u.Halves {
				h, other := &u.Halves[side], &u.Halves[1-side]
				if u.Post || h.Contacts != "pins" || h.Counted == 0 {
					continue
				}
				var lines []string
				for k := range h.Live {
					c := &h.Live[k]
					if !c.Counts {
						continue
					}
					if len(lines) == mostPins {
						lines = append(lines, fmt.Sprintf("and %d more.", h.Counted-mostPins))
						break
					}
					s := fmt.Sprintf("%s, %s: %s", c.CalledOut(), c.Wire, c.Is())
					if len(c.Feeds) > 0 {
						x := c.Worst()
						p := x.Proof()
						s += fmt.Sprintf(", %s (%s)", x.From(), p[len(p)-1])
					}
					lines = append(lines, s+".")
				}
				rest := "The other half stays dead: exchange pins and sockets."
				if other.Counted > 0 {
					rest = fmt.Sprintf("The other half can be live as well, in %s: an exchange alone does not help.", several(other.Counted, "cavity", "cavities"))
				}
				out.Finding(h.Span, "", fmt.Sprintf("break %s, half %s: %s can be live with the plug pulled, and lie open", u.Undo.Name, h.Section, several(h.Counted, "pin", "pins")),
					strings.Join(append(lines, rest), " "), diag.Subject{Kind: "break", Name: u.Undo.Name})
			}
		}
	},
}

func several(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
