package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/route"
)

func waters(m *Model, what string, say func(w *route.Water) *diag.Diagnostic) {
	for i := range m.Route.Waters {
		if w := &m.Route.Waters[i]; w.What == what {
			say(w)
		}
	}
}
