package reviewbook

import (
	"loomsheet/harness/reading"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// reading is by how much each sensor reads wrong.
func (b *book) reading(fl *page.Flow) {
	fl.Heading(2, "Sensors whose reference is off")
	if len(b.in.Readings) == 0 {
		fl.Say(prose, "No sensor says how it reads (`reads`) and is wired to a device that reads it.")
		return
	}
	fl.Say(prose, "The volts by which a sensor's reference pin lies above the pin its reader measures against, in the worst of all cases and starts in which both are fed. Off = mV / 1000 / volts of the reading x its value; more than none reads too high.")
	t := table.New(typed([]table.Column{{Title: "Sensor, reader", Type: bold, Weight: 2, Min: 28}, {Title: "Against", Weight: 2, Min: 28}, {Title: "Case", Min: 22}, {Title: "Off mV", Align: page.Right, Min: 16}, {Title: "At most mV", Align: page.Right, Min: 18},
		{Title: "Reads", Min: 24}, {Title: "Off by", Align: page.Right, Type: bold, Whole: true, Min: 24}, {Title: "Verdict", Type: fine, Min: 18}}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
	for i := range b.in.Readings {
		e := &b.in.Readings[i]
		case1 := ""
		if e.Start != "" {
			case1 = "while " + e.Start + " starts"
		}
		t.Row(table.T(e.Device), table.T(e.At), table.T(e.Case), table.T(millivolts(e.Volts)), table.T(millivolts(e.Most)), table.T(e.Value.String()), table.T(rounded(e.Off)), verdictCell(e.Met))
		t.More(small("read by "+e.Reader), small(e.Why), small(case1), table.Cell{}, small(e.Ruling.Scope), small("per "+e.Per.String()))
	}
	fl.Add(t)
	for i := range b.in.Readings {
		b.referenceWay(fl, &b.in.Readings[i])
	}
}

// rounded is a quantity to four figures.
func rounded(q unit.Quantity) string {
	units := q.Dim.Units()
	if len(units) == 0 || q.Dim == unit.DimRatio {
		return q.String()
	}
	return four(q.Value) + " " + units[0]
}

// referenceWay is every joint from a sensor's reference to its reader's.
func (b *book) referenceWay(fl *page.Flow, e *reading.Error) {
	if len(e.Way) == 0 {
		return
	}
	t := table.New(typed([]table.Column{{Title: "From " + e.Device + "." + e.To + " to " + e.At, Weight: 4, Min: 60}, {Title: "Amps", Align: page.Right, Min: 20}, {Title: "mV", Align: page.Right, Min: 20}, {Title: "Other current", Type: fine, Min: 26}}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 4.5, 0, true
	for _, p := range e.Way {
		shared := "the sensor's own"
		if p.Shared {
			shared = "shared"
		}
		t.Row(table.T(p.Kind.String()+" "+p.Name), table.T(fixed(float64(p.Amps), 4)), table.T(fixed(float64(p.Drop)*1000, 3)), table.T(shared))
	}
	t.Note("Added up " + fixed(float64(e.Volts)*1000, 3) + " mV, in case " + e.Case + "; the sensor itself sends back " + fixed(float64(e.Own), 4) + " A.")
	fl.Space(3)
	fl.Add(t)
}
