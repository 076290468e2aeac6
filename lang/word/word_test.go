package word_test

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/word"
)

// The words of the language with their options, as the language was decided; common options are left out.
const decided = `
harness: revision date datum sheet up painted
include:
set: to section zone panel class run circuit device break case
section:
zone: air with
panel: corners points thickness zone seen skin keep-out like mirror
tube: from to outside like mirror
point: at offset mirror step panel bush
run: from to section zone panel tube sleeve clip fastener bend length slack date moves
run from: to length slack date moves
hazard: between from to outside as clearance sleeved like mirror
hazard position: between from to
device: at offset mirror step panel section zone class housing boot fitted faces like
device housing: as at key boot
device pin: cavity stud torque at panel
device inner:
device unused:
device bolted:
device supply: inside most stores from to low high
device draw: at as from to start for on off least low high tolerance peak
device coil: at as from to start for on off least low high tolerance moves pull-in drop-out
device state: joins resistance rating
device joins: resistance
device fuse: from to
device diode: from to
device reads: per from to
break: at offset mirror step panel housing key flange turn faces class like
break half: contacts mount housing boot fitted
splice: section at along to after sleeve barrel
circuit: from to via size wire colour class parallel carries length section zone sleeve
circuit from: to via size wire colour class parallel carries length section zone sleeve
cable: holds as wire twist screen from to
case: air like for
case supply: at inside
case set: to
case off:
case works:
case zone: air
removal: section undo
accept: run circuit device break splice cable panel section hazard hole from to value reason by until
cavity: circuit from to contact seal order angle slid-on spare
label: circuit from to
stock: size colour length
seat: along to after
hole: at offset mirror step panel drill fastener
fixing: run after clip hole fastener panel screw
template: takes
use:
housing: cut-out flange nut grips behind room shell back boot rating heat keys keyway mates
housing hole: at step drill
housing cavity: takes stud at step resistance
contact: rating takes rated-on insulation strip resistance tool plating outside
contact crimp: height setting
seal: insulation plugs
wire: heat outside bend
wire size: resistance outside
wire core: size resistance outside
wire screen: resistance
fuse: rating resistance kind
sleeve: as grows heat lining sizes sizes-are wall
barrel: takes length outside strip tool heat
boot: as passes bundle body length heat
clip: holds heat thick as fastener
fastener: thread drill as grips engage screws
`

func sorted(s []string) string { slices.Sort(s); return strings.Join(s, " ") }

func TestTheTableHoldsTheWordsDecided(t *testing.T) {
	seen := 0
	for l := range strings.Lines(strings.TrimSpace(decided)) {
		name, opts, _ := strings.Cut(strings.TrimSpace(l), ":")
		in, n, inside := strings.Cut(name, " ")
		if !inside {
			in, n = "", in
		}
		w := word.Find(in, n)
		if w == nil {
			t.Errorf("no word %s", name)
			continue
		}
		seen++
		var got []string
		for _, o := range w.Options {
			got = append(got, o.Name)
		}
		if g, want := sorted(got), sorted(strings.Fields(opts)); g != want {
			t.Errorf("%s has %s, want %s", name, g, want)
		}
	}
	if n := len(word.All()); n != seen {
		t.Errorf("the table holds %d words, %d were decided", n, seen)
	}
}

func TestEveryEntryIsWhole(t *testing.T) {
	arg := func(where string, a word.Arg) {
		switch {
		case a.Kind == word.Refer && len(a.Things) == 0, a.Kind == word.Choice && len(a.Choices) == 0, a.Least > 0 && !a.Many, a.Most > 0 && a.Most < a.Least:
			t.Errorf("%s: %+v", where, a)
		}
		if a.Wants() == "" || strings.Contains(a.Wants(), "%!") {
			t.Errorf("%s wants %q", where, a.Wants())
		}
	}
	for _, w := range word.All() {
		if w.Doc == "" || w.Example == "" || !strings.HasSuffix(w.Doc, ".") {
			t.Errorf("%s %s lacks a sentence or an example", w.In, w.Name)
		}
		arg(w.Name, w.About)
		names := map[string]bool{}
		for _, o := range append(slices.Clone(w.Options), word.Common...) {
			if names[o.Name] {
				t.Errorf("%s has %s twice", w.Name, o.Name)
			}
			names[o.Name] = true
			if o.Doc == "" {
				t.Errorf("%s %s lacks a sentence", w.Name, o.Name)
			}
			arg(w.Name+" "+o.Name, o.Arg)
			if o.Arg.Kind == word.Measure && o.Default != "" && !strings.HasPrefix(o.Default, "set:") && o.Default[0] >= '0' && o.Default[0] <= '9' {
				if _, err := unit.Parse(o.Default); err != nil {
					t.Errorf("%s %s: default %v", w.Name, o.Name, err)
				}
			}
		}
	}
}

// All examples together are one job without a mistake.
func TestExamplesAreOneJob(t *testing.T) {
	var b strings.Builder
	for _, w := range word.All() {
		b.WriteString(w.Example + "\n")
	}
	load := func(path string) ([]byte, error) {
		if path == "frozen.loom" {
			return []byte("# nothing is frozen yet\n"), nil
		}
		return []byte(b.String()), nil
	}
	_, src, msgs := resolve.Job("job.loom", load, parts.Files(), []string{"bend-too-tight"})
	for _, m := range msgs {
		text, _ := src.Text(m.Span.File.String())
		t.Errorf("%s: %s (%s) at %q", m.Code, m.Title, m.Detail, text[m.Span.Start:min(m.Span.End, m.Span.Start+60)])
	}
}

func TestLookups(t *testing.T) {
	if word.Find("", "device") == nil || word.Find("device", "draw") == nil || word.Find("", "draw") != nil || word.Find("device", "device") != nil {
		t.Error("Find")
	}
	if word.Find("template", "circuit") == nil || word.Find("template", "template") != nil || word.Find("template", "harness") != nil {
		t.Error("in a template")
	}
	if !word.IsTop("set") || word.IsTop("draw") || !word.Known("draw") || !word.Known("note") || word.Known("pump") {
		t.Error("IsTop, Known")
	}
	d := word.Find("", "device")
	if d.Option("like") == nil || d.Option("note") == nil || d.Option("draw") != nil {
		t.Error("Option")
	}
	if got := word.OwnersOf("pull-in"); !slices.Equal(got, []string{"device coil"}) {
		t.Errorf("pull-in is owned by %v", got)
	}
	if names := word.LineNames("circuit"); !slices.Contains(names, "from") || !slices.Contains(names, "size") || !slices.Contains(names, "note") {
		t.Errorf("%v", names)
	}
	if n := len(word.Top()); n != 36 {
		t.Errorf("%d words at the top, want 26 for a job and 10 for parts", n)
	}
}
