package resolve

import (
	"fmt"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func TestPlugsKeywaysAndMates(t *testing.T) {
	job := clean(t, base+`seal stopper plugs size-16, size-12
housing own-2 keyway (0, 12.5 mm) keys A, B mates own-2, own-3, sealed-2 { cavity [1..2] takes size-16 }
housing own-3 { cavity [1..3] takes size-16 }
device one at (0, 10, 0 mm) { housing own-2 key A }
device two at (0, 20, 0 mm) housing own-3
`)
	seals := design.Index(job.Parts.Seals, func(s *design.Seal) string { return s.Name })
	if got := fmt.Sprint(seals["stopper"].Plugs, seals["blank-16"].Plugs, seals["seal-1"].Plugs); got != "[size-16 size-12] [size-16] []" {
		t.Errorf("plugs %s", got)
	}
	houses := design.Index(job.Parts.Housings, func(h *design.Housing) string { return h.Name })
	h := houses["own-2"]
	if !h.Keyed || h.Keyway != [2]unit.Length{0, 12.5} || fmt.Sprint(h.Mates) != "[own-3 sealed-2]" {
		t.Errorf("%+v", h)
	}
	if o := houses["own-3"]; o.Keyed || o.Mates != nil {
		t.Errorf("%+v", o)
	}
	if houses["sealed-2"] != nil {
		t.Error("a housing that is only named is made")
	}
}
