package export

import (
	"loomsheet/harness/free"
	"loomsheet/harness/layup"
)

// Workshop is the rest of what the bench books print: boards, lay-up, what is slid on, lugs, what is measured, and how sections come apart.
type Workshop struct {
	Pegs     []Peg     `json:"pegs" doc:"pegs of the forming boards, by section, board and number"`
	Spans    []Span    `json:"spans" doc:"bundles on the forming boards from node to node, in the order in which they are laid"`
	Marks    []Mark    `json:"marks" doc:"what else is marked on the boards"`
	Layers   []Layer   `json:"layers" doc:"layers of each bundle that is laid in layers, from the core outwards"`
	Slid     []Slid    `json:"slid" doc:"sleeves, marks and boots, in the order in which they go on"`
	Lugs     []Lug     `json:"lugs" doc:"lugs on studs, lowest first"`
	Joints   []Joint   `json:"joints" doc:"what each splice is made of"`
	Rings    []Ring    `json:"rings" doc:"ends that ring through, with the most that may be measured"`
	Live     []Live    `json:"live" doc:"what stays live at each break that is pulled, a row for each feed"`
	Removals []Removal `json:"removals" doc:"steps of each removal and of each section by itself"`
}

// Peg is a peg of a board.
type Peg struct {
	Section string `json:"section" doc:"section"`
	Board   int    `json:"board" doc:"which of its boards"`
	Number  int    `json:"number" doc:"number on the board"`
	XMM     Num    `json:"x_mm" doc:"to the right from the lower left corner"`
	YMM     Num    `json:"y_mm" doc:"up from there"`
	LeftMM  Num    `json:"left_mm" doc:"by tape from the lower left corner"`
	RightMM Num    `json:"right_mm" doc:"by tape from the lower right corner"`
	Text    string `json:"text" doc:"what it is"`
}

// Span is one bundle on a board.
type Span struct {
	Section   string `json:"section" doc:"section"`
	Board     int    `json:"board" doc:"which of its boards"`
	From      string `json:"from" doc:"node"`
	To        string `json:"to" doc:"next node"`
	Run       string `json:"run" doc:"run of the vehicle"`
	LengthMM  Num    `json:"length_mm" doc:"true length, slack included"`
	DrawnMM   Num    `json:"drawn_mm" doc:"as it lies on the board: less where it is broken"`
	OutsideMM Num    `json:"outside_mm" doc:"of the bundle, sleeved; 0 is not known"`
}

// Mark is something marked on a board.
type Mark struct {
	Section   string `json:"section" doc:"section"`
	Board     int    `json:"board" doc:"which of its boards"`
	Text      string `json:"text" doc:"what it is"`
	From      string `json:"from" doc:"node from which the station counts"`
	StationMM Num    `json:"station_mm" doc:"from there along the bundle"`
	XMM       Num    `json:"x_mm" doc:"to the right from the lower left corner"`
	YMM       Num    `json:"y_mm" doc:"up from there"`
}

// Layer is one layer of a lay.
type Layer struct {
	Section   string   `json:"section" doc:"section"`
	Bundle    string   `json:"bundle" doc:"run, with its ends where it has several trunks"`
	Number    int      `json:"number" doc:"1 the core"`
	Pieces    []string `json:"pieces" doc:"marks of its wires and names of its cables, clockwise"`
	Hand      string   `json:"hand" doc:"straight, left-hand or right-hand"`
	LayMM     Num      `json:"lay_mm" doc:"length of a turn; 0 straight"`
	PitchMM   Num      `json:"pitch_mm" doc:"diameter on which its thickest pieces lie"`
	OutsideMM Num      `json:"outside_mm" doc:"diameter around it"`
	TakeUp    Num      `json:"take_up" doc:"share by which its wires are longer than the way"`
	Fillers   int      `json:"fillers" doc:"cords that close its gaps"`
	FillerMM  Num      `json:"filler_mm" doc:"their diameter"`
	BuiltMM   Num      `json:"built_mm" doc:"what lies within is built up to this with tape first; 0: not"`
}

// Slid is pieces that are slid or put on.
type Slid struct {
	Section  string `json:"section" doc:"section"`
	Kind     string `json:"kind" doc:"mark, sleeve, boot ..."`
	Part     string `json:"part" doc:"part"`
	SizeMM   Num    `json:"size_mm" doc:"as it is bought; 0: none fits, or the part has none"`
	LengthMM Num    `json:"length_mm" doc:"to cut one"`
	Count    int    `json:"count" doc:"how many"`
	Where    string `json:"where" doc:"where it goes"`
	Before   string `json:"before" doc:"what it must be on before"`
	OverMM   Num    `json:"over_mm" doc:"most it must pass or lie over"`
	GripsMM  Num    `json:"grips_mm" doc:"least it must grip"`
}

// Lug is one lug of a stack.
type Lug struct {
	Stud     string `json:"stud" doc:"stud or post"`
	Thread   string `json:"thread" doc:"thread"`
	TorqueNM Num    `json:"torque_nm" doc:"of its nut; 0 is not known"`
	Source   string `json:"source" doc:"of the torque; empty: stated"`
	Order    int    `json:"order" doc:"1 lowest"`
	Label    string `json:"label" doc:"mark of the wire"`
	Section  string `json:"section" doc:"section of the wire"`
	PalmMM   Num    `json:"palm_mm" doc:"across the lug"`
	AngleDeg Num    `json:"angle_deg" doc:"stated: of the lug from its wire; else turned to clear the next one"`
	ClockDeg Num    `json:"clock_deg" doc:"of its barrel from the lowest lug's, clockwise looking at the nut"`
}

// Joint is a splice as it is made.
type Joint struct {
	Splice         string `json:"splice" doc:"splice"`
	Section        string `json:"section" doc:"section"`
	Barrel         string `json:"barrel" doc:"part; empty: none takes its conductors"`
	StripMM        Num    `json:"strip_mm" doc:"of each wire"`
	LengthMM       Num    `json:"length_mm" doc:"of the barrel"`
	OutsideMM      Num    `json:"outside_mm" doc:"of the barrel, crimped"`
	Sleeve         string `json:"sleeve" doc:"part"`
	SleeveMM       Num    `json:"sleeve_mm" doc:"size of the sleeve as it is bought"`
	SleeveLengthMM Num    `json:"sleeve_length_mm" doc:"to cut"`
	PassesMM       Num    `json:"passes_mm" doc:"what the sleeve passes"`
	GripsMM        Num    `json:"grips_mm" doc:"what it closes on"`
}

// Ring is two ends of one conductor.
type Ring struct {
	Section  string `json:"section" doc:"section"`
	From     string `json:"from" doc:"one end"`
	To       string `json:"to" doc:"the other"`
	MostMOhm Num    `json:"most_mohm" doc:"greatest resistance at 20 C; 0: not known, it must ring"`
}

// Live is one way in which a place stays live.
type Live struct {
	Break   string `json:"break" doc:"what is pulled"`
	Half    string `json:"half" doc:"on which half"`
	Place   string `json:"place" doc:"cavity, pin or stud"`
	Label   string `json:"label" doc:"mark of the wire"`
	Kind    string `json:"kind" doc:"fed, or through a load"`
	Exposed bool   `json:"exposed" doc:"a finger or a tool meets it"`
	Volts   Num    `json:"volts" doc:"to the minus, in that state"`
	Amps    Num    `json:"amps" doc:"of a dead short to the minus, in that state"`
	Behind  string `json:"behind" doc:"last fuse before it, or the source that none protects"`
	State   string `json:"state" doc:"the state that proves it"`
}

// Removal is one step of taking something out.
type Removal struct {
	Name   string   `json:"name" doc:"removal or section"`
	Alone  bool     `json:"alone" doc:"a section by itself, nobody listed what is undone"`
	Free   bool     `json:"free" doc:"nothing ties it once all is undone"`
	Step   int      `json:"step" doc:"1 first"`
	Do     string   `json:"do" doc:"what is undone"`
	Amps   Num      `json:"amps" doc:"most through one contact or lug just before"`
	InCase string   `json:"in_case" doc:"in which case"`
	Losses []string `json:"losses" doc:"what loses feed, return or signal with it"`
}

// workshop gathers what there is, but the removals; of stages that were not run it holds nothing.
func workshop(in Input) Workshop {
	w := Workshop{Pegs: []Peg{}, Spans: []Span{}, Marks: []Mark{}, Layers: []Layer{}, Slid: []Slid{}, Lugs: []Lug{}, Joints: []Joint{}, Rings: []Ring{}, Live: []Live{}, Removals: []Removal{}}
	w.boards(in)
	w.lays(in)
	w.assembled(in)
	if in.Plan != nil {
		for i := range in.Plan.Sections {
			s := &in.Plan.Sections[i]
			for _, r := range s.Inspection.Rings {
				for _, e := range r.To {
					w.Rings = append(w.Rings, Ring{s.Name, r.From.Text, e.Text, num(e.Most * 1000)})
				}
			}
		}
	}
	if in.Joints != nil {
		for i := range in.Joints.Made {
			j := &in.Joints.Made[i]
			w.Joints = append(w.Joints, Joint{j.Splice, j.Section, j.Barrel, num(j.Strip), num(j.Length), num(j.Outside), j.Sleeve, num(j.SleeveSize), num(j.SleeveLength), num(j.Passes), num(j.Grips)})
		}
	}
	w.apart(in)
	return w
}

func (w *Workshop) boards(in Input) {
	for i := range in.Boards {
		b := &in.Boards[i]
		for _, p := range b.Pegs {
			w.Pegs = append(w.Pegs, Peg{b.Section, b.Number, p.Number, num(p.At.X), num(p.At.Y), num(p.Left), num(p.Right), p.Text})
		}
		for k := range b.Pieces {
			for _, l := range b.Pieces[k].Limbs {
				for _, s := range l.Spans {
					w.Spans = append(w.Spans, Span{b.Section, b.Number, s.From, s.To, s.Run, num(s.Length), num(s.Drawn), num(s.Outside)})
				}
			}
		}
		for _, m := range b.Marks {
			w.Marks = append(w.Marks, Mark{b.Section, b.Number, m.Text, m.From, num(m.Station), num(m.At.X), num(m.At.Y)})
		}
	}
}

func (w *Workshop) lays(in Input) {
	if in.Layup == nil {
		return
	}
	for i := range in.Layup.Trunks {
		t := &in.Layup.Trunks[i]
		lay := in.Layup.Of(t.Most)
		if t.Kind != layup.Layers || lay == nil {
			continue
		}
		for _, l := range lay.Layers {
			x := Layer{t.Section, t.Name, l.Number, []string{}, l.Hand.String(), num(l.Lay), num(l.Pitch), num(l.Outside), num(l.TakeUp), len(l.Fillers), num(l.Diameter), num(l.Built)}
			for _, p := range l.Pieces {
				x.Pieces = append(x.Pieces, lay.Pieces[p].Label)
			}
			w.Layers = append(w.Layers, x)
		}
	}
}

func (w *Workshop) assembled(in Input) {
	if in.Assembly == nil {
		return
	}
	for i := range in.Assembly.Sections {
		s := &in.Assembly.Sections[i]
		for _, k := range s.Things {
			w.Slid = append(w.Slid, Slid{s.Name, k.Kind, k.Part, num(k.Size), num(k.Length), k.Count, k.Where, k.Before, num(k.Over), num(k.Grips)})
		}
	}
	for i := range in.Assembly.Stacks {
		s := &in.Assembly.Stacks[i]
		for _, l := range s.Lugs {
			w.Lugs = append(w.Lugs, Lug{s.Title, s.Thread, num(s.Torque), s.Source, l.Order, l.Label, l.Section, num(l.Palm), num(l.Angle), num(l.Clock)})
		}
	}
}

func (w *Workshop) apart(in Input) {
	if in.Live != nil {
		for i := range in.Live.Breaks {
			u := &in.Live.Breaks[i]
			for k := range u.Halves {
				h := &u.Halves[k]
				for _, c := range h.Live {
					for _, f := range c.Feeds {
						w.Live = append(w.Live, Live{u.Undo.Name, h.Title, c.Name, c.Label, c.Kind.String(), c.Exposed, num(f.Volts), num(f.Amps), f.Behind, f.State.Words})
					}
				}
			}
		}
	}
}

// removals is each step of each removal and section, made one by one: a step may lose as much as the whole job.
func removals(in Input) list {
	type step struct {
		of *free.Part
		*free.Step
	}
	var all []step
	if in.Free != nil {
		for _, parts := range [][]free.Part{in.Free.Removals, in.Free.Sections} {
			for i := range parts {
				for k := range parts[i].Steps {
					all = append(all, step{&parts[i], &parts[i].Steps[k]})
				}
			}
		}
	}
	return listOf("Removals", len(all), func(i int) Removal {
		p, s := all[i].of, all[i].Step
		x := Removal{p.Name, p.Alone, p.Free, s.Number, s.Title, num(s.Pulled), s.PulledCase, []string{}}
		for _, l := range s.Losses {
			x.Losses = append(x.Losses, l.Text)
		}
		return x
	})
}
