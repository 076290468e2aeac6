package benchbook

import (
	"math"
	"slices"
	"strconv"
	"strings"

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
	figure = page.Big.Sized(16.5) // a length, a cavity
	label  = page.Strong.Sized(11).Faced(font.NarrowBold)
	unsure = page.Strong.Sized(11) // what stands where a figure is not known
)

// padHand is what stays free above and below the rows that the hand works from.
const padHand page.MM = 0.4

// cutList is one row of two lines for each piece: its length, its label with its colour, and its two
// ends one above the other with contact, seal and strip. Its number, last, is that of its sum of lengths.
func cutList(fl *page.Flow, s *bench.SectionPlan, body page.Box) {
	fl.Heading(1, "Cut list")
	if len(s.Cuts) == 0 {
		fl.Para("Nothing is cut for this section.")
		return
	}
	common.Intro(fl, "In cutting order. Crp is for the crimp of the end on its line, once its set-up has held. Wire and size stand on grey above the pieces. The length is the whole piece, tails and service loops included; what it is made of stands near the end of the book, under the same number.")
	t := table.New(
		table.Column{Title: "Length mm", Align: page.Right, Whole: true, Figure: true},
		table.Column{Title: "Label, colour", Weight: 5, Min: 26},
		table.Column{Title: "Ends", Weight: 6, Min: 33},
		table.Column{Title: "Contact, seal", Weight: 4, Min: 24},
		table.Column{Title: "Strip mm", Align: page.Right, Min: 10, Whole: true},
		table.Column{Title: "Crp", Align: page.Centre, Whole: true},
		table.Column{Title: "Cut", Align: page.Centre, Whole: true},
		table.Column{Title: "Chk", Align: page.Centre, Whole: true},
		table.Column{Title: "No.", Align: page.Right, Whole: true, Type: page.Tight},
	)
	t.MaxRows, t.Later, t.Pad, t.GroupEvery = 24, "Cut list", padHand, 0
	for i := range s.Cuts {
		c := &s.Cuts[i]
		t.Columns[1].Min = max(t.Columns[1].Min, wireRoom(c.Code, c.Colour, c.ColourStatus, unit.Size{}))
		for _, k := range c.Cores {
			t.Columns[1].Min = max(t.Columns[1].Min, wireRoom(k.Code, k.Colour, k.ColourStatus, k.Size))
		}
	}
	group := ""
	for i, c := range s.Cuts {
		if g := reelText(&c); g != group {
			t.Sub(g)
			group = g
		}
		cutRow(t, i+1, &c)
	}
	settle(t, body.W, 1, 2, 3)
	fl.Add(t)
}

// settle gives columns of names the shares of the room with which the table is the shortest: long labels, long ends and long contacts each want another.
func settle(t *table.Table, width page.MM, columns ...int) {
	weights := []int{2, 5, 9}
	tries := 1
	for range columns {
		tries *= len(weights)
	}
	share := func(try int) {
		for _, c := range columns {
			t.Columns[c].Weight = weights[try%len(weights)]
			try /= len(weights)
		}
	}
	best, least := 0, page.MM(math.Inf(1))
	var tried [][]page.MM // many weights come out as the same widths
	for try := range tries {
		share(try)
		widths, err := t.Widths(width)
		if err != nil || slices.ContainsFunc(tried, func(w []page.MM) bool { return slices.Equal(w, widths) }) {
			continue
		}
		tried = append(tried, widths)
		if h, err := page.Height(t, width); err == nil && h < least-0.01 {
			best, least = try, h
		}
	}
	share(best)
}

// reelText is the subhead under which a piece stands.
func reelText(c *bench.Cut) string {
	if len(c.Cores) > 0 {
		return c.Family + ", bought cable: cut once, to its longest core"
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
	first, second := markCell(c.Label, c.Name), wireCell(c.Code, c.Colour, c.ColourStatus, unit.Size{}) // its size is in the subhead
	by := [2]table.Cell{contactText(c.Ends[0]), contactText(c.Ends[1])}
	if len(c.Cores) > 0 {
		first, second, by = table.Cell{Text: c.Cable, Type: label}, table.T("bought cable"), [2]table.Cell{}
	}
	number := table.T(strconv.Itoa(n))
	t.Row(lengthCell(c.Length), first, endText(c.Ends[0]), by[0], stripCell(c.Ends[0]), crimpTick(by[0]), table.Tick(), table.Tick(), number)
	t.More(table.T(""), second, endText(c.Ends[1]), by[1], stripCell(c.Ends[1]), crimpTick(by[1]))
	t.Note(c.Note)
	for _, k := range c.Cores {
		what := "core of"
		if k.Screen {
			what = "screen of"
		}
		t.Tied(table.Cell{Text: what, Type: page.Tight}, markCell(k.Label, k.Name), endText(k.Ends[0]), contactText(k.Ends[0]), stripCell(k.Ends[0]), table.Tick(), table.Cell{}, table.Tick(), number)
		t.More(table.T(""), wireCell(k.Code, k.Colour, k.ColourStatus, k.Size), endText(k.Ends[1]), contactText(k.Ends[1]), stripCell(k.Ends[1]), table.Tick())
	}
}

// markCell is what stands on the label; a label that does not begin with the name of its circuit has that beside it.
func markCell(mark, name string) table.Cell {
	if mark == "" {
		return table.Cell{Text: "no label", Type: label}
	}
	if circuit, _, _ := strings.Cut(name, " "); !strings.HasPrefix(mark, circuit) {
		mark += " (" + circuit + ")"
	}
	return table.Cell{Text: mark, Type: label}
}

// wireCell is the letters of the colour beside a swatch and the size; one that nobody stated stands in
// brackets.
func wireCell(code, colour string, s design.Status, size unit.Size) table.Cell {
	c := common.ColourCell(code, colour)
	c.Type = page.Strong.Faced(font.NarrowBold)
	if colour != "" && colour != bench.Bare && s == design.Computed {
		c.Text = "(" + c.Text + ")"
	}
	if !size.IsZero() {
		c.Text += " " + common.SizeText(size)
	}
	return c
}

// wireRoom is the width of a column in which a wire's cell stands in one line; of a colour that is written out it may wrap.
func wireRoom(code, colour string, s design.Status, size unit.Size) page.MM {
	c := wireCell(code, colour, s, size)
	return min(c.Room(), 44)
}

func lengthCell(l unit.Length) table.Cell {
	if l > 0 && unit.Finite(l) {
		return table.Cell{Text: common.Whole(l), Type: figure}
	}
	return table.Cell{Text: "not\nknown", Type: unsure}
}

func endText(e bench.CutEnd) table.Cell { return table.Cell{Text: e.Text, Type: page.Tight} }

func contactText(e bench.CutEnd) table.Cell {
	s := chosen(e.Contact)
	if e.Seal != "" {
		s += ", " + e.Seal
	}
	return table.Cell{Text: s, Type: page.Tight}
}

// chosen is the contact's name, or that there is none.
func chosen(contact string) string {
	if contact == "" {
		return "not chosen"
	}
	return contact
}

// crimpTick is a box for an end that is crimped.
func crimpTick(by table.Cell) table.Cell {
	if by.Text == "" || by.Text == "cut back" {
		return table.Cell{}
	}
	return table.Tick()
}

func stripCell(e bench.CutEnd) table.Cell {
	if e.Contact == "" || e.Contact == "cut back" {
		return table.Cell{}
	}
	return stripOrLine(e.Strip)
}

// stripOrLine is the bare copper of an end, or a line to write it on.
func stripOrLine(l unit.Length) table.Cell {
	if !(l > 0) {
		return table.Write()
	}
	return table.T(common.Tenths(l))
}
