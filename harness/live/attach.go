package live

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/protect"
)

// supplies is what is attached and how it is called.
type supplies struct {
	job     *design.Job
	device  map[string]*design.Device
	listed  map[string]bool
	battery map[string]bool
	c       *design.Case                // every source attached, nothing switched
	follows func(d *design.Device) bool // the supplies of a device live on what it draws: they cannot be attached
}

func attach(job *design.Job) *supplies {
	s := &supplies{job: job, follows: job.WhatLivesOnDraw(), device: map[string]*design.Device{}, listed: map[string]bool{}, battery: map[string]bool{}, c: &design.Case{}}
	var devices []*design.Device
	for _, d := range job.Devices {
		if !d.Pattern && s.device[d.Name] == nil {
			s.device[d.Name] = d
			devices = append(devices, d)
		}
	}
	at := map[string]design.CaseSupply{}
	for _, c := range job.Cases {
		for _, x := range c.Supplies {
			s.listed[x.Device] = true
			if x.At.Given && (!at[x.Device].At.Given || x.At.Nominal > at[x.Device].At.Nominal) {
				at[x.Device] = x
			}
		}
	}
	for _, b := range job.Batteries() {
		s.battery[b.Device.Name] = true
	}
	for _, d := range devices {
		if len(d.Supplies) == 0 || s.follows(d) {
			continue
		}
		k := design.CaseSupply{Device: d.Name}
		// The highest volts at which a case puts it, where that is above its own.
		if x := at[d.Name]; x.At.Given && len(d.Supplies) == 1 && x.At.Nominal > d.Supplies[0].Volts.Nominal {
			k.At = x.At
		}
		s.c.Supplies = append(s.c.Supplies, k)
	}
	return s
}

// moved is what a source asks besides switches: a battery is always there, everything else has to run or to be plugged in.
func (s *supplies) moved(device string) int {
	if s.battery[device] {
		return 0
	}
	return 1
}

// says is a source at work in words; empty for a battery.
func (s *supplies) says(x protect.Source) string {
	switch {
	case x.Own:
		return x.Device + "'s own supply"
	case s.battery[x.Device]:
		return ""
	case s.listed[x.Device]:
		return x.Device + " supplies"
	}
	return x.Device + " attached"
}

// all is what is attached, for the head of a list.
func (s *supplies) all() string {
	var out []string
	for _, c := range s.c.Supplies {
		name := c.Device
		if !s.listed[name] {
			name += " (in no case)"
		}
		out = append(out, name)
	}
	return strings.Join(out, ", ")
}

// relay tells whether a coil moves a set of states.
func (s *supplies) relay(t protect.Throw) bool {
	d := s.device[t.Device]
	return d != nil && protect.MovedByCoil(d, t.Group)
}

// state words what a way uses.
func (s *supplies) state(throws []protect.Throw, x protect.Source) State {
	out := State{Throws: throws}
	var hands, relays []string
	for _, t := range throws {
		if t.Rests() {
			continue
		}
		out.Moved++
		name := t.Device
		if t.Group != "" {
			name += "." + t.Group
		}
		switch {
		case !s.relay(t):
			hands = append(hands, name+" "+t.State)
		case t.State == "on":
			relays = append(relays, name)
		default:
			relays = append(relays, name+" "+t.State)
		}
	}
	var words []string
	switch {
	case len(hands) > 0:
		words = append(words, strings.Join(hands, ", "))
	case len(relays) > 0:
		words = append(words, "every switch off")
	default:
		words = append(words, "everything off")
	}
	switch len(relays) {
	case 0:
	case 1:
		words = append(words, "relay "+relays[0]+" pulled in")
	default:
		words = append(words, "relays "+strings.Join(relays, ", ")+" pulled in")
	}
	if w := s.says(x); w != "" {
		words = append(words, w)
		out.Moved += s.moved(x.Device)
		if x.Own {
			out.Moved -= s.moved(x.Device)
		}
	}
	out.Words = strings.Join(words, "; ")
	return out
}

// caseStates is a proving state as a case sets it.
func caseStates(throws []protect.Throw) []design.CaseState {
	var out []design.CaseState
	for _, t := range throws {
		out = append(out, design.CaseState{Device: t.Device, Group: t.Group, State: t.State})
	}
	return out
}

func compareThrow(a, b protect.Throw) int {
	return cmp.Or(design.Natural(a.Device, b.Device), design.Natural(a.Group, b.Group), design.Natural(a.State, b.State))
}

// union is two states at once; ok is false if they ask different throws of one set.
func union(a, b []protect.Throw) (out []protect.Throw, ok bool) {
	out = slices.Clone(a)
	for _, t := range b {
		clash := slices.ContainsFunc(a, func(u protect.Throw) bool { return u.Device == t.Device && u.Group == t.Group && u.State != t.State })
		if clash {
			return nil, false
		}
		if !slices.Contains(a, t) {
			out = append(out, t)
		}
	}
	slices.SortFunc(out, compareThrow)
	return out, true
}
