package worked

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/unit"
)

// heat is the wire at its worst place: its limit, what it makes, what the bundle sheds, and what it may carry.
func (k *maker) heat() {
	k.part("Heat")
	if k.Heat == nil || k.wire >= len(k.Heat.Wires) || !k.Heat.Wires[k.wire].Known {
		k.put(Line{What: "Heat", Formula: "not judged: the conductor is not known"})
		return
	}
	h := &k.Heat.Wires[k.wire]
	where := "zone " + h.Zone
	scope := design.Scope{Zone: h.Zone, Case: h.Case, Circuit: k.w.Circuit, Class: k.w.Class, Section: k.w.Section}
	if g := k.Net.Space; g != nil && h.Edge >= 0 && h.Edge < len(g.Edges) {
		scope.Run = g.Edges[h.Edge].Run
		where = "run " + scope.Run + ", " + where
	}
	margin := k.Job.Settings.Get("heat-margin", scope)
	limit := k.put(Line{What: "Limit of the copper", Formula: "Tl = Tr - m", Inputs: []Input{in("Tr", float64(k.c.Heat), "C", "rating of its insulation, family "+k.c.Family),
		at(in("m", margin.Value.Quantity.Value, "K", "heat-margin: "+margin.Source()), margin.Span)}, Result: short(float64(h.Limit), "C")})
	if h.Effective != h.Amps {
		k.put(Line{What: "Steady current that heats as its duty does at the peak", Formula: "peak of the periodic transient, not rms",
			Inputs: []Input{in("", float64(h.Amps), "A", "greatest steady current in case "+h.Case)}, Result: short(float64(h.Effective), "A")})
	}
	if steady, ok := k.steady(h); ok {
		q := float64(h.Effective) * float64(h.Effective) * float64(k.c.Resistance) * (234.5 + steady) / 254.5
		k.put(Line{What: "Heat it makes at its worst place, " + where + ", case " + h.Case, Formula: "q = I ^ 2 x r / 1000 x (234.5 + T) / 254.5",
			Inputs: []Input{in("I", float64(h.Effective), "A", "nodal solution of the case"), in("r", float64(k.c.Resistance)*1000, "mohm/m", "as under Resistance"), in("T", steady, "C", "found below")},
			Result: short(q, "W/m")})
		k.bundle(h, scope, steady)
	}
	if t := h.Table; t != nil {
		holds := "its printed conditions hold"
		if !t.Holds {
			holds = "does not rule"
		}
		k.put(Line{What: "By table " + string(t.Method), Formula: "read in the table", Inputs: []Input{{Value: short(float64(t.Amps), "A"), Source: t.Condition}}, Result: short(float64(t.Amps), "A"), Note: holds, Unverified: !t.Verified})
	}
	k.put(Line{What: "By the balance", Formula: "current that brings this wire to its limit while the others carry what they carry in the case", Inputs: []Input{in("", float64(h.Limit), "C", from(limit))},
		Result: short(float64(h.Balance), "A"), Note: "alone in the same air: " + short(float64(h.FreeAir), "A")})
	what := "Ampacity, by " + string(h.Ruled)
	k.put(Line{What: what, Formula: h.Why, Inputs: []Input{in("", float64(h.Effective), "A", "carried")}, Result: short(float64(h.Effective), "A"), Limit: "at most " + short(float64(h.Ampacity), "A"),
		Room: short(float64(h.Ampacity-h.Effective), "A"), Met: h.Met, Unverified: !h.Verified})
	name := "Hottest"
	if h.Start != "" {
		name = "Hottest, at the end of the start of " + h.Start
	}
	k.put(Line{What: name, Formula: "copper in case " + h.Case + ", " + count(h.Count) + " in the bundle, air " + h.Ambient.String(), Result: short(float64(h.Hottest), "C"), Limit: "at most " + short(float64(h.Limit), "C"),
		Room: short(float64(h.Limit-h.Hottest), "K"), Met: h.Hottest <= h.Limit})
}

// steady is the conductor's temperature at its worst place without any start.
func (k *maker) steady(h *heat.WireResult) (t float64, ok bool) {
	if h.Start == "" {
		return float64(h.Hottest), true
	}
	if b := k.Heat.Bundle(h); b != nil {
		for i, w := range b.Wires {
			if w == k.wire && i < len(b.Temps) {
				return float64(b.Temps[i]), true
			}
		}
	}
	return 0, false
}

func count(n int) string {
	if n == 1 {
		return "1 wire"
	}
	return unit.Number(float64(n), 0) + " wires"
}

// bundle works the surface of the bundle again: what it sheds is what its wires make.
func (k *maker) bundle(h *heat.WireResult, scope design.Scope, steady float64) {
	b := k.Heat.Bundle(h)
	if b == nil || b.Runaway || !(b.Watts > 0) {
		return
	}
	eps := k.Job.Settings.Get("emissivity", scope)
	alt := k.Job.Settings.Get("altitude", scope)
	s := heat.Shed(b.Outside, b.Surface, b.Ambient, unit.Ratio(eps.Value.Quantity.Value), unit.Length(alt.Value.Quantity.Value))
	d, dt := float64(b.Outside), float64(b.Surface-b.Ambient)
	common := []Input{in("d", d, "mm", "outside of the bundle with its sleeve"), in("dT", dt, "K", "surface above the air, found where what is shed is what is made"), in("Ta", float64(b.Ambient), "C", "air of zone "+h.Zone)}
	rad := k.put(Line{What: "Radiation", Formula: "Pr = 3.14159 x d / 1000 x e x 5.670374 / 10 ^ 8 x ((Ta + dT + 273.15) ^ 4 - (Ta + 273.15) ^ 4)",
		Inputs: append(append([]Input{}, common...), at(in("e", eps.Value.Quantity.Value, "", "emissivity: "+eps.Source()), eps.Span)), Result: short(float64(s.Radiation), "W/m")})
	ra := k.put(Line{What: "Rayleigh number", Formula: "Ra = 9.80665 x dT / (Ta + dT / 2 + 273.15) x (d / 1000) ^ 3 x N / v ^ 2 x 10 ^ 12",
		Inputs: append(append([]Input{}, common...), in("v", float64(s.Viscosity)*1e6, "mm2/s", "viscosity of air at the mean of both temperatures (Sutherland, constants from memory)"), in("N", float64(s.Prandtl), "", "Prandtl number of air there")),
		Result: short(float64(s.Rayleigh), "")})
	nu := k.put(Line{What: "Nusselt number, Churchill and Chu 1975", Formula: "Nu = (0.6 + 0.387 x Ra ^ (1 / 6) / (1 + (0.559 / N) ^ (9 / 16)) ^ (8 / 27)) ^ 2",
		Inputs: []Input{in("Ra", float64(s.Rayleigh), "", from(ra)), in("N", float64(s.Prandtl), "", from(ra))}, Result: short(float64(s.Nusselt), "")})
	con := k.put(Line{What: "Convection", Formula: "Pc = 3.14159 x Nu x k x dT",
		Inputs: append(append([]Input{}, common[1]), in("Nu", float64(s.Nusselt), "", from(nu)), in("k", float64(s.Conductivity), "W/mK", "conductivity of air there")), Result: short(float64(s.Convection), "W/m")})
	k.put(Line{What: "Shed by the bundle, which is what its wires make", Formula: "Q = Pr + Pc", Inputs: []Input{in("Pr", float64(s.Radiation), "W/m", from(rad)), in("Pc", float64(s.Convection), "W/m", from(con))},
		Result: short(float64(s.Radiation+s.Convection), "W/m"), Note: "made: " + short(float64(b.Watts), "W/m") + "; surface " + short(dt, "K") + " above the air"})
	k.inside(h, b, scope, steady)
}

// inside works the copper from the surface: the sleeve carries all heat, the bundle spreads it, the wire's own passes its insulation.
func (k *maker) inside(h *heat.WireResult, b *heat.BundleResult, scope design.Scope, steady float64) {
	kb, ki := k.Job.Settings.Get("bundle-conductivity", scope), k.Job.Settings.Get("insulation-conductivity", scope)
	db, dw, dc := float64(b.Bare), float64(k.c.Outside), float64(k.c.Size.Diameter())
	kbv, kiv := kb.Value.Quantity.Value, ki.Value.Quantity.Value
	if h.Runaway || h.Count < 2 || !(db >= dw) || !(dw > dc) || !(dc > 0) || !(kbv > 0) || !(kiv > 0) {
		return
	}
	const pi = 3.14159
	in2 := []Input{at(in("kb", kbv, "W/mK", "bundle-conductivity: "+kb.Source()), kb.Span), at(in("ki", kiv, "W/mK", "insulation-conductivity: "+ki.Source()), ki.Span)}
	av := math.Log(float64(b.Outside)/db)/(2*pi*kiv) + 1/(4*pi*kbv)
	bv := math.Log(db/dw)/(2*pi*kbv) + math.Log(dw/dc)/(2*pi*kiv) - 1/(4*pi*kbv)
	own := float64(h.Effective) * float64(h.Effective) * float64(k.c.Resistance) * (234.5 + steady) / 254.5
	la := k.put(Line{What: "Through sleeve and bundle", Formula: "a = ln ( d / db ) / (2 x 3.14159 x ki) + 1 / (4 x 3.14159 x kb)",
		Inputs: append([]Input{in("d", float64(b.Outside), "mm", "with its sleeve"), in("db", db, "mm", "the bundle: 1.2 sqrt(sum of the squares of its wires' diameters)")}, in2...), Result: short(av, "K per W/m"), Unverified: true})
	lb := k.put(Line{What: "Through its own insulation, from the middle of the bundle", Formula: "b = ln ( db / dw ) / (2 x 3.14159 x kb) + ln ( dw / dc ) / (2 x 3.14159 x ki) - 1 / (4 x 3.14159 x kb)",
		Inputs: append([]Input{in("db", db, "mm", "as before"), in("dw", dw, "mm", "over its insulation"), in("dc", dc, "mm", "copper as a solid rod")}, in2...), Result: short(bv, "K per W/m"), Unverified: true})
	t := float64(b.Surface) + av*float64(b.Watts) + bv*own
	note := ""
	if math.Abs(t-steady) > 0.02 {
		note = "it counts as " + short(steady, "C") + ": no wire counts as cooler than it would be alone in the same air"
	}
	k.put(Line{What: "Copper", Formula: "Tc = Ts + a x Q + b x q", Inputs: []Input{in("Ts", float64(b.Surface), "C", "surface"), in("a", av, "K per W/m", from(la)), in("Q", float64(b.Watts), "W/m", "of all its wires"),
		in("b", bv, "K per W/m", from(lb)), in("q", own, "W/m", "its own heat")}, Result: short(t, "C"), Note: note, Unverified: true})
}
