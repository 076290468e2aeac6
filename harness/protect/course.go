package protect

// lost is how much cooler a wire must be, in kelvin, for what it loses on the way to be told: what is printed shows ten times that.
const lost = 0.01

// course gives a wire how it warms in its worst overload and its worst short: what Reaches is found by, where not by all heat kept.
func (g *weigher) course(w *WireResult) {
	if o := w.Overload; o != nil && o.Latest != Never {
		w.OverloadCourse = g.warm.Course(w.Wire, o.Amps, o.Latest)
	}
	if s := w.Short; s != nil && s.Latest != Never && len(s.Steps) == 0 && g.wires[w.Wire].adiabaticEnd(s.Energy) > s.Reaches+lost {
		w.ShortCourse = g.warm.Course(w.Wire, s.Amps, s.Latest)
	}
}
