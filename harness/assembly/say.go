package assembly

// do is a step in words.
func (s *sheet) do(k kind, acts []int) string {
	a := &s.acts[acts[0]]
	thing := func() string {
		if a.thing < 0 {
			return a.what
		}
		t := &s.things[a.thing]
		out := s.thingText(a.thing) + lengthText(t.Length)
		if t.From != "" {
			out += ", " + t.From
		}
		return out
	}
	switch k {
	case comes:
		return "it comes with its wires on: everything that goes over them goes on from their other ends"
	case mark:
		return "slide on the marks"
	case slideWire:
		t := &s.things[a.thing]
		out := "slide " + thing() + " over it"
		if t.Heat {
			out += " and shrink it"
		}
		return out
	case slideScreen:
		return "slide the screen over its cores, " + s.things[a.thing].From
	case slideEnd:
		return "slide on what goes over the ends, and push it back"
	case slideSeal:
		return "slide on the seals"
	case crimp:
		return "strip, crimp, and pull each by hand"
	case shrinkMark:
		return "shrink the marks where they are read"
	case shrinkEnd:
		return "push the sleeves over the ends and fit them"
	case slideJoint:
		return "slide " + thing()
	case crimpJoint:
		return "strip its wires and crimp them in " + a.what + "; pull each by hand"
	case shrinkJoint:
		return "bring " + a.what + " to the middle of the splice and fit it"
	case layUp:
		if s.places[a.place].Kind == "board" {
			if len(s.lays) > 1 {
				return "lay up on the board what is not named beside its sleeve"
			}
			return "lay up all runs on the board"
		}
		return "lay it up on the board"
	case slideRun:
		if t := &s.things[a.thing]; t.From == "" {
			return "put on " + thing()
		}
		return "slide on " + thing()
	case shrinkRun:
		return s.fitRun(a)
	case slideBoot:
		return "slide " + thing() + " over all its wires, narrow end towards the bundle"
	case lead:
		return "in the vehicle: lead the section through it"
	case insert:
		return "put the contacts into their cavities and lock them; pull each"
	case blank:
		if a.what == "1" {
			return "plug 1 empty cavity"
		}
		return "plug " + a.what + " empty cavities"
	case fitBoot:
		return s.fitBootText(a)
	}
	return "in the vehicle: lay the lugs on in the order of the list of studs, and tighten the nuts"
}

func (s *sheet) fitRun(a *act) string {
	for i := range s.pieces {
		if s.pieces[i].place != a.place {
			continue
		}
		p := s.m.sleeve[s.pieces[i].run.Sleeve]
		switch {
		case p == nil:
		case p.Kind() == "shrink":
			return "shrink it from the middle to both ends"
		case p.Kind() == "braid":
			return "draw it tight from the middle, trim it and tape both ends"
		}
	}
	return "tape or tie both ends"
}

func (s *sheet) fitBootText(a *act) string {
	b := s.m.boot[a.what]
	if b == nil {
		return "fit boot " + a.what
	}
	switch b.Kind() {
	case "shrink":
		return "bring boot " + a.what + " over the back of the connector and shrink it, the connector's end first"
	case "push-on":
		return "push boot " + a.what + " on to the back of the connector"
	case "split":
		return "put boot " + a.what + " about the back of the connector and close it"
	}
	return "screw backshell " + a.what + " to the back of the connector and clamp the bundle"
}

// doneText is an act of another place that a step waits for.
func (s *sheet) doneText(n int) string {
	a := &s.acts[n]
	title := s.places[a.place].Title
	switch a.kind {
	case comes:
		return title + " is on the board"
	case mark:
		return "the marks are on at " + title
	case slideWire, slideRun:
		return s.thingText(a.thing) + " is on " + title
	case slideScreen:
		return "the screen is on " + title
	case slideEnd, slideSeal:
		return "the ends of " + title + " have what goes over them"
	case crimp:
		return "the ends of " + title + " are crimped"
	case slideJoint:
		return "the sleeve is on at " + title
	case crimpJoint, shrinkJoint:
		return title + " is made"
	case layUp:
		if s.places[a.place].Kind == "board" {
			return "the runs are laid up"
		}
		return title + " is laid up"
	case slideBoot:
		return "the boot is on at " + title
	case lead:
		return "the section is led through " + title
	case insert:
		return "the contacts are in " + title
	}
	return title + " is done"
}

// roundText is a kind of step in words.
func roundText(k kind) string {
	return [...]string{
		comes: "put on the board what comes with its wires on", mark: "slide on the marks", slideWire: "slide the sleeves over the wires that have one", slideScreen: "slide the screens over their cores",
		slideEnd: "slide on what goes over the ends", slideSeal: "slide on the seals", crimp: "strip and crimp the ends", shrinkMark: "shrink the marks", shrinkEnd: "fit the sleeves over the ends",
		slideJoint: "slide on the sleeves of the splices", crimpJoint: "crimp the splices", shrinkJoint: "fit the sleeves of the splices", layUp: "lay up", slideRun: "slide the sleeves over the runs",
		shrinkRun: "fit the sleeves over the runs", slideBoot: "slide on the boots", lead: "in the vehicle: lead through the bushes", insert: "put the contacts in", blank: "plug the empty cavities",
		fitBoot: "fit the boots", bolt: "in the vehicle: lugs on their studs",
	}[k]
}
