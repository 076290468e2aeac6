package worked

import (
	"math"

	"loomsheet/harness/data"
	"loomsheet/harness/heat"
	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

func (k *maker) contacts() {
	if k.Contact == nil {
		return
	}
	first := true
	ends := k.Contact.At(k.wire)
	for i := range ends {
		e := &ends[i]
		if first {
			k.part("Contacts")
			first = false
		}
		a := float64(e.Rating) * float64(e.Loading) * float64(e.Warm)
		carried := "greatest steady current, case " + e.Case
		if e.Parallel > 1 {
			carried = "with the least resistance of " + count(e.Parallel) + " side by side"
		}
		k.put(Line{What: "Contact " + e.Contact + " in " + e.Where, Formula: "A = Ar x f x w",
			Inputs: []Input{in("Ar", float64(e.Rating), "A", "rating of the part"), at(in("f", float64(e.Loading), "", "its wire, and the heat of "+sig(float64(e.Equal), 3)+" contacts like it in "+unit.Number(float64(e.Cavities), 0)+" cavities: "+e.LoadingBy), e.Ruling.Span),
				in("w", float64(e.Warm), "", "air "+e.Ambient.String()+", housing "+e.Heat.String()), in("", float64(max(e.Amps, e.Shared)), "A", carried)},
			Result: short(a, "A"), Limit: "carries " + short(float64(max(e.Amps, e.Shared)), "A"), Room: short(float64(e.Allowed-max(e.Amps, e.Shared)), "A"), Met: e.Met, Unverified: !e.Verified})
	}
}

func (k *maker) protection() {
	if k.Protect == nil || k.wire >= len(k.Protect.Wires) {
		return
	}
	r := &k.Protect.Wires[k.wire]
	k.part("Protection")
	switch {
	case !r.Reached:
		k.put(Line{What: "Protector", Formula: "none asked: no source reaches it in any state of any switch, and no load's current comes back through it"})
		return
	case len(r.By) == 0 && len(r.Open) == 0 && len(r.Limited) > 0:
		k.put(Line{What: "Protector", Formula: "the limit of its source, which it carries", Inputs: []Input{in("", float64(r.Limited[0].Most), "A", r.Limited[0].Device)}})
	case len(r.By) == 0:
		k.put(Line{What: "Protector", Formula: "NONE stands between it and a source"})
	}
	for _, f := range r.By {
		x := k.Protect.Fuse(f)
		if x == nil {
			continue
		}
		side := "feeds it"
		if r.Return {
			side = "protects what comes back through it"
		}
		steady := "steady current that warms the fuse as its duty does, case " + x.Case
		if x.Lead {
			steady = "the limit of the supply that charges through it"
		}
		k.put(Line{What: "Fuse " + x.Part + " in " + x.Device + ", " + x.From + " to " + x.To, Formula: "N = I x m / f",
			Inputs: []Input{at(in("I", float64(x.Steady), "A", steady), x.Span), at(in("m", float64(x.Margin), "", "fuse-load: "+x.Ruling.Source()), x.Ruling.Span),
				in("f", float64(x.Factor), "", "what air of "+x.Ambient.String()+" leaves of the rating: datasheet of a 40 A fuse of type E")},
			Result: short(float64(x.Need), "A"), Limit: "rated " + short(float64(x.Rating), "A"), Room: short(float64(x.Rating-x.Need), "A"), Met: x.LoadMet, Note: side, Unverified: !x.Verified})
	}
	if o := r.Overload; o != nil {
		k.overload(r, o)
	}
	if s := r.Short; s != nil && s.Short >= 0 && s.Short < len(k.Protect.Shorts) {
		k.short(r, s, &k.Protect.Shorts[s.Short])
	}
	if u := r.Unfused; u != nil {
		k.put(Line{What: "Wire before the first fuse, from " + u.Source.Device, Formula: "sum along the wires", Result: short(float64(u.Length), "mm"), Limit: "at most " + short(float64(u.Most), "mm"),
			Room: short(float64(u.Most-u.Length), "mm"), Met: u.Met, Inputs: []Input{at(Input{Source: u.Ruling.Def.Name + ": " + u.Ruling.Source()}, u.Ruling.Span)}})
	}
}

func latest(t unit.Time) string {
	if t == protect.Never {
		return "for ever: it need not open"
	}
	return "at most " + t.String()
}

func (k *maker) overload(r *protect.WireResult, o *protect.Overload) {
	line := Line{What: "Overload behind the fuse of " + o.Fuse.Device + ", " + latest(o.Latest), Formula: "Io = n x Ir",
		Result: short(float64(o.Amps), "A"), Met: o.Met, Unverified: !o.Verified}
	if x := k.Protect.Fuse(o.Fuse); x != nil {
		line.Inputs = []Input{in("n", float64(o.Times), "", "multiple up to which the gate gives that time"), in("Ir", float64(x.Rating), "A", "rating of the fuse")}
		if o.Beside > 0 {
			line.Formula = "Io = n x Ir + b"
			line.Inputs = append(line.Inputs, in("b", float64(o.Beside), "A", "what limited sources drive in at the same end"))
		}
		if a := float64(o.Times)*float64(x.Rating) + float64(o.Beside); math.Abs(a-float64(o.Amps)) > 1e-3*a {
			line.Formula = "what the circuit passes, or this wire's share of it"
		}
	}
	if o.Latest == protect.Never {
		line.Limit = "stands " + short(float64(o.Stands), "A") + " at " + o.Limit.String()
		line.Room = short(float64(o.Stands-o.Amps), "A")
	} else {
		line.Limit = "reaches " + heat.Words(o.Reaches) + ", at most " + o.Limit.String()
		line.Room = short(float64(o.Limit-o.Reaches), "K")
	}
	k.put(line)
	if o.Latest != protect.Never {
		k.warms(o.Amps, o.Latest, o.Start, o.Reaches, o.Area, r.OverloadCourse)
	}
}

// course words how long a wire carries a short: one current, or one after the other as the fuses open.
func course(h *protect.ShortHeat) string {
	if len(h.Steps) < 2 {
		return "in this wire, cleared in " + latest(h.Latest)
	}
	text := "in this wire, as the fuses open: "
	for i, s := range h.Steps {
		if i > 0 {
			text += ", then "
		}
		text += short(float64(s.Amps), "A")
		if s.For == protect.Never {
			text += " for good"
		} else {
			text += " for at most " + s.For.String()
		}
	}
	return text
}

func (k *maker) short(r *protect.WireResult, h *protect.ShortHeat, s *protect.Short) {
	side := "weakest: low volts, hot copper, aged joints"
	if s.Strong {
		side = "strongest: high volts, cold copper, new joints"
	}
	k.put(Line{What: "Dead short at " + s.At + ", case " + s.Case, Formula: "nodal solution with every load open", Inputs: []Input{{Value: side}}, Result: short(float64(h.Amps), "A"), Note: course(h)})
	n := k.number
	switch {
	case h.Latest > 0 && len(h.Steps) > 1:
		line := Line{What: "Let through", Formula: "E = sum of I ^ 2 x t", Result: short(float64(h.Energy), "A2s"), Note: "one current after the other, as the fuses open"}
		for _, s := range h.Steps {
			if s.For != protect.Never {
				line.Inputs = append(line.Inputs, in("I", float64(s.Amps), "A", ""), in("t", float64(s.For), "s", "until the next fuse has opened, latest time of its gate"))
			}
		}
		k.put(line)
	case h.Latest > 0:
		k.put(Line{What: "Let through", Formula: "E = I ^ 2 x t", Inputs: []Input{in("I", float64(h.Amps), "A", from(n)), in("t", float64(h.Latest), "s", "gate of the fuse that clears it, latest time")},
			Result: short(float64(h.Energy), "A2s")})
	}
	if kk, area := float64(h.K), float64(h.Area); kk > 0 && area > 0 && h.Limit > h.Start {
		c := kk / math.Sqrt(math.Log(float64(h.Limit-data.Copper.ZeroAt)/float64(h.Start-data.Copper.ZeroAt)))
		n := k.put(Line{What: "Factor k of copper", Formula: "k = c x sqrt(ln((b + Tf) / (b + Ti)))", Inputs: []Input{in("c", c, "", "sqrt(Qc (b + 20) / resistivity at 20 C) of copper, IEC 60364-5-54"), in("b", -float64(data.Copper.ZeroAt), "C", "IEC 60364-5-54"),
			in("Tf", float64(h.Limit), "C", "rating of its insulation and short-rise"), in("Ti", float64(h.Start), "C", "where it begins")},
			Result: short(kk, "A root s per mm2")})
		k.put(Line{What: "Stands without losing heat", Formula: "S = (k x A) ^ 2", Inputs: []Input{in("k", kk, "", from(n)), in("A", area, "mm2", "copper: the size, or less where its greatest resistance tells of less (the geometric mean of both)")}, Result: short(kk*kk*area*area, "A2s")})
	}
	formula := "the lower of two: all heat kept in the copper, and what it loses on the way counted"
	switch {
	case len(h.Steps) > 1:
		formula = "the lowest of three: all heat kept in the copper; the greatest current all the time; from current to current, each warming it no further than where it would end"
	case h.Latest == protect.Never:
		formula = "where that current ends"
	default:
		k.warms(h.Amps, h.Latest, h.Start, h.Reaches, h.Area, r.ShortCourse)
	}
	k.put(Line{What: "Copper when it is cleared", Formula: formula, Result: heat.Words(h.Reaches),
		Limit: "at most " + short(float64(h.Limit), "C"), Room: short(float64(h.Limit-h.Reaches), "K"), Met: h.Met})
}
