package rule

import (
	"loomsheet/harness/design"
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
