package export

import (
	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Tape is what the job says of a stretch that was measured by string, and what its coordinates give.
type Tape struct {
	Length, Slack unit.Length
	Date          string      // as written; empty: none is
	Coordinates   unit.Length // along them, bends rounded; 0 not known
}

// TapeOf is the measure of a stretch, counted from 0; ok is false where it was not measured. Slack is told all the same.
func TapeOf(job *design.Job, geo *space.Geometry, run string, stretch int) (t Tape, ok bool) {
	if job == nil {
		return t, false
	}
	for _, r := range job.Runs {
		if r.Name != run || stretch < 0 || stretch >= len(r.Stretches) {
			continue
		}
		s := &r.Stretches[stretch]
		t = Tape{Length: s.Length.Nominal, Slack: s.Slack, Date: s.Date}
		if geo != nil {
			if way, known := geo.Way(run, stretch); known {
				t.Coordinates = way.Length()
			}
		}
		if !s.Length.Given {
			t.Length, t.Date = 0, ""
		}
		return t, s.Length.Given
	}
	return t, false
}
