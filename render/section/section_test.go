package section

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/layup"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
	"loomsheet/render/pdf"
)

// trunk is the lay of one edge of a run with wires of the given thickness, labelled by a function of their number; those of cables[i] are pairs.
func trunk(lay string, long unit.Length, label func(i int) string, ds ...unit.Length) *layup.Lay {
	job := &design.Job{Runs: []*design.Run{{Name: "trunk"}}, Settings: design.Settings{Lines: []design.Setting{{Name: "lay", Value: design.SettingValue{Name: lay}}}},
		Cables: []*design.Cable{{Name: "can", Twist: 25}}}
	geo := &space.Geometry{Nodes: []space.Node{{Key: "box"}, {Key: "A"}}, Edges: []space.Edge{{Run: "trunk", From: 0, To: 1, Length: long}}}
	nt := &net.Net{Space: geo}
	var sizes size.Sizes
	colours := []string{"red", "black", "green/yellow", "blue/white", "brown", "violet"}
	for i, d := range ds {
		w := net.Wire{Name: "wire " + label(i), Label: label(i), Core: -1, Colour: colours[i%len(colours)], Path: []net.Step{{Edge: 0}}}
		if strings.HasPrefix(w.Label, "can") {
			w.Cable = "can"
		}
		if i == len(ds)-1 && i > 5 {
			w.Kind = net.Spare
		}
		nt.Wires, sizes = append(nt.Wires, w), append(sizes, size.Conductor{Outside: d})
	}
	return layup.Find(job, nt, sizes, bundle.Find(job, nt, sizes)).Drawn(0)
}

func short(i int) string { return strconv.Itoa(101 + i) }
func long(i int) string  { return fmt.Sprintf("injector-drive%d.1", i+1) }
func paired(i int) string {
	if i < 2 {
		return "can-" + []string{"h", "l"}[i]
	}
	return long(i)
}

func same(n int, d unit.Length) []unit.Length { return slices.Repeat([]unit.Length{d}, n) }

func mixed(n int) (out []unit.Length) {
	for i := range n {
		out = append(out, []unit.Length{2.4, 1.6, 1.6, 3.2, 1.9, 1.6}[i%6])
	}
	return out
}

var lays = map[string]*layup.Lay{
	"7":        trunk("layers", 900, short, same(7, 2)...),
	"19":       trunk("layers", 900, short, same(19, 1.6)...),
	"22 built": trunk("layers", 900, long, same(22, 1.6)...),
	"mixed":    trunk("layers", 900, paired, mixed(26)...),
	"61":       trunk("layers", 2000, long, same(61, 1.3)...),
	"fillers":  trunk("layers", 900, short, append(same(2, 6), same(9, 2)...)...),
	"flat":     trunk("flat", 100, short, mixed(9)...),
	"by hand":  trunk("hand", 500, long, mixed(12)...),
	"alone":    trunk("auto", 500, short, 2),
}

func names() (out []string) {
	for n := range lays {
		out = append(out, n)
	}
	slices.Sort(out)
	return out
}

// book puts all of them into a book, whose own checks hold everything to the page.
func book(t *testing.T) *page.Doc {
	fl := page.NewFlow(page.Frame{Size: page.A4, Job: "demo", Book: "sections", Revision: "A", Digest: "0"})
	for _, n := range names() {
		fl.Heading(2, n)
		fl.Add(Block(lays[n]))
	}
	doc, err := fl.Doc("sections", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func TestBook(t *testing.T) {
	doc := book(t)
	if out := os.Getenv("SECTIONS"); out != "" {
		b, err := pdf.Write(doc)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(out, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// What stands in the circles stays in them, no words meet, and every piece is named once: in its circle, or by a number in its circle and a row
// of the key.
func TestWords(t *testing.T) {
	for name, lay := range lays {
		for _, width := range []page.MM{174, 110} {
			parts, err := Block(lay).Parts(width, 240)
			if err != nil || len(parts) == 0 {
				t.Fatal(name, err)
			}
			p, _ := look(lay, min(width, mostAcross), 240-footRoom-4*margin)
			k := p.key(width, p.paper(p.wide)+2*margin)
			high := page.MM(0)
			for _, x := range parts {
				high += x.Height + x.Gap
			}
			sheet := &page.Page{Size: page.Size{W: width, H: high}}
			y := page.MM(0)
			for _, x := range parts {
				y += x.Gap
				x.Draw(page.NewCanvas(sheet, page.Box{Y: y, W: width, H: x.Height}))
				y += x.Height
			}
			var texts []page.Text
			said := map[string]int{}
			for _, i := range sheet.Items {
				b := i.Bounds()
				if !(page.Box{W: width, H: high}).Holds(b) {
					t.Errorf("%s, %v wide: %v stands out of the block", name, width, i)
				}
				x, ok := i.(page.Text)
				if !ok {
					continue
				}
				for _, o := range texts {
					// The room of ascent and descent that letters do not use may be shared.
					if x.Bounds().Inset(0.25).Meets(o.Bounds().Inset(0.25)) && x.At.Y != o.At.Y && math.Abs(float64(x.At.Y-o.At.Y)) < 1.6 {
						t.Errorf("%s, %v wide: %q meets %q", name, width, x.S, o.S)
					} else if x.At.Y == o.At.Y && x.Bounds().Meets(o.Bounds()) {
						t.Errorf("%s, %v wide: %q meets %q", name, width, x.S, o.S)
					}
				}
				texts = append(texts, x)
				if x.Face != page.Small.Face {
					said[x.S]++
				}
			}
			for i := range lay.Pieces {
				piece := &lay.Pieces[i]
				want := piece.Label
				if p.numbers {
					want = number(lay, i)
					if said[want] != 2 {
						t.Errorf("%s: number %s stands %d times", name, want, said[want])
					}
					continue
				}
				if said[want] != 1 {
					t.Errorf("%s: %s stands %d times", name, want, said[want])
				}
			}
			entries := 0
			for _, c := range k.beside {
				entries += len(c.rows)
			}
			for _, r := range k.below {
				entries += len(r)
			}
			if want := len(p.legend()) + len(p.entries()); entries != want {
				t.Errorf("%s: %d rows of the key, want %d", name, entries, want)
			}
			mid := page.Point{X: (p.paper(p.wide) + 2*margin) / 2, Y: 3 + (p.paper(p.high)+2*margin)/2}
			for i := range lay.Pieces {
				piece := &lay.Pieces[i]
				at := page.Point{X: mid.X + p.paper(piece.X), Y: mid.Y - p.paper(piece.Y)}
				r := float64(p.paper(piece.Diameter)) / 2
				inside := 0
				for _, x := range texts {
					w := x.Bounds()
					if x.At.X > p.paper(p.wide)+2*margin || math.Hypot(float64(w.X+w.W/2-at.X), float64(w.Y+w.H/2-at.Y)) > r {
						continue
					}
					inside++
					if far := math.Hypot(math.Max(math.Abs(float64(w.X-at.X)), math.Abs(float64(w.Right()-at.X))), 0); far > r {
						t.Errorf("%s, %v wide: %q is wider than its circle", name, width, x.S)
					}
				}
				if inside == 0 {
					t.Errorf("%s, %v wide: nothing stands in the circle of %s", name, width, piece.Label)
				}
			}
		}
	}
}

// The drawing is to scale: the circles of the wires are as far apart as they lie, times the scale that is said.
func TestToScale(t *testing.T) {
	for name, lay := range lays {
		parts, _ := Block(lay).Parts(174, 240)
		p, _ := look(lay, mostAcross, 240-footRoom-4*margin)
		sheet := &page.Page{}
		parts[0].Draw(page.NewCanvas(sheet, page.Box{W: 174, H: parts[0].Height}))
		var bar page.MM
		for _, i := range sheet.Items {
			if l, ok := i.(page.Line); ok && l.A.Y == l.B.Y {
				bar = max(bar, l.B.X-l.A.X)
			}
		}
		said := ""
		for _, i := range sheet.Items {
			if x, ok := i.(page.Text); ok && strings.Contains(x.S, "scale ") {
				said = x.S
			}
		}
		var mm, scale float64
		if _, err := fmt.Sscanf(said, "%f mm, scale %f:1", &mm, &scale); err != nil {
			t.Fatalf("%s: %q", name, said)
		}
		if math.Abs(mm*scale-float64(bar)) > 0.01 {
			t.Errorf("%s: the bar is %v, it says %s", name, bar, said)
		}
		n := 0
		for i := range lay.Pieces {
			want := float64(lay.Pieces[i].Diameter) / 2 * scale
			for _, x := range sheet.Items {
				if a, ok := x.(page.Arc); ok && math.Abs(float64(a.RX)-want) < 0.01 && math.Abs(float64(a.At.X-p.paper(p.wide)/2-margin)-float64(lay.Pieces[i].X)*scale) < 0.01 {
					n++
					break
				}
			}
		}
		if n != len(lay.Pieces) {
			t.Errorf("%s: %d of %d wires are drawn in their place", name, n, len(lay.Pieces))
		}
	}
}

// Of so many wires that numbers find no room in their circles, those at the rim stay on the picture and no two numbers share ink; each layer still
// has one, the words say how the rest are found, and the key has them all.
func TestCrowded(t *testing.T) {
	for _, n := range []int{200, 700, 2000} {
		lay := trunk("layers", 900, short, same(n, 2.5)...)
		fl := page.NewFlow(page.Frame{Size: page.A4, Job: "demo", Book: "sections", Revision: "A", Digest: "0"})
		fl.Add(Block(lay))
		doc, err := fl.Doc("sections", time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		var boxes []page.Box
		stands := map[string]bool{}
		for _, i := range doc.Pages[0].Items {
			x, ok := i.(page.Text)
			if !ok || x.Face != inside.Face {
				continue
			}
			w, h := font.Width(x.Face, x.Size, x.S), font.CapHeight(x.Face, x.Size)
			b := page.Box{X: x.At.X, Y: x.At.Y - h, W: w, H: h}
			for k := range boxes {
				if b.Inset(-0.1).Meets(boxes[k]) {
					t.Fatalf("%d wires: %s meets another number", n, x.S)
				}
			}
			boxes, stands[x.S] = append(boxes, b), true
		}
		for l := range lay.Layers {
			found := false
			for _, i := range lay.Layers[l].Pieces {
				found = found || stands[strconv.Itoa(i+1)]
			}
			if !found {
				t.Errorf("%d wires: no number stands in layer %d", n, l+1)
			}
		}
		text := doc.Text()
		if said := strings.Contains(text, "numbers would meet"); said != (len(boxes) < n) {
			t.Errorf("%d wires, %d numbers; said: %v", n, len(boxes), said)
		}
		for i := range n {
			if !strings.Contains(text, short(i)) {
				t.Errorf("%d wires: %s is not in the key", n, short(i))
			}
		}
	}
}

// What has no place is not drawn.
func TestNothing(t *testing.T) {
	for _, l := range []*layup.Lay{nil, {}, {Placed: true}, {Placed: true, Pieces: make([]layup.Piece, 1), Outside: unit.Length(math.NaN())}} {
		if parts, err := Block(l).Parts(170, 240); err != nil || len(parts) != 0 {
			t.Errorf("%d parts, %v", len(parts), err)
		}
	}
}
