package rule

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// wetZone tells whether water, oil or salt comes to a zone.
func wetZone(job *design.Job, zone string) bool {
	for _, z := range job.Zones {
		if z.Name == zone {
			return slices.ContainsFunc(z.With, func(w string) bool { return w == "wet" || w == "splash" || w == "salt" || w == "oil" })
		}
	}
	return false
}

// wetBreak tells whether one side of a break is wet: of its panel, or of a run that comes to it.
func wetBreak(m *Model, b *design.Break) bool {
	for _, p := range m.Job.Panels {
		if p.Name == b.Panel && slices.ContainsFunc(p.Zones, func(z string) bool { return wetZone(m.Job, z) }) {
			return true
		}
	}
	return wetNode(m, b.Node, b.Name)
}

// wetDevice tells whether a device sits in the wet: by its own zone, else by the runs that come to it.
func wetDevice(m *Model, d *design.Device) bool {
	if d.Zone != "" {
		return wetZone(m.Job, d.Zone)
	}
	return wetNode(m, d.Node, d.Name)
}

func wetNode(m *Model, node, name string) bool {
	if node == "" {
		node = name
	}
	g := m.Net.Space
	n := g.Find(node)
	return n >= 0 && slices.ContainsFunc(g.Around(n), func(e int) bool { return wetZone(m.Job, g.Edges[e].Zone) })
}

// wetEnd is the same for an end of a wire.
func wetEnd(m *Model, t *net.Termination) bool {
	if t.Kind == net.InHalf {
		if b := findBreak(m.Job, t.Break); b != nil {
			return wetBreak(m, b)
		}
		return false
	}
	return wetDevice(m, m.device(t.Device))
}

func findBreak(job *design.Job, name string) *design.Break {
	for _, b := range job.Breaks {
		if b.Name == name {
			return b
		}
	}
	return nil
}

// housingAt is the housing part of an end in a cavity; empty if it is in none.
func housingAt(m *Model, t *net.Termination) string {
	switch t.Kind {
	case net.InHalf:
		if b := findBreak(m.Job, t.Break); b != nil {
			return b.Halves[t.Half&1].Housing
		}
	case net.InCavity:
		if d := m.device(t.Device); t.Housing >= 0 && t.Housing < len(d.Housings) {
			return d.Housings[t.Housing].Part
		}
	}
	return ""
}
