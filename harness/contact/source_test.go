package contact_test

import (
	"math"
	"testing"

	"loomsheet/harness/contact"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// TestVerifiedOnlyWhereAllIs: the rating's own source or else the part's, the housing's where its limit counts, no pattern of another part, no air that takes
// something by a rise nobody set.
func TestVerifiedOnlyWhereAllIs(t *testing.T) {
	const good, poor = "a document", "typical"
	for _, c := range []struct {
		name                  string
		part, rating, housing string
		limit                 bool
		edit                  func(*design.Job)
		amps                  []float64
		want                  bool
	}{
		{"all in documents", good, "", good, true, nil, []float64{1}, true},
		{"part from memory", poor, "", good, true, nil, []float64{1}, false},
		{"part from memory, rating in a document", poor, good, good, true, nil, []float64{1}, true},
		{"both from memory", poor, poor, good, true, nil, []float64{1}, false},
		{"part in a document, rating from memory", good, poor, good, true, nil, []float64{1}, true},
		{"nothing said of the part", "", "", good, true, nil, []float64{1}, false},
		{"housing from memory", good, "", poor, true, nil, []float64{1}, false},
		{"housing from memory, of which no limit is known", good, "", poor, false, nil, []float64{1}, true},
		{"a neighbour, so the pattern counts", good, "", good, true, nil, []float64{1, 1}, false},
		{"warm air", good, "", good, true, func(j *design.Job) { j.Zones[0].Air = 110 }, []float64{1}, false},
		{"warm air, the rise set", good, "", good, true, func(j *design.Job) {
			j.Zones[0].Air = 110
			j.Settings.Lines = []design.Setting{{Name: "contact-rise", Value: design.SettingValue{Quantity: unit.Quantity{Value: 30, Dim: unit.DimTempDiff}}}}
		}, []float64{1}, true},
	} {
		job, nt, sizes, cases := plug(4, unit.AWG(18), c.amps)
		k, h := job.Parts.Contacts[0], job.Parts.Housings[0]
		k.Source, k.Rating.Source, h.Source, h.Heat.Given = c.part, c.rating, c.housing, c.limit
		if c.edit != nil {
			c.edit(job)
		}
		if e := contact.Find(job, nt, sizes, cases).Ends[0]; e.Verified != c.want {
			t.Errorf("%s: %+v", c.name, e)
		}
	}
}

// TestAllowedWorkedAgain: rating x loading x warm, and what the parts of that rest on, over connectors of all fillings, wires and airs.
func TestAllowedWorkedAgain(t *testing.T) {
	for _, cavities := range []int{1, 2, 5, 30} {
		for _, wire := range []unit.Size{unit.AWG(16), unit.AWG(18), unit.AWG(22), unit.Metric(0.05)} {
			for _, air := range []unit.Temperature{20, 110, 124} {
				amps := []float64{6, -3, 2, 1, 0}[:min(5, cavities)]
				job, nt, sizes, cases := plug(cavities, wire, amps)
				job.Zones[0].Air = air
				sum := 0.0
				for _, a := range amps {
					sum += a * a
				}
				for i, e := range contact.Find(job, nt, sizes, cases).Ends {
					equal := float64(cavities)
					if amps[i] != 0 {
						equal = math.Min(equal, sum/(amps[i]*amps[i]))
					}
					warm := math.Sqrt(math.Min(1, (125-float64(air))/30))
					for _, x := range []struct {
						what      string
						got, want float64
					}{
						{"equal", float64(e.Equal), equal}, {"loaded", float64(e.Loaded), math.Min(1, equal/float64(cavities))},
						{"wired", float64(e.Wired), math.Min(1, float64(wire.Area()/unit.AWG(18).Area()))}, {"warm", float64(e.Warm), warm},
						{"allowed", float64(e.Allowed), rated * float64(e.Loading) * warm}, {"amps", float64(e.Amps), math.Abs(amps[i])},
					} {
						if math.Abs(x.got-x.want) > 1e-9 {
							t.Errorf("%d of %d on %v at %v: %s %g, want %g", i, cavities, wire, air, x.what, x.got, x.want)
						}
					}
					if e.Met != (math.Abs(amps[i]) <= float64(e.Allowed)*(1+1e-9)) || e.Rise != 30 || e.Heat != 125 || e.Ambient != air || e.Cavities != cavities {
						t.Errorf("%+v", e)
					}
				}
			}
		}
	}
}

// TestWhereItSits: a device's by its pin, a break's by its cavity and the section of its half.
func TestWhereItSits(t *testing.T) {
	job, nt, sizes, cases := plug(2, unit.AWG(18), []float64{1, 1})
	job.Breaks = []*design.Break{{Name: "A", Halves: [2]design.Half{{Housing: "shell", Section: "nose"}, {Housing: "shell"}}}}
	nt.Wires[0].Ends[1].Pin = "lamp"
	nt.Wires[1].Ends[1] = net.Termination{Kind: net.InHalf, Break: "A", Half: 1, Cavity: "2"}
	nt.Wires[1].Ends[0] = net.Termination{Kind: net.InHalf, Break: "A", Half: 0, Cavity: "1"}
	sizes[1].Contacts[0] = "own"
	var got []string
	for _, e := range contact.Find(job, nt, sizes, cases).Ends {
		got = append(got, e.Where)
	}
	want := []string{"d.lamp", "A.1 nose", "A.2"}
	if len(got) != 3 || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] {
		t.Errorf("%q, want %q", got, want)
	}
}
