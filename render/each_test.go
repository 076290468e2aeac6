package render

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// Names come in the order of the steps whatever each step takes, each file is handed over once, two steps are in work, the long ones are begun first, and a step that
// is done is let go of.
func TestNamesComeInOrder(t *testing.T) {
	const n = 60
	var begun, working atomic.Int64
	var todo []step
	for i := range n {
		long := i == 40 || i == 50
		soon := 0
		if long {
			soon = i
		}
		todo = append(todo, step{soon: soon, do: func(give func(File) error) error {
			if at := begun.Add(1); long && at > 2*hands {
				t.Errorf("step %d is begun as number %d", i, at)
			}
			if now := working.Add(1); now > hands {
				t.Errorf("%d steps are in work", now)
			}
			defer working.Add(-1)
			time.Sleep(time.Duration(i*7%5) * 100 * time.Microsecond)
			for k := range i % 4 { // some make no file, some three
				if err := give(File{Name: fmt.Sprint(i, k)}); err != nil {
					return err
				}
			}
			return nil
		}})
	}
	var lock sync.Mutex
	var came, want []string
	got, err := atOnce(todo, func(f File) error {
		lock.Lock()
		defer lock.Unlock()
		came = append(came, f.Name)
		return nil
	})
	for i := range n {
		for k := range i % 4 {
			want = append(want, fmt.Sprint(i, k))
		}
	}
	if slices.ContainsFunc(todo, func(s step) bool { return s.do != nil }) {
		t.Error("a step is held after it is done")
	}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%v: %v", err, got)
	}
	slices.Sort(came)
	slices.Sort(want)
	if !slices.Equal(came, want) {
		t.Errorf("handed over were %v", came)
	}
}

// The first error in the order of the files is told whichever comes first, steps before it are finished, few after it are begun, and nothing runs on.
func TestErrorsEndIt(t *testing.T) {
	first, second, full := errors.New("first"), errors.New("second"), errors.New("full")
	var running atomic.Int64
	for _, wait := range []time.Duration{0, 5 * time.Millisecond} {
		var todo []step
		for i := range 40 {
			soon := 0
			if i == 6 {
				soon = 1
			}
			todo = append(todo, step{soon: soon, do: func(give func(File) error) error {
				running.Add(1)
				defer running.Add(-1)
				switch i {
				case 5:
					time.Sleep(wait)
					return first
				case 6:
					time.Sleep(5*time.Millisecond - wait)
					return second
				case 20:
					t.Error("a step is begun long after an error")
				}
				return give(File{Name: fmt.Sprint(i)})
			}})
		}
		var lock sync.Mutex
		var got []string
		_, err := atOnce(slices.Clone(todo), func(f File) error {
			lock.Lock()
			defer lock.Unlock()
			got = append(got, f.Name)
			return nil
		})
		for _, want := range []string{"0", "1", "2", "3", "4"} {
			if !slices.Contains(got, want) {
				t.Errorf("file %s is missing", want)
			}
		}
		if err != first || running.Load() != 0 {
			t.Errorf("%v after %v, %d steps still run", err, got, running.Load())
		}
		_, err = atOnce(todo[:5], func(f File) error {
			if f.Name == "2" {
				return full
			}
			return nil
		})
		if err != full || running.Load() != 0 {
			t.Errorf("%v, %d steps still run", err, running.Load())
		}
	}
}

func TestFileIsWrittenEitherWay(t *testing.T) {
	held := File{Name: "a", Data: []byte("figures")}
	var b bytes.Buffer
	if n, err := held.WriteTo(&b); n != 7 || err != nil || b.String() != "figures" {
		t.Error(n, err, b.String())
	}
	late := File{Name: "a", put: func(w io.Writer) error { _, err := w.Write(held.Data); return err }}
	b.Reset()
	if n, err := late.WriteTo(&b); n != 7 || err != nil || b.String() != "figures" {
		t.Error(n, err, b.String())
	}
	if got, err := late.held(); err != nil || string(got.Data) != "figures" {
		t.Error(got, err)
	}
}
