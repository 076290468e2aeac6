package fit

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/solve"
)

// Judge knows the limits on volts of a job's loads. It looks devices and settings up once, so that all loads of a job cost no more
// than their number. It may be asked from several goroutines; the job must not change meanwhile.
type Judge struct {
	job     *design.Job
	nt      *net.Net
	devices map[string]*design.Device // nil: the job is looked through each time
	drawn   map[string]*design.Device
	rules   *design.Rulings // nil as well
}

// NewJudge makes a job's devices ready.
func NewJudge(job *design.Job, nt *net.Net) *Judge {
	j := &Judge{job: job, nt: nt, devices: map[string]*design.Device{}, drawn: map[string]*design.Device{}, rules: design.NewRulings(&job.Settings)}
	for _, d := range job.Devices {
		j.devices[d.Name] = d
		if !d.Pattern && j.drawn[d.Name] == nil {
			j.drawn[d.Name] = d
		}
	}
	return j
}

// once is a judge for a single question.
func once(job *design.Job, nt *net.Net) *Judge { return &Judge{job: job, nt: nt} }

func (j *Judge) get(name string, at design.Scope) design.Ruling {
	if j.rules == nil {
		return j.job.Settings.Get(name, at)
	}
	return j.rules.Get(name, at)
}

// device is the one of a name; of two the later.
func (j *Judge) device(name string) (out *design.Device) {
	if j.devices != nil {
		return j.devices[name]
	}
	for _, d := range j.job.Devices {
		if d.Name == name {
			out = d
		}
	}
	return out
}

// draw finds what a load was declared as, nil if it is not there.
func (j *Judge) draw(load *solve.LoadResult) *design.Draw {
	if j.drawn == nil {
		for _, d := range j.job.Devices {
			if d.Name == load.Device && !d.Pattern {
				if x := drawIn(d, load); x != nil {
					return x
				}
			}
		}
		return nil
	}
	return drawIn(j.drawn[load.Device], load)
}

func drawIn(d *design.Device, load *solve.LoadResult) *design.Draw {
	switch {
	case d == nil || load.Index < 0:
	case load.Coil && load.Index < len(d.Coils):
		return &d.Coils[load.Index].Draw
	case !load.Coil && load.Index < len(d.Draws):
		return &d.Draws[load.Index]
	}
	return nil
}
