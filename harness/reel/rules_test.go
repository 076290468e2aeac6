package reel

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestEachRuleIsSound: each way to lay out pieces holds by itself, before the best of them is taken: no reel overfull, nothing left out that a reel to be bought
// holds, and by filling up nothing is bought for what reels at hand have left.
func TestEachRuleIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawTask(t, 12, 4)
		for name, rule := range map[string]func() []int{"best fit": k.bestFit, "keep ends": k.keepEnds, "fill": k.fill} {
			a := answer{bin: rule()}
			a.score = k.score(a.bin)
			sound(t, k, a)
			if len(a.bin) != len(k.pieces) {
				t.Fatalf("%s: %d of %d pieces", name, len(a.bin), len(k.pieces))
			}
			rem := slices.Clone(k.stock)
			bought := map[int]int64{}
			for i, b := range a.bin {
				switch {
				case b >= len(rem):
					bought[b] += k.pieces[i]
				case b >= 0:
					rem[b] -= k.pieces[i]
				}
			}
			if name != "fill" { // the others take the reel that leaves least, a bought one too
				continue
			}
			for b, l := range bought {
				if l == 0 {
					t.Fatalf("%s: reel %d is bought for nothing", name, b)
				}
				for i, at := range a.bin {
					if at != b {
						continue
					}
					if m := slices.Max(append(slices.Clone(rem), -1)); k.pieces[i] <= m {
						t.Fatalf("%s: a piece of %d is cut from a bought reel, %d are left on one at hand: %+v %v", name, k.pieces[i], m, k, a.bin)
					}
				}
			}
		}
	})
}

// TestFillByHand: two pieces that only the reels at hand hold, then the shortest reel is filled with the longest that go on it.
func TestFillByHand(t *testing.T) {
	for _, c := range []struct {
		k    task
		want []int
	}{
		{task{pieces: []int64{9, 8, 3, 2, 1}, stock: []int64{8, 12}, reel: 5}, []int{1, 0, 1, 2, 2}},
		{task{pieces: []int64{9, 3, 2}, stock: []int64{9}, reel: 5}, []int{0, 1, 1}},
		{task{pieces: []int64{9, 3, 2}, stock: []int64{4}, reel: 5}, []int{-1, 0, 1}},
		{task{pieces: []int64{5, 5, 5}, reel: 5}, []int{0, 1, 2}},
		{task{pieces: []int64{3, 3, 2, 2}, reel: 5}, []int{0, 1, 0, 1}},
		{task{pieces: []int64{2}, reel: 0}, []int{-1}},
	} {
		if got := c.k.fill(); !slices.Equal(got, c.want) {
			t.Errorf("%+v: %v, want %v", c.k, got, c.want)
		}
	}
}

// TestLongPieces: samples of one kind stand together with their count, all else for itself.
func TestLongPieces(t *testing.T) {
	var list []Long
	add := func(name, section string, sample bool) {
		list = addLong(list, Long{Cut: Cut{Name: name, Section: section, Sample: sample}})
	}
	add("pull", "nose", true)
	add("pull", "nose", true)
	add("pull", "nose", true)
	add("pull", "tub", true)
	add("w1", "tub", false)
	add("w1", "tub", false)
	add("w1", "tub", true)
	add("w2", "tub", true)
	var got []int
	for _, l := range list {
		got = append(got, l.Count)
	}
	if !slices.Equal(got, []int{3, 1, 1, 1, 1, 1}) {
		t.Errorf("%v", got)
	}
}

func TestHowInWords(t *testing.T) {
	for _, c := range []struct {
		w     Wire
		least int64
		want  string
	}{
		{Wire{Proved: true}, 0, "nothing to buy; 0 mm thrown away"},
		{Wire{Bought: 1, Bound: 1, Thrown: 25, Proved: true}, 0, "1 reel to buy, fewer cannot do; 25 mm thrown away, less cannot be"},
		{Wire{Bought: 2, Bound: 2, Thrown: 25}, 100, "2 reels to buy, fewer cannot do; 25 mm thrown away, at least 10 mm; laid out by rule, not searched to the end"},
		{Wire{Bought: 3, Bound: 2, Thrown: 0.5}, 0, "3 reels to buy, at least 2 by the sum of the lengths; 0 mm thrown away, at least 0 mm; laid out by rule, not searched to the end"},
		{Wire{Bought: 3, Bound: 2, Proved: true}, 0, "3 reels to buy, fewer cannot do; 0 mm thrown away"},
		{Wire{Thrown: 0.7, Proved: true}, 0, "nothing to buy; 1 mm thrown away, less cannot be"},
		{Wire{Thrown: 0.7}, 0, "nothing to buy; 1 mm thrown away, at least 0 mm; laid out by rule, not searched to the end"},
		{Wire{Thrown: 7, Proved: true}, 0, "nothing to buy; 7 mm thrown away, less cannot be"},
	} {
		if got := how(&c.w, c.least); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
