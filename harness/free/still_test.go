package free

import (
	"slices"
	"testing"

	"loomsheet/harness/design"
)

// TestStands: what stands still while things are undone, found of all devices at once, is what the rule says of each device by itself.
func TestStands(t *testing.T) {
	auto := func(value string) []design.Setting {
		return []design.Setting{{Name: "undone-supply", Value: design.SettingValue{Name: value}}}
	}
	for _, value := range []string{"auto", "live", "still"} {
		for _, battery := range []bool{false, true} {
			job := &design.Job{Settings: design.Settings{Lines: auto(value)}, Sections: []*design.Section{{Name: "a"}, {Name: "b"}}}
			c := &design.Case{Name: "running", Supplies: []design.CaseSupply{{Device: "gen"}, {Device: "cell"}, {Device: "plug"}}, Off: []string{"plug"}}
			job.Cases = []*design.Case{c}
			for _, n := range []string{"gen", "cell", "plug", "slave", "ecu", "engine"} {
				d := &design.Device{Name: n, Section: "a"}
				d.Supplies = []design.Supply{{From: design.PinRef{Pin: "pos"}, To: design.PinRef{Pin: "neg"}}}
				d.Supplies[0].Volts.Nominal = 12
				switch n {
				case "gen":
					d.Bolted = []string{"engine"}
				case "cell":
					d.Supplies[0].Stores.Given = battery
					d.Section = "b"
				case "ecu":
					d.Supplies[0].Volts.Nominal = 5
					d.Draws = []design.Draw{{From: design.PinRef{Pin: "in"}, To: design.PinRef{Pin: "neg"}}}
				case "engine":
					d.Supplies = nil
				}
				job.Devices = append(job.Devices, d)
			}
			f := &finder{job: job, devices: design.Index(job.Devices, func(d *design.Device) string { return d.Name })}
			f.bodies = &bodies{home: map[string]string{}}
			f.index = &index{bolted: map[string]bool{"engine": true}}
			for _, d := range job.Devices {
				f.bodies.home[d.Name] = d.Section
			}
			f.index.feeding = f.supplies()
			f.index.strange = f.strangers()
			f.index.fed, f.index.apart = f.stances(f.index.feeding), f.stances(f.index.strange)
			name := func(d *design.Device) string { return d.Name }
			if got := names(f.index.feeding, name); !slices.Equal(got, []string{"cell", "gen"}) {
				t.Fatalf("feeding: %v", got)
			}
			if got := names(f.index.strange, name); !slices.Equal(got, []string{"plug", "slave"}) {
				t.Fatalf("in no case: %v", got)
			}
			for _, p := range []*part{{Part: &Part{Sections: []string{"a"}}, f: f}, {Part: &Part{Sections: []string{"b"}}, f: f}, {Part: &Part{Sections: []string{"b"}, Alone: true}, f: f}} {
				var still, others []string
				for _, d := range f.index.feeding {
					if plainStands(p, d, battery) {
						still = append(still, d.Name)
					}
				}
				for _, d := range f.index.strange {
					if !plainStands(p, d, battery) {
						others = append(others, d.Name)
					}
				}
				if got := p.still(); !slices.Equal(got, still) {
					t.Errorf("%s, battery %t: %v stands still, want %v", value, battery, got, still)
				}
				var got []string
				if c := p.unlisted(); c != nil {
					for _, s := range c.Supplies {
						got = append(got, s.Device)
					}
				}
				if !slices.Equal(got, others) {
					t.Errorf("%s, battery %t: %v in no case, want %v", value, battery, got, others)
				}
			}
		}
	}
}

func names[T any](list []T, of func(T) string) (out []string) {
	for _, x := range list {
		out = append(out, of(x))
	}
	return out
}

// plainStands is the rule as it is told, of one device.
func plainStands(p *part, d *design.Device, battery bool) bool {
	stores := len(d.Supplies) > 0 && d.Supplies[0].Stores.Given
	switch p.f.job.Settings.Lines[0].Value.Name {
	case "live":
		return false
	case "auto":
		return !stores && (len(d.Bolted) > 0 || battery && (p.Alone || p.Sections[0] == d.Section))
	}
	return true
}
