package rule

import "loomsheet/harness/layup"

// laidInLayers lists the trunks that are laid in layers; what is not known is not among them.
func laidInLayers(m *Model) (out []*layup.Trunk) {
	if m.Layup == nil || m.Net == nil || m.Net.Space == nil {
		return nil
	}
	for i := range m.Layup.Trunks {
		if t := &m.Layup.Trunks[i]; t.Kind == layup.Layers {
			out = append(out, t)
		}
	}
	return out
}
