package reviewbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

func lines(s string) []string { return strings.Split(s, "\n") }

// counts is how the messages stand.
type counts struct{ open, accepted, notes int }

func (b *book) count() (n counts) {
	for _, m := range b.in.Messages {
		switch {
		case m.Accepted != nil:
			n.accepted++
		case m.Severity > diag.Note:
			n.open++
		default:
			n.notes++
		}
	}
	return n
}

func (b *book) cover(fl *page.Flow, h common.Head, contents *common.Contents) {
	n := b.count()
	datum := h.Datum
	if datum == "" {
		datum = "not stated"
	}
	h.Cover(fl, common.Cover{Book: Title, Chapters: true, Facts: []page.Fact{
		{Name: "Datum", Value: datum},
		{Name: "Covers", Value: common.Count(len(b.in.Net.Wires), "wire", "wires") + ", " + common.Count(len(b.in.Job.Circuits), "circuit", "circuits") + ", " +
			common.Count(len(b.in.Cases), "case", "cases")},
		{Name: "Findings", Value: strconv.Itoa(n.open) + " open, " + strconv.Itoa(n.accepted) + " accepted"},
	}, What: "What a reviewer reads before signing: what is wrong, which limits were in force, the volts at each load, the heat of each wire, and the way to work any line again by hand."}, contents)
}

// verdict is one page: what is open, what was looked for and not found, what was not looked for at all.
func (b *book) verdict(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Verdict")
	n := b.count()
	facts := []page.Fact{
		{Name: "Findings", Value: strconv.Itoa(n.open) + " open, " + strconv.Itoa(n.accepted) + " accepted; " + common.Count(n.notes, "note", "notes")},
		{Name: "Steady volts", Value: b.steadyVerdict()},
		{Name: "Starting volts", Value: b.startVerdict()},
		{Name: "Heat", Value: b.heatVerdict()},
		{Name: "Protection", Value: b.protectionVerdict()},
		{Name: "Contacts", Value: b.contactVerdict()},
		{Name: "Cranking", Value: b.crankVerdict()},
		{Name: "Batteries, sensors", Value: b.batteryVerdict()},
	}
	why := b.in.NotForBuild()
	if len(why) == 0 {
		facts = append(facts, page.Fact{Name: "For build", Value: "no finding is open and no check is missing"})
	} else {
		facts = append(facts, page.Fact{Name: "NOT FOR BUILD", Value: strings.Join(why, "; ")})
	}
	fl.Facts(facts...)
	fired, silent := b.rules()
	if len(fired) > 0 {
		fl.Heading(2, "Found")
		fl.Say(prose, strings.Join(fired, "; ")+".")
	}
	fl.Say(prose, common.Count(len(silent), "check", "checks")+" looked and found nothing: they are listed behind the findings.")
	notRun(fl)
	fl.Say(prose, "This page says which limits were checked and met. It says nothing of what was not checked.")
}

// lookedFor lists the checks that found nothing.
func (b *book) lookedFor(fl *page.Flow) {
	_, silent := b.rules()
	fl.Heading(2, "Looked for and not found")
	if len(silent) == 0 {
		fl.Say(prose, "Nothing: each check that was run has found something.")
		return
	}
	fl.Say(plain, common.Sentence(strings.Join(silent, "; "))+".")
}

// rules sorts the checks that were run into those with findings, counted, and those without.
func (b *book) rules() (fired, silent []string) {
	for _, r := range rule.All {
		if r.Check == nil {
			continue
		}
		open, accepted := 0, 0
		for _, m := range b.in.Messages {
			switch {
			case m.Code != r.Key:
			case m.Accepted != nil:
				accepted++
			default:
				open++
			}
		}
		switch {
		case open+accepted == 0:
			silent = append(silent, r.Title)
		case r.Severity == diag.Note:
			fired = append(fired, r.Key+" ("+strconv.Itoa(open)+" noted)")
		default:
			fired = append(fired, r.Key+" ("+strconv.Itoa(open)+" open, "+strconv.Itoa(accepted)+" accepted)")
		}
	}
	return fired, silent
}

func notRun(fl *page.Flow) {
	missing := rule.Missing()
	fl.Heading(2, "Not run: to be done by hand")
	if len(missing) == 0 {
		fl.Say(prose, "Every check of the catalogue was run.")
		return
	}
	t := table.New(table.Column{Title: "Check", Type: bold, Min: 26}, table.Column{Title: "Why not, and what to do instead", Type: plain, Weight: 3},
		table.Column{Title: "Done", Align: page.Centre})
	t.RowHeight, t.GroupEvery, t.Close = 6, 0, true
	for _, r := range missing {
		t.Row(table.T(r.Key), table.T(r.NotRun), table.Tick())
	}
	fl.Add(t)
}

// signature closes the book.
func signature(fl *page.Flow) {
	fl.Together(func() {
		fl.Heading(1, "Signature")
		fl.Say(prose, "Signed for the revision and source printed below, and for no other. Who signs says that the findings were read, that the checks not run were done by hand, and which lines were worked again.")
		t := table.New(table.Column{Title: "What", Type: bold, Min: 40}, table.Column{Title: "Lines worked by hand", Weight: 2}, table.Column{Title: "Name", Weight: 2}, table.Column{Title: "Date", Weight: 1})
		t.RowHeight, t.GroupEvery = 10, 0
		for _, s := range []string{"Findings read", "Limits agreed", "Volts", "Heat", "Protection", "Checks not run, done by hand"} {
			t.Row(table.T(s))
		}
		fl.Add(t)
	})
}
