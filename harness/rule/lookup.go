package rule

import (
	"math"

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

// own is the place in the job's own text for something of a device: a line that came from a pattern of the library is told at the device.
func own(job *design.Job, device string, span diag.Span) diag.Span {
	dev := findDevice(job, device)
	if span.IsZero() || span.File != dev.Span.File && !sameJob(job, span.File) {
		return dev.Span
	}
	return span
}

// sameJob tells whether a file is one in which the job declares devices of its own, not the library's patterns.
func sameJob(job *design.Job, file string) bool {
	if file == job.Span.File {
		return true
	}
	for _, d := range job.Devices {
		if !d.Pattern && d.Span.File == file {
			return true
		}
	}
	return false
}

// elementAmps is the greatest steady current through a fuse, switch contact or the like of a device over all cases, and its case.
func elementAmps(m *Model, device string, kind solve.ElementKind, index int) (most unit.Current, in string) {
	for _, c := range m.points() {
		if c.Net == nil {
			continue
		}
		for e := range c.Net.Elements {
			el := &c.Net.Elements[e]
			if el.Kind == kind && el.Device == device && el.Index == index && e < len(c.Point.Amps) {
				if a := unit.Current(math.Abs(float64(c.Point.Amps[e]))); a > most {
					most, in = a, c.Case
				}
			}
		}
	}
	return most, in
}
