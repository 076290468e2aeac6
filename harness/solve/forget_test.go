package solve

import (
	"reflect"
	"runtime"
	"slices"
	"testing"

	"loomsheet/harness/size"
)

// What is asked after all is forgotten is told as it would have been, to the bit.
func TestForgotten(t *testing.T) {
	job, nt := trialNet(t, 7, 150)
	sizes := size.Initial(job, nt)
	one, two := Case(job, nt, sizes, nil, job.Cases[0]), Case(job, nt, sizes, nil, job.Cases[0])
	if len(one.Starts) == 0 {
		t.Fatal("nothing starts")
	}
	forget := func() {
		Forget([]*CaseResult{two})
		if two.again.among.joints.Load() != nil || slices.ContainsFunc(two.Starts, func(s StartResult) bool { return s.again.lean.stood.own != nil }) {
			t.Fatal("not all is forgotten")
		}
	}
	for i := range one.Loads {
		for q := LostBoth; q <= MostVolts; q++ {
			a := one.Corner(i, q)
			forget()
			if b := two.Corner(i, q); !reflect.DeepEqual(a, b) {
				t.Fatalf("%s at its worst: %+v, and %+v", one.Loads[i].Device, a, b)
			}
		}
		wires, gained := Adjoint(one, i)
		forget()
		if w, g := Adjoint(two, i); !slices.Equal(w, wires) || !slices.Equal(g, gained) {
			t.Errorf("%s answers to its wires by %v, and by %v", one.Loads[i].Device, gained, g)
		}
		a := WithoutLoads(one, []int{i})
		forget()
		if b := WithoutLoads(two, []int{i}); !slices.Equal(a, b) {
			t.Errorf("without %s there flow %v, and %v", one.Loads[i].Device, a, b)
		}
	}
	for n := range one.Starts {
		a, b := &one.Starts[n], &two.Starts[n]
		loads, point := a.Loads(), a.Point()
		forget()
		if !reflect.DeepEqual(loads, b.Loads()) || !reflect.DeepEqual(point, b.Point()) {
			t.Errorf("%s starts otherwise", a.Device)
		}
		forget()
		for i := range one.Loads {
			if a, b := a.Corner(i, LeastVolts), b.Corner(i, LeastVolts); !reflect.DeepEqual(a, b) {
				t.Errorf("while %s starts %s is otherwise at its worst", one.Starts[n].Device, one.Loads[i].Device)
			}
		}
	}
	runtime.GC() // nobody holds what was told
	forget()
	for i := range two.Starts {
		if n := len(two.Starts[i].moved.brief); n > 0 {
			t.Errorf("%d loads are kept while %s starts", n, two.Starts[i].Device)
		}
	}
	for i := range one.Starts {
		for k := range one.Loads {
			held := two.Starts[i].Load(k)
			forget()
			if again := two.Starts[i].Load(k); again != held || !reflect.DeepEqual(*held, *one.Starts[i].Load(k)) {
				t.Fatalf("while %s starts %s is another, %v", one.Starts[i].Device, held.Device, *again)
			}
		}
	}
	if a, b := one.Variants(), two.Variants(); len(a) != len(b) || !reflect.DeepEqual(a[len(a)-1].Loads, b[len(b)-1].Loads) {
		t.Error("volts low and high are otherwise")
	}
}
