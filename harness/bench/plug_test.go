package bench

import (
	"testing"

	"loomsheet/harness/design"
)

func TestPlugsByContact(t *testing.T) {
	h := &design.Housing{Part: design.Part{Name: "sealed-3"}, Cavities: []design.HousingCavity{{Name: "1", Takes: []string{"size-16"}}, {Name: "2", Takes: []string{"size-20", "size-22"}}, {Name: "3", Takes: []string{"tab"}}}}
	m := &maker{job: &design.Job{Parts: design.Parts{Seals: []*design.Seal{{Part: design.Part{Name: "seal-1"}, InsulMost: 9},
		{Part: design.Part{Name: "small"}, Plugs: []string{"size-22", "size-20"}}, {Part: design.Part{Name: "large"}, Plugs: []string{"size-16"}}}}},
		housing: map[string]*design.Housing{"sealed-3": h}}
	for cavity, want := range map[string]string{"1": "large", "2": "small", "3": "", "9": ""} {
		if got := m.plug("sealed-3", cavity); got != want {
			t.Errorf("cavity %s: %q, want %q", cavity, got, want)
		}
	}
	if got := m.plug("unknown", "1"); got != "" {
		t.Error(got)
	}
}
