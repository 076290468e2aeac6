package worked

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// length is the sum of what the copper is long.
func (k *maker) length() {
	k.part("Length of the copper")
	if k.w.Loose {
		k.put(Line{What: "Loose lead", Formula: "as stated", Inputs: []Input{at(in("", float64(k.w.LooseLength)/1000, "m", "stated"), k.w.Span)}, Result: short(float64(k.w.LooseLength)/1000, "m")})
		k.metres = float64(k.w.LooseLength) / 1000
		return
	}
	var terms []Input
	formula := "L ="
	add := func(name string, mm float64, line int) {
		if len(terms) > 0 {
			formula += " +"
		}
		formula += " " + name
		terms = append(terms, in(name, mm/1000, "m", from(line)))
	}
	n := 0
	for _, s := range k.w.Path {
		if k.Net.Space == nil || s.Edge < 0 || s.Edge >= len(k.Net.Space.Edges) {
			continue
		}
		e := &k.Net.Space.Edges[s.Edge]
		n++
		name := "L" + unit.Number(float64(n), 0)
		source := "coordinates of its places"
		if e.Status == design.Measured {
			source = "measured by string"
		}
		if e.Unknown {
			source = "NOT KNOWN, left out"
		}
		if k.scopes == nil {
			k.scopes = net.EdgeScopes(k.Job, k.Net.Space)
		}
		scope := k.scopes[s.Edge]
		ratio := k.Job.Settings.Get("lay-ratio", scope)
		scope.Circuit, scope.Class = k.w.Circuit, k.w.Class
		r := k.Job.Settings.Get("take-up", scope)
		u, why := s.TakeUp, "take-up: "+r.Source()
		if u > net.TakeUpAt(k.Job, k.w, scope) {
			r, why = ratio, "the most that layers of lay-ratio "+ratio.Value.String()+" take up, sqrt(1 + (pi / lay-ratio)^2) - 1: "+ratio.Source()
		}
		mm := float64(e.Length+e.Slack) * (1 + float64(u))
		add(name, mm, k.put(Line{What: "Run " + e.Run + " from " + k.node(e.From) + " to " + k.node(e.To),
			Formula: name + " = (l + s) x (1 + u / 100)",
			Inputs: []Input{at(in("l", float64(e.Length)/1000, "m", source), e.Span), at(in("s", float64(e.Slack)/1000, "m", "its slack"), e.Span),
				at(in("u", float64(u)*100, "%", why), r.Span)},
			Result: short(mm/1000, "m")}))
	}
	for i := range k.w.Ends {
		tail, loop := net.EndAllowance(k.Job, k.w, i)
		name := "E" + unit.Number(float64(i+1), 0)
		t := &k.w.Ends[i]
		scope := design.Scope{Circuit: k.w.Circuit, Class: k.w.Class, Section: k.w.Section, Device: t.Device, Break: t.Break}
		rt, rl := k.Job.Settings.Get("tail", scope), k.Job.Settings.Get("service-loop", scope)
		add(name, float64(tail+loop), k.put(Line{What: "End at " + k.end(i), Formula: name + " = t + o",
			Inputs: []Input{at(in("t", float64(tail)/1000, "m", "tail: "+rt.Source()), rt.Span), at(in("o", float64(loop)/1000, "m", "service-loop: "+rl.Source()), rl.Span)},
			Result: short(float64(tail+loop)/1000, "m")}))
	}
	k.metres = float64(max(k.w.Copper, k.w.Length)) / 1000
	note := ""
	if k.w.Unmeasured {
		note = "a part of its way has no known length and is left out"
	}
	k.put(Line{What: "Length", Formula: formula, Inputs: terms, Result: short(k.metres, "m"), Note: note})
}

func (k *maker) node(i int) string {
	if i < 0 || i >= len(k.Net.Space.Nodes) {
		return "?"
	}
	return k.Net.Space.Nodes[i].Key
}

// end names one end as it is written.
func (k *maker) end(i int) string {
	if i == 0 {
		return k.w.From
	}
	return k.w.To
}

func (k *maker) resistance() {
	k.part("Resistance")
	per := float64(k.c.Resistance) * 1000
	source := k.c.Source
	if source == "" {
		source = "no source given"
	}
	k.r20 = per * k.metres
	k.put(Line{What: "At 20 C, " + k.c.Family + " " + k.c.Size.String(), Formula: "R20 = r x L", Unverified: !k.c.Verified,
		Inputs: []Input{in("r", per, "mohm/m", source), in("L", k.metres, "m", from(k.number))}, Result: short(k.r20, "mohm"), Note: "size decided by: " + k.s.Decided})
}

// current is what the wire carries in each case.
func (k *maker) current() {
	k.part("Current")
	worst, most := "", 0.0
	for _, c := range k.Cases {
		for n, v := range c.Variants() {
			if k.wire >= len(v.WireAmps) {
				continue
			}
			if a := math.Abs(float64(v.WireAmps[k.wire])); a > most*(1+1e-9) {
				worst, most = c.Case+[]string{"", ", supplies at their low ends", ", supplies at their high ends"}[min(n, 2)], a
			}
		}
	}
	k.put(Line{What: "Greatest steady current", Formula: "nodal solution of the whole net in each case", Inputs: []Input{{Value: worst, Source: "case"}}, Result: short(most, "A")})
	if k.w.Carries > 0 {
		why := "stated by its link"
		if k.w.Lead {
			why = "limit of the supply whose lead it is"
		}
		k.put(Line{What: "Carries besides", Formula: why, Inputs: []Input{at(in("", float64(k.w.Carries), "A", why), k.w.Span)}, Result: short(float64(k.w.Carries), "A")})
	}
}
