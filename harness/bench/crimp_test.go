package bench

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

func TestCrimps(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Parts.Contacts[0].Crimps = []design.ContactCrimp{{Size: unit.Metric(0.5), Height: [2]unit.Length{1.1, 1.2}, Setting: "3"}, {Size: unit.Metric(1.5), Height: [2]unit.Length{0, 1.5}}}
	var got []string
	for _, s := range made(job, nt, sizes).Sections {
		for _, c := range s.Crimps {
			var ends []string
			for _, e := range c.Ends {
				ends = append(ends, e.Label+" at "+e.Where)
			}
			if (c.SameAs == "") != (c.Samples > 0 || c.Wire == screenFamily) || c.SameAs != "" && c.SameAs != "size-20" {
				t.Errorf("%s: %d samples, same as %q", c.Contact, c.Samples, c.SameAs)
			}
			got = append(got, fmt.Sprintf("%s: %s on %s, %d + %d + %d, %s, %s: %s", s.Name, c.Contact, c.Wire, c.Count, c.Samples, c.Scrap, c.Height, c.Setting, strings.Join(ends, "; ")))
		}
	}
	want := []string{
		"engine: size-20 on thin 0.5 mm2, 4 + 5 + 1, 1.1 to 1.2 mm, 3: wi at lamp2, cavity 2; wd at lamp2, cavity 1; wh at lamp1, cavity 2; wc at lamp1, cavity 1",
		"engine: size-20 pin on thin 0.5 mm2, 2 + 0 + 1, 1.1 to 1.2 mm, 3: wi at A, cavity 3; wh at A, cavity 2",
		"engine: size-20 pin on thin 1.5 mm2, 1 + 5 + 1, at most 1.5 mm, " + NotStated + ": wa at A, cavity 1",
		"engine: barrel for 2.5 mm2 in all on thin 1.5 mm2 with 2 x 0.5 mm2, 1 + 5 + 1, " + NotStated + ", " + NotStated + ": wa, wc, wd at splice s-feed",
		"tub: size-20 on screened-2 0.5 mm2, 2 + 5 + 1, 1.1 to 1.2 mm, 3: we at box, cavity 2 (h); wf at box, cavity 3 (l)",
		"tub: size-20 on thin 25 mm2, 1 + 5 + 1, " + NotStated + ", " + NotStated + ": wj at box, cavity 5 (x)",
		"tub: size-20 on thin 1.5 mm2, 1 + 5 + 1, at most 1.5 mm, " + NotStated + ": wb at box, cavity 1 (f1)",
		"tub: size-20 on screen, 1 + 0 + 1, " + NotStated + ", " + NotStated + ": wg at box, cavity 4 (s)",
		"tub: size-20 socket on screened-2 0.5 mm2, 2 + 0 + 1, 1.1 to 1.2 mm, 3: we at A, cavity 2; wf at A, cavity 3",
		"tub: size-20 socket on thin 1.5 mm2, 1 + 0 + 1, at most 1.5 mm, " + NotStated + ": wb at A, cavity 1",
		"tub: M10 lug on thin 25 mm2, 1 + 5 + 1, " + NotStated + ", " + NotStated + ": wj at stud main of block",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// Several wires in one barrel hold no better than the smallest: 0.5 mm2, 55.9 N in the commercial column and 82.9 N in the military one.
func TestPullOfABarrel(t *testing.T) {
	job, nt, sizes := smallJob()
	for column, want := range map[string]string{"commercial": "at least 55.9 N", "military": "at least 82.9 N", "nasa": "at least 88.8 N"} {
		job.Settings.Lines = append(job.Settings.Lines[:2], set("pull-column", column))
		for _, c := range section(made(job, nt, sizes), "engine").Crimps {
			if c.Kind == "barrel" && (!strings.HasPrefix(c.PullText, want) || !strings.Contains(c.PullText, "on the smallest wire, 0.5 mm2") || len(c.Pull) != 3 || c.Pull[0].Column != data.PullColumn(column)) {
				t.Errorf("%s: %s %v", column, c.PullText, c.Pull)
			}
		}
	}
	// The short columns print nothing for 25 mm2, which is said.
	for _, c := range section(made(job, nt, sizes), "tub").Crimps {
		if c.Kind == "lug" && (len(c.Pull) != 1 || c.Pull[0].Column != data.PullCommercial) {
			t.Errorf("%+v", c.Pull)
		}
	}
}

// Two wires in one cavity are one crimp.
func TestTwoWiresInOneContact(t *testing.T) {
	job, nt, sizes := smallJob()
	w := nt.Wires[2]
	w.Name, w.Label = "second", "wz"
	nt.Wires, sizes = append(nt.Wires, w), append(sizes, sizes[0])
	for _, c := range section(made(job, nt, sizes), "engine").Crimps {
		for _, e := range c.Ends {
			if e.Where == "lamp1, cavity 1" && (len(e.Wires) != 2 || c.Wire != "thin 1.5 mm2 with 0.5 mm2" || c.Count != 1) {
				t.Errorf("%+v", c)
			}
		}
	}
}

// Every end that is crimped stands in the crimp list once, and the pick list holds what is crimped, pulled off and spoiled.
func TestNoCrimpIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, nt, sizes := smallJob()
		job.Settings.Lines = append(job.Settings.Lines, set("pull-samples", unit.Number(float64(rapid.IntRange(0, 9).Draw(t, "samples")), 0)),
			set("crimp-scrap", unit.Number(float64(rapid.IntRange(0, 60).Draw(t, "scrap")), 0)+" %"))
		for range rapid.IntRange(0, 6).Draw(t, "more") {
			i := rapid.IntRange(0, len(nt.Wires)-1).Draw(t, "like")
			if nt.Wires[i].Kind != net.Plain || nt.Wires[i].Ends[0].Kind == net.InSplice || nt.Wires[i].Ends[1].Kind == net.InSplice {
				continue
			}
			w := nt.Wires[i]
			for e := range w.Ends {
				w.Ends[e].Cavity, w.Ends[e].Pin = fmt.Sprint("n", len(nt.Wires)), fmt.Sprint("n", len(nt.Wires))
			}
			nt.Wires, sizes = append(nt.Wires, w), append(sizes, sizes[i])
		}
		for _, s := range made(job, nt, sizes).Sections {
			seen := map[string]int{}
			picked, crimped := 0, 0
			for _, c := range s.Crimps {
				if c.Count != len(c.Ends) {
					t.Fatalf("%d ends, %d counted", len(c.Ends), c.Count)
				}
				crimped += c.Count + c.Samples + c.Scrap
				for _, e := range c.Ends {
					for _, w := range e.Wires {
						seen[fmt.Sprint(w, e.Where)]++
					}
				}
			}
			for _, p := range s.Picks {
				if p.Kind == "contact" || p.Kind == "lug" || p.Kind == "splice" {
					picked += p.Count
				}
			}
			if picked != crimped {
				t.Fatalf("%d picked for %d crimps", picked, crimped)
			}
			m := newMaker(job, nt, sizes)
			for i := range nt.Wires {
				for e := range nt.Wires[i].Ends {
					end := &nt.Wires[i].Ends[e]
					want := 1
					if end.Kind == net.CutBack || nt.Wires[i].Section != s.Name {
						want = 0
					}
					if n := seen[fmt.Sprint(i, m.endText(end))]; n != want {
						t.Fatalf("%s at %s is crimped %d times, want %d", nt.Wires[i].Name, m.endText(end), n, want)
					}
				}
			}
		}
	})
}

// The wire of the samples is in the pick list with the cuts, to the millimetre.
func TestPickedWire(t *testing.T) {
	for _, s := range made(smallJob()).Sections {
		var cut, picked unit.Length
		for _, c := range s.Cuts {
			if c.Family != screenFamily {
				cut += c.Length
			}
		}
		for _, k := range s.Samples {
			cut += unit.Length(float64(k.Count) * float64(k.Length))
		}
		for _, p := range s.Picks {
			if p.Kind == "wire" || p.Kind == "cable" {
				picked += p.Length
			}
		}
		if cut != picked {
			t.Errorf("%s: %s cut, %s picked", s.Name, cut, picked)
		}
	}
}

// Marks along a wire are never further apart than 15 in; by hand, between marks 60 mm from the ends of 960 mm lie 840 mm: three pieces of 280 mm.
func TestMarkers(t *testing.T) {
	job, nt, sizes := smallJob()
	text := func(name string) string {
		var out []string
		for _, s := range made(job, nt, sizes).Sections {
			for _, k := range s.Markers {
				if k.Name == name || k.Cable == name {
					out = append(out, fmt.Sprintf("%s %s, %s, %d", k.Text, k.Place, k.At, k.Count))
				}
			}
		}
		return strings.Join(out, "; ")
	}
	for name, want := range map[string]string{
		"q lamp2.2 - A":   "wi lamp2, cavity 2, 60 mm from the end, 1; wi along the wire, every 280 mm between the ends, 2; wi A, cavity 3, 60 mm from the end, 1",
		"feed A - s-feed": "wa A, cavity 1, 60 mm from the end, 1; wa splice s-feed, 60 mm from the end, 1",
		"lead": "lead along the wire, every 339 mm between the ends, 4; we box, cavity 2 (h), 60 mm from the end, 1; we A, cavity 2, 60 mm from the end, 1; " +
			"wf box, cavity 3 (l), 60 mm from the end, 1; wf A, cavity 3, 60 mm from the end, 1",
	} {
		if got := text(name); got != want {
			t.Errorf("%s\n got %s\nwant %s", name, got, want)
		}
	}
	job.Settings.Lines = append(job.Settings.Lines, set("mark-once", "300 mm"), set("mark-along", "0 mm"))
	if got := text("feed A - s-feed"); got != "wa at its middle, 118 mm from either end, 1" {
		t.Error(got)
	}
	job.Settings.Lines = append(job.Settings.Lines, set("mark-none", "240 mm"))
	if got := text("feed A - s-feed"); got != "" {
		t.Error(got)
	}
}

// The two wires of twins lie together along the rail from A to lamp1: 400 mm and 3 % of them, 17 turns of 25 mm.
func TestPairs(t *testing.T) {
	job, nt, sizes := smallJob()
	ps := section(made(job, nt, sizes), "engine").Pairs
	if len(ps) != 1 || len(ps[0].Members) != 2 || ps[0].Twisted != 412 || ps[0].Turns != 17 || ps[0].Lay != 25 || ps[0].Untwisted != 40 || ps[0].Screen != nil {
		t.Fatalf("%+v", ps)
	}
	if m := ps[0].Members; m[0].Label != "wh" || m[1].Label != "wi" || m[0].Code != "WH" || m[1].Code != "BU" || m[1].Length != 960 {
		t.Errorf("%+v", m)
	}
	// The bought cable is no pair of the bench.
	if ps := section(made(job, nt, sizes), "tub").Pairs; len(ps) != 0 {
		t.Errorf("%+v", ps)
	}
	// With a screen over them, put on here.
	s := nt.Wires[8]
	s.Name, s.Kind, s.Core, s.Circuit = "twins screen", net.Screen, -1, "twins"
	s.Ends[1] = net.Termination{Kind: net.CutBack, Near: "A", Node: s.Ends[1].Node}
	nt.Wires, sizes = append(nt.Wires, s), append(sizes, sizes[8])
	ps = section(made(job, nt, sizes), "engine").Pairs
	if len(ps) != 1 || ps[0].Screen == nil || ps[0].Screen.Ends[1] != "cut back beside A" || ps[0].Screen.Length == 0 || len(ps[0].Steps) != 3 {
		t.Errorf("%+v", ps)
	}
}

// What comes on its wires, crimped by its maker, is neither crimped nor sealed nor picked, and nothing is cut off there.
func TestFittedPlug(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Devices[2].Fitted = true // lamp1
	job.Breaks[0].Halves[1].Fitted = true
	p := made(job, nt, sizes)
	for _, c := range section(p, "engine").Crimps {
		for _, e := range c.Ends {
			if strings.HasPrefix(e.Where, "lamp1") || strings.HasPrefix(e.Where, "A,") {
				t.Errorf("crimped: %+v", e)
			}
		}
	}
	for _, r := range section(p, "engine").Picks {
		if strings.Contains(r.Name, "sealed-2") || strings.Contains(r.Name, "pins") || r.Kind == "seal" && r.Count != 2 {
			t.Errorf("picked: %+v", r)
		}
	}
	waste := 0
	for _, x := range cutOf(p, "p lamp1.2 - A").Terms.All() {
		if x.Kind == WasteTerm {
			waste++
		}
	}
	if waste != 0 {
		t.Errorf("%d ends are cut off", waste)
	}
}

// A length beyond all sense is still counted in whole numbers above none.
func TestMarksOfAnAbsurdLength(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Settings.Lines = append(job.Settings.Lines, set("tail", "1000000000000000000000000000000 mm"))
	along := 0
	for _, s := range made(job, nt, sizes).Sections {
		for _, k := range s.Markers {
			if k.Count < 1 || k.Count > 1e6 || strings.Contains(k.At, "-") {
				t.Errorf("%s: %d marks %s", k.Name, k.Count, k.At)
			}
			if k.Place == AlongWire {
				along++
			}
		}
	}
	if along == 0 {
		t.Error("no marks along any wire")
	}
}
