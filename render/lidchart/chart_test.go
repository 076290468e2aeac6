package lidchart

import (
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
)

func head() common.Head {
	return common.Head{Job: "Heron hill tractor", Revision: "C", Date: "2026-02-11", Digest: "3f9ac201d4e7", NotForBuild: "2 findings are open"}
}

func fuse(device string, index int, from, to, kind string, amps unit.Current, loads []string, wires []int, ahead ...protect.FuseRef) protect.FuseResult {
	return protect.FuseResult{FuseRef: protect.FuseRef{Device: device, Index: index}, From: from, To: to, Kind: kind, Rating: amps, Loads: loads, Wires: wires, Ahead: ahead}
}

// box is a main strip before a box of so many blades.
func box(blades int) (*design.Job, size.Sizes, *protect.Result) {
	job := &design.Job{Devices: []*design.Device{
		{Name: "box", Coils: []design.Coil{{Moves: design.StateRef{Group: "fan", State: "on"}}},
			States: []design.State{{StateRef: design.StateRef{Group: "fan", State: "on"}, Pins: []string{"in", "fan"}, Rating: design.Fact[unit.Current]{Given: true, Spread: unit.Exactly(unit.Current(40))}}}},
		{Name: "lamp"}, {Name: "main", Fuses: []design.DeviceFuse{{}}}}}
	sizes := size.Sizes{{Size: unit.Metric(16)}, {Size: unit.Metric(2.5)}, {Size: unit.Metric(0.5)}, {Size: unit.AWG(20)}, {Size: unit.Metric(25)}}
	strip := protect.FuseRef{Device: "main", Index: 0}
	out := &protect.Result{Fuses: []protect.FuseResult{fuse("main", 0, "in", "out", "bolt-in", 125, []string{"horn", "inj1", "inj2", "inj3", "inj4", "starter"}, []int{0})},
		Wires: []protect.WireResult{{Wire: 0}, {Wire: 1}, {Wire: 2}, {Wire: 3}, {Wire: 4, Return: true}}}
	for i := range blades {
		switch i {
		case 0:
			out.Fuses = append(out.Fuses, fuse("box", i, "in", "inj", "blade-c", 7.5, []string{"inj1", "inj2", "inj3", "inj4"}, []int{1, 3, 2, 2, 4}, strip))
		case 1:
			out.Fuses = append(out.Fuses, fuse("box", i, "in", "horn", "blade-c", 2, []string{"horn"}, nil, strip))
		default:
			out.Fuses = append(out.Fuses, fuse("box", i, "in", "blade", "blade-c", 10, []string{"lamp"}, []int{2}, strip))
		case 2:
			out.Fuses = append(out.Fuses, fuse("box", i, "in", "spare", "blade-e", 50, nil, nil, strip))
		}
	}
	return job, sizes, out
}

func chartOf(t *testing.T, blades int) *page.Doc {
	t.Helper()
	job, sizes, found := box(blades)
	d, err := compose(head(), job, nil, sizes, found)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Check(); err != nil {
		t.Fatal(err)
	}
	for i, p := range d.Pages {
		if o := p.Overlaps(); len(o) > 0 {
			t.Errorf("page %d: %v over %v", i+1, o[0][0], o[0][1])
		}
	}
	return d
}

func flat(d *page.Doc) string { return strings.Join(strings.Fields(d.Text()), " ") }

func TestOnePageForTheJob(t *testing.T) {
	d := chartOf(t, 3)
	if len(d.Pages) != 1 {
		t.Fatalf("%d pages", len(d.Pages))
	}
	text := flat(d)
	for _, want := range []string{"in – inj 7.5 blade brown inj1 to inj4 0.5, 2.5 mm²; 20 AWG", "in – horn 2 blade grey * horn none", "in – spare 50 large red nothing in any case none blade",
		"in – out 125 bolted by figure starter; 3 fuses", "Relays in it: fan 40 A.", "Same rating, never a higher one", "Find the fault", "Disconnect the battery",
		"* colour from memory", "Heron hill tractor", "Revision C", "3f9ac201d4e7", "page 1 of 1", "NOT FOR BUILD"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the chart:\n%s", want, text)
		}
	}
	sized := false
	for _, item := range d.Pages[0].Items {
		if x, ok := item.(page.Text); ok && x.S == "7.5" {
			sized = x.Size == 16
		}
	}
	if !sized {
		t.Error("the rating is not set in 16 pt")
	}
}

// TestOnePageForEachPlace: what one page does not hold gets a page for each box, each with the cautions and the name of its box.
func TestOnePageForEachPlace(t *testing.T) {
	d := chartOf(t, 26)
	if len(d.Pages) != 2 {
		t.Fatalf("%d pages", len(d.Pages))
	}
	for i, name := range []string{"box", "main"} {
		text := strings.Join(d.Pages[i].Lines(), " ")
		for _, want := range []string{Title + " – " + name, "Same rating", "Go by the rating"} {
			if !strings.Contains(text, want) {
				t.Errorf("page %d lacks %q:\n%s", i+1, want, text)
			}
		}
	}
	if again := chartOf(t, 26); again.Dump() != d.Dump() {
		t.Error("not the same twice")
	}
}

func TestLongAndUnprintable(t *testing.T) {
	job, sizes, found := box(60)
	for i := range found.Fuses {
		found.Fuses[i].Loads = append(found.Fuses[i].Loads, strings.Repeat("a-name-without-an-end.", 30))
	}
	found.Fuses[0].Wires, found.Fuses[0].Rating = []int{-1, 99}, 0
	if d, err := compose(head(), job, nil, sizes, found); err != nil || d.Check() != nil {
		t.Error(err)
	}
	found.Fuses[1].From = "日"
	if _, err := compose(head(), job, nil, sizes, found); err == nil || !strings.Contains(err.Error(), "fuse") {
		t.Errorf("%v", err)
	}
	if d, err := compose(head(), &design.Job{}, nil, nil, &protect.Result{}); d != nil || err != nil {
		t.Error("a chart of no fuses")
	}
}

// Behind a fuse with others after it stands where its wires lead, its own device and the return side left out.
func TestLeads(t *testing.T) {
	end := func(d string) net.Termination { return net.Termination{Kind: net.OnStud, Device: d} }
	nt := &net.Net{Wires: []net.Wire{{Ends: [2]net.Termination{end("main"), end("box")}}, {Ends: [2]net.Termination{end("box"), end("panel")}}, {Ends: [2]net.Termination{end("panel"), end("earth")}}}}
	f := protect.FuseResult{FuseRef: protect.FuseRef{Device: "main"}, Wires: []int{0, 1, 2}}
	later := protect.FuseResult{FuseRef: protect.FuseRef{Device: "box"}, Ahead: []protect.FuseRef{f.FuseRef}, Loads: []string{"horn"}}
	f.Loads = []string{"horn", "main", "starter"}
	c := chart{nt: nt, all: []protect.FuseResult{f, later}, back: map[int]bool{2: true}}
	if got := c.feeds(&f); got != "its own relays, starter; leads to box, panel" {
		t.Errorf("%q", got)
	}
}
