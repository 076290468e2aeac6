package free

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// order is what must be undone for a section by itself: every supply that feeds in some case is cut off first, at its minus; then the posts
// and studs of returns, the plugs of breaks, those of devices, and last the posts and studs of feeds.
func (p *part) order() []design.Undo {
	var out []design.Undo
	add := func(u design.Undo) {
		if !slices.Contains(out, u) {
			out = append(out, u)
		}
	}
	for k, d := range p.f.index.feeding {
		if p.stands(d, p.f.index.fed[k]) {
			continue
		}
		for i := range d.Supplies {
			if u, ok := p.f.cutOff(d, &d.Supplies[i]); ok {
				add(u)
			}
		}
	}
	var rest []design.Undo
	for _, i := range p.holding(nil) {
		if u := p.f.g.links[i].undo; u.Kind != "" && !slices.Contains(rest, u) {
			rest = append(rest, u)
		}
	}
	for _, i := range p.within(func(s *within) []int { return s.breaks }) {
		b := p.f.job.Breaks[i]
		if u := (design.Undo{Kind: "break", Name: b.Name}); p.parts(b) && !slices.Contains(rest, u) {
			rest = append(rest, u)
		}
	}
	slices.SortStableFunc(rest, func(a, b design.Undo) int {
		return cmp.Or(cmp.Compare(p.f.rank(a), p.f.rank(b)), design.Natural(a.Name, b.Name), design.Natural(a.Pin, b.Pin))
	})
	for _, u := range rest {
		add(u)
	}
	return out
}

// supplies is the devices that feed in some case, by name.
func (f *finder) supplies() (out []*design.Device) {
	listed := map[string]bool{}
	for _, c := range f.job.Cases {
		off := map[string]bool{}
		for _, n := range c.Off {
			off[n] = true
		}
		for _, s := range c.Supplies {
			listed[s.Device] = listed[s.Device] || !off[s.Device]
		}
	}
	for _, d := range f.job.Devices {
		if len(d.Supplies) > 0 && f.devices[d.Name] == d && listed[d.Name] {
			out = append(out, d)
		}
	}
	slices.SortStableFunc(out, func(a, b *design.Device) int { return design.Natural(a.Name, b.Name) })
	return out
}

// cutOff is where a supply is disconnected: at its minus if a wire ends there, else at its plus.
func (f *finder) cutOff(d *design.Device, s *design.Supply) (design.Undo, bool) {
	for _, r := range []design.PinRef{s.To, s.From} {
		name := cmp.Or(r.Device, d.Name)
		for _, e := range f.index.ends[device(name)] {
			switch t := &f.nt.Wires[e.wire].Ends[e.end]; {
			case t.Pin != r.Pin:
			case t.Kind == net.OnStud:
				return design.Undo{Kind: "stud", Name: name, Pin: r.Pin}, true
			case t.Kind == net.InCavity:
				return design.Undo{Kind: "device", Name: name}, true
			}
		}
	}
	return design.Undo{}, false
}

// terminal tells whether something undone is a pole of a supply that feeds in some case and does not stand still.
func (p *part) terminal(u design.Undo) bool {
	x := p.f.index
	return slices.ContainsFunc(x.poles[u.Name], func(o pole) bool {
		return (u.Kind == "device" || u.Kind == "stud" && u.Pin == o.pin) && !p.stands(x.feeding[o.feeding], x.fed[o.feeding])
	})
}

// pole is a pin at which a device that feeds in some case has its supply.
type pole struct {
	feeding int
	pin     string
}

// findPoles lists those of each device at which one is: a supply may have its poles on another's pins.
func (x *index) findPoles() {
	x.poles = map[string][]pole{}
	for k, d := range x.feeding {
		for i := range d.Supplies {
			for _, r := range []design.PinRef{d.Supplies[i].To, d.Supplies[i].From} {
				name := cmp.Or(r.Device, d.Name)
				x.poles[name] = append(x.poles[name], pole{k, r.Pin})
			}
		}
	}
}

// rank is the order in which kinds of things are undone.
func (f *finder) rank(u design.Undo) int {
	switch {
	case u.Kind == "stud" && f.earths[u.Name+"."+u.Pin], u.Kind == "break" && f.isPost(f.breaks[u.Name]) && f.earthPost(u.Name):
		return 0
	case u.Kind == "break" && !f.isPost(f.breaks[u.Name]):
		return 1
	case u.Kind == "device":
		return 2
	}
	return 3
}

// earthPost tells whether a stud post is on the way to a supply's minus.
func (f *finder) earthPost(name string) bool {
	for n := range f.earths { // only whether, not which
		if rest, ok := strings.CutPrefix(n, name); ok && strings.HasPrefix(rest, " ") {
			return true
		}
	}
	return false
}

// isPost tells whether a break is a stud post.
func (f *finder) isPost(b *design.Break) bool { return f.thread(b) != "" }

// thread is that of a stud post; empty of any other break.
func (f *finder) thread(b *design.Break) string {
	if b == nil {
		return ""
	}
	for _, h := range b.Halves {
		if x := f.housings[h.Housing]; x != nil {
			if len(x.Cavities) == 1 {
				return x.Cavities[0].Stud
			}
			return ""
		}
	}
	return ""
}

// parts tells whether a break has one half on either side.
func (p *part) parts(b *design.Break) bool {
	x, y := p.sideOf(b.Halves[0].Section), p.sideOf(b.Halves[1].Section)
	return x != y && x != unsure && y != unsure
}

// still is the devices whose supplies stand still while anything is undone, by `undone-supply`. By itself that is what stores nothing and
// shares the metal of another device, as an alternator does, and so is driven by an engine that stands; or comes away, beside a battery;
// and where a section comes away by itself everything that is no battery, as nobody listed what is undone for it.
func (p *part) still() (out []string) {
	if p.stood {
		return p.stillThere
	}
	defer func() { p.stood, p.stillThere = true, out }()
	for i, d := range p.f.index.feeding {
		if p.stands(d, p.f.index.fed[i]) {
			out = append(out, d.Name)
		}
	}
	return out
}

// stance is what `undone-supply` makes of a device's supplies while anything is undone.
type stance uint8

const (
	neverStill stance = iota
	alwaysStill
	besideStill // beside a battery: where the device comes away, or a section by itself
)

// stances is that of each device. By itself a battery is live, what is driven stands still.
func (f *finder) stances(list []*design.Device) []stance {
	out := make([]stance, len(list))
	battery := slices.ContainsFunc(f.index.feeding, f.stores) // a case lists one
	for i, d := range list {
		auto := false
		switch f.job.Settings.Get("undone-supply", design.Scope{Device: d.Name, Class: d.Class, Section: d.Section, Zone: d.Zone}).Value.Name {
		case "live":
			continue
		case "auto":
			auto = true
		}
		switch {
		case !auto || !f.stores(d) && f.driven(d):
			out[i] = alwaysStill
		case !f.stores(d) && battery:
			out[i] = besideStill
		}
	}
	return out
}

// stands tells whether a device's supplies stand still.
func (p *part) stands(d *design.Device, s stance) bool {
	return s == alwaysStill || s == besideStill && (p.Alone || p.deviceSide(d.Name) == goes)
}

// unlisted is the case of all supplies that none lists, live on nothing else and do not stand still: a slave battery, a charger; nil: there is none.
func (p *part) unlisted() *design.Case {
	var c *design.Case
	for i, d := range p.f.index.strange {
		if p.stands(d, p.f.index.apart[i]) {
			continue
		}
		if c == nil {
			c = &design.Case{}
		}
		c.Supplies = append(c.Supplies, design.CaseSupply{Device: d.Name})
	}
	return c
}

// strangers is the devices with supplies that feed in no case and live on nothing else, in the job's order.
func (f *finder) strangers() (out []*design.Device) {
	listed := map[*design.Device]bool{}
	for _, d := range f.index.feeding {
		listed[d] = true
	}
	onDraw := f.job.WhatLivesOnDraw()
	for _, d := range f.job.Devices {
		if len(d.Supplies) > 0 && f.devices[d.Name] == d && !listed[d] && !onDraw(d) {
			out = append(out, d)
		}
	}
	return out
}

// stores tells whether a device is a battery.
func (f *finder) stores(d *design.Device) bool {
	return slices.ContainsFunc(d.Supplies, func(s design.Supply) bool { return s.Stores.Given })
}

// driven tells whether a device shares the metal of another.
func (f *finder) driven(d *design.Device) bool {
	return len(d.Bolted) > 0 || f.index.bolted[d.Name]
}
