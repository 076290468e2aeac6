package reviewbook

import (
	"flag"
	"pgregory.net/rapid"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/rule"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/page"
)

func TestNothingCompiledIsAnError(t *testing.T) {
	if _, err := Make(export.Input{}); err == nil {
		t.Error("a book of nothing")
	}
}

// A job with no wire, no case and no load still has a book, which says that nothing was judged.
func TestEmptyJob(t *testing.T) {
	in := export.Input{Result: &harness.Result{Job: &design.Job{Title: "empty"}, Net: &net.Net{}, Plan: &bench.Plan{}}}
	doc, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	text := doc.Text()
	for _, s := range []string{"nothing was judged", "No wire was judged.", "The job has no case, so nothing was solved.", "no way to follow"} {
		if !strings.Contains(text, s) {
			t.Errorf("the book does not say %q", s)
		}
	}
}

func TestTheSameJobGivesTheSameBook(t *testing.T) {
	in := tractor(same)
	a, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	if a.Dump() != b.Dump() || a.Dump() != make1(t).Dump() {
		t.Error("two books of one job differ")
	}
}

// A character that no face holds is an error that names the thing it stands on.
func TestUnprintableIsNamed(t *testing.T) {
	_, err := Make(tractor(func(s string) string {
		if s == "fan" {
			return "fan日"
		}
		return s
	}))
	if err == nil || !strings.Contains(err.Error(), "device fan日") {
		t.Errorf("%v", err)
	}
}

// flat is the words of a book in one line each page, so that a wrapped text can be found; words broken inside are not found.
func flat(d *page.Doc) string {
	var out []string
	for _, p := range d.Pages {
		out = append(out, strings.Join(p.Lines(), " "))
	}
	return strings.Join(strings.Fields(strings.Join(out, " ")), " ")
}

func TestTheBookHoldsEverything(t *testing.T) {
	in := tractor(same)
	doc, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	text := flat(doc)
	want := func(kind, s string) {
		if !strings.Contains(text, s) {
			t.Errorf("%s %q is not in the book", kind, s)
		}
	}
	for i := range design.SettingDefs {
		want("setting", design.SettingDefs[i].Name)
	}
	for _, r := range rule.Missing() {
		want("check that was not run", r.Key)
	}
	for _, m := range in.Messages {
		want("finding", m.Title)
		want("place", in.Locate(m.Span))
		if m.Accepted != nil {
			want("reason", "Reason: "+m.Accepted.Reason)
			want("who", "Accepted by "+m.Accepted.By+", until revision "+m.Accepted.Until)
		}
	}
	for i := range in.Job.Settings.Lines {
		want("place of a setting", in.Locate(in.Job.Settings.Lines[i].Span))
	}
	want("verdict", strings.Join(in.NotForBuild(), "; "))
	want("load that is never fed", "Fed in no case, or only through other loads, so not judged: heater.")
	heat := strings.Join(chapter(t, doc, "Ampacity and heat"), " ")
	for i := range in.Net.Wires {
		w := &in.Net.Wires[i]
		if !strings.Contains(heat, w.Circuit) {
			t.Errorf("wire %s is not in the ampacity table", w.Name)
		}
	}
	if strings.Contains(strings.ToLower(text), "safe") {
		t.Error("the book speaks of what is safe")
	}
}

// Findings come first open, then accepted, then notes, and every supply that feeds a load has a ladder.
func TestOrderAndLadders(t *testing.T) {
	in := tractor(same)
	doc, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	text := flat(doc)
	last := -1
	for _, severity := range []func(m *diag.Diagnostic) bool{
		func(m *diag.Diagnostic) bool { return m.Severity == diag.Finding && m.Accepted == nil },
		func(m *diag.Diagnostic) bool { return m.Accepted != nil },
		func(m *diag.Diagnostic) bool { return m.Severity == diag.Note },
	} {
		any := false
		at := last
		for i := range in.Messages {
			if m := &in.Messages[i]; severity(m) {
				k := strings.Index(text, m.Title)
				if k < last {
					t.Errorf("%q stands too early", m.Title)
				}
				at, any = max(at, k), true
			}
		}
		if !any {
			t.Errorf("the job has no message of one sort: %v", in.Messages)
		}
		last = at
	}
	ladders := strings.Join(chapter(t, doc, "Drop ladders"), "\n")
	for _, s := range []string{"battery", "alternator"} {
		if !strings.Contains(ladders, "plus terminal of "+s+",") {
			t.Errorf("no ladder from %s", s)
		}
	}
	if !strings.Contains(ladders, "starter, case cranking, starting") {
		t.Error("no ladder of the starter while it starts")
	}
	n := 0
	for _, m := range doc.Bookmarks {
		if strings.HasPrefix(m.Title, "Ladder ") {
			n++
		}
	}
	fed := map[loadKey]bool{}
	for _, c := range tractor(same).Cases {
		for i := range c.Loads {
			if l := &c.Loads[i]; l.Fed && !l.Rests && !stray(c.Net, l) && l.Supply != "" {
				fed[keyOf(l)] = true
			}
		}
	}
	if n < len(fed) || len(fed) == 0 {
		t.Errorf("%d ladders for %d loads", n, len(fed))
	}
}

func TestTheVerdictIsOnePage(t *testing.T) {
	doc := make1(t)
	at := map[string]int{}
	for _, m := range doc.Bookmarks {
		if _, ok := at[m.Title]; !ok {
			at[m.Title] = m.Page
		}
	}
	if at["Findings"] != at["Verdict"]+1 {
		t.Errorf("the verdict takes pages %d to %d", at["Verdict"]+1, at["Findings"])
	}
}

// Body text is 9 pt and more, tables and plots 8.5 pt and more.
func TestTypeIsLargeEnough(t *testing.T) {
	h := common.HeadOf(tractor(same))
	body := h.Frame(Title, "").Body()
	body.Y -= 12 // without the band of the other books
	for i, p := range make1(t).Pages {
		for _, item := range p.Items {
			if x, ok := item.(page.Text); ok && body.Holds(x.Bounds()) && x.Size < 8.5 {
				t.Errorf("page %d: %q in %v pt", i+1, x.S, x.Size)
			}
		}
	}
}

// Whatever the names, nothing stands over anything else or leaves its page.
func TestNoOverlapWhateverTheNames(t *testing.T) {
	letters := []rune("abW-._/iµ²é x")
	checks := flag.Lookup("rapid.checks") // each compiles a job
	old := checks.Value.String()
	if old == checks.DefValue {
		if err := checks.Value.Set("25"); err != nil {
			t.Fatal(err)
		}
		defer checks.Value.Set(old)
	}
	rapid.Check(t, func(t *rapid.T) {
		long := map[string]string{}
		length := rapid.SampledFrom([]int{0, 3, 20, 90}).Draw(t, "letters")
		doc, err := Make(tractor(func(s string) string {
			if _, ok := long[s]; !ok {
				n := rapid.SampledFrom([]int{0, length}).Draw(t, "more of "+s)
				long[s] = s + rapid.StringOfN(rapid.SampledFrom(letters), n, n, -1).Draw(t, "tail of "+s)
			}
			return strings.ReplaceAll(long[s], ".", "·")
		}))
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range doc.Pages {
			for _, o := range p.Overlaps() {
				t.Fatalf("page %d: %q over %q", i+1, o[0].S, o[1].S)
			}
		}
	})
}
