package export

import (
	"strconv"
	"strings"
)

// bodyTables are the tables of what is done on the bare body and along the runs.
func (d *Doc) bodyTables() []Table {
	return append(d.runTables(), d.shellTables()...)
}

// at is a place as three cells, empty where it is not known.
func at(p [3]Num, known bool) []string {
	if !known {
		return []string{"", "", ""}
	}
	return []string{p[0].String(), p[1].String(), p[2].String()}
}

// line joins groups of cells to a row.
func line(groups ...[]string) []string {
	var out []string
	for _, g := range groups {
		out = append(out, g...)
	}
	return out
}

func cells(s ...string) []string { return s }

func (d *Doc) runTables() []Table {
	runs := Table{Name: "runs", Head: []string{"run", "stretch", "section", "zone", "panel", "tube", "from", "to", "length_mm", "status", "span_limit_mm", "span_source", "wires", "outside_mm", "clips", "note", "string_mm", "string_date", "slack_mm", "coordinates_mm"}}
	stations := Table{Name: "stations", Head: []string{"run", "stretch", "after_mm", "what", "x_mm", "y_mm", "z_mm", "breakout", "ends"}}
	bends := Table{Name: "bends", Head: []string{"run", "stretch", "after_mm", "turn_deg", "radius_mm"}}
	diameters := Table{Name: "diameters", Head: []string{"run", "stretch", "from_mm", "to_mm", "least_mm", "most_mm", "wires"}}
	clips := Table{Name: "clips", Head: []string{"run", "stretch", "mark", "after_mm", "gap_mm", "x_mm", "y_mm", "z_mm", "part", "clip_why", "bundle_mm", "bundle_least_mm", "size_mm", "wrap_mm", "fastener", "kind", "kind_why", "drill_mm",
		"screw_mm", "screw_sum", "panel", "tube", "hole", "hole_x_mm", "hole_y_mm", "hole_z_mm", "with", "new_hole", "why", "status", "ear_mm", "ear_side"}}
	for _, r := range d.Runs {
		name := cells(r.Run, strconv.Itoa(r.Stretch))
		from, to := "", ""
		if n := len(r.Stations); n > 0 {
			from, to = r.Stations[0].What, r.Stations[n-1].What
		}
		runs.Rows = append(runs.Rows, line(name, cells(r.Section, r.Zone, r.Panel, r.Tube, from, to, r.LengthMM.String(), r.Status, r.SpanMM.String(), r.SpanSource, strconv.Itoa(r.Wires), r.OutsideMM.String(), strconv.Itoa(len(r.Clips)), r.Note, r.StringMM.String(), r.StringDate, r.SlackMM.String(), r.CoordinatesMM.String())))
		for _, s := range r.Stations {
			stations.Rows = append(stations.Rows, line(name, cells(s.AfterMM.String(), s.What), at(s.At, s.Known), cells(yes(s.Breakout), yes(s.Ends))))
		}
		for _, b := range r.Bends {
			bends.Rows = append(bends.Rows, line(name, cells(b.AfterMM.String(), b.TurnDeg.String(), b.RadiusMM.String())))
		}
		for _, x := range r.Diameters {
			diameters.Rows = append(diameters.Rows, line(name, cells(x.FromMM.String(), x.ToMM.String(), x.LeastMM.String(), x.MostMM.String(), strconv.Itoa(x.Wires))))
		}
		for _, c := range r.Clips {
			clips.Rows = append(clips.Rows, line(name, cells(c.Mark, c.AfterMM.String(), c.GapMM.String()), at(c.At, c.Known), cells(c.Part, c.ClipWhy, c.BundleMM.String(), c.LeastMM.String(), c.SizeMM.String(), c.WrapMM.String(), c.Fastener, c.Kind, c.KindWhy,
				c.DrillMM.String(), c.ScrewMM.String(), c.ScrewSum, c.Panel, c.Tube, c.Hole), at(c.HoleAt, c.HoleIs), cells(c.With, yes(c.NewHole), c.Why, c.Status, c.EarMM.String(), c.EarSide)))
		}
	}
	turns := Table{Name: "turns", Head: []string{"run", "stretch", "onto", "place", "x_mm", "y_mm", "z_mm", "after_mm", "turn_deg", "inside_mm", "fits_mm", "needed_mm", "rule", "source", "flexes"}}
	for _, b := range d.Turns {
		turns.Rows = append(turns.Rows, line(cells(b.Run, strconv.Itoa(b.Stretch), b.Onto, b.Place), at(b.At, true), cells(b.AfterMM.String(), b.TurnDeg.String(), b.InsideMM.String(), b.FitsMM.String(), b.NeededMM.String(), b.Rule, b.Source, yes(b.Flexes))))
	}
	nears := Table{Name: "nears", Head: []string{"run", "stretch", "after_mm", "x_mm", "y_mm", "z_mm", "hazard", "kind", "position", "gap_mm", "needed_mm", "by", "source", "sleeve"}}
	for _, n := range d.Nears {
		nears.Rows = append(nears.Rows, line(cells(n.Run, strconv.Itoa(n.Stretch), n.AfterMM.String()), at(n.At, true), cells(n.Hazard, n.Kind, n.Position, n.GapMM.String(), n.NeededMM.String(), n.By, n.Source, n.Sleeve)))
	}
	moves := Table{Name: "moves", Head: []string{"run", "stretch", "from", "to", "free_mm", "straight_mm", "moves_mm", "spare_mm", "needed_mm", "source", "tied"}}
	for _, m := range d.Moves {
		moves.Rows = append(moves.Rows, cells(m.Run, strconv.Itoa(m.Stretch), m.From, m.To, m.FreeMM.String(), m.StraightMM.String(), m.MovesMM.String(), m.SpareMM.String(), m.NeededMM.String(), m.Source, strings.Join(m.Tied, "; ")))
	}
	return []Table{runs, stations, bends, diameters, clips, turns, nears, moves}
}

func (d *Doc) shellTables() []Table {
	holes := Table{Name: "holes", Head: []string{"mark", "what", "kind", "of", "panel", "x_mm", "y_mm", "z_mm", "across_mm", "up_mm", "off_mm", "middle", "drill_mm", "high_mm", "drill_sum", "part_mm", "part_high_mm", "turn_deg", "fastener", "fastener_kind", "from",
		"ref_1", "ref_1_mm", "ref_2", "ref_2_mm", "which", "new", "revision", "status", "note"}}
	for _, h := range d.Holes {
		refs := []string{"", "", "", ""}
		for i, r := range h.Refs {
			if i < 2 {
				refs[2*i], refs[2*i+1] = r.To, r.DistanceMM.String()
			}
		}
		holes.Rows = append(holes.Rows, line(cells(h.Mark, h.What, h.Kind, h.Of, h.Panel), at(h.At, h.Known), cells(h.FlatMM[0].String(), h.FlatMM[1].String(), h.OffMM.String(), yes(h.Middle), h.DrillMM.String(), h.HighMM.String(), h.DrillSum, h.PartMM.String(), h.PartHigh.String(), h.TurnDeg.String(), h.Fastener, h.FixKind, h.From),
			refs, cells(h.Which, yes(h.New), h.Revision, h.Status, h.Note)))
	}
	panels := Table{Name: "panels", Head: []string{"walk", "panel", "thickness_mm", "flat", "curved_mm", "origin_x_mm", "origin_y_mm", "origin_z_mm", "side_1", "side_1_seen", "side_2", "side_2_seen", "outline_mm", "keep_outs_mm", "seams"}}
	for _, p := range d.Shell.Panels {
		sides := []string{"", "", "", ""}
		for i, s := range p.Sides {
			if s.Known && i < 2 {
				sides[2*i], sides[2*i+1] = s.Zone, yes(s.Seen)
			}
		}
		var keeps, seams []string
		for _, k := range p.KeepOuts {
			keeps = append(keeps, round(k))
		}
		for _, s := range p.Seams {
			seams = append(seams, strconv.Itoa(s))
		}
		panels.Rows = append(panels.Rows, line(cells(strconv.Itoa(p.Walk), p.Name, p.ThicknessMM.String(), yes(p.Flat), p.CurvedMM.String()), at(p.Origin, true), sides, cells(round(p.Outline), strings.Join(keeps, "; "), strings.Join(seams, " "))))
	}
	mounts := Table{Name: "mounts", Head: []string{"name", "kind", "panel", "housing", "x_mm", "y_mm", "z_mm", "hole", "bore_mm", "cut_out_mm", "cut_out_high_mm", "flange_mm", "flange_high_mm", "nut_mm", "room_mm", "grips_least_mm", "grips_most_mm", "behind_mm",
		"key", "turn_deg", "face", "mate", "flange_side", "mating_side", "side_why", "screws", "bond"}}
	for _, m := range d.Shell.Mounts {
		var screws []string
		for _, s := range m.Screws {
			screws = append(screws, s.Mark+" "+s.DrillMM.String()+" at "+strings.Join(at(s.At, true), ", "))
		}
		mounts.Rows = append(mounts.Rows, line(cells(m.Name, m.Kind, m.Panel, m.Housing), at(m.At, m.Known), cells(m.Hole, m.BoreMM.String(), m.CutOutMM[0].String(), m.CutOutMM[1].String(), m.FlangeMM[0].String(), m.FlangeMM[1].String(), m.NutMM.String(), m.RoomMM.String(),
			m.GripsMM[0].String(), m.GripsMM[1].String(), m.BehindMM.String(), m.Key, m.TurnDeg.String(), strconv.Itoa(m.Face), strconv.Itoa(m.Mate), m.Side, m.Mating, m.SideWhy, strings.Join(screws, "; "), yes(m.Bond))))
	}
	masks := Table{Name: "masks", Head: []string{"mark", "what", "panel", "x_mm", "y_mm", "z_mm", "size_mm", "torque_nm", "side", "note"}}
	for _, m := range d.Shell.Masks {
		masks.Rows = append(masks.Rows, line(cells(m.Mark, m.What, m.Panel), at(m.At, m.Known), cells(m.SizeMM.String(), m.TorqueNM.String(), m.Side, m.Note)))
	}
	plugs := Table{Name: "plugs", Head: []string{"mark", "panel", "x_mm", "y_mm", "z_mm", "drill_mm"}}
	for _, p := range d.Shell.Plugs {
		plugs.Rows = append(plugs.Rows, line(cells(p.Mark, p.Panel), at(p.At, p.Known), cells(p.DrillMM.String())))
	}
	late := Table{Name: "late", Head: []string{"mark", "what", "panel", "x_mm", "y_mm", "z_mm", "nearest", "away_mm", "span_mm", "limit_mm", "why"}}
	for _, l := range d.Shell.Late {
		late.Rows = append(late.Rows, line(cells(l.Mark, l.What, l.Panel), at(l.At, true), cells(l.Nearest, l.AwayMM.String(), l.SpanMM.String(), l.LimitMM.String(), l.Why)))
	}
	open := Table{Name: "open", Head: []string{"why", "marks"}}
	for _, o := range d.Shell.Open {
		open.Rows = append(open.Rows, cells(o.Why, strings.Join(o.Marks, "; ")))
	}
	templates := Table{Name: "templates", Head: []string{"template", "panel", "seen_from", "look", "mark", "across_mm", "up_mm", "drill_mm", "high_mm", "turn_deg", "note"}}
	for _, t := range d.Shell.Templates {
		for _, h := range t.Holes {
			templates.Rows = append(templates.Rows, cells(t.Name, t.Panel, t.Seen, t.Look, h.Mark, h.FlatMM[0].String(), h.FlatMM[1].String(), h.DrillMM.String(), h.HighMM.String(), h.TurnDeg.String(), t.Note))
		}
		for _, m := range t.Mounts {
			templates.Rows = append(templates.Rows, cells(t.Name, t.Panel, t.Seen, t.Look, "key of "+m.Name, m.FlatMM[0].String(), m.FlatMM[1].String(), "", "", m.TurnDeg.String(), t.Note))
		}
	}
	return []Table{panels, holes, mounts, masks, plugs, late, open, templates}
}

// round is an outline as text: across and up of each corner.
func round(o [][2]Num) string {
	var out []string
	for _, f := range o {
		out = append(out, f[0].String()+" "+f[1].String())
	}
	return strings.Join(out, ", ")
}
