package common

import (
	"strconv"
	"unicode"
	"unicode/utf8"

	"loomsheet/harness/design"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// statusMeaning explains the words that stand beside a cavity, a colour or a hole.
var statusMeaning = []struct {
	status  design.Status
	meaning string
}{
	{design.Computed, "also where no word stands: worked out by the program; it may change with the next revision until it is frozen"},
	{design.Stated, "decided by hand in the job"},
	{design.Frozen, "copper or holes already: never change it here, ask first"},
	{design.Built, "found so on the vehicle"},
	{design.Measured, "measured on the vehicle"},
}

// Legend explains the marks of a sheet: the words of status, then further words of the book's own.
func Legend(fl *page.Flow, more ...page.Fact) {
	fl.Heading(2, "Marks and words")
	var facts []page.Fact
	for _, s := range statusMeaning {
		facts = append(facts, page.Fact{Name: s.status.String(), Value: s.meaning})
	}
	t := table.New(table.Column{Title: "Mark", Type: page.Strong}, table.Column{Title: "What it says", Weight: 1})
	t.RowHeight, t.GroupEvery, t.Together, t.Close = 5.6, 0, true, true
	for _, f := range append(facts, more...) {
		t.Row(table.T(f.Name), table.T(f.Value))
	}
	fl.Add(t)
}

// SignOff is the block that ends a book: a line to sign for each kind of work.
func SignOff(fl *page.Flow, work ...string) {
	fl.Together(func() {
		fl.Heading(1, "Sign-off")
		fl.Para("Signed by hand when the work is done and again by a second person who checked it. What was changed while building is written on the sheet it concerns and goes back into the job before the next revision.")
		t := table.New(table.Column{Title: "Work", Type: page.Strong}, table.Column{Title: "Done by", Weight: 2}, table.Column{Title: "Date", Weight: 1},
			table.Column{Title: "Checked by", Weight: 2}, table.Column{Title: "Date", Weight: 1})
		t.RowHeight, t.GroupEvery = 9.5, 0
		for _, w := range work {
			t.Row(table.T(w))
		}
		fl.Add(t)
	})
}

// Sentence begins with a capital letter.
func Sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Count is a number with its noun: "1 wire", "3 wires".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
