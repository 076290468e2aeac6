package shellbook

import (
	"strings"
	"testing"

	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
)

// A panel that is drilled from the side against its normal is drawn as seen from there: what lies at greater U is to the left.
func TestMapFromTheSideThatIsDrilled(t *testing.T) {
	p := firewall()
	p.Against = true
	f := solid.Flat{U: 120, V: 40}
	list := []shell.Hole{{Mark: "a", Panel: p.Name, Flat: f, At: p.Plane.Space(f), Known: true, Drill: 7, Refs: []shell.Ref{{To: "point x", At: p.Plane.Space(solid.Flat{U: 30, V: 10})}}}}
	q, turned := asSeen(&p, list)
	d := panelDrawing(q, turned)
	if r := d.Rings[0].Middle; r.X != -120 || r.Y != 40 {
		t.Errorf("the hole at %v", r)
	}
	if s := d.Spots[1].At; s.X > -29.9 || s.X < -30.1 || s.Y < 9.9 || s.Y > 10.1 {
		t.Errorf("its reference at %v", s)
	}
	if list[0].Flat != f || q.Outline[0].U != -p.Outline[0].U {
		t.Error("the list is changed, or the outline is not turned")
	}
	if text := holdText(q); !strings.Contains(text, axisText(p.Plane.Across.Scale(-1))) || p.Sides[1].Known && !strings.Contains(text, "seen from "+p.Sides[1].Zone) {
		t.Errorf("%q", text)
	}
}
