package drawing

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// group is a group of a DXF file: a code and a value on lines of their own.
type group struct {
	code  int
	value string
}

// readGroups reads the ASCII form by the published rules: pairs of lines, codes are whole numbers, 0 to 9 text, 10 to 59 numbers with a
// point, 60 to 79 whole numbers, 999 a comment.
func readGroups(data []byte) ([]group, error) {
	lines := strings.Split(strings.TrimSuffix(string(data), "\r\n"), "\r\n")
	if len(lines)%2 != 0 {
		return nil, fmt.Errorf("%d lines", len(lines))
	}
	var out []group
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(lines[i])
		if err != nil {
			return nil, err
		}
		v := lines[i+1]
		for _, r := range v {
			if r < ' ' || r > '~' {
				return nil, fmt.Errorf("%q is not ASCII", v)
			}
		}
		switch {
		case code >= 10 && code <= 59:
			if _, err := strconv.ParseFloat(v, 64); err != nil || !strings.Contains(v, ".") {
				return nil, fmt.Errorf("group %d is %q", code, v)
			}
		case code >= 60 && code <= 79:
			if _, err := strconv.Atoi(v); err != nil {
				return nil, fmt.Errorf("group %d is %q", code, v)
			}
		case code < 0 || code > 9 && code != 999:
			return nil, fmt.Errorf("group %d", code)
		}
		if code != 999 {
			out = append(out, group{code, v})
		}
	}
	return out, nil
}

// entity is what was read: numbers by code, the places of a polyline.
type entity struct {
	Kind, Layer, Text string
	Num               map[int]float64
	Places            []Place
}

// readDXF is the units and the entities of a file.
func readDXF(data []byte) (units string, layers []string, out []entity, err error) {
	gs, err := readGroups(data)
	if err != nil {
		return "", nil, nil, err
	}
	if len(gs) == 0 || gs[len(gs)-1] != (group{0, "EOF"}) {
		return "", nil, nil, fmt.Errorf("no end of file")
	}
	section, variable := "", ""
	var poly *entity
	for i := 0; i < len(gs); i++ {
		g := gs[i]
		switch {
		case g == group{0, "SECTION"}:
			section = gs[i+1].value
		case g == group{0, "ENDSEC"}:
			section = ""
		case section == "HEADER" && g.code == 9:
			variable = g.value
		case section == "HEADER" && variable == "$INSUNITS" && g.code == 70:
			units = g.value
		case section == "TABLES" && g == group{0, "LAYER"}:
			layers = append(layers, gs[i+1].value)
		case section == "ENTITIES" && g.code == 0:
			e := entity{Kind: g.value, Num: map[int]float64{}}
			for i+1 < len(gs) && gs[i+1].code != 0 {
				i++
				switch c := gs[i]; {
				case c.code == 8:
					e.Layer = c.value
				case c.code == 1:
					e.Text = c.value
				default:
					e.Num[c.code], _ = strconv.ParseFloat(c.value, 64)
				}
			}
			switch e.Kind {
			case "POLYLINE":
				out = append(out, e)
				poly = &out[len(out)-1]
			case "VERTEX":
				poly.Places = append(poly.Places, Place{unit.Length(e.Num[10]), unit.Length(e.Num[20])})
			case "SEQEND":
				poly = nil
			default:
				if poly != nil {
					return "", nil, nil, fmt.Errorf("%s within a polyline", e.Kind)
				}
				out = append(out, e)
			}
		}
	}
	return units, layers, out, nil
}

// decode undoes the escapes of text.
func decode(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if strings.HasPrefix(s[i:], `\U+`) && i+7 <= len(s) {
			if n, err := strconv.ParseUint(s[i+3:i+7], 16, 16); err == nil {
				b.WriteRune(rune(n))
				i += 6
				continue
			}
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

func near(a, b unit.Length) bool { return math.Abs(float64(a-b)) < 1e-5 }

// TestDXFReadBack: each stroke and ring comes back with its layer, its places, its radius and its angles; CUT holds nothing else; each
// text comes back.
func TestDXFReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDrawing(t)
		d.Proof = rapid.Bool().Draw(t, "proof")
		units, layers, es, err := readDXF(d.DXF())
		if err != nil {
			t.Fatal(err)
		}
		if units != "4" {
			t.Fatalf("units %q", units)
		}
		for _, e := range es {
			if !slices.Contains(layers, e.Layer) {
				t.Fatalf("layer %q is in no table", e.Layer)
			}
		}
		compare(t, d, es)
		l := d.sheetFor()
		texts := 0
		for _, e := range es {
			if e.Kind == "TEXT" {
				if w := l.words()[texts]; decode(e.Text) != w.s || !near(unit.Length(e.Num[11]-e.Num[10]), w.voice.Width(w.s)) {
					t.Fatalf("%q came back as %q", w.s, e.Text)
				}
				texts++
			}
		}
		if texts != len(l.words()) {
			t.Fatalf("%d texts", texts)
		}
	})
}

// compare holds the strokes and rings of a drawing, which are written first, against the entities read.
func compare(t interface{ Fatalf(string, ...any) }, d *Drawing, es []entity) {
	next := 0
	take := func() entity {
		if next == len(es) {
			t.Fatalf("only %d entities", next)
		}
		next++
		return es[next-1]
	}
	for _, s := range d.Strokes {
		if len(s.Places) < 2 {
			continue
		}
		e := take()
		if e.Layer != string(s.Layer) {
			t.Fatalf("layer %s for %s", e.Layer, s.Layer)
		}
		got := e.Places
		if e.Kind == "LINE" {
			got = []Place{{unit.Length(e.Num[10]), unit.Length(e.Num[20])}, {unit.Length(e.Num[11]), unit.Length(e.Num[21])}}
		} else if (int(e.Num[70])&1 == 1) != s.Closed {
			t.Fatalf("closed: %v, want %v", e.Num[70], s.Closed)
		}
		if len(got) != len(s.Places) {
			t.Fatalf("%d places of %d", len(got), len(s.Places))
		}
		for i, p := range s.Places {
			if !near(p.X, got[i].X) || !near(p.Y, got[i].Y) {
				t.Fatalf("place %v came back as %v", p, got[i])
			}
		}
	}
	for _, r := range d.Rings {
		if !r.drawn() {
			continue
		}
		e := take()
		if e.Layer != string(r.Layer) || !near(unit.Length(e.Num[10]), r.Middle.X) || !near(unit.Length(e.Num[20]), r.Middle.Y) || !near(unit.Length(e.Num[40]), r.Radius) || (e.Kind == "CIRCLE") != r.whole() {
			t.Fatalf("ring %v came back as %v", r, e)
		}
		if !r.whole() {
			for code, want := range map[int]unit.Angle{50: r.From, 51: r.To} {
				if off := math.Mod(e.Num[code]-float64(want)+720+360, 360); off > 1e-5 && off < 360-1e-5 {
					t.Fatalf("an end at %v for %v", e.Num[code], want)
				}
			}
		}
	}
	for _, e := range es[next:] {
		if e.Layer == string(Cut) {
			t.Fatalf("%s on the layer to be cut", e.Kind)
		}
	}
}

// known is a drawing with one of each.
func known() *Drawing {
	return &Drawing{Title: "Ø & <µ> \"x\"", Proof: true,
		Strokes: []Stroke{{Cut, []Place{{0, 0}, {40.2, 0}, {40.2, 20.2}, {0, 20.2}}, true}, {Outline, []Place{{-5, -5}, {50, -5}, {50, 30}}, false}, {Dim, []Place{{0, -20}, {100, -20}}, false}},
		Rings:   []Ring{{Layer: Cut, Middle: Place{70, 10}, Radius: 16.1}, {Layer: Outline, Middle: Place{70, 10}, Radius: 23, From: 30, To: 200}},
		Spots:   []Spot{{Cut, Place{-20, 0}, Cross, 0}, {Mark, Place{-20, 10}, Circle, 0}, {Mark, Place{-20, 20}, Dot, 0}},
		Labels:  []Label{{At: Place{70, 10}, Text: "Ø32.2 µ² 100 %% \\U+0041 ^J", Free: true}, {At: Place{0, 40}, Text: "fixed & <told>"}}}
}

// TestDXFByEzdxf has an independent reader, ezdxf of Debian, audit the file and tell what it holds.
func TestDXFByEzdxf(t *testing.T) {
	python := ""
	for _, p := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(p, "-c", "import ezdxf").Run() == nil {
			python = p
			break
		}
	}
	if python == "" {
		if os.Getenv("LOOMSHEET_TOOLS") == "required" {
			t.Fatal("python3-ezdxf is not installed")
		}
		t.Skip("python3-ezdxf is not installed")
	}
	const script = `
import ezdxf, json, sys
from ezdxf.lldxf.encoding import decode_dxf_unicode
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
out = {"version": doc.dxfversion, "units": doc.units, "errors": [e.message for e in audit.errors], "fixes": [e.message for e in audit.fixes],
  "layers": [[l.dxf.name, l.dxf.linetype] for l in doc.layers], "lines": [l.dxf.name for l in doc.linetypes], "entities": []}
for e in doc.modelspace():
    x = {"Kind": e.dxftype(), "Layer": e.dxf.layer, "Num": {}, "Places": []}
    if e.dxftype() == "LINE":
        x["Num"] = {10: e.dxf.start.x, 20: e.dxf.start.y, 11: e.dxf.end.x, 21: e.dxf.end.y}
    if e.dxftype() in ("CIRCLE", "ARC"):
        x["Num"] = {10: e.dxf.center.x, 20: e.dxf.center.y, 40: e.dxf.radius}
    if e.dxftype() == "ARC":
        x["Num"][50], x["Num"][51] = e.dxf.start_angle, e.dxf.end_angle
    if e.dxftype() == "POLYLINE":
        x["Num"] = {70: 1 if e.is_closed else 0}
        x["Places"] = [{"X": v.dxf.location.x, "Y": v.dxf.location.y} for v in e.vertices]
    if e.dxftype() == "TEXT":
        x["Text"] = decode_dxf_unicode(e.plain_text())
        x["Num"] = {10: e.dxf.insert.x, 11: e.dxf.align_point.x, 72: e.dxf.halign}
    out["entities"].append(x)
json.dump(out, sys.stdout)
`
	d := known()
	file := filepath.Join(t.TempDir(), "x.dxf")
	if err := os.WriteFile(file, d.DXF(), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "-c", script, file)
	var said bytes.Buffer
	cmd.Stderr = &said
	data, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, said.String())
	}
	var got struct {
		Version       string
		Units         int
		Errors, Fixes []string
		Layers        [][]string
		Lines         []string
		Entities      []entity
	}
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	if got.Version != "AC1009" || got.Units != 4 || len(got.Errors)+len(got.Fixes) > 0 {
		t.Errorf("version %s, units %d, errors %v, put right %v", got.Version, got.Units, got.Errors, got.Fixes)
	}
	for _, p := range pens {
		if !slices.ContainsFunc(got.Layers, func(l []string) bool { return l[0] == string(p.layer) && strings.EqualFold(l[1], p.line) }) || !slices.ContainsFunc(got.Lines, func(s string) bool { return strings.EqualFold(s, p.line) }) {
			t.Errorf("layer %s with line %s: %v %v", p.layer, p.line, got.Layers, got.Lines)
		}
	}
	compare(t, d, got.Entities)
	var texts []string
	for _, e := range got.Entities {
		if e.Kind == "TEXT" {
			texts = append(texts, e.Text)
		}
	}
	for _, want := range []string{"Ø32.2 µ² 100 %% \\U+0041 ^J", "fixed & <told>", "100 mm; measure: must be 100 mm; print at 100 %"} {
		if !slices.Contains(texts, want) {
			t.Errorf("no %q among %q", want, texts)
		}
	}
}

// TestSVGReadBack parses the file and measures it in millimetres.
func TestSVGReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDrawing(t)
		l := d.sheetFor()
		svgHolds(t, d, l)
	})
	svgHolds(t, known(), known().sheetFor())
}

func svgHolds(t interface{ Fatalf(string, ...any) }, d *Drawing, l *Layout) {
	dec := xml.NewDecoder(bytes.NewReader(d.SVG()))
	var texts []string
	var circles, closed int
	inText, group, title := false, "", ""
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%v", err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			at := map[string]string{}
			for _, a := range x.Attr {
				at[a.Name.Local] = a.Value
			}
			num := func(k string) unit.Length {
				v, err := strconv.ParseFloat(at[k], 64)
				if err != nil {
					t.Fatalf("%s of %s is %q", k, x.Name.Local, at[k])
				}
				return unit.Length(v)
			}
			switch x.Name.Local {
			case "svg":
				if at["width"] != mm(l.W)+"mm" || at["height"] != mm(l.H)+"mm" || at["viewBox"] != "0 0 "+mm(l.W)+" "+mm(l.H) {
					t.Fatalf("size %v", at)
				}
			case "g":
				group = at["id"]
			case "text":
				inText = true
				texts = append(texts, "")
			case "title":
				title = "?"
			case "circle":
				if group == "CUT" {
					r := wholeCuts(d)[circles]
					p := l.Paper(r.Middle)
					if math.Abs(float64(num("r")-r.Radius)) > 1e-4 || math.Abs(float64(num("cx")-p.X)) > 1e-4 || math.Abs(float64(num("cy")-p.Y)) > 1e-4 {
						t.Fatalf("ring %v came back as %v", r, at)
					}
					circles++
				}
			case "polygon":
				if group == "CUT" {
					closed++
				}
			case "line":
				if at["id"] == "bar" && d.Proof && math.Abs(float64(num("x2")-num("x1")-100)) > 1e-3 {
					t.Fatalf("bar of %v", num("x2")-num("x1"))
				}
			}
		case xml.EndElement:
			inText = false
			if x.Name.Local == "g" {
				group = ""
			}
		case xml.CharData:
			if inText {
				texts[len(texts)-1] += string(x)
			}
			if title == "?" {
				title = string(x)
			}
		}
	}
	if title != d.Title {
		t.Fatalf("title %q", title)
	}
	if circles != len(wholeCuts(d)) {
		t.Fatalf("%d circles to be cut", circles)
	}
	want := 0
	for _, s := range d.Strokes {
		if s.Layer == Cut && s.Closed && len(s.Places) > 2 {
			want++
		}
	}
	if closed != want {
		t.Fatalf("%d outlines to be cut, want %d", closed, want)
	}
	var all []string
	for _, w := range l.words() {
		all = append(all, w.s)
	}
	if !slices.Equal(all, texts) {
		t.Fatalf("texts %q, want %q", texts, all)
	}
}

func wholeCuts(d *Drawing) (out []Ring) {
	for _, r := range d.Rings {
		if r.Layer == Cut && r.drawn() && r.whole() {
			out = append(out, r)
		}
	}
	return out
}
