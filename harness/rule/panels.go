package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/shell"
)

func findPanel(job *design.Job, name string) *design.Panel {
	for _, p := range job.Panels {
		if p.Name == name {
			return p
		}
	}
	return nil
}

func panelText(name string) string {
	if name == "" {
		return "no panel"
	}
	return "panel " + name
}

// misfits words those that do not suit their panel of one sort.
func misfits(m *Model, out *diag.List, of func(x *shell.Misfit) bool) {
	for i := range m.Shell.Misfits {
		if x := &m.Shell.Misfits[i]; of(x) {
			out.Finding(x.Where, "", fmt.Sprintf("%s %s on %s: %s", x.Kind, x.Name, panelText(x.Panel), x.Text), "", aboutPanel(x.Panel)).Point(x.Other, "the panel")
		}
	}
}
