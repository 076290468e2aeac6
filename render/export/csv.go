package export

import (
	"bytes"
	"strconv"
	"strings"
)

// Table is one CSV file: a head and rows of text.
type Table struct {
	Name string
	Head []string
	Rows [][]string
}

// CSV is the table as RFC 4180 text.
func (t Table) CSV() ([]byte, error) {
	var b bytes.Buffer
	if err := t.write(&b, t.Head); err != nil {
		return nil, err
	}
	if err := t.write(&b, t.Rows...); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func (n Num) String() string { return strconv.FormatFloat(float64(n), 'f', -1, 64) }

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// Tables are the tables of a job.
func (d *Doc) Tables() []Table {
	cuts := Table{Name: "cut-list", Head: []string{"section", "order", "wire", "label", "family", "size", "colour", "code", "length_mm", "end_1", "contact_1", "strip_1_mm", "end_2", "contact_2", "strip_2_mm", "cable", "length_sum"}}
	pins := Table{Name: "pins", Head: []string{"section", "connector", "housing", "contacts", "cavity", "pin", "wires", "label", "code", "size", "goes_to", "contact", "status", "blank"}}
	splices := Table{Name: "splices", Head: []string{"section", "splice", "where", "status", "area_mm2", "sleeve", "wires"}}
	for _, s := range d.Sections {
		for i, c := range s.Cuts {
			var sum []string
			for _, t := range c.Terms {
				sum = append(sum, t.What+" "+t.LengthMM.String())
			}
			cuts.Rows = append(cuts.Rows, []string{s.Name, strconv.Itoa(i + 1), c.Wire, c.Label, c.Family, c.Size, c.Colour, c.Code, c.LengthMM.String(),
				c.Ends[0].Text, c.Ends[0].Contact, c.Ends[0].StripMM.String(), c.Ends[1].Text, c.Ends[1].Contact, c.Ends[1].StripMM.String(), c.Cable, strings.Join(sum, " + ")})
		}
		for _, c := range s.Connectors {
			for _, r := range c.Rows {
				pins.Rows = append(pins.Rows, []string{s.Name, c.Title, c.Housing, c.Contacts, r.Cavity, r.Pin, strings.Join(r.Wires, "; "), r.Label, r.Code, r.Size, r.GoesTo, r.Contact, r.Status, r.Blank})
			}
		}
		for _, p := range s.Splices {
			splices.Rows = append(splices.Rows, []string{s.Name, p.Name, p.Where, p.Status, p.AreaMM2.String(), p.Sleeve, strings.Join(p.Wires, "; ")})
		}
	}
	drops := Table{Name: "drops", Head: []string{"case", "starting", "device", "from", "to", "fed", "amps_a", "supply", "supply_volts_v", "volts_v", "feed_drop_v", "return_drop_v", "limits"}}
	for _, c := range d.Cases {
		add := func(start string, ls []Load) {
			for _, l := range ls {
				var held []string
				for _, h := range l.Limits {
					held = append(held, h.Setting+" "+h.Value.String()+" against "+h.Limit.String()+" "+map[bool]string{true: "met", false: "not met"}[h.Met])
				}
				drops.Rows = append(drops.Rows, []string{c.Name, start, l.Device, l.From, l.To, yes(l.Fed), l.Amps.String(), l.Supply, l.SupplyVolts.String(), l.Volts.String(), l.FeedDrop.String(), l.ReturnDrop.String(), strings.Join(held, "; ")})
			}
		}
		add("", c.Loads)
		for _, s := range c.Starts {
			add(s.Device, s.Loads)
		}
	}
	wires := Table{Name: "wires", Head: []string{"wire", "label", "section", "family", "size", "size_why", "length_mm", "ohm_20c", "amps_most_a", "amps_case", "heat_case", "zone", "ambient_c", "bundle_wires", "hottest_c", "heat_limit_c", "ampacity_a", "ampacity_by", "met", "verified"}}
	for _, w := range d.Wires {
		wires.Rows = append(wires.Rows, []string{w.Name, w.Label, w.Section, w.Family, w.Size, w.SizeWhy, w.LengthMM.String(), w.Ohm20.String(), w.AmpsMost.String(), w.AmpsCase, w.HeatCase, w.HeatZone, w.AmbientC.String(),
			strconv.Itoa(w.Bundle), w.HottestC.String(), w.HeatLimitC.String(), w.Ampacity.String(), w.AmpacityBy, yes(w.AmpacityOK), yes(w.HeatSure && w.Verified)})
	}
	findings := Table{Name: "findings", Head: []string{"code", "severity", "title", "detail", "where", "subject", "case", "value", "limit", "accepted_by", "reason", "until"}}
	for _, f := range d.Findings {
		findings.Rows = append(findings.Rows, []string{f.Code, f.Severity, f.Title, f.Detail, f.Where, strings.TrimSpace(f.Kind + " " + f.Subject), f.Case, f.Value, f.Limit, f.AcceptedBy, f.Reason, f.Until})
	}
	parts := Table{Name: "parts", Head: []string{"kind", "part", "count", "length_mm", "own", "source"}}
	for _, p := range d.Parts {
		parts.Rows = append(parts.Rows, []string{p.Kind, p.Name, strconv.Itoa(p.Count), p.LengthMM.String(), yes(p.Own), p.Source})
	}
	fuses := Table{Name: "fuses", Head: []string{"device", "from", "to", "part", "rating_a", "steady_a", "case", "ambient_c", "ambient_factor", "need_a", "met", "feeds", "weakest_wire", "verified"}}
	for _, f := range d.Fuses {
		fuses.Rows = append(fuses.Rows, []string{f.Device, f.From, f.To, f.Part, f.Rating.String(), f.Steady.String(), f.Case, f.AmbientC.String(), f.Factor.String(), f.Need.String(), yes(f.LoadMet), strings.Join(f.Feeds, "; "), f.WeakWire, yes(f.Verified)})
	}
	shorts := Table{Name: "shorts", Head: []string{"at", "case", "strong", "amps_a", "loop_ohm", "source", "cleared_by", "times", "clears_s", "hottest_wire", "met"}}
	for _, x := range d.Shorts {
		by, times := "", ""
		if len(x.Fuses) > 0 {
			by, times = x.Fuses[0].Device+" "+x.Fuses[0].From+" - "+x.Fuses[0].To, x.Fuses[0].Times.String()
		}
		shorts.Rows = append(shorts.Rows, []string{x.At, x.Case, yes(x.Strong), x.Amps.String(), x.Loop.String(), x.Source, by, times, x.Clears.String(), x.Hot, yes(x.Met)})
	}
	contacts := Table{Name: "contacts", Head: []string{"wire", "where", "contact", "case", "amps_a", "shared_a", "rating_a", "loading_factor", "warm_factor", "allowed_a", "met", "verified"}}
	for _, c := range d.Contacts {
		contacts.Rows = append(contacts.Rows, []string{c.Wire, c.Where, c.Contact, c.Case, c.Amps.String(), c.Shared.String(), c.Rating.String(), c.Loading.String(), c.Warm.String(), c.Allowed.String(), yes(c.Met), yes(c.Verified)})
	}
	return append(append([]Table{cuts, pins, splices, drops, wires, fuses, shorts, contacts, findings, parts}, d.cuttingTables()...), d.bodyTables()...)
}
