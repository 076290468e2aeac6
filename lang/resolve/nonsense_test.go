package resolve

import "testing"

// What no harness can have is a mistake where it stands, not a number that is quietly left out or printed.
func TestNonsense(t *testing.T) {
	const job = `device a at (0, 0, 0 mm) housing plain-4 section tub
device b at (400, 0, 0 mm) housing plain-4 section tub
device post at (500, 0, 0 mm) section tub { pin g stud M6 }
point hub at (200, 0, 0 mm)
run ra from a to hub section tub zone cabin
circuit h from a.1 to b.1
circuit l from a.2 to b.2
circuit e from a.3 to post.g
cable lead holds h, l as pair
`
	for line, want := range map[string]string{
		"run rb from hub to b section tub zone cabin length 0 mm":                            "zero",
		"run rb section tub zone cabin {\n  from hub to b length 0 mm\n}":                    "zero",
		"run rb section tub zone cabin length 0 mm {\n  from hub to b\n}":                    "zero",
		"run rb from hub to b section tub zone cabin length 1 mm":                            "",
		"cavity post.g circuit e angle 999 deg":                                              "wrong-value",
		"cavity post.g circuit e angle 180 deg":                                              "",
		"cable more holds l, h as bus":                                                       "held-twice",
		"cable more holds e, l as pair":                                                      "held-twice",
		"circuit f from a.4 to b.4\ncircuit g from a.3 to b.3\ncable more holds f, g as bus": "",
	} {
		_, src, ds := text(t, "harness \"Test\"\n"+base+job+line+"\n")
		if codes(ds) != want {
			t.Errorf("%s: %s, want %q", line, show(src, ds), want)
		}
	}
}

// Two cables share a circuit where both say which of its wires they take.
func TestCablesOfOneCircuit(t *testing.T) {
	const job = `device a, b at (0, 0, 0 mm) housing plain-4 section tub
splice sh, sl at hub section tub
point hub at (200, 0, 0 mm)
run r from a to hub to b section tub zone cabin
circuit h from a.1 to sh to b.1
circuit l from a.2 to sl to b.2
`
	for line, want := range map[string]string{
		"cable one holds h, l as pair from a.1 to sh\ncable two holds h, l as pair from sh to b.1": "",
		"cable one holds h, l as pair from a.1 to sh\ncable two holds h, l as pair":                "held-twice",
	} {
		_, src, ds := text(t, "harness \"Test\"\n"+base+job+line+"\n")
		if codes(ds) != want {
			t.Errorf("%s: %s, want %q", line, show(src, ds), want)
		}
	}
}
