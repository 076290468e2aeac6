package render

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"sync/atomic"
	"testing"
	"time"
)

// Files come in the order of their steps whatever each step takes, and no step runs far ahead of what was handed over.
func TestFilesComeInOrder(t *testing.T) {
	const n = 60
	var begun, taken atomic.Int64
	var todo []step
	for i := range n {
		todo = append(todo, func(give func(File) error) error {
			if far := begun.Add(1) - taken.Load(); far > ahead+1 {
				t.Errorf("%d steps are in work or waiting", far)
			}
			time.Sleep(time.Duration(i*7%5) * 100 * time.Microsecond)
			for k := range i % 4 { // some make no file, some three
				if err := give(File{Name: fmt.Sprint(i, k)}); err != nil {
					return err
				}
			}
			return nil
		})
	}
	var got, want []string
	last := 0
	err := inOrder(todo, func(f File) error {
		var i, k int
		fmt.Sscan(f.Name, &i, &k)
		taken.Add(int64(i - last))
		last = i
		got = append(got, f.Name)
		return nil
	})
	for i := range n {
		for k := range i % 4 {
			want = append(want, fmt.Sprint(i, k))
		}
	}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%v: %v", err, got)
	}
}

// The first error in the order of the files is told, files before it are handed over, and nothing runs on.
func TestErrorsEndIt(t *testing.T) {
	first, second, full := errors.New("first"), errors.New("second"), errors.New("full")
	var running atomic.Int64
	make := func(i int) step {
		return func(give func(File) error) error {
			running.Add(1)
			defer running.Add(-1)
			if i == 5 {
				time.Sleep(5 * time.Millisecond)
				return first
			}
			if i == 6 {
				return second
			}
			return give(File{Name: fmt.Sprint(i)})
		}
	}
	var todo []step
	for i := range 40 {
		todo = append(todo, make(i))
	}
	var got []string
	take := func(f File) error {
		got = append(got, f.Name)
		return nil
	}
	if err := inOrder(todo, take); err != first || !slices.Equal(got, []string{"0", "1", "2", "3", "4"}) || running.Load() != 0 {
		t.Errorf("%v after %v, %d steps still run", err, got, running.Load())
	}
	err := inOrder(todo, func(f File) error {
		if f.Name == "2" {
			return full
		}
		return nil
	})
	if err != full || running.Load() != 0 {
		t.Errorf("%v, %d steps still run", err, running.Load())
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
