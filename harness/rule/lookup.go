package rule

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// carried stands for a case where a link states its current.
const carried = "by what its link `carries`, or by the limit of the supply whose lead it is"

// points is every case, and at both ends of its supplies' spreads.
func (m *Model) points() []*solve.CaseResult {
	var out []*solve.CaseResult
	for _, c := range m.Cases {
		out = append(out, c.Variants()...)
	}
	return out
}

// where puts the place of a greatest current into a sentence.
func where(in string) string {
	if in == carried {
		return "Carried " + carried + "."
	}
	return "In case " + in + "."
}

func findFuse(job *design.Job, name string) *design.Fuse {
	for _, f := range job.Parts.Fuses {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// device is the first of a name; one that is not there has only its name.
func (m *Model) device(name string) *design.Device {
	if d := m.indexed().devices[name]; d != nil {
		return d
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

// own is the place in the job's own text for something of a device: a line that came from a pattern of the library is told at the device.
func own(m *Model, device string, span diag.Span) diag.Span {
	dev := m.device(device)
	if span.IsZero() || span.File != dev.Span.File && !m.ownFile(span.File) {
		return dev.Span
	}
	return span
}

// ownFile tells whether a file is one in which the job declares devices of its own, not the library's patterns.
func (m *Model) ownFile(file diag.File) bool {
	return file == m.Job.Span.File || m.indexed().files[file]
}

// elementAmps is the greatest steady current through a fuse, switch contact or the like of a device over all cases, and its case.
func elementAmps(m *Model, device string, kind solve.ElementKind, index int) (most unit.Current, in string) {
	g := m.indexed().amps()[elementKey{device, kind, index}]
	return g.amps, g.in
}
