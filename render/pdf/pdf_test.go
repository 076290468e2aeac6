package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jung-kurt/gofpdf"
	"pgregory.net/rapid"

	"loomsheet/render/font"
	"loomsheet/render/page"
)

// The measure that layout rests on is the one the writer prints with.
func TestWidthsAgreeWithTheWriter(t *testing.T) {
	file := gofpdf.New("P", "mm", "A4", "")
	w := &writer{file: file, pdf: file, faces: map[embedded]bool{}}
	w.pdf.AddPage()
	for _, f := range font.Faces() {
		w.setFont(embedded{f, true}, 10)
		n := 0
		for r := rune(0x20); r < 0xFFFF; r++ {
			s := string(r)
			if font.Check(f, s) != nil {
				continue
			}
			n++
			if got, want := float64(font.Width(f, 10, s)), w.pdf.GetStringWidth(s); math.Abs(got-want) > 1e-9 {
				t.Errorf("%v %q U+%04X: %v mm, the writer has %v mm", f, s, r, got, want)
			}
		}
		if n < 1000 {
			t.Errorf("%v: only %d characters compared", f, n)
		}
		if err := w.pdf.Error(); err != nil {
			t.Fatal(err)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(font.Faces()).Draw(t, "face")
		size := page.Pt(rapid.IntRange(4, 40).Draw(t, "size"))
		s := rapid.StringOf(rapid.SampledFrom([]rune("abc XYZ 0189 Ωµ²☐✓ä-._/"))).Draw(t, "text")
		w.setFont(faceFor(f, s), size)
		if got, want := float64(font.Width(f, size, s)), w.pdf.GetStringWidth(s); math.Abs(got-want) > 1e-9*(1+want) {
			t.Fatalf("%v %v %q: %v mm, the writer has %v mm", f, size, s, got, want)
		}
	})
}

func TestSameBytesInOneProcess(t *testing.T) {
	first := demoPDF(t)
	for i := range 8 {
		if !bytes.Equal(first, demoPDF(t)) {
			t.Fatalf("run %d differs", i+2)
		}
	}
}

// The test binary runs itself in other time zones.
func TestSameBytesInEveryProcess(t *testing.T) {
	const ask = "LOOMSHEET_DIGEST"
	if os.Getenv(ask) != "" {
		fmt.Printf("digest %x\n", sha256.Sum256(demoPDF(t)))
		return
	}
	want := fmt.Sprintf("digest %x", sha256.Sum256(demoPDF(t)))
	for _, zone := range []string{"UTC", "Asia/Kolkata", "America/St_Johns", "XYZ-14", ""} {
		cmd := exec.Command(os.Args[0], "-test.run=^TestSameBytesInEveryProcess$")
		cmd.Env = append(os.Environ(), ask+"=1", "TZ="+zone, "LANG=de_DE.UTF-8")
		out, err := cmd.CombinedOutput()
		if err != nil || !strings.Contains(string(out), want) {
			t.Errorf("zone %q: %v\n%s\nwant %s", zone, err, out, want)
		}
	}
}

func TestWhatCannotBePrintedIsAnError(t *testing.T) {
	for _, s := range []string{"日", "😀", "a\tb", "caf\xe9", "\xff\xfe", "\x00"} {
		d := &page.Doc{Pages: []page.Page{{Size: page.A4, Items: []page.Item{page.Text{At: page.Point{X: 30, Y: 30}, Size: 10, S: s}}}}}
		if out, err := Write(d); err == nil || out != nil {
			t.Errorf("%q is printed", s)
		}
		d.Pages[0].Items[0] = page.Text{At: page.Point{X: 30, Y: 30}, Size: 10, S: "ok"}
		d.Title = s
		if _, err := Write(d); err == nil {
			t.Errorf("%q passes as a title", s)
		}
	}
	if _, err := Write(nil); err == nil {
		t.Error("no book passes")
	}
	if _, err := Write(&page.Doc{}); err == nil {
		t.Error("an empty book passes")
	}
}

// Letters that a PDF string escapes, and every printable letter of a face, pass through the writer unharmed.
func TestEveryLetterComesOut(t *testing.T) {
	tool := need(t, "pdftotext")
	// Left out: spaces, which a reader may merge, and forms that it folds into their parts.
	const letters = `()\<>[]{}%/#"'` + "ĊčਊĨĩ℈ΩµäßŠ☐✓→ж"
	var items []page.Item
	y := page.MM(20)
	want := ""
	for _, r := range letters {
		if font.Check(font.Sans, string(r)) != nil {
			continue
		}
		items = append(items, page.Text{At: page.Point{X: 30, Y: y}, Size: 10, S: "x" + string(r) + "y"})
		want += "x" + string(r) + "y\n"
		y += 6
	}
	out, err := Write(&page.Doc{Pages: []page.Page{{Size: page.A4, Items: items}}})
	if err != nil {
		t.Fatal(err)
	}
	got := run(t, tool, save(t, out), "-")
	if squeeze(got) != squeeze(want) {
		t.Errorf("printed\n%s\nread back\n%s", want, got)
	}
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), "\n") }

func need(t *testing.T, tool string) string {
	t.Helper()
	path, err := exec.LookPath(tool)
	if err != nil {
		if os.Getenv("LOOMSHEET_TOOLS") == "required" {
			t.Fatal(tool + " is not installed")
		}
		t.Skip(tool + " is not installed")
	}
	return path
}

func save(t *testing.T, out []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "book.pdf")
	if err := os.WriteFile(file, out, 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

func run(t *testing.T, tool string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool, args...).Output()
	if err != nil {
		t.Fatal(tool, err)
	}
	return string(out)
}

// boxes is the page as pdftotext -bbox reports it, in points.
type boxes struct {
	Pages []struct {
		Width  float64 `xml:"width,attr"`
		Height float64 `xml:"height,attr"`
		Words  []struct {
			X0   float64 `xml:"xMin,attr"`
			Y0   float64 `xml:"yMin,attr"`
			X1   float64 `xml:"xMax,attr"`
			Y1   float64 `xml:"yMax,attr"`
			Text string  `xml:",chardata"`
		} `xml:"word"`
	} `xml:"body>doc>page"`
}

// An independent reader finds every word inside its page, none printed over another, and the same words as the
// primitives hold.
func TestAReaderFindsTheWordsApart(t *testing.T) {
	tool := need(t, "pdftotext")
	doc := demoDoc(t)
	out, err := Write(doc)
	if err != nil {
		t.Fatal(err)
	}
	var b boxes
	if err := xml.Unmarshal([]byte(run(t, tool, "-bbox", save(t, out), "-")), &b); err != nil {
		t.Fatal(err)
	}
	if len(b.Pages) != len(doc.Pages) {
		t.Fatalf("%d pages of %d", len(b.Pages), len(doc.Pages))
	}
	const point = 25.4 / 72
	for n, p := range b.Pages {
		size := doc.Pages[n].Size
		if math.Abs(p.Width*point-float64(size.W)) > 0.01 || math.Abs(p.Height*point-float64(size.H)) > 0.01 {
			t.Errorf("page %d is %v by %v points, want %v", n+1, p.Width, p.Height, size)
		}
		var got, want []string
		for i, w := range p.Words {
			got = append(got, w.Text)
			if w.X0 < 0 || w.Y0 < 0 || w.X1 > p.Width || w.Y1 > p.Height {
				t.Errorf("page %d: %q runs off the page", n+1, w.Text)
			}
			for _, o := range p.Words[i+1:] {
				if w.X0 < o.X1-0.2 && o.X0 < w.X1-0.2 && w.Y0 < o.Y1-0.2 && o.Y0 < w.Y1-0.2 {
					t.Errorf("page %d: %q over %q", n+1, w.Text, o.Text)
				}
			}
		}
		for _, item := range doc.Pages[n].Items {
			if x, ok := item.(page.Text); ok {
				want = append(want, strings.Fields(x.S)...)
			}
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("page %d: read %q\nwant %q", n+1, got, want)
		}
	}
}

func TestTitleDateAndFonts(t *testing.T) {
	info, fonts := need(t, "pdfinfo"), need(t, "pdffonts")
	doc := demoDoc(t)
	doc.Title = "Größe Ω"
	out, err := Write(doc)
	if err != nil {
		t.Fatal(err)
	}
	file := save(t, out)
	text := run(t, info, "-isodates", file)
	for _, want := range []string{"Größe Ω", "2000-01-01T00:00:00"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if strings.Count(text, "2000-01-01T") != 2 {
		t.Errorf("creation and modification date:\n%s", text)
	}
	lines := strings.Split(strings.TrimSpace(run(t, fonts, file)), "\n")[2:]
	for _, l := range lines {
		if !strings.Contains(l, "TrueType") || !strings.Contains(l, "yes") {
			t.Errorf("not embedded: %s", l)
		}
	}
	if len(out) > 900_000 {
		t.Errorf("%d bytes: the fonts are not cut down", len(out))
	}
	doc.Date = time.Date(2026, 2, 11, 12, 0, 0, 0, time.FixedZone("", 3600))
	if out, err = Write(doc); err != nil || !strings.Contains(string(out), "D:20260211110000") {
		t.Error("the date of the book is not kept", err)
	}
}

// The outline has each heading at its height, also on a page smaller than the last one.
func TestOutline(t *testing.T) {
	doc := demoDoc(t)
	out, err := Write(doc)
	if err != nil {
		t.Fatal(err)
	}
	if doc.Pages[0].Size == doc.Pages[len(doc.Pages)-1].Size {
		t.Fatal("the demo should end on another size")
	}
	for _, b := range doc.Bookmarks {
		y := float64(doc.Pages[b.Page].Size.H-b.Y) * 72 / 25.4
		dest := fmt.Sprintf("/Dest [%d 0 R /XYZ 0 %.2f null]", 1+2*(b.Page+1), y)
		if !bytes.Contains(out, []byte(dest)) {
			t.Errorf("%q: no %s", b.Title, dest)
		}
	}
}
