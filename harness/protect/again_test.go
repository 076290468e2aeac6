package protect

import (
	"testing"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

// Nothing is taken over where any of what a judgement rests on differs, whatever else is the same.
func TestWhatIsTakenOver(t *testing.T) {
	wire := func() WireResult {
		return WireResult{Wire: 3, Return: true, Reached: true, By: []FuseRef{{"box", 1}, {"box", 2}}, Beside: []unit.Current{4, 5}}
	}
	a, b := wire(), wire()
	if !a.protectedAs(&b) {
		t.Error("a wire is not protected as itself")
	}
	for name, change := range map[string]func(w *WireResult){
		"wire":           func(w *WireResult) { w.Wire = 4 },
		"side":           func(w *WireResult) { w.Return = false },
		"reached":        func(w *WireResult) { w.Reached = false },
		"another fuse":   func(w *WireResult) { w.By[1].Index = 3 },
		"one fuse less":  func(w *WireResult) { w.By = w.By[:1] },
		"more beside it": func(w *WireResult) { w.Beside[0] = 6 },
	} {
		b := wire()
		change(&b)
		if a.protectedAs(&b) || b.protectedAs(&a) {
			t.Errorf("%s: taken over", name)
		}
	}
	fuse := func() FuseResult {
		return FuseResult{FuseRef: FuseRef{"box", 1}, Rating: 10, Verified: true, Gate: []data.FuseGate{{Kind: "blade", From: 1, To: 30}},
			Ahead: []FuseRef{{"main", 1}}, Wires: []int{3, 5}}
	}
	f, g := fuse(), fuse()
	if !f.opensAs(&g) {
		t.Error("a fuse does not open as itself")
	}
	for name, change := range map[string]func(f *FuseResult){
		"device":   func(f *FuseResult) { f.Device = "tray" },
		"way":      func(f *FuseResult) { f.Index = 2 },
		"rating":   func(f *FuseResult) { f.Rating = 15 },
		"verified": func(f *FuseResult) { f.Verified = false },
		"gate":     func(f *FuseResult) { f.Gate[0].To = 40 },
		"no gate":  func(f *FuseResult) { f.Gate = nil },
		"ahead":    func(f *FuseResult) { f.Ahead = nil },
		"wires":    func(f *FuseResult) { f.Wires = f.Wires[:1] },
	} {
		g := fuse()
		change(&g)
		if f.opensAs(&g) || g.opensAs(&f) {
			t.Errorf("%s: taken over", name)
		}
	}
}
