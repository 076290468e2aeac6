package reviewbook

import (
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// share is what a wire uses of what it may.
type share struct{ amps, rise float64 }

func (s share) most() float64 { return max(s.amps, s.rise) }

// used is the current over the ampacity, and the rise of the conductor over the rise that the limit leaves.
func used(h *heat.WireResult) share {
	over := func(part, whole float64) float64 {
		if !(whole > 0) {
			if part > 0 {
				return 99.99
			}
			return 0
		}
		return min(part/whole, 99.99)
	}
	return share{over(float64(h.Effective), float64(h.Ampacity)), over(float64(h.Hottest-h.Ambient), float64(h.Limit-h.Ambient))}
}

func (b *book) heatVerdict() string {
	if b.in.Heat == nil || len(b.in.Heat.Wires) == 0 {
		return "nothing was judged"
	}
	judged, broken, blank := 0, 0, 0
	for i := range b.in.Heat.Wires {
		switch h := &b.in.Heat.Wires[i]; {
		case !h.Known:
			blank++
		case !h.Met:
			broken++
			judged++
		default:
			judged++
		}
	}
	s := verdictText(judged, "wire", "wires", judged, broken)
	if blank > 0 {
		s += "; " + strconv.Itoa(blank) + " not judged, their conductor is not known"
	}
	return s
}

// byUse is the wires that were judged, those not met first, then by what they use.
func (b *book) byUse() []*heat.WireResult {
	var out []*heat.WireResult
	if b.in.Heat == nil {
		return nil
	}
	for i := range b.in.Heat.Wires {
		if h := &b.in.Heat.Wires[i]; h.Known && b.wire(h.Wire) != nil {
			out = append(out, h)
		}
	}
	slices.SortStableFunc(out, func(x, y *heat.WireResult) int {
		if x.Met != y.Met {
			if y.Met {
				return -1
			}
			return 1
		}
		return unit.Compare(used(y).most(), used(x).most())
	})
	return out
}

// conditions gives each table with its printed conditions a letter, in the order of first use.
type conditions struct{ texts []string }

func (c *conditions) letter(t *heat.TableResult) string {
	base, _, _ := strings.Cut(t.Condition, notMet)
	text := string(t.Method) + ": " + base
	for i, s := range c.texts {
		if s == text {
			return letters(i)
		}
	}
	c.texts = append(c.texts, text)
	return letters(len(c.texts) - 1)
}

func letters(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return letters(i/26-1) + letters(i%26)
}

// notMet parts the printed conditions of a table from those that do not hold.
const notMet = "; not met here: "

func (b *book) ampacity(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Ampacity and heat")
	rows := b.byUse()
	if len(rows) == 0 {
		fl.Say(prose, "No wire was judged.")
		return
	}
	fl.Say(prose, "Each wire at its hottest place over all cases, worst first. Under the copper stands its limit: the rating of the insulation less heat-margin. Under the air stands how many wires lie in the bundle. Of what a wire may do it uses two shares: its amps over its ampacity, and the rise of its copper above the air over the rise that the limit leaves; "+
		"in a bundle it is warmed by its neighbours too, so the second may be the larger. Where loads come and go, the current after “as” is the steady one that gives their peak; where a start makes the peak, the copper is told at its end.")
	t := table.New(typed([]table.Column{{Title: "Wire, size and what decided it", Type: bold, Weight: 3, Min: 30}, {Title: "Case, zone", Min: 18}, {Title: "Air C", Align: page.Right, Min: 15},
		{Title: "Amps", Align: page.Right, Min: 15.5}, {Title: "Copper C", Align: page.Right, Min: 16.5}, {Title: "Ampacity A", Align: page.Right, Min: 22}, {Title: "Other figure, why it did not rule", Type: fine, Min: 30},
		{Title: "Used %", Align: page.Right, Type: fine, Min: 16}}, plain)...)
	t.RowHeight, t.Close = 5, true
	var conds conditions
	marked, broken := false, 0
	for _, h := range rows {
		if !h.Met {
			broken++
		}
		b.otherFigure(h, &conds)
		b.ruled(h, &conds)
		marked = marked || !h.Verified || h.Table != nil && !h.Table.Verified
	}
	var runs []table.Run
	for _, r := range []struct {
		sub  string
		rows []*heat.WireResult
	}{{"Limit " + notMetWords, rows[:broken]}, {"Limit met", rows[broken:]}} {
		if len(r.rows) > 0 {
			runs = append(runs, table.Run{Sub: r.sub, Rows: len(r.rows), Put: func(t *table.Table, i int) { b.heatRow(t, r.rows[i], &conds) }})
		}
	}
	t.AddLong(fl, &b.widths.heat, runs...)
	b.notJudged(fl)
	if marked {
		fl.Say(prose, "* rests on a value that is typical or from memory, not read in a document: check it against the maker's sheet of the wire before signing.")
	}
	for i, s := range conds.texts {
		fl.Say(prose, "Table "+letters(i)+": "+s+".")
	}
	if s := b.fromMemory("emissivity", "bundle-conductivity", "insulation-conductivity", "sleeve-wall"); s != "" {
		fl.Say(prose, "Every heat balance rests besides on "+s+", whose defaults in force are from memory.")
	}
}

// fromMemory names those of the settings whose value in force for the job is a default from memory.
func (b *book) fromMemory(names ...string) string {
	var out []string
	for _, n := range names {
		if r := b.in.Job.Settings.Get(n, design.Scope{}); !r.Set && strings.Contains(r.Def.Source, "memory") {
			out = append(out, n)
		}
	}
	return list(out)
}

func (b *book) notJudged(fl *page.Flow) {
	var names []string
	for i := range b.in.Heat.Wires {
		if h := &b.in.Heat.Wires[i]; !h.Known && b.wire(h.Wire) != nil {
			names = append(names, b.wire(h.Wire).Name)
		}
	}
	if len(names) > 0 {
		fl.Say(prose, "Not judged, because the conductor is not known: "+strings.Join(names, "; ")+".")
	}
}

func (b *book) heatRow(t *table.Table, h *heat.WireResult, conds *conditions) {
	w, c := b.wire(h.Wire), b.conductor(h.Wire)
	zone := h.Zone
	if zone == "" {
		zone = "no zone"
	}
	if h.Edge < 0 {
		zone += ", loose lead"
	}
	caseName := h.Case
	if caseName == "" {
		caseName = "no case"
	}
	hot := degrees(h.Hottest)
	if h.Runaway {
		hot = "no steady state"
	}
	u := used(h)
	t.Row(table.T(w.Name), table.T(caseName), table.T(degrees(h.Ambient)), table.T(amps(h.Amps)), table.T(hot), table.Cell{Text: star(amps(h.Ampacity), h.Verified), Type: bold},
		table.T(b.otherFigure(h, conds)), table.T("amps "+fixed(u.amps*100, 0)))
	heats := table.Cell{}
	if unit.Worse(h.Effective, h.Amps) || unit.Worse(h.Amps, h.Effective) {
		heats = small("as " + amps(h.Effective))
	}
	under := sizeText(c)
	if h.Start != "" {
		under += "\npeak while " + h.Start + " starts"
	}
	t.More(small(under), small(zone), small(plural(h.Count, "1 wire", strconv.Itoa(h.Count)+" wires")), heats, small("of "+degrees(h.Limit)), small(b.ruled(h, conds)), small(whyNot(h)), small("rise "+fixed(u.rise*100, 0)))
}

func sizeText(c size.Conductor) string {
	s := common.SizeText(c.Size)
	if c.Family != "" {
		s += " " + c.Family
	}
	switch {
	case c.Why == size.ByHand:
		return s + ", stated"
	case c.Why != "":
		return s + ", by " + string(c.Why)
	}
	return s
}

func star(s string, verified bool) string {
	if verified {
		return s
	}
	return s + "*"
}

// ruled is the method that gave the ampacity.
func (b *book) ruled(h *heat.WireResult, conds *conditions) string {
	if h.Table != nil && h.Ruled == h.Table.Method && h.Ruled != heat.Balance {
		return "table " + conds.letter(h.Table)
	}
	return string(h.Ruled)
}

// otherFigure is the ampacity by the method that did not rule.
func (b *book) otherFigure(h *heat.WireResult, conds *conditions) string {
	switch {
	case h.Table == nil:
		return "no table"
	case h.Ruled != heat.Balance:
		return "balance " + amps(h.Balance) + " A"
	}
	s := star(amps(h.Table.Amps)+" A", h.Table.Verified) + ", table " + conds.letter(h.Table)
	if h.Table.Taken != "" {
		s += " " + h.Table.Taken
	}
	return s
}

// whyNot says why the other figure did not rule.
func whyNot(h *heat.WireResult) string {
	switch {
	case h.Table == nil:
		return "none lists this size and rating"
	case h.Ruled != heat.Balance:
		return "the table is asked for, and its conditions hold"
	case h.Table.Holds:
		return "its conditions hold, but the heat balance is set"
	}
	_, not, found := strings.Cut(h.Table.Condition, notMet)
	if !found {
		return h.Table.Condition
	}
	return "not met here: " + not
}
