package rule

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// worstAmps is the greatest steady current of a wire and its case.
func worstAmps(m *Model, wire int) (most unit.Current, in string) {
	for _, c := range m.Cases {
		if wire < len(c.WireAmps) {
			if a := unit.Current(math.Abs(float64(c.WireAmps[wire]))); a > most {
				most, in = a, c.Case
			}
		}
	}
	return most, in
}

func findContact(job *design.Job, name string) *design.Contact {
	for _, k := range job.Parts.Contacts {
		if k.Name == name {
			return k
		}
	}
	return nil
}

func findFuse(job *design.Job, name string) *design.Fuse {
	for _, f := range job.Parts.Fuses {
		if f.Name == name {
			return f
		}
	}
	return nil
}

func findDevice(job *design.Job, name string) *design.Device {
	for _, d := range job.Devices {
		if d.Name == name {
			return d
		}
	}
	return &design.Device{Name: name}
}

func findHousing(job *design.Job, name string) *design.Housing {
	for _, h := range job.Parts.Housings {
		if h.Name == name {
			return h
		}
	}
	return nil
}
