package benchbook

import (
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/font"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// The voices that the hand looks for.
var (
	figure = page.Big.Sized(17) // a length, a cavity
	label  = page.Strong.Sized(12)
	unsure = page.Strong.Sized(11) // what stands where a figure is not known
)

// cutList is one row of two lines for each piece: its length and its number, its label and its name, its colour and its
// size, and its two ends side by side with their contacts.
func cutList(fl *page.Flow, s *bench.SectionPlan) {
	fl.NewPage()
	fl.Heading(1, "Cut list")
	if len(s.Cuts) == 0 {
		fl.Para("Nothing is cut for this section.")
		return
	}
	common.Intro(fl, "In cutting order. The length is the whole piece, tails and service loops included; what it is made of stands near the end of the book.")
	t := table.New(
		table.Column{Title: "Length mm", Align: page.Right, Whole: true},
		table.Column{Title: "Label, wire", Weight: 4, Min: 33},
		table.Column{Title: "Colour, size", Min: 27},
		table.Column{Title: "Ends", Weight: 4, Min: 33},
		table.Column{Title: "Contact", Weight: 2, Min: 28},
		table.Column{Title: "Strip mm", Align: page.Right, Whole: true},
		table.Column{Title: "Cut", Align: page.Centre, Whole: true},
		table.Column{Title: "Chk", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later = 20, "Cut list"
	group := ""
	for i, c := range s.Cuts {
		if g := reelText(&c); g != group {
			t.Sub(g)
			group = g
		}
		cutRow(t, i+1, &c)
	}
	fl.Add(t)
}

// reelText is the subhead under which a piece stands.
func reelText(c *bench.Cut) string {
	if len(c.Cores) > 0 {
		return c.Family + ", bought cable"
	}
	if c.Size.IsZero() {
		return c.Family
	}
	s := common.SizeText(c.Size)
	if c.Family != "" {
		s = c.Family + ", " + s
	}
	return s
}

func cutRow(t *table.Table, n int, c *bench.Cut) {
	colour, size := common.ColourCell(c.Code, c.Colour), table.Cell{Text: sizeText(c.Size, c.ColourStatus, c.Colour), Type: page.Tight}
	first := c.Label
	if len(c.Cores) > 0 {
		colour, size, first = table.T("bought cable"), table.Cell{}, c.Cable
	}
	if first == "" {
		first = "no label"
	}
	by := [2]table.Cell{}
	if len(c.Cores) == 0 {
		by = [2]table.Cell{contactText(c.Ends[0]), contactText(c.Ends[1])}
	}
	t.Row(lengthCell(c.Length), table.Cell{Text: first, Type: label}, colour, endText(c.Ends[0]), by[0], stripCell(c.Ends[0]), table.Tick(), table.Tick())
	t.More(table.Cell{Text: "no. " + strconv.Itoa(n), Type: page.Tight}, table.Cell{Text: c.Name, Type: page.Tight}, size, endText(c.Ends[1]), by[1], stripCell(c.Ends[1]))
	t.Note(c.Note)
	for _, k := range c.Cores {
		what := "core of"
		if k.Screen {
			what = "screen of"
		}
		mark := k.Label
		if mark == "" {
			mark = "no label"
		}
		t.Row(table.Cell{Text: what, Type: page.Tight}, table.Cell{Text: mark, Type: label}, common.ColourCell(k.Code, k.Colour), endText(k.Ends[0]), contactText(k.Ends[0]), stripCell(k.Ends[0]), table.Cell{}, table.Tick())
		t.More(table.Cell{Text: "no. " + strconv.Itoa(n), Type: page.Tight}, table.Cell{Text: k.Name, Type: page.Tight}, table.Cell{Text: sizeText(k.Size, k.ColourStatus, k.Colour), Type: page.Tight},
			endText(k.Ends[1]), contactText(k.Ends[1]), stripCell(k.Ends[1]))
	}
}

func lengthCell(l unit.Length) table.Cell {
	if l > 0 && unit.Finite(l) {
		return table.Cell{Text: common.Whole(l), Type: figure}
	}
	return table.Cell{Text: "not\nknown", Type: unsure}
}

// sizeText is the size, and that the colour was given by rule where nobody stated one.
func sizeText(size unit.Size, s design.Status, colour string) string {
	out := common.SizeText(size)
	if colour != "" && colour != bench.Bare && s == design.Computed {
		out += "\ncolour " + s.String()
	}
	return out
}

func endText(e bench.CutEnd) table.Cell { return table.Cell{Text: e.Text, Type: page.Tight} }

func contactText(e bench.CutEnd) table.Cell {
	return table.Cell{Text: chosen(e.Contact), Type: page.Tight}
}

// chosen is the contact's name, or that there is none.
func chosen(contact string) string {
	if contact == "" {
		return "not chosen"
	}
	return contact
}

func stripCell(e bench.CutEnd) table.Cell {
	if e.Contact == "" || e.Contact == "cut back" {
		return table.Cell{}
	}
	return table.T(strip(e.Strip))
}

// lengths shows what each length is made of, for whoever doubts one.
func lengths(fl *page.Flow, s *bench.SectionPlan) {
	small := page.Tight.Sized(9) // nobody cuts by this table
	t := table.New(table.Column{Title: "No.", Align: page.Right, Whole: true}, table.Column{Title: "Label", Weight: 1, Type: small.Faced(font.NarrowBold)}, table.Column{Title: "Parts in mm", Weight: 5, Type: small},
		table.Column{Title: "Length mm", Align: page.Right, Type: page.Strong, Whole: true})
	t.RowHeight, t.Later = 5.5, "Sums of the lengths"
	for i, c := range s.Cuts {
		name := c.Label
		if name == "" {
			name = c.Name
		}
		sum := ""
		for k, p := range c.Terms {
			if k > 0 {
				sum += " + "
			}
			sum += common.Squared(p.What) + ": " + common.Tenths(p.Length)
		}
		if c.Length <= 0 {
			sum = "a part of its way has no known length"
		}
		t.Row(table.T(strconv.Itoa(i+1)), table.T(name), table.T(sum), table.T(common.Whole(c.Length)))
	}
	if t.Len() == 0 {
		return
	}
	fl.NewPage()
	fl.Heading(1, "Sums of the lengths")
	common.Intro(fl, "Each length is the sum of its parts. A part along a run names the stations between which the wire lies there, from the run's beginning.")
	fl.Add(t)
}
