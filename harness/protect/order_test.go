package protect_test

import (
	"fmt"
	"strings"
	"testing"

	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

// TestOrderOfCircuits: what protects a wire does not depend on the order in which circuits are written, so that the first wire of a job is no other than the last.
func TestOrderOfCircuits(t *testing.T) {
	circuits := []string{
		"circuit a from bat.pos to f.in length 100 mm", "circuit b from f.out to lamp.1 length 500 mm", "circuit c from lamp.2 to bat.neg length 500 mm",
		"circuit d from f.out to far.1 length 500 mm", "circuit e from far.2 to lamp.2 length 300 mm", "circuit idle from far.2 to bat.neg length 5 m",
	}
	want := ""
	for turn := range circuits {
		text := battery + lamp + fused + "device far at spot like lamp\n"
		for i := range circuits {
			text += circuits[(i+turn)%len(circuits)] + "\n"
		}
		f := find(t, text+"case on { supply bat }\n")
		got := ""
		for _, c := range []string{"a", "b", "c", "d", "e", "idle"} {
			got += c + " " + f.wire(t, c) + "; "
		}
		if turn == 0 {
			want = got
			if want != "a open bat; b by f; c return, by f; d by f; e return, by f; idle return, by f; " {
				t.Fatal(want)
			}
		}
		if got != want {
			t.Errorf("turned by %d: %s\nwant %s", turn, got, want)
		}
	}
}

// TestStretchUnderItsZone: a stretch is held against the limit of the zone, section or circuit that its wire is in, the narrowest of those on its way.
func TestStretchUnderItsZone(t *testing.T) {
	text := battery + lamp + fused + "circuit a from bat.pos to f.in length 300 mm\n" + feedBack
	for _, c := range []struct {
		set  string
		most unit.Length
	}{
		{"", 178}, {"set unfused-most to 350 mm\n", 350}, {"set unfused-most to 100 mm circuit a\n", 100}, {"set unfused-most to 400 mm section body\n", 400},
		{"set unfused-most to 350 mm\nset unfused-most to 50 mm circuit feed\n", 350}, {"set unfused-sheathed to 200 mm\n", 178},
	} {
		f := find(t, text+c.set)
		if len(f.Unfused) != 1 || f.Unfused[0].Most != c.most || f.Unfused[0].Met != (c.most >= 300) {
			t.Errorf("%s: %+v", c.set, f.Unfused)
		}
	}
	// two wires in a row: the shorter limit of the two
	row := battery + lamp + fused + "device post at spot section body { pin 1 stud M6 }\ncircuit a from bat.pos to post.1 length 100 mm\ncircuit b from post.1 to f.in length 100 mm\n" + feedBack
	for set, want := range map[string]unit.Length{"set unfused-most to 150 mm circuit a\n": 150, "set unfused-most to 150 mm circuit b\n": 150, "set unfused-most to 300 mm circuit b\n": 178} {
		if f := find(t, row+set); len(f.Unfused) != 1 || f.Unfused[0].Most != want {
			t.Errorf("%s: %+v", set, f.Unfused)
		}
	}
}

// TestUnfusedBesideAFuse: a wire past a fuse is a way of its own; the fuse's own path does not shorten it.
func TestUnfusedBesideAFuse(t *testing.T) {
	text := battery + lamp + fused + "circuit a from bat.pos to f.in length 100 mm\ncircuit past from f.in to f.out length 400 mm\n" + feedBack
	f := find(t, text)
	var got []string
	for i := range f.Unfused {
		got = append(got, fmt.Sprint(f.words(&f.Unfused[i]), " ", f.Unfused[i].Length))
	}
	lengths := map[string]unit.Length{}
	for i := range f.nt.Wires {
		lengths[f.nt.Wires[i].Circuit] = max(f.nt.Wires[i].Copper, f.nt.Wires[i].Length)
	}
	all := lengths["a"] + lengths["past"] + lengths["feed"]
	found := false
	for i := range f.Unfused {
		u := &f.Unfused[i]
		found = found || len(u.Loads) == 1 && u.Loads[0] == "lamp" && u.Length > all-1e-9 && u.Length < all+1e-9
	}
	if !found {
		t.Errorf("%s, want one to the lamp of %v", strings.Join(got, "; "), all)
	}
	for i := range f.Wires {
		if w := &f.Wires[i]; f.nt.Wires[i].Circuit == "feed" && (len(w.Open) != 1 || len(w.By) != 0 && w.By[0] != (protect.FuseRef{Device: "f"})) {
			t.Errorf("%+v", w)
		}
	}
}
