package export

import (
	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

func runs(in Input) []Run {
	out := []Run{}
	for _, r := range in.Fixed.Runs {
		x := Run{Run: r.Run, Stretch: r.Stretch + 1, Section: r.Section, Zone: r.Zone, Panel: r.Panel, Tube: r.Tube, LengthMM: num(r.Length), Status: r.LengthStatus.String(),
			SpanMM: num(r.SpanLimit), SpanSource: r.SpanSource, Wires: r.Wires, OutsideMM: num(r.Outside), Note: r.Note,
			Stations: []Station{}, Bends: []Bend{}, Diameters: []Diameter{}, Sleeves: []Sleeve{}, Clips: []Clip{}}
		tape, _ := TapeOf(in.Job, in.Space, r.Run, r.Stretch)
		x.StringMM, x.StringDate, x.SlackMM, x.CoordinatesMM = num(tape.Length), tape.Date, num(tape.Slack), num(tape.Coordinates)
		for _, s := range r.Nodes {
			x.Stations = append(x.Stations, Station{num(s.After), s.What, point(s.At), s.Known, s.Breakout, s.Ends})
		}
		for _, b := range r.Bends {
			x.Bends = append(x.Bends, Bend{num(b.After), num(b.Turn), num(b.Radius)})
		}
		for _, d := range r.Diameters {
			x.Diameters = append(x.Diameters, Diameter{num(d.From), num(d.To), num(d.Least.Length()), num(d.Most), d.Wires})
		}
		for _, s := range r.Sleeves {
			x.Sleeves = append(x.Sleeves, Sleeve{s.Part, s.Run, s.From, s.To, num(s.Over), num(s.Length)})
		}
		for i, c := range r.Clips {
			gap := unit.Length(0)
			if i > 0 {
				gap = c.After - r.Clips[i-1].After
			}
			x.Clips = append(x.Clips, Clip{Mark: c.Mark, AfterMM: num(c.After), GapMM: num(gap), At: point(c.At), Known: c.Known, Part: c.Part, ClipWhy: c.ClipWhy, BundleMM: num(c.Bundle), LeastMM: num(c.Least.Length()), SizeMM: num(c.ClipSize), WrapMM: num(c.Wrap()), EarMM: num(c.Ear), EarSide: c.EarSide,
				Fastener: c.Fastener, Kind: c.Kind, KindWhy: c.KindWhy, DrillMM: num(c.Drill), ScrewMM: num(c.Screw), ScrewSum: c.ScrewSum, Panel: c.Panel, Tube: c.Tube, Hole: c.Hole, HoleAt: point(c.HoleAt), HoleIs: c.HoleKnown, With: c.With, NewHole: c.NewHole,
				Why: c.Why, Status: c.Status.String()})
		}
		out = append(out, x)
	}
	return out
}

// ways is what is known of how the laid bundles lie.
func ways(in Input) ([]Turn, []Near, []Move) {
	turns, nears, moves := []Turn{}, []Near{}, []Move{}
	if in.Route == nil {
		return turns, nears, moves
	}
	for _, b := range in.Route.Bends {
		turns = append(turns, Turn{Run: b.Run, Stretch: b.Stretch + 1, Onto: b.Onto, Place: b.Place, At: point(b.At), AfterMM: num(b.After), TurnDeg: num(b.Turn), InsideMM: num(b.Inside), FitsMM: num(b.Fits),
			NeededMM: num(b.Needed), Rule: b.Rule, Source: b.Source, Flexes: b.Flexes})
	}
	for _, n := range in.Route.Nears {
		nears = append(nears, Near{Run: n.Run, Stretch: n.Stretch + 1, AfterMM: num(n.After), At: point(n.At), Hazard: n.Hazard, Kind: n.Kind, Position: n.Position, GapMM: num(n.Gap), NeededMM: num(n.Needed),
			By: n.By, Source: n.Source, Sleeve: n.Sleeve})
	}
	for _, m := range in.Route.Moves {
		moves = append(moves, Move{Run: m.Run, Stretch: m.Stretch + 1, From: m.From, To: m.To, FreeMM: num(m.Free), StraightMM: num(m.Straight), MovesMM: num(m.Moves), SpareMM: num(m.Spare), NeededMM: num(m.Needed),
			Source: m.Source, Tied: some(m.Tied)})
	}
	return turns, nears, moves
}

func flat(f solid.Flat) [2]Num     { return [2]Num{num(f.U), num(f.V)} }
func vector(v solid.Vector) [3]Num { return [3]Num{num(v.X), num(v.Y), num(v.Z)} }
func outline(o solid.Outline) [][2]Num {
	out := [][2]Num{}
	for _, f := range o {
		out = append(out, flat(f))
	}
	return out
}

func holes(in Input) []Hole {
	out := []Hole{}
	for _, h := range in.Shell.Holes {
		x := Hole{Mark: h.Mark, What: h.What, Kind: h.Kind, Of: h.Of, Panel: h.Panel, At: point(h.At), Known: h.Known, FlatMM: flat(h.Flat), OffMM: num(h.Off), Middle: h.Middle, DrillMM: num(h.Drill), HighMM: num(h.High), DrillSum: h.DrillSum, PartMM: num(h.Part), PartHigh: num(h.PartHigh), TurnDeg: num(h.Turn),
			Fastener: h.Fastener, FixKind: h.FastenerKind, From: h.From, Refs: []Ref{}, Which: h.Which, Note: h.Note, New: h.New, Revision: h.Revision, Status: h.Status.String()}
		for _, r := range h.Refs {
			x.Refs = append(x.Refs, Ref{r.To, point(r.At), num(r.Distance)})
		}
		out = append(out, x)
	}
	return out
}

func bareShell(in Input) Shell {
	s := in.Shell
	d := Shell{Panels: []Panel{}, Mounts: mounts(in), Masks: []Mask{}, Plugs: []Plug{}, Late: []Late{}, Open: []Open{}, Templates: templates(s)}
	for _, p := range s.Panels {
		x := Panel{Name: p.Name, Walk: p.Walk, Origin: point(p.Plane.Origin), Across: vector(p.Plane.Across), Up: vector(p.Plane.Up), Outline: outline(p.Outline), Flat: p.Flat, CurvedMM: num(p.Curved),
			ThicknessMM: num(p.Thickness), KeepOuts: [][][2]Num{}, Sides: []Side{}, Seams: []int{}}
		for _, k := range p.KeepOuts {
			x.KeepOuts = append(x.KeepOuts, outline(k))
		}
		for _, k := range p.Sides {
			x.Sides = append(x.Sides, Side{k.Zone, k.Seen, k.Known})
		}
		for _, k := range p.Seams {
			x.Seams = append(x.Seams, k+1)
		}
		d.Panels = append(d.Panels, x)
	}
	for _, m := range s.Masks {
		d.Masks = append(d.Masks, Mask{m.Mark, m.What, m.Panel, point(m.At), m.Known, num(m.Size), num(m.Torque), m.Side, m.Note})
	}
	for _, p := range s.Plugs {
		d.Plugs = append(d.Plugs, Plug{p.Mark, p.Panel, point(p.At), p.Known, num(p.Drill)})
	}
	for _, l := range s.Late {
		d.Late = append(d.Late, Late{l.Mark, l.What, l.Panel, point(l.At), l.Nearest, num(l.Away), num(l.Span), num(l.Limit), l.Why})
	}
	for _, o := range s.Open {
		d.Open = append(d.Open, Open{o.Why, some(o.Marks)})
	}
	return d
}

func mounts(in Input) []Mount {
	out := []Mount{}
	for _, m := range in.Shell.Mounts {
		x := Mount{Name: m.Name, Kind: m.Kind, Panel: m.Panel, Housing: m.Housing, At: point(m.At), FlatMM: flat(m.Flat), Known: m.Known, Hole: m.Hole, BoreMM: num(m.Bore), CutOutMM: [2]Num{num(m.CutOut[0]), num(m.CutOut[1])},
			FlangeMM: [2]Num{num(m.Flange[0]), num(m.Flange[1])}, NutMM: num(m.Nut), RoomMM: num(m.Room), TurnDeg: num(m.Turn), Key: m.Key, Face: m.Face, Mate: m.Mate, Side: m.Side, Mating: m.Mating, SideWhy: m.SideWhy, Screws: []MountScrew{}, Bond: m.Bond}
		for _, h := range in.Job.Parts.Housings {
			if h.Name == m.Housing {
				x.GripsMM, x.BehindMM = [2]Num{num(h.Grips[0]), num(h.Grips[1])}, num(h.Behind)
				break
			}
		}
		for _, s := range m.Screws {
			x.Screws = append(x.Screws, MountScrew{s.Mark, point(s.At), flat(s.Flat), num(s.Drill)})
		}
		out = append(out, x)
	}
	return out
}

func templates(s *shell.Shell) []Template {
	out := []Template{}
	for _, t := range s.Templates {
		x := Template{Name: t.Name, Panel: t.Panel, Seen: t.Seen, Back: t.Against, Look: t.Look, Note: t.Note, LowMM: flat(t.Low), HighMM: flat(t.High), Holes: []TemplateHole{}, Mounts: []Seat{}}
		for _, h := range t.Holes {
			x.Holes = append(x.Holes, TemplateHole{h.Mark, flat(h.Flat), num(h.Drill), num(h.High), num(h.Turn)})
		}
		for i, m := range t.Mounts {
			if m >= 0 && m < len(s.Mounts) && i < len(t.Seats) {
				x.Mounts = append(x.Mounts, Seat{s.Mounts[m].Name, flat(t.Seats[i].Flat), num(t.Seats[i].Turn)})
			}
		}
		out = append(out, x)
	}
	return out
}
