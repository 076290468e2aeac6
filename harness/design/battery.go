package design

// SupplyRef is one supply of a device.
type SupplyRef struct {
	Device *Device
	Index  int
}

// Batteries lists the supplies that go on giving when everything stands still: those that state what they store, and those without a
// current limit that some case lists, of a device that draws nothing itself. An alternator or a charger has a limit, a control unit's
// own 5 volts live on what the unit draws. By device.
func (j *Job) Batteries() []SupplyRef {
	listed := map[string]bool{}
	for _, c := range j.Cases {
		for _, s := range c.Supplies {
			listed[s.Device] = true
		}
	}
	var out []SupplyRef
	seen := map[string]bool{}
	for _, d := range j.Devices {
		if d.Pattern || seen[d.Name] {
			continue
		}
		seen[d.Name] = true
		for i := range d.Supplies {
			s := &d.Supplies[i]
			if s.Stores.Given || !s.Most.Given && listed[d.Name] && len(d.Draws) == 0 {
				out = append(out, SupplyRef{d, i})
			}
		}
	}
	return out
}
