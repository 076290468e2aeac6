package free_test

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/free"
)

func TestTails(t *testing.T) {
	near := change(t, nose, "run front from P to fork section nose zone bay", "run front from P to fork section nose zone bay panel floor")
	for _, c := range []struct {
		name, text string
		undo       []string // clips
		short      bool
		rigid      bool
		half       string
	}{
		{"long", nose + "set clip-end to 200 mm\nset clip-clear to 150 mm\n", nil, false, false, "nose"},
		{"a clip near", near + "fixing near run front after 28 mm\nfixing far run front after 150 mm\n", []string{"near"}, false, false, "nose"},
		{"two clips near", near + "fixing near run front after 28 mm\nfixing next run front after 32 mm\nfixing far run front after 150 mm\n", []string{"near", "next"}, false, false, "nose"},
		{"slack gives way", strings.Replace(near, "zone bay panel floor", "zone bay panel floor slack 200 mm", 1) + "fixing near run front after 28 mm\n", nil, false, false, "nose"},
		{"little to draw", near + "fixing near run front after 28 mm\nset draw-back to 20 mm break P\n", nil, false, false, "nose"},
		{"both fixed", change(t, nose, "pins mount free", "pins mount fixed"), nil, true, true, ""},
		{"the other half is free", change(t, near, "sockets mount fixed", "sockets mount free", "pins mount free", "pins mount fixed") + "fixing near run front after 28 mm\n", nil, false, false, "body"},
		{"of two free halves the freer", change(t, near, "sockets mount fixed", "sockets mount free") + "fixing near run front after 28 mm\n", nil, false, false, "body"},
		{"its end is too near", change(t, nose, "run tails from fork to lamp, horn section nose zone bay", "run tails from fork to horn section nose zone bay\nrun short from P to lamp section nose zone bay", "device lamp at (900, 100, 0 mm)", "device lamp at (415, 0, 5 mm)"), nil, true, false, "nose"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := step(t, text(t, c.text).proof().Removals[0], 2)
			if len(s.Tails) != 1 {
				t.Fatalf("%+v", s.Tails)
			}
			x := s.Tails[0]
			if !slices.Equal(x.Undo, c.undo) || x.Short != c.short || x.Rigid != c.rigid || c.half != "" && x.Half != c.half {
				t.Errorf("%+v", x)
			}
			if len(c.undo) > 0 && (len(s.First) == 0 || !strings.Contains(s.First[0], "Take off "+strings.Join(c.undo, ", ")+" first")) {
				t.Errorf("%v", s.First)
			}
			if x.Short && !x.Rigid && !strings.Contains(x.Fast, "lamp") {
				t.Errorf("held by %q", x.Fast)
			}
		})
	}
}

func TestClipsToTakeOff(t *testing.T) {
	s := change(t, nose, "run front from P to fork section nose zone bay", "run front from P to fork section nose zone bay panel floor", "neg, P\n", "neg, P, horn\n", "run tails from fork to lamp, horn section nose zone bay", "run tails from fork to lamp section nose zone bay\nrun long from battery to (0, -150, 0 mm) to (395, -150, 0 mm) to horn section body zone cabin",
		"device horn at (900, -100, 0 mm)", "device horn section nose at (395, -100, 0 mm)")
	p := text(t, s).proof().Removals[0]
	if !p.Free {
		t.Fatalf("%+v", p.Ties)
	}
	if !strings.HasPrefix(p.Verdict, "Once 3 things are undone no wire, screen, earth or shared clip ties it; then ") {
		t.Error(p.Verdict)
	}
	var front, long *free.Clips
	for i := range p.Clips {
		switch c := &p.Clips[i]; c.Run {
		case "front":
			front = c
		case "long":
			long = c
		case "rear":
			t.Errorf("%s stays", c.Run)
		}
	}
	if front == nil || front.On != "panel floor" || front.Stays || len(front.Marks) == 0 || !strings.Contains(front.Text, "unless that comes away") {
		t.Errorf("%+v", front)
	}
	if long == nil || !long.Stays || long.On != "device horn" {
		t.Errorf("%+v", long)
	}
	for _, m := range long.Marks { // the clips at the battery's end stay
		for _, r := range text(t, s).held.Runs {
			for _, c := range r.Clips {
				if c.Mark == m && c.After < r.Length/2 {
					t.Errorf("%s is nearer to the battery", m)
				}
			}
		}
	}
}
