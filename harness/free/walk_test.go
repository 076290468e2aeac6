package free_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/free"
	"loomsheet/harness/net"
)

// TestFreeIffNoPath holds the proof against a walk through what net.Parted leaves: from what comes away, over wires, pins, plugs, splices, posts
// and mated halves, to what stays.
func TestFreeIffNoPath(t *testing.T) {
	tied, loose := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job, nt := wild(t)
		undo := job.Removals[0].Undo
		away := job.Removals[0].Sections
		part := free.Find(job, nt, nil, nil, nil).Removals[0]
		if want := !path(job, nt, undo, away); part.Free != want {
			t.Fatalf("free %v, the walk says %v\naway %v undo %v\nties %+v\n%s", part.Free, want, away, undo, part.Ties, show(job, nt))
		}
		if part.Free {
			loose++
		} else {
			tied++
		}
		if part.Free != (len(part.Ties) == 0) {
			t.Fatal("free, and yet tied")
		}
	})
	if tied == 0 || loose == 0 {
		t.Errorf("%d tied, %d free: the nets are all alike", tied, loose)
	}
}

// TestSectionsComeFree: a section by itself is undone everywhere it can be, so that whatever still ties it is nothing that `undo` could name, and its
// proof is that of a removal which lists the same.
func TestSectionsComeFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, nt := wild(t)
		for _, p := range free.Find(job, nt, nil, nil, nil).Sections {
			for _, x := range p.Ties {
				if strings.HasPrefix(x.Mend, "Add ") {
					t.Fatalf("section %s: %+v", p.Name, x)
				}
			}
			var undo []design.Undo
			for _, s := range p.Steps {
				if !s.Needed {
					t.Fatalf("section %s: step %s is for nothing: %s", p.Name, s.Title, s.Why)
				}
				undo = append(undo, s.Undo)
			}
			if path(job, nt, undo, p.Sections) == p.Free {
				t.Fatalf("section %s: free %v, the walk says otherwise", p.Name, p.Free)
			}
		}
	})
}

var sections = []string{"a", "b", "c"}

// wild is a job with a net put together at random, without any geometry.
func wild(t *rapid.T) (*design.Job, *net.Net) {
	pick := func(label string, n int) int { return rapid.IntRange(0, n-1).Draw(t, label) }
	section := func(label string) string { return append([]string{""}, sections...)[pick(label, 4)] }
	job, nt := &design.Job{}, &net.Net{}
	for _, s := range sections {
		job.Sections = append(job.Sections, &design.Section{Name: s})
	}
	post := &design.Housing{Part: design.Part{Name: "post"}, Cavities: []design.HousingCavity{{Name: "1", Stud: "M8"}}}
	plug := &design.Housing{Part: design.Part{Name: "plug"}, Cavities: []design.HousingCavity{{Name: "1"}, {Name: "2"}}}
	job.Parts.Housings = []*design.Housing{post, plug}
	for i := range 3 {
		d := &design.Device{Name: fmt.Sprintf("d%d", i), Section: section("home"), Housings: []design.DeviceHousing{{Part: "plug"}}}
		d.Pins = []design.Pin{{Name: "1", Housing: 0, Cavity: "1"}, {Name: "2", Housing: 0, Cavity: "2"}, {Name: "s", Housing: -1, Stud: "M6"}}
		job.Devices = append(job.Devices, d)
	}
	for i := range 3 {
		part := []string{"post", "plug"}[i%2]
		x := pick("half", 3)
		b := &design.Break{Name: fmt.Sprintf("k%d", i)}
		b.Halves = [2]design.Half{{Section: sections[x], Housing: part}, {Section: sections[(x+1+pick("other", 2))%3], Housing: part}}
		job.Breaks = append(job.Breaks, b)
	}
	nt.Joints = []net.Joint{{Splice: "s0", Section: section("joint")}}
	end := func(w *net.Wire, k int) {
		e := &w.Ends[k]
		*e = net.Termination{Kind: net.CutBack, Node: -1, Housing: -1}
		switch pick("end", 5) {
		case 0:
			*e = net.Termination{Kind: net.InCavity, Device: fmt.Sprintf("d%d", pick("device", 3)), Pin: fmt.Sprint(1 + pick("pin", 2)), Housing: 0, Node: -1}
			e.Cavity = e.Pin
		case 1:
			*e = net.Termination{Kind: net.OnStud, Device: fmt.Sprintf("d%d", pick("device", 3)), Pin: "s", Thread: "M6", Housing: -1, Node: -1}
		case 2:
			*e = net.Termination{Kind: net.OnPost, Break: []string{"k0", "k2"}[pick("post", 2)], Half: pick("half", 2), Cavity: "1", Housing: -1, Node: -1}
		case 3:
			*e = net.Termination{Kind: net.InSplice, Splice: "s0", Housing: -1, Node: -1}
		}
	}
	for i := range 1 + pick("wires", 6) {
		w := net.Wire{Name: fmt.Sprintf("w%d", i), Circuit: fmt.Sprintf("c%d", i), Section: section("section"), Core: -1, Loose: true}
		end(&w, 0)
		end(&w, 1)
		nt.Wires = append(nt.Wires, w)
	}
	for n := range pick("crossings", 3) { // pairs of wires, each with an end in its half of k1
		a, b := 2*n, 2*n+1
		if b >= len(nt.Wires) {
			break
		}
		nt.Wires[a].Ends[1] = net.Termination{Kind: net.InHalf, Break: "k1", Half: 0, Cavity: fmt.Sprint(n + 1), Housing: -1, Node: -1}
		nt.Wires[b].Ends[0] = net.Termination{Kind: net.InHalf, Break: "k1", Half: 1, Cavity: fmt.Sprint(n + 1), Housing: -1, Node: -1}
		nt.Crossings = append(nt.Crossings, net.Crossing{Break: "k1", Cavity: fmt.Sprint(n + 1), Wires: [2]int{a, b}})
	}
	r := &design.Removal{Name: "off", Sections: sections[:1+pick("away", 2)]}
	for _, u := range []design.Undo{{Kind: "break", Name: "k0"}, {Kind: "break", Name: "k1"}, {Kind: "break", Name: "k2"}, {Kind: "device", Name: "d0"}, {Kind: "device", Name: "d1"},
		{Kind: "stud", Name: "d0", Pin: "s"}, {Kind: "stud", Name: "d1", Pin: "s"}, {Kind: "stud", Name: "d2", Pin: "s"}, {Kind: "device", Name: "d2"}} {
		if pick("undo", 4) > 0 {
			r.Undo = append(r.Undo, u)
		}
	}
	job.Removals = []*design.Removal{r}
	return job, nt
}

// path walks from what comes away to what stays.
func path(job *design.Job, nt *net.Net, undo []design.Undo, away []string) bool {
	next := map[string][]string{}
	tie := func(a, b string) { next[a], next[b] = append(next[a], b), append(next[b], a) }
	side := func(section string) string {
		for _, s := range away {
			if s == section {
				return "away"
			}
		}
		return "stays"
	}
	parted := net.Parted(nt, undo)
	pulled := func(device string) bool {
		for _, u := range undo {
			if u.Kind == "device" && u.Name == device {
				return true
			}
		}
		return false
	}
	// A device without a section goes with its wires where they are all of one.
	for _, d := range job.Devices {
		home := d.Section
		if home == "" {
			met := map[string]bool{}
			for _, w := range nt.Wires {
				if w.Section != "" && (w.Ends[0].Device == d.Name || w.Ends[1].Device == d.Name) {
					met[w.Section] = true
					home = w.Section
				}
			}
			if len(met) != 1 {
				home = ""
			}
		}
		tie(d.Name, side(home))
	}
	for _, b := range job.Breaks {
		undone := false
		for _, u := range undo {
			undone = undone || u.Kind == "break" && u.Name == b.Name
		}
		if !undone {
			tie(side(b.Halves[0].Section), side(b.Halves[1].Section))
		}
	}
	for _, j := range nt.Joints {
		if j.Section != "" {
			tie("splice "+j.Splice, side(j.Section))
		}
	}
	for i, w := range parted.Wires {
		me := fmt.Sprint("wire ", i)
		if w.Section != "" {
			tie(me, side(w.Section))
		}
		for k := range w.Ends {
			if o := nt.Wires[i].Ends[k]; o.Kind == net.InCavity {
				tie(me, "plug "+o.Device)
				if !pulled(o.Device) {
					tie("plug "+o.Device, o.Device)
				}
				continue
			}
			switch e := w.Ends[k]; e.Kind {
			case net.OnStud:
				tie(me, e.Device)
			case net.InSplice:
				tie(me, "splice "+e.Splice)
			case net.OnPost:
				for _, b := range job.Breaks {
					if b.Name == e.Break {
						tie("post "+e.Break+e.Cavity, side(b.Halves[e.Half].Section))
					}
				}
				tie(me, "post "+e.Break+e.Cavity)
			}
		}
	}
	for _, c := range parted.Crossings {
		tie(fmt.Sprint("wire ", c.Wires[0]), fmt.Sprint("wire ", c.Wires[1]))
	}
	seen := map[string]bool{"away": true}
	for todo := []string{"away"}; len(todo) > 0; todo = todo[1:] {
		for _, n := range next[todo[0]] {
			if !seen[n] {
				seen[n] = true
				todo = append(todo, n)
			}
		}
	}
	return seen["stays"]
}

func show(job *design.Job, nt *net.Net) string {
	s := ""
	for _, d := range job.Devices {
		s += fmt.Sprintf("%s section %q\n", d.Name, d.Section)
	}
	for _, b := range job.Breaks {
		s += fmt.Sprintf("%s %v\n", b.Name, b.Halves)
	}
	for _, w := range nt.Wires {
		s += fmt.Sprintf("%s section %q: %+v | %+v\n", w.Name, w.Section, w.Ends[0], w.Ends[1])
	}
	return s + fmt.Sprint(nt.Crossings, nt.Joints)
}
