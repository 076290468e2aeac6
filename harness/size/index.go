package size

import (
	"loomsheet/harness/design"
)

// index finds the parts and devices of a job by their names.
type index struct {
	contacts map[string]*design.Contact
	housings map[string]*design.Housing
	breaks   map[string]*design.Break
	devices  map[string][]*design.Device // a name used twice is a mistake told elsewhere
}

func newIndex(job *design.Job) *index {
	x := &index{contacts: map[string]*design.Contact{}, housings: map[string]*design.Housing{}, breaks: map[string]*design.Break{}, devices: map[string][]*design.Device{}}
	for _, p := range job.Parts.Contacts {
		if x.contacts[p.Name] == nil {
			x.contacts[p.Name] = p
		}
	}
	for _, h := range job.Parts.Housings {
		if x.housings[h.Name] == nil {
			x.housings[h.Name] = h
		}
	}
	for _, b := range job.Breaks {
		x.breaks[b.Name] = b
	}
	for _, d := range job.Devices {
		x.devices[d.Name] = append(x.devices[d.Name], d)
	}
	return x
}

func (x *index) contact(name string) *design.Contact       { return x.contacts[name] }
func (x *index) housing(name string) *design.Housing       { return x.housings[name] }
func (x *index) breakNamed(name string) *design.Break      { return x.breaks[name] }
func (x *index) devicesNamed(name string) []*design.Device { return x.devices[name] }

// scan is the job itself, looked through for each name: for one question no index pays.
type scan struct{ *design.Job }

// names is either of them.
type names interface {
	contact(name string) *design.Contact
	housing(name string) *design.Housing
	breakNamed(name string) *design.Break
	devicesNamed(name string) []*design.Device
}

func (x scan) contact(name string) *design.Contact {
	for _, p := range x.Parts.Contacts {
		if p.Name == name {
			return p
		}
	}
	return nil
}

func (x scan) housing(name string) *design.Housing {
	for _, h := range x.Parts.Housings {
		if h.Name == name {
			return h
		}
	}
	return nil
}

func (x scan) breakNamed(name string) (last *design.Break) {
	for _, b := range x.Breaks {
		if b.Name == name {
			last = b
		}
	}
	return last
}

func (x scan) devicesNamed(name string) (out []*design.Device) {
	for _, d := range x.Devices {
		if d.Name == name {
			out = append(out, d)
		}
	}
	return out
}
