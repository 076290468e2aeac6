// Package freeze writes decisions as statements of the language.
package freeze

import (
	"fmt"
	"strings"

	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
)

// Count is how many statements of each kind were written.
type Count struct{ Cavities, Labels, Splices, Holes int }

// All is how many there are together.
func (c Count) All() int { return c.Cavities + c.Labels + c.Splices + c.Holes }

// Wires is the cavities, labels and places of splices that no frozen line holds yet, a statement each, under a comment that names the revision.
func Wires(decisions []net.Decision, revision string) (text []byte, n Count) {
	var b strings.Builder
	for _, d := range decisions {
		if d.Old {
			continue
		}
		if n.All() == 0 {
			fmt.Fprintf(&b, "# frozen at revision %s: copper from now on\n", revision)
		}
		wire := fmt.Sprintf("circuit %s from %s to %s frozen %s\n", d.Circuit, d.From, d.To, d.Revision)
		if d.Splice != "" {
			n.Splices++
			fmt.Fprintf(&b, "seat %s along %s", d.Splice, d.Along)
			if d.Until != "" {
				fmt.Fprintf(&b, " to %s", d.Until)
			}
			fmt.Fprintf(&b, " after %s mm frozen %s\n", number(d.After), d.Revision)
		} else if d.Label != "" {
			n.Labels++
			fmt.Fprintf(&b, "label %q %s", d.Label, wire)
		} else {
			n.Cavities++
			fmt.Fprintf(&b, "cavity %s.%s %s", d.Break, d.Cavity, wire)
		}
	}
	return []byte(b.String()), n
}

// Holes is the holes, studs and cut-outs that no line holds yet. Those that a line of the job states without freezing them are not written a
// second time: their names come back as stated. Those that a painted body has not are not written either: their names come back as late.
func Holes(decisions []shell.Decision, revision string) (text []byte, n Count, stated, late []string) {
	var b strings.Builder
	for _, d := range decisions {
		switch {
		case d.Old:
			continue
		case d.Late:
			late = append(late, d.Name)
			continue
		case d.Stated:
			stated = append(stated, d.Name)
			continue
		case n.Holes == 0:
			fmt.Fprintf(&b, "# frozen at revision %s: holes and studs from now on\n", revision)
		}
		n.Holes++
		fmt.Fprintf(&b, "hole %s at (%s, %s, %s mm)", d.Name, number(d.At.X), number(d.At.Y), number(d.At.Z))
		if d.Panel != "" {
			fmt.Fprintf(&b, " panel %s", d.Panel)
		}
		if d.Drill > 0 {
			fmt.Fprintf(&b, " drill %s mm", number(d.Drill))
			if d.High > 0 {
				fmt.Fprintf(&b, ", %s mm", number(d.High))
			}
		}
		if d.Fastener != "" {
			fmt.Fprintf(&b, " fastener %s", d.Fastener)
		}
		fmt.Fprintf(&b, " frozen %s", d.Revision)
		if d.Note != "" {
			fmt.Fprintf(&b, " note %q", d.Note)
		}
		b.WriteByte('\n')
	}
	return []byte(b.String()), n, stated, late
}

// number is a coordinate to the micrometre, by which places are told apart.
func number(x unit.Length) string { return unit.Number(float64(x), 3) }
