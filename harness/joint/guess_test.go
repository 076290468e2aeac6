package joint

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// TestGuessOfCopper: a stated size counts as it is, strand by strand; else 1 mm2 for each 6 A that the link carries, by the author's word or by what is drawn
// beyond it, no less than 0.5 mm2 and no more than 120 mm2 a strand. In hundredths of 1 mm2.
func TestGuessOfCopper(t *testing.T) {
	box, load := design.End{Kind: design.AtPin, Name: "box", Pin: "1"}, design.End{Kind: design.AtPin, Name: "load", Pin: "1"}
	carries := func(a unit.Current) design.Fact[unit.Current] {
		return design.Fact[unit.Current]{Spread: unit.Spread[unit.Current]{Nominal: a}, Given: true}
	}
	for _, c := range []struct {
		name    string
		link    design.Link
		strands int
		draws   unit.Current
		want    weight
	}{
		{"stated", design.Link{Size: unit.Metric(2.5)}, 1, 60, 250},
		{"stated, twice", design.Link{Size: unit.Metric(2.5)}, 2, 60, 500},
		{"by what is drawn", design.Link{}, 1, 24, 400},
		{"by what it carries", design.Link{Carries: carries(12)}, 1, 24, 200},
		{"it carries nothing", design.Link{Carries: carries(0)}, 1, 24, 50},
		{"little", design.Link{}, 1, 0.6, 50},
		{"little, in three strands", design.Link{}, 3, 0.6, 150},
		{"more than any", design.Link{}, 1, 6000, 12000},
		{"more than any, in two strands", design.Link{}, 2, 6000, 24000},
	} {
		c.link.From, c.link.To = box, load
		circuit := &design.Circuit{Name: "feed", Links: []design.Link{c.link}}
		draws := map[design.PinRef]unit.Current{{Device: "load", Pin: "1"}: c.draws}
		if got := guess(&design.Job{}, draws, circuit, &net.Pull{Circuit: "feed", Strands: c.strands}); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// TestDrawnByAPin: amps as stated, watts by the volts they were measured at or else by the highest supply, ohms likewise; both ends of a draw have its current,
// and draws of one pin add up.
func TestDrawnByAPin(t *testing.T) {
	job := readJob(t, `harness "Drawn" revision A
section tub
zone dry air 40 C
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12 V inside 10 mohm from pos to neg
}
device low at (0, 90, 0 mm) housing plain-2 { supply 5 V from 1 to 2 }
device a at (100, 0, 0 mm) housing plain-6 {
  draw 2 A from 1 to 6
  draw 24 W from 2 to 6
  draw 28 W at 14 V from 3 to 6
  draw 4 ohm from 4 to 6
  draw 3 A from 1 to 5
}
`)
	got := loads(job)
	for pin, want := range map[string]unit.Current{"1": 5, "2": 2, "3": 2, "4": 3, "5": 3, "6": 9} {
		if x := got[design.PinRef{Device: "a", Pin: pin}]; x < want-1e-9 || x > want+1e-9 {
			t.Errorf("pin %s draws %v, want %v", pin, x, want)
		}
	}
}
