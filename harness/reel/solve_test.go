package reel

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// every tries each way to put the pieces on the reels at hand, on bought ones, and, of those no bought reel holds, on none.
func every(t *task) score {
	best := score{unplaced: math.MaxInt}
	bin := make([]int, len(t.pieces))
	var rem []int64
	rem = append(rem, t.stock...)
	var try func(i int)
	try = func(i int) {
		if i == len(bin) {
			if s := t.score(bin); s.compare(best) < 0 {
				best = s
			}
			return
		}
		for b := range rem {
			if rem[b] >= t.pieces[i] {
				bin[i] = b
				rem[b] -= t.pieces[i]
				try(i + 1)
				rem[b] += t.pieces[i]
			}
		}
		if t.pieces[i] <= t.reel {
			bin[i] = len(rem)
			rem = append(rem, t.reel-t.pieces[i])
			try(i + 1)
			rem = rem[:len(rem)-1]
			return
		}
		bin[i] = -1
		try(i + 1)
	}
	try(0)
	return best
}

func drawTask(t *rapid.T, pieces, stock int) *task {
	k := &task{reel: rapid.Int64Range(0, 60).Draw(t, "reel"), end: rapid.Int64Range(0, 15).Draw(t, "end")}
	k.pieces = rapid.SliceOfN(rapid.Int64Range(1, 70), 0, pieces).Draw(t, "pieces")
	k.stock = rapid.SliceOfN(rapid.Int64Range(1, 90), 0, stock).Draw(t, "stock")
	slices.Sort(k.stock)
	slices.Sort(k.pieces)
	slices.Reverse(k.pieces)
	return k
}

// sound holds an answer against what can be: no reel holds more than its length, and what stays out no bought reel could hold.
func sound(t *rapid.T, k *task, a answer) {
	rem := slices.Clone(k.stock)
	for i, b := range a.bin {
		if b < 0 {
			if k.pieces[i] <= k.reel {
				t.Fatalf("a piece of %d stays out, a reel holds %d", k.pieces[i], k.reel)
			}
			continue
		}
		for b >= len(rem) {
			rem = append(rem, k.reel)
		}
		if rem[b] -= k.pieces[i]; rem[b] < 0 {
			t.Fatalf("reel %d is %d short: %+v %v", b, -rem[b], k, a)
		}
	}
	if a.score != k.score(a.bin) {
		t.Fatalf("%v is scored %v", a, k.score(a.bin))
	}
	if a.score.bought < k.bound() && a.score.unplaced == 0 {
		t.Fatalf("bought %d, the bound is %d: %+v", a.score.bought, k.bound(), k)
	}
	if a.score.thrown < k.lower(a.score.bought) {
		t.Fatalf("thrown away %d, the bound is %d: %+v", a.score.thrown, k.lower(a.score.bought), k)
	}
}

// On small cases the answer is the best of all, tried one by one.
func TestAgainstEveryWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawTask(t, 7, 3)
		steps := stepsAll
		a, proved := k.solve(&steps)
		sound(t, k, a)
		if want := every(k); !proved || a.score.compare(want) != 0 {
			t.Fatalf("%v (proved %v), best is %v: %+v", a, proved, want, k)
		}
	})
}

// Larger cases are sound, within their bounds and within the steps that are allowed.
func TestLargeCasesAreSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawTask(t, 60, 12)
		steps := rapid.IntRange(0, 3000).Draw(t, "steps")
		a, _ := k.solve(&steps)
		sound(t, k, a)
		if steps < 0 {
			t.Fatalf("%d steps left", steps)
		}
	})
}

// Cases by hand, in whole units.
func TestSolveByHand(t *testing.T) {
	for name, x := range map[string]struct {
		task
		want score
	}{
		// Two of 60 and two of 40 on reels of 100: longest first on the fullest reel fills both.
		"full reels": {task{pieces: []int64{60, 60, 40, 40}, reel: 100, end: 5}, score{0, 2, 0, 0}},
		// By best fit 50 goes on the reel of 50 and 30, 30 need a new one; 30 + 30 on 60 and 50 on 50 need none.
		"stock suffices": {task{pieces: []int64{50, 30, 30}, stock: []int64{50, 60}, reel: 100, end: 5}, score{0, 0, 0, 0}},
		// 40 on 45 would throw 5 away; on 80 it leaves 40, and 45 whole.
		"no short end": {task{pieces: []int64{40}, stock: []int64{45, 80}, reel: 100, end: 10}, score{0, 0, 0, 40*40 + 45*45}},
		// 10 on 30 leaves 20 and 80 whole, on 80 70 and 30 whole: 20^2 + 80^2 = 6800 against 70^2 + 30^2 = 5800.
		"one long rest": {task{pieces: []int64{10}, stock: []int64{30, 80}, reel: 100, end: 10}, score{0, 0, 0, 6800}},
		// 120 goes on no bought reel, and the one at hand holds it only if 90 is bought.
		"longer than a reel": {task{pieces: []int64{120, 90}, stock: []int64{130}, reel: 100, end: 5}, score{0, 1, 0, 10*10 + 10*10}},
		"longer than any":    {task{pieces: []int64{150}, stock: []int64{130}, reel: 100, end: 5}, score{1, 0, 0, 130 * 130}},
		// Three of 51 need three reels of 100, although their sum is 153.
		"halves": {task{pieces: []int64{51, 51, 51}, reel: 100, end: 5}, score{0, 3, 0, 3 * 49 * 49}},
	} {
		steps := stepsAll
		if a, proved := x.solve(&steps); a.score != x.want || !proved {
			t.Errorf("%s: %+v, proved %v, want %+v", name, a, proved, x.want)
		}
	}
	k := task{pieces: []int64{51, 51, 51}, reel: 100}
	if b := k.bound(); b != 3 {
		t.Errorf("three of 51 on reels of 100: bound %d", b)
	}
}
