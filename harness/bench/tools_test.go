package bench

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"loomsheet/harness/unit"
)

func TestTools(t *testing.T) {
	crimp := func(contact, tool, setting string, samples int, force unit.Force) Crimp {
		c := Crimp{Contact: contact, Tool: tool, Setting: setting, Samples: samples}
		if force > 0 {
			c.Pull = []Pull{{Force: force}}
		}
		return c
	}
	s := &SectionPlan{
		Cuts:    []Cut{{Length: 820, Size: unit.Metric(2.5)}, {Length: 1490, Size: unit.Metric(0.5)}, {Length: 0, Cores: []Core{{Size: unit.Metric(6)}}}},
		Markers: []Marker{{Marked: &Marked{Text: "a"}}},
		Crimps: []Crimp{crimp("size-16 pin", "four-indent", "4", 5, 155.6), crimp("size-20 pin", "four-indent", "2", 5, 55.9), crimp("size-16 socket", "four-indent", "4", 0, 900),
			crimp("tab", NotStated, NotStated, 5, 0), crimp("tab", NotStated, NotStated, 0, 0), crimp("M6 lug", "", "", 5, 415.3)},
		Inspection: Inspection{Rings: []Ring{{To: []RingEnd{{Known: true}}}}},
	}
	got := s.Tools(Others{Heat: true, Torques: []unit.Torque{12, 0, 3}, Width: 2400, Height: 1200, Pegs: 40})
	want := []Tool{
		{"tape or cutting stop", "for pieces up to 1490 mm"}, {"cutter and stripper", "0.5 mm2 to 6 mm2"}, {"label printer", ""}, {"crimp tool", "four-indent, set to 4 or 2"},
		{"crimp tools by their own sheets", "tab, M6 lug"}, {"pull tester", "55.9 N to 415.3 N"}, {"forming board", "2400 x 1200 mm, 40 pegs"},
		{"heat gun", "for sleeves and marks that shrink"}, {"torque wrench", "3 Nm to 12 Nm"}, {"meter", "that rings and reads milliohms"},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if got := (&SectionPlan{}).Tools(Others{}); got != nil {
		t.Errorf("nothing to do asks for %v", got)
	}
	s = &SectionPlan{Cuts: []Cut{{Size: unit.AWG(20)}}, Crimps: []Crimp{crimp("pin", "hexagon", NotStated, 5, 90)}, Inspection: Inspection{Rings: []Ring{{To: []RingEnd{{}}}}}}
	want = []Tool{{"tape or cutting stop", ""}, {"cutter and stripper", "20 AWG"}, {"crimp tool", "hexagon"}, {"pull tester", "90 N"}, {"torque wrench", "5 Nm"}, {"meter", "that rings"}}
	if d := cmp.Diff(want, s.Tools(Others{Torques: []unit.Torque{5}})); d != "" {
		t.Error(d)
	}
}
