package parts

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
	"loomsheet/lang/syntax"
)

// room is the least distance between two contacts of a size, centre to centre: the usual spacing of their inserts, typical.
var room = map[string]float64{
	"size-22": 2.3, "size-20": 3.2, "size-16": 4.4, "size-12": 6, "size-8": 9, "size-4": 12,
	"tab-2-8": 4, "tab-6-3": 8, "tab-6-3-large": 8, "tab-9-5": 11, "stud": 15,
}

// hole is a cavity with its place.
type hole struct {
	name  string
	takes []string
	x, y  float64
	room  float64
}

func holes(t *testing.T, h *syntax.Line) []hole {
	t.Helper()
	var out []hole
	for _, l := range h.Block {
		if l.Word.Text != "cavity" {
			continue
		}
		if len(values(l, "at")) != 1 {
			t.Errorf("%s: cavity %s has no place", h.About[0].Text, l.About[0].Text)
			continue
		}
		x, y := place(t, values(l, "at")[0])
		dx, dy := 0.0, 0.0
		names := members(t, l.About)
		if s := values(l, "step"); s != nil {
			dx, dy = place(t, s[0])
		} else if len(names) > 1 {
			t.Errorf("%s: cavities %v lie on one another", h.About[0].Text, names)
		}
		takes := members(t, values(l, "takes"))
		if takes == nil && text(l, "stud") != "" {
			takes = []string{"stud"}
		}
		if len(takes) == 0 {
			t.Errorf("%s: cavity %s takes nothing", h.About[0].Text, names[0])
			continue
		}
		for i, n := range names {
			out = append(out, hole{n, takes, x + float64(i)*dx, y + float64(i)*dy, room[takes[0]]})
		}
	}
	return out
}

func TestHousings(t *testing.T) {
	contacts := map[string]bool{"stud": true}
	for _, c := range of(t, "contact") {
		contacts[c.About[0].Text] = true
	}
	for _, p := range of(t, "housing") {
		name := p.About[0].Text
		hs := holes(t, p.Line)
		seen := map[string]bool{}
		for i, h := range hs {
			if seen[h.name] {
				t.Errorf("%s has two cavities %s", name, h.name)
			}
			seen[h.name] = true
			for _, c := range h.takes {
				if !contacts[c] || room[c] == 0 {
					t.Errorf("%s: cavity %s takes %s, which is no contact", name, h.name, c)
				}
			}
			for _, o := range hs[:i] {
				if d := math.Hypot(h.x-o.x, h.y-o.y); d < (h.room+o.room)/2-1e-9 {
					t.Errorf("%s: cavities %s and %s are %.2f mm apart", name, o.name, h.name, d)
				}
			}
		}
		if one(t, p.Line, "heat", unit.DimTemperature) < 85 {
			t.Errorf("%s: heat rating", name)
		}
		if values(p.Line, "cut-out") != nil {
			cut := lengths(t, p.Line, "cut-out")
			checkCutOut(t, name, cut, hs)
			checkFlange(t, name, p.Line, cut)
		}
	}
}

// checkCutOut demands that the face with its cavities passes the hole in the panel, round shells about their own middle.
func checkCutOut(t *testing.T, name string, cut []float64, hs []hole) {
	t.Helper()
	cx, cy := 0.0, 0.0
	if !strings.HasPrefix(name, "round-") {
		x0, x1, y0, y1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, h := range hs {
			x0, x1, y0, y1 = min(x0, h.x), max(x1, h.x), min(y0, h.y), max(y1, h.y)
		}
		cx, cy = (x0+x1)/2, (y0+y1)/2
	}
	for _, h := range hs {
		half := h.room / 2
		if h.takes[0] == "stud" {
			half = 3
		}
		if len(cut) == 1 && math.Hypot(h.x-cx, h.y-cy)+half+1 > cut[0]/2 ||
			len(cut) == 2 && (math.Abs(h.x-cx)+half+1 > cut[0]/2 || math.Abs(h.y-cy)+half+1 > cut[1]/2) {
			t.Errorf("%s: cavity %s does not pass the cut-out of %v mm", name, h.name, cut)
		}
	}
}

// checkFlange demands that what goes on a panel can be fitted: the flange covers the cut-out, a nut goes over it and stays within the room, screws
// lie on the flange with metal between them and the cut-out, and there is one way of fastening.
func checkFlange(t *testing.T, name string, h *syntax.Line, cut []float64) {
	t.Helper()
	two := func(x []float64) (float64, float64) { return x[0], x[len(x)-1] }
	w, high := two(cut)
	fw, fh := two(lengths(t, h, "flange"))
	room := one(t, h, "room", unit.DimLength)
	if fw < w+6 || fh < high+6 || room < min(fw, fh)+10 || one(t, h, "behind", unit.DimLength) <= 0 {
		t.Errorf("%s: flange %v x %v mm over a cut-out of %v mm, room %v mm", name, fw, fh, cut, room)
	}
	if least, most := pair(t, h, "grips", unit.DimLength); least <= 0 || least >= most {
		t.Errorf("%s grips %v to %v mm", name, least, most)
	}
	screws := 0
	for _, l := range h.Block {
		if l.Word.Text != "hole" {
			continue
		}
		x, y := place(t, values(l, "at")[0])
		dx, dy := place(t, values(l, "step")[0])
		r := one(t, l, "drill", unit.DimLength) / 2
		for range l.About {
			screws++
			past := math.Hypot(max(0, math.Abs(x)-w/2), max(0, math.Abs(y)-high/2)) // from a cut-out with corners
			if len(cut) == 1 {
				past = math.Hypot(x, y) - w/2
			}
			if past < r+6-1e-9 || math.Abs(x)+r+1 > fw/2 || math.Abs(y)+r+1 > fh/2 {
				t.Errorf("%s: the screw at %v, %v is %.1f mm from the cut-out, or off the flange", name, x, y, past-r)
			}
			x, y = x+dx, y+dy
		}
	}
	if nut := values(h, "nut"); (nut != nil) == (screws > 0) || nut != nil && measure(t, nut[0], unit.DimLength) < w+5 || screws > 0 && screws != 4 {
		t.Errorf("%s: a nut %v, %d screws over a cut-out of %v mm", name, nut, screws, cut)
	}
}

// What the name says is what is in it, in order.
func TestHousingNames(t *testing.T) {
	for prefix, counts := range map[string][]int{
		"sealed-": {1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 18, 24, 34}, "plain-": {1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 18, 24},
		"sealed-large-": {2, 4}, "round-": {3, 8, 12, 19, 24, 31, 37}, "box-": {12, 24}, "power-": {1, 2}, "power-large-": {1, 2},
	} {
		for _, n := range counts {
			h := named(t, "housing", prefix+strconv.Itoa(n))
			hs := holes(t, h)
			if len(hs) != n {
				t.Errorf("%s%d has %d cavities", prefix, n, len(hs))
			}
			for i, c := range hs {
				if c.name != strconv.Itoa(i+1) {
					t.Errorf("%s%d: cavity %s in place %d", prefix, n, c.name, i+1)
				}
			}
			var keys []string
			for _, k := range values(h, "keys") {
				keys = append(keys, k.Text)
			}
			if prefix == "round-" && !slices.Equal(keys, []string{"N", "W", "X", "Y", "Z"}) {
				t.Errorf("%s%d: keys %v", prefix, n, keys)
			}
		}
	}
	for name, want := range map[string]string{
		"relay-base": "30 87 86 85", "relay-base-5": "30 87 87a 86 85", "fuse-1": "in out",
		"stud-post-m6": "1", "stud-post-m8": "1", "stud-post-m10": "1", "stud-post-m12": "1",
	} {
		h := named(t, "housing", name)
		var got []string
		for _, c := range holes(t, h) {
			got = append(got, c.name)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s has %v, want %s", name, got, want)
		}
		if thread, ok := strings.CutPrefix(name, "stud-post-"); ok {
			if s := text(h.Block[0], "stud"); s != strings.ToUpper(thread) || one(t, h.Block[0], "resistance", unit.DimResistance) != 0.0001 {
				t.Errorf("%s: stud %s", name, s)
			}
		}
	}
	if n := len(holes(t, named(t, "housing", "rect-34"))); n != 34 {
		t.Errorf("rect-34 has %d cavities", n)
	}
	if n := len(holes(t, named(t, "housing", "box-40"))); n != 22 {
		t.Errorf("box-40 has %d cavities, want 22", n)
	}
}

func TestFuses(t *testing.T) {
	prefixes := map[string]string{data.BladeC: "blade-", data.BladeF: "small-blade-", data.BladeE: "large-blade-", data.BoltIn: "bolt-", data.Link: "link-"}
	ratings, cold := map[string][]float64{}, map[string][]float64{}
	for _, p := range of(t, "fuse") {
		name, kind := p.About[0].Text, text(p.Line, "kind")
		rating, ohm := one(t, p.Line, "rating", unit.DimCurrent), one(t, p.Line, "resistance", unit.DimResistance)
		if want := prefixes[kind] + strings.ReplaceAll(fmt.Sprint(rating), ".", "-"); name != want || !slices.Contains(data.FuseKinds, kind) {
			t.Errorf("%s: rating %v of kind %q should be %s", name, rating, kind, want)
		}
		ratings[kind], cold[kind] = append(ratings[kind], rating), append(cold[kind], -ohm)
		// a cold element drops some 0.04 to 0.13 V at its rating
		if v := rating * ohm; v < 0.035 || v > 0.13 {
			t.Errorf("%s: %v V across the cold element at its rating", name, v)
		}
		read := false
		for _, e := range data.FuseElements {
			if e.Kind == kind && float64(e.Rating) == rating {
				read = true
				if math.Abs(ohm-float64(e.Cold)) > 1e-9 {
					t.Errorf("%s: %v ohm, the datasheet has %v", name, ohm, float64(e.Cold))
				}
			}
		}
		if strings.Contains(text(p.Line, "source"), "datasheet") != read || data.BasisOf(text(p.Line, "source")) == data.Verified { // all were seen second-hand
			t.Errorf("%s: source %q", name, text(p.Line, "source"))
		}
	}
	for kind, r := range ratings {
		if !rising(r) || !rising(cold[kind]) {
			t.Errorf("%s: ratings must rise and resistances fall: %v %v", kind, r, cold[kind])
		}
	}
	for kind, want := range map[string][]float64{
		data.BladeC: {2, 3, 5, 7.5, 10, 15, 20, 25, 30, 35, 40}, data.BladeF: {5, 7.5, 10, 15, 20, 25, 30}, data.BladeE: {20, 30, 40, 50, 60, 70, 80},
		data.BoltIn: {30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200}, data.Link: {100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 500},
	} {
		for _, r := range want {
			if !slices.Contains(ratings[kind], r) {
				t.Errorf("%s: no %v A", kind, r)
			}
		}
	}
}

func TestFixings(t *testing.T) {
	for _, p := range of(t, "clip") {
		if d := lengths(t, p.Line, "holds"); !rising(d) || len(d) < 5 {
			t.Errorf("%s: %v", p.About[0].Text, d)
		}
		if one(t, p.Line, "thick", unit.DimLength) <= 0 || text(p.Line, "as") == "" || data.BasisOf(text(p.Line, "source")) != data.FromMemory {
			t.Errorf("%s: thick, as or source", p.About[0].Text)
		}
	}
	// cushions: the heat of the reference, in degrees Celsius
	for name, item := range map[string]string{"p-clip": "cushion DG/CG chloroprene, max", "p-clip-hot": "cushion CH silicone, max"} {
		heat, found := one(t, named(t, "clip", name), "heat", unit.DimTemperature), false
		for _, r := range reference(t, "clamps_and_inserts.csv") {
			found = found || r["item"] == item && strings.Contains(r["value"], fmt.Sprintf("(%v C)", heat))
		}
		if !found {
			t.Errorf("%s: %v C is not what the reference says", name, heat)
		}
	}
	if d := lengths(t, named(t, "clip", "p-clip"), "holds"); d[0] != 3 || d[len(d)-1] != 50 {
		t.Errorf("p-clip holds %v, want 3 to 50 mm", d)
	}
	for _, p := range of(t, "sleeve") {
		if d := lengths(t, p.Line, "sizes"); !rising(d) || one(t, p.Line, "grows", unit.DimNone) < 1 {
			t.Errorf("%s: %v", p.About[0].Text, d)
		}
	}
	var want []float64
	for _, r := range reference(t, "heat_shrink_2to1.csv") {
		mm, _ := strconv.ParseFloat(r["expanded_id_min_mm"], 64)
		want = append(want, mm)
	}
	if got := lengths(t, named(t, "sleeve", "shrink"), "sizes"); !slices.Equal(got, want) {
		t.Errorf("shrink: %v, the drawing has %v", got, want)
	}
	// the drawing's walls, and by `grows` its recovered diameters within the rounding of its inches
	shrink := named(t, "sleeve", "shrink")
	walls, grows := lengths(t, shrink, "wall"), one(t, shrink, "grows", unit.DimNone)
	for i, r := range reference(t, "heat_shrink_2to1.csv") {
		recovered, _ := strconv.ParseFloat(r["recovered_id_max_mm"], 64)
		wall, _ := strconv.ParseFloat(r["recovered_wall_nominal_mm"], 64)
		if i >= len(walls) || walls[i] != wall {
			t.Errorf("shrink %s: wall %v, the drawing has %v", r["nominal_in"], walls, wall)
		}
		if got := want[i] / grows; math.Abs(got-recovered) > 0.016 {
			t.Errorf("shrink %s recovers to %v, the drawing has %v", r["nominal_in"], got, recovered)
		}
	}
	if heat := one(t, named(t, "sleeve", "heat-sleeve"), "heat", unit.DimTemperature); heat != 260 {
		t.Errorf("heat-sleeve: %v C", heat)
	}
	// rivet nuts: within the range of the reference
	for _, thread := range []string{"M4", "M5", "M6", "M8"} {
		l := named(t, "fastener", "rivet-nut-"+strings.ToLower(thread))
		thin, thick := pair(t, l, "drill", unit.DimLength)
		found := false
		for _, r := range reference(t, "clamps_and_inserts.csv") {
			if r["item"] != "rivet nut "+thread+" round body, hole" {
				continue
			}
			found = true
			var least, most float64
			if _, err := fmt.Sscanf(r["value"], "%f to %f mm", &least, &most); err != nil || thin != least || thick != most {
				t.Errorf("%s: drill %v to %v, the reference has %s", thread, thin, thick, r["value"])
			}
			if (r["basis"] == "memory") != (data.BasisOf(text(l, "source")) == data.FromMemory) {
				t.Errorf("%s: source %q", thread, text(l, "source"))
			}
		}
		if !found || text(l, "thread") != thread {
			t.Errorf("%s: no such hole in the reference, or thread %q", thread, text(l, "thread"))
		}
	}
	// what each is, and what of it must be known to choose a screw
	for _, p := range of(t, "fastener") {
		name, as := p.About[0].Text, text(p.Line, "as")
		if as == "" || !strings.HasPrefix(strings.TrimPrefix(name, "weld-"), as) {
			t.Errorf("%s is %q", name, as)
		}
		if thread := text(p.Line, "thread"); thread != "" {
			d, _ := strconv.ParseFloat(thread[1:], 64)
			if engage := one(t, p.Line, "engage", unit.DimLength); engage < 0.75*d || engage > 2*d || !rising(lengths(t, p.Line, "screws")) {
				t.Errorf("%s: %s engages %v mm, screws %v", name, thread, engage, lengths(t, p.Line, "screws"))
			}
		}
		if data.BasisOf(text(p.Line, "source")) != data.FromMemory {
			t.Errorf("%s holds figures from memory and must say so", name)
		}
	}
	// a clearance hole is 1.1 times the screw
	for d, name := range map[float64]string{4: "screw-m4", 5: "screw-m5", 6: "screw-m6"} {
		if got := one(t, named(t, "fastener", name), "drill", unit.DimLength); math.Abs(got-1.1*d) > 1e-9 {
			t.Errorf("%s: drill %v", name, got)
		}
	}
	for _, name := range []string{"weld-stud", "weld-stud-m4", "weld-stud-m5", "weld-stud-m6", "adhesive-base", "tie-mount", "bolt-m5", "bolt-m6", "bolt-m8"} {
		if values(named(t, "fastener", name), "drill") != nil {
			t.Errorf("%s needs no hole", name)
		}
	}
}

// Patterns join, feed and move only what their housing has.
func TestDevices(t *testing.T) {
	for _, name := range []string{"relay-40", "relay-40c", "lamp", "injector", "sensor-2", "sensor-3"} {
		named(t, "device", name)
	}
	for _, d := range of(t, "device") {
		name := d.About[0].Text
		if values(d.Line, "at") != nil {
			t.Errorf("%s has a place: it is no pattern", name)
		}
		pins := map[string]bool{}
		for _, h := range holes(t, named(t, "housing", text(d.Line, "housing"))) {
			pins[h.name] = true
		}
		used := map[string]bool{}
		for _, l := range d.Block {
			for _, option := range []string{"from", "to", "joins"} {
				for _, p := range members(t, values(l, option)) {
					used[p] = true
					if !pins[p] {
						t.Errorf("%s: %s has no %s", name, text(d.Line, "housing"), p)
					}
				}
			}
		}
		if strings.HasPrefix(name, "relay") && len(used) != len(pins) {
			t.Errorf("%s leaves a pin of its base without a meaning", name)
		}
	}
}

// Parts that settings name as defaults, and jobs as a matter of course.
func TestDefaultsAreThere(t *testing.T) {
	for name, kind := range map[string]string{
		"thin-wall": "wire", "tinned": "wire", "p-clip": "clip", "rivet-nut-m5": "fastener", "braid": "sleeve", "heat-sleeve": "sleeve",
	} {
		named(t, kind, name)
	}
}
