package margin_test

import (
	"math"
	"slices"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/charge"
	"loomsheet/harness/contact"
	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/margin"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size/fit"
)

func only(t *testing.T, all []margin.Tight) *margin.Tight {
	t.Helper()
	if len(all) != 1 {
		t.Fatalf("%d results: %+v", len(all), all)
	}
	return &all[0]
}

func aFuse(steady, factor float64) protect.FuseResult {
	f := protect.FuseResult{FuseRef: protect.FuseRef{Device: "box"}, From: "in", To: "out", Kind: data.BladeE, Rating: 40, Gate: data.FuseGateOf(data.BladeE, 40), Case: "on", Margin: 1.25, LoadMet: true}
	set(&f.Steady, steady)
	set(&f.Factor, factor)
	set(&f.Need, steady*1.25/factor)
	return f
}

func set[T ~float64](to *T, x float64) { *to = T(x) }

// TestFuseRoom: 24 A x 125 % is 30 A of the 34 A that 65 C leave of a 40 A fuse, so the load may be 34/30 of what it is; 30 A are left at 85 C,
// 20 K more. At 12 A, 15 A would be met past the end of the table at 125 C.
func TestFuseRoom(t *testing.T) {
	f := aFuse(24, 34.0/40)
	f.Ambient = 65
	x := only(t, margin.Others(&design.Job{}, nil, &protect.Result{Fuses: []protect.FuseResult{f}}, nil, nil, 10))
	if x.Title != "fuse box in - out against its load" || x.Wire != -1 || x.Asked == "" {
		t.Errorf("%+v", x)
	}
	near(t, "used", float64(x.Used), 30.0/34)
	near(t, "load", room(t, x, margin.Load).To.Value, 24*34.0/30)
	near(t, "air", room(t, x, margin.Ambient).To.Value, 20)
	if len(x.Room) != 2 {
		t.Errorf("%v", x.Room)
	}
	f = aFuse(23, 32.0/40) // 75 C; 28.75 A are left at 85 + (30 - 28.75)/(30 - 25) x 25
	f.Ambient = 75
	x = only(t, margin.Others(&design.Job{}, nil, &protect.Result{Fuses: []protect.FuseResult{f}}, nil, nil, 10))
	near(t, "air between points", room(t, x, margin.Ambient).To.Value, 85+6.25-75)
	f = aFuse(12, 25.0/40)
	f.Ambient = 110
	x = only(t, margin.Others(&design.Job{}, nil, &protect.Result{Fuses: []protect.FuseResult{f}}, nil, nil, 10))
	near(t, "end of table", room(t, x, margin.Ambient).To.Value, 15)
	f.LoadMet = false
	if all := margin.Others(&design.Job{}, nil, &protect.Result{Fuses: []protect.FuseResult{f}}, nil, nil, 10); len(all) != 0 {
		t.Errorf("a finding is told as tight: %+v", all)
	}
}

// TestHoldRoom: a 40 A fuse of type E holds 2 s at 2.00 and 0.2 s at 3.5 times. 60 A for 1.5 s read the 2.00 row; they may grow to 80 A, past
// which the next row is too short. For 0.01 s it goes beyond the 0.04 s at 6.00 times, by energy to 6 x 2 times.
func TestHoldRoom(t *testing.T) {
	f := aFuse(1, 1)
	h := protect.Holds(f.Gate, f.Rating, 60, 1.5)
	h.Case, h.Device = "on", "pump"
	f.Starts = []protect.Hold{h}
	x := only(t, margin.Others(&design.Job{}, nil, &protect.Result{Fuses: []protect.FuseResult{f}}, nil, nil, 10))
	if x.Title != "fuse box in - out while pump starts" || !slices.Equal(x.Also, []string{"against its load"}) {
		t.Errorf("%s, %v", x.Title, x.Also)
	}
	near(t, "used", float64(x.Used), 0.75)
	r := room(t, x, margin.Load)
	near(t, "to its step", r.To.Value, 80)
	if !r.Stops {
		t.Errorf("%+v", r)
	}
	h = protect.Holds(f.Gate, f.Rating, 240, 0.01)
	f.Starts = []protect.Hold{h}
	x = only(t, margin.Others(&design.Job{}, nil, &protect.Result{Fuses: []protect.FuseResult{f}}, nil, nil, 10))
	near(t, "by energy", room(t, x, margin.Load).To.Value, 480)
}

// TestContactRoom: 13 A x 0.6 x 0.8 are 6.24 A. With 60 K at its rating and a housing for 125 C, 5 A of 7.8 A rise (5/7.8)^2 x 60 K. Both halves
// of a connector are told once.
func TestContactRoom(t *testing.T) {
	e := contact.EndResult{Contact: "c", Where: "W.1 rear", Case: "on", Amps: 5, Shared: 5, Parallel: 1, Rating: 13, Equal: 2, Cavities: 4, Loading: 0.6, Warm: 0.8, Allowed: 6.24, Ambient: 86.6, Heat: 125, Rise: 60, Met: true}
	other := e
	other.Where, other.Shared = "W.2 front", 4
	over := e
	over.Where, over.Met = "X.1", false
	x := only(t, margin.Others(&design.Job{}, nil, nil, &contact.Result{Ends: []contact.EndResult{other, e, over}}, nil, 10))
	if x.Title != "contact W.1 rear" || !slices.Equal(x.Also, []string{"contact W.2 front"}) {
		t.Errorf("%s, %v", x.Title, x.Also)
	}
	near(t, "used", float64(x.Used), 5/6.24)
	near(t, "load", room(t, x, margin.Load).To.Value, 6.24)
	near(t, "air", room(t, x, margin.Ambient).To.Value, 125-86.6-60*math.Pow(5/7.8, 2))
	e.Heat = 0
	x = only(t, margin.Others(&design.Job{}, nil, nil, &contact.Result{Ends: []contact.EndResult{e}}, nil, 10))
	if len(x.Room) != 1 {
		t.Errorf("no limit of the housing, and yet %v", x.Room)
	}
	x = only(t, margin.Others(&design.Job{}, nil, nil, &contact.Result{Housings: []contact.HousingResult{{Where: "W", Housing: "h", Amps: 20, Rating: 25, Met: true}}}, nil, 10))
	near(t, "housing", room(t, x, margin.Load).To.Value, 25)
}

// TestBatteryRoom: 10 A over 4 h are 40 Ah of 50 usable, so 12.5 A may be drawn; a battery is told in its worst case. Parked it is its own.
func TestBatteryRoom(t *testing.T) {
	b := charge.Balance{Case: "night", Device: "bank", Hours: 4 * 3600, Amps: 10, Stores: 100, Share: 0.5, Usable: 50, Used: 40, Met: true}
	less, none := b, b
	less.Case, less.Amps, less.Used = "day", 5, 20
	none.Device, none.Hours, none.Used = "spare", 0, 0
	d := charge.Drain{Device: "bank", Amps: 0.02, Most: 0.05, Met: true}
	d.Ruling.Known = true
	all := margin.Others(&design.Job{}, nil, nil, nil, &charge.Result{Balances: []charge.Balance{less, b, none}, Drains: []charge.Drain{d}}, 10)
	if len(all) != 2 || all[0].Title != "battery bank over night" || all[1].Title != "battery bank parked" || !slices.Equal(all[0].Also, []string{"over day"}) {
		t.Fatalf("%+v", all)
	}
	near(t, "used", float64(all[0].Used), 0.8)
	near(t, "mean", room(t, &all[0], margin.Load).To.Value, 12.5)
	near(t, "parked", float64(all[1].Used), 0.4)
	near(t, "drain", room(t, &all[1], margin.Load).To.Value, 0.05)
}

// TestWiresBehindFuses: the wire with least room stands for all behind one fuse, and for all on the way of one short.
func TestWiresBehindFuses(t *testing.T) {
	o := &fit.Outcome{Net: &net.Net{Wires: []net.Wire{{Name: "a"}, {Name: "b"}}}}
	ref := protect.FuseRef{Device: "box"}
	p := &protect.Result{Fuses: []protect.FuseResult{{FuseRef: ref, From: "in", To: "out"}}, Shorts: []protect.Short{{Case: "on", At: "lamp"}}, Wires: []protect.WireResult{
		{Wire: 0, Overload: &protect.Overload{Fuse: ref, Latest: 5, Reaches: 100, Limit: 150, Used: 0.5, Met: true}, Short: &protect.ShortHeat{Latest: 1, Reaches: 120, Limit: 160, Used: 0.7, Met: true}},
		{Wire: 1, Overload: &protect.Overload{Fuse: ref, Amps: 9, Stands: 10, Used: 0.81, Met: true}, Short: &protect.ShortHeat{Latest: 1, Used: 2}},
	}}
	all := margin.Others(&design.Job{}, o, p, nil, nil, 10)
	if len(all) != 2 || all[0].Title != "wire b at an overload of fuse box in - out" || !slices.Equal(all[0].Also, []string{"wire a"}) || all[1].Title != "wire a at a short at lamp" {
		t.Fatalf("%+v", all)
	}
	if all[0].Got.Value != 9 || all[0].Most.Value != 10 || all[1].Got.Value != 120 || all[1].Most.Value != 160 || len(all[0].Room)+len(all[1].Room) != 0 {
		t.Errorf("%+v", all)
	}
}

// TestMerge: least room first, names where it is equal; nothing comes of nothing.
func TestMerge(t *testing.T) {
	a, b := []margin.Tight{{Title: "b", Used: 0.5}, {Title: "d", Used: 0.4}}, []margin.Tight{{Title: "c", Used: 0.9}, {Title: "a", Used: 0.5}}
	got := ""
	for _, x := range margin.Merge(3, a, b) {
		got += x.Title
	}
	if got != "cab" || len(margin.Merge(-1, a)) != 0 || margin.Others(nil, nil, nil, nil, nil, 3) != nil || len(margin.Others(&design.Job{}, nil, nil, nil, nil, 3)) != 0 {
		t.Error(got)
	}
}

// TestBoatBattery: the service bank of the boat over a dead ship is one of its ten tightest results.
func TestBoatBattery(t *testing.T) {
	r := harness.Compile(example(t, "boat/tern.loom"))
	i := slices.IndexFunc(r.Tightest, func(x margin.Tight) bool { return x.Title == "battery service-bank over dead-ship" })
	if i < 0 || len(r.Tightest) != 10 {
		t.Fatalf("at %d of %d", i, len(r.Tightest))
	}
	if x := &r.Tightest[i]; x.Used < 0.95 || x.Used > 1 {
		t.Errorf("%v", x.Used)
	}
}
