// Package freeze writes decisions as statements of the language.
package freeze

import (
	"fmt"
	"strings"

	"loomsheet/harness/net"
)

// Text is the decisions that no frozen line holds yet, a statement each, under a comment that names the revision. n counts them.
func Text(decisions []net.Decision, revision string) (text []byte, n int) {
	var b strings.Builder
	for _, d := range decisions {
		if d.Old {
			continue
		}
		if n == 0 {
			fmt.Fprintf(&b, "# frozen at revision %s: copper from now on\n", revision)
		}
		n++
		wire := fmt.Sprintf("circuit %s from %s to %s frozen %s\n", d.Circuit, d.From, d.To, d.Revision)
		if d.Label != "" {
			fmt.Fprintf(&b, "label %q %s", d.Label, wire)
		} else {
			fmt.Fprintf(&b, "cavity %s.%s %s", d.Break, d.Cavity, wire)
		}
	}
	return []byte(b.String()), n
}
