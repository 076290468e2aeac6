package export

import (
	"strconv"
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/harness/data"
)

// Marker is equal marks of one wire.
type Marker struct {
	Text      string `json:"text" doc:"what is printed on the mark"`
	Count     int    `json:"count" doc:"how many"`
	Wire      string `json:"wire" doc:"wire or cable it goes on"`
	Place     string `json:"place" doc:"the end it is at, or along the wire"`
	At        string `json:"at" doc:"where on the cut wire"`
	Family    string `json:"family" doc:"wire part"`
	Size      string `json:"size" doc:"conductor size"`
	Colour    string `json:"colour" doc:"of the wire, as written"`
	Code      string `json:"code" doc:"IEC 60757 letters"`
	OutsideMM Num    `json:"outside_mm" doc:"of what it goes over; 0 is not known"`
	Cable     string `json:"cable" doc:"cable it belongs to"`
}

// Crimp is one set-up of the tool.
type Crimp struct {
	Kind     string     `json:"kind" doc:"contact, lug or barrel"`
	Contact  string     `json:"contact" doc:"as it is picked"`
	Part     string     `json:"part" doc:"part of the library"`
	Wire     string     `json:"wire" doc:"what is crimped"`
	Count    int        `json:"count" doc:"crimps that stay"`
	Samples  int        `json:"samples" doc:"crimps pulled off first"`
	Scrap    int        `json:"scrap" doc:"contacts for crimps that are spoiled"`
	Strip    string     `json:"strip" doc:"strip length"`
	Height   string     `json:"height" doc:"height of the finished crimp"`
	Tool     string     `json:"tool" doc:"tool"`
	Setting  string     `json:"setting" doc:"its setting"`
	Gap      string     `json:"gap" doc:"bare conductor between insulation and barrel"`
	PullN    Num        `json:"pull_n" doc:"least force of a sample; 0: none is published"`
	Pull     string     `json:"pull" doc:"the same with its source"`
	Verified bool       `json:"verified" doc:"false: the figure is from memory"`
	Ends     []CrimpEnd `json:"ends" doc:"the ends, in the order of the cut list"`
}

// CrimpEnd is one crimp to make.
type CrimpEnd struct {
	Label string `json:"label" doc:"marks of its wires"`
	Where string `json:"where" doc:"where it goes"`
}

// Twisted is wires twisted or screened together on the bench.
type Twisted struct {
	Cable       string       `json:"cable" doc:"its name"`
	As          string       `json:"as" doc:"pair, multicore or bus"`
	Members     []TwistedEnd `json:"members" doc:"its wires, by core"`
	LayMM       Num          `json:"lay_mm" doc:"length of a turn; 0: not twisted"`
	Turns       int          `json:"turns" doc:"turns over the twisted length"`
	LengthMM    Num          `json:"length_mm" doc:"length over which they lie together"`
	UntwistedMM Num          `json:"untwisted_most_mm" doc:"most left untwisted at each end"`
	ScreenMM    Num          `json:"screen_mm" doc:"cut length of its screen; 0: none"`
	ScreenEnds  []string     `json:"screen_ends" doc:"where the screen ends"`
}

// TwistedEnd is one wire of it.
type TwistedEnd struct {
	Label    string `json:"label" doc:"mark of the wire"`
	Wire     string `json:"wire" doc:"its name"`
	Code     string `json:"code" doc:"colour letters"`
	LengthMM Num    `json:"length_mm" doc:"cut length"`
}

// Pick is what to take from the shelf for a section.
type Pick struct {
	Kind     string `json:"kind" doc:"wire, contact, housing ..."`
	Name     string `json:"name" doc:"part"`
	Count    int    `json:"count" doc:"pieces, samples and scrap included"`
	Samples  int    `json:"samples" doc:"of them, pulled off or cut for that"`
	Scrap    int    `json:"scrap" doc:"of them, for crimps that are spoiled"`
	LengthMM Num    `json:"length_mm" doc:"of wire, sleeve and filler"`
	Unknown  int    `json:"unknown" doc:"pieces of a length that is not known, left out of length_mm"`
}

// Reeled is the cutting of one wire from reels.
type Reeled struct {
	Wire     string `json:"wire" doc:"family, size and colour, or the cable"`
	Pieces   int    `json:"pieces" doc:"cuts of a known length, samples included"`
	Unknown  int    `json:"unknown" doc:"cuts of a length that is not known"`
	NeedMM   Num    `json:"need_mm" doc:"sum of the cuts"`
	Bought   int    `json:"bought" doc:"reels to buy"`
	Bound    int    `json:"bound" doc:"reels to buy at the least"`
	ThrownMM Num    `json:"thrown_mm" doc:"rests too short to use"`
	KeptMM   Num    `json:"kept_mm" doc:"rests that go back to stock"`
	Proved   bool   `json:"proved" doc:"nothing is better"`
	How      string `json:"how" doc:"what is proved, in words"`
	Reels    []Reel `json:"reels" doc:"each reel"`
}

// Reel is one reel and what is cut from it.
type Reel struct {
	Name     string    `json:"name" doc:"which reel"`
	Bought   bool      `json:"bought" doc:"it has to be bought"`
	LengthMM Num       `json:"length_mm" doc:"what is on it"`
	RestMM   Num       `json:"rest_mm" doc:"what is left"`
	Kept     bool      `json:"kept" doc:"the rest is long enough to use"`
	Cuts     []ReelCut `json:"cuts" doc:"longest first"`
}

// ReelCut is equal pieces of one wire.
type ReelCut struct {
	Section  string `json:"section" doc:"section it is for"`
	Name     string `json:"name" doc:"wire, cable, or what a sample is for"`
	Label    string `json:"label" doc:"mark of the wire"`
	Sample   bool   `json:"sample" doc:"for a crimp that is pulled off"`
	Count    int    `json:"count" doc:"pieces"`
	LengthMM Num    `json:"length_mm" doc:"of each"`
}

// cutting fills in what a section's bench work holds besides its cuts.
func cutting(x *Section, s *bench.SectionPlan) {
	x.Markers, x.Crimps, x.Twisted, x.Picks = []Marker{}, []Crimp{}, []Twisted{}, []Pick{}
	for _, k := range s.Markers {
		x.Markers = append(x.Markers, Marker{k.Text, k.Count, k.Name, k.Place, k.At, k.Family, k.Size.String(), k.Colour, k.Code, num(k.Outside), k.Cable})
	}
	for _, k := range s.Crimps {
		c := Crimp{Kind: k.Kind, Contact: k.Contact, Part: k.Part, Wire: k.Wire, Count: k.Count, Samples: k.Samples, Scrap: k.Scrap, Strip: k.Strip, Height: k.Height, Tool: k.Tool, Setting: k.Setting,
			Gap: k.Gap, Pull: k.PullText, Ends: []CrimpEnd{}}
		if len(k.Pull) > 0 {
			c.PullN, c.Verified = num(k.Pull[0].Force), k.Pull[0].Info.Basis == data.Verified
		}
		for _, e := range k.Ends {
			c.Ends = append(c.Ends, CrimpEnd{e.Label, e.Where})
		}
		x.Crimps = append(x.Crimps, c)
	}
	for _, k := range s.Pairs {
		p := Twisted{Cable: k.Cable, As: k.As, Members: []TwistedEnd{}, LayMM: num(k.Lay), Turns: k.Turns, LengthMM: num(k.Twisted), UntwistedMM: num(k.Untwisted), ScreenEnds: []string{}}
		for _, m := range k.Members {
			p.Members = append(p.Members, TwistedEnd{m.Label, m.Name, m.Code, num(m.Length)})
		}
		if k.Screen != nil {
			p.ScreenMM, p.ScreenEnds = num(k.Screen.Length), k.Screen.Ends[:]
		}
		x.Twisted = append(x.Twisted, p)
	}
	for _, k := range s.Picks {
		x.Picks = append(x.Picks, Pick{k.Kind, k.Name, k.Count, k.Samples, k.Scrap, num(k.Length), k.Unknown})
	}
}

// reels is the cutting plan.
func reels(in Input) []Reeled {
	out := []Reeled{}
	if in.Reels == nil {
		return out
	}
	for _, w := range in.Reels.Wires {
		x := Reeled{w.Name, w.Pieces, w.Unknown, num(w.Need), w.Bought, w.Bound, num(w.Thrown), num(w.Kept), w.Proved, w.How, []Reel{}}
		for _, r := range w.Reels {
			k := Reel{r.Name, r.Bought, num(r.Length), num(r.Rest), r.Kept, []ReelCut{}}
			for _, c := range r.Cuts {
				k.Cuts = append(k.Cuts, ReelCut{c.Section, c.Name, c.Label, c.Sample, c.Count, num(c.Length)})
			}
			x.Reels = append(x.Reels, k)
		}
		out = append(out, x)
	}
	return out
}

// cuttingTables are the lists of marks, for a label printer, of crimps, of what is picked, and of what is cut from which reel.
func (d *Doc) cuttingTables() []Table {
	markers := Table{Name: "markers", Head: []string{"section", "order", "text", "count", "wire", "place", "at", "family", "size", "colour", "code", "outside_mm", "cable"}}
	crimps := Table{Name: "crimps", Head: []string{"section", "kind", "contact", "wire", "count", "samples", "scrap", "strip", "height", "tool", "setting", "gap", "pull_n", "pull", "verified", "ends"}}
	picks := Table{Name: "picks", Head: []string{"section", "kind", "part", "count", "samples", "scrap", "length_mm", "unknown"}}
	cut := Table{Name: "reels", Head: []string{"wire", "reel", "bought", "reel_length_mm", "section", "name", "label", "sample", "count", "length_mm", "rest_mm", "kept"}}
	for _, s := range d.Sections {
		for i, k := range s.Markers {
			markers.Rows = append(markers.Rows, []string{s.Name, strconv.Itoa(i + 1), k.Text, strconv.Itoa(k.Count), k.Wire, k.Place, k.At, k.Family, k.Size, k.Colour, k.Code, k.OutsideMM.String(), k.Cable})
		}
		for _, k := range s.Crimps {
			var ends []string
			for _, e := range k.Ends {
				ends = append(ends, e.Label+" at "+e.Where)
			}
			crimps.Rows = append(crimps.Rows, []string{s.Name, k.Kind, k.Contact, k.Wire, strconv.Itoa(k.Count), strconv.Itoa(k.Samples), strconv.Itoa(k.Scrap), k.Strip, k.Height, k.Tool, k.Setting, k.Gap, k.PullN.String(), k.Pull, yes(k.Verified), strings.Join(ends, "; ")})
		}
		for _, k := range s.Picks {
			picks.Rows = append(picks.Rows, []string{s.Name, k.Kind, k.Name, strconv.Itoa(k.Count), strconv.Itoa(k.Samples), strconv.Itoa(k.Scrap), k.LengthMM.String(), strconv.Itoa(k.Unknown)})
		}
	}
	for _, w := range d.Reels {
		for _, r := range w.Reels {
			for _, c := range r.Cuts {
				cut.Rows = append(cut.Rows, []string{w.Wire, r.Name, yes(r.Bought), r.LengthMM.String(), c.Section, c.Name, c.Label, yes(c.Sample), strconv.Itoa(c.Count), c.LengthMM.String(), r.RestMM.String(), yes(r.Kept)})
			}
		}
	}
	return []Table{markers, crimps, picks, cut}
}
