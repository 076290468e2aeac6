package reviewbook

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/margin"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// tightest is the results with least room, and how far each cause may change before one of them is missed.
func (b *book) tightest(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "The tightest results")
	if len(b.in.Tightest) == 0 {
		fl.Say(prose, "No result that meets its limit was found: nothing was judged, or everything is a finding.")
		return
	}
	fl.Say(prose, "Of the results that meet their limit these have least room. Each cause is changed alone, in the case named, and the net solved again until the limit is met just so. "+
		"Load is the load's own current. Length is of all wires on the way together; it says which way. Ambient is how much warmer all air may be. Supply is the set-point, in the direction that hurts. "+
		"Where it says not by, the limit holds to the end of what was tried. Of fuses, contacts and batteries the load goes in proportion and the air by their own formula or table; "+
		"a dash stands where a cause does not matter or is not worked out.")
	jumps := ""
	for i := range b.in.Tightest {
		if slices.ContainsFunc(b.in.Tightest[i].Room, func(r margin.Room) bool { return r.Stops }) {
			jumps = " Where it jumps, a relay lets go, another supply takes over, the load is no longer fed, or the gate of a fuse goes on to its next step."
		}
	}
	fl.Say(page.Tight, "Used: of the room between the value without load and the limit, the share that is used. Without load nothing is lost, a load has the set-point of its supply, a wire is as warm as the air. "+
		"Of a rating, a time or a battery it is the plain share. "+
		"Where a table of ampacities rules it is the square of the share of the current. What a wire may heat does not turn on its length."+jumps)
	t := table.New(typed([]table.Column{
		{Title: "Result", Type: bold, Weight: 3, Min: 30}, {Title: "Now", Align: page.Right}, {Title: "Limit", Align: page.Right},
		{Title: "Used %", Align: page.Right}, {Title: "Load A", Align: page.Right}, {Title: "Length mm", Align: page.Right, Min: 20},
		{Title: "Ambient K", Align: page.Right}, {Title: "Supply V", Align: page.Right, Min: 20},
	}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 6, 0, true
	for i := range b.in.Tightest {
		b.tight(t, &b.in.Tightest[i])
	}
	fl.Add(t)
}

func (b *book) tight(t *table.Table, x *margin.Tight) {
	bound := "at most\n"
	if x.Least {
		bound = "at least\n"
	}
	row := []table.Cell{table.T(x.Title), table.T(measure(x.Got)), table.T(bound + measure(x.Most)), table.T(fixed(float64(x.Used)*100, 1))}
	under := []table.Cell{small(b.tightLimit(x)), {}, {}, {}}
	for _, cause := range []string{margin.Load, margin.Length, margin.Ambient, margin.Supply} {
		figure, word := "–", ""
		for i := range x.Room {
			if r := &x.Room[i]; r.What == cause {
				figure, word = roomText(r)
			}
		}
		row, under = append(row, table.T(figure)), append(under, small(word))
	}
	t.Row(row...)
	t.More(under...)
	if also := x.Also; len(also) > 0 {
		more := ""
		if n := len(also) - mostAlso; n > 0 {
			also, more = also[:mostAlso], " and "+strconv.Itoa(n)+" more"
		}
		t.Note("With as much room or more: " + strings.Join(also, ", ") + more + ".")
	}
}

// mostAlso is how many results of the same cause are named.
const mostAlso = 12

// tightLimit is what is asked of a result, and where.
func (b *book) tightLimit(x *margin.Tight) string {
	what := x.Asked
	switch {
	case what != "":
	case x.Subject.Limit == margin.Heat:
		what = "heat"
	default:
		what, _ = limitText(&x.Held)
		switch x.Subject.Limit {
		case "drop", "feed-return-drop":
			what += ", out and back"
		}
	}
	if x.Start != "" {
		what += ", while " + x.Start + " starts"
	}
	if x.Case != "" {
		what += "; case " + x.Case
	}
	return what
}

// measure prints a quantity as the tables do, with its unit.
func measure(q unit.Quantity) string {
	switch q.Dim {
	case unit.DimVoltage:
		return volts(unit.Voltage(q.Value)) + " V"
	case unit.DimCurrent:
		return amps(unit.Current(q.Value)) + " A"
	case unit.DimTemperature:
		return degrees(unit.Temperature(q.Value)) + " °C"
	case unit.DimTime:
		return four(q.Value) + " s"
	case unit.DimCharge:
		return four(q.Value) + " Ah"
	}
	return q.String()
}

// roomText is how far a cause may go, and what stands under it.
func roomText(r *margin.Room) (figure, word string) {
	show := func(q unit.Quantity) string {
		switch q.Dim {
		case unit.DimLength:
			return fixed(q.Value, 0)
		case unit.DimTempDiff:
			return "+" + fixed(q.Value, 1)
		case unit.DimRatio:
			return fixed(q.Value*100, 1) + " %"
		case unit.DimVoltage:
			return fixed(q.Value, 3)
		}
		return four(q.Value)
	}
	var words []string
	switch r.What {
	case margin.Length, margin.Supply:
		words = append(words, r.Of)
	case margin.Load:
		if r.Of != "" && (r.From.Dim == unit.DimRatio || r.Own || strings.HasSuffix(r.Of, " starts")) {
			words = append(words, r.Of)
		}
	case margin.Ambient:
		if r.Own {
			words = append(words, r.Of)
		}
	}
	switch {
	case r.Missed:
		figure = "none"
	case r.Beyond && r.What == margin.Supply:
		figure = "not by\n±" + fixed(math.Abs(r.To.Value-r.From.Value), 2)
	case r.Beyond:
		figure = "not by\n" + show(r.To)
	case r.From.Dim == unit.DimTempDiff:
		figure = show(r.To)
	default:
		figure = show(r.From) + "\nto " + show(r.To)
	}
	if r.Stops {
		words = append(words, "there it jumps")
	}
	return figure, strings.Join(words, "; ")
}
