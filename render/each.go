package render

import (
	"bytes"
	"io"
	"slices"
	"sync"
	"sync/atomic"
)

// File is one printed file, by its name within the folder of the books. It is written by WriteTo; Data is empty where the file is so large that it
// is put together while it is written.
type File struct {
	Name string
	Data []byte
	put  func(io.Writer) error
}

// WriteTo writes the file.
func (f File) WriteTo(w io.Writer) (int64, error) {
	n := &counted{w: w}
	if f.put != nil {
		err := f.put(n)
		return n.n, err
	}
	_, err := n.Write(f.Data)
	return n.n, err
}

// counted counts what is written.
type counted struct {
	w io.Writer
	n int64
}

func (c *counted) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.n += int64(n)
	return n, err
}

// held is the file with all its bytes in Data.
func (f File) held() (File, error) {
	if f.put == nil {
		return f, nil
	}
	var b bytes.Buffer
	err := f.put(&b)
	return File{Name: f.Name, Data: b.Bytes()}, err
}

// step makes one file, or some that belong together, and gives each away as soon as it is there.
type step struct {
	do   func(give func(File) error) error
	soon int // the higher, the sooner it is begun
}

const hands = 2 // steps that are worked on at once

// atOnce works through the steps, two at once, and hands each file over as soon as it is there. It gives the names in the order of the steps, whatever each
// took. The first error, in that order, ends it: steps before it are finished, none after it is begun, and nothing runs on when it returns. A step that is
// done is let go of, with all that it alone holds.
func atOnce(steps []step, to func(File) error) ([]string, error) {
	order := make([]int, len(steps))
	for i := range steps {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int { return steps[k].soon - steps[i].soon })
	var (
		next   atomic.Int64
		failed atomic.Int64 // the first step that failed
		fails  = make([]error, len(steps))
		names  = make([][]string, len(steps))
		crew   sync.WaitGroup
	)
	failed.Store(int64(len(steps)))
	work := func(i int) error {
		do := steps[i].do
		steps[i].do = nil
		return do(func(f File) error {
			if failed.Load() < int64(i) {
				return errQuit
			}
			names[i] = append(names[i], f.Name)
			return to(f)
		})
	}
	for range hands {
		crew.Go(func() {
			for n := int(next.Add(1)) - 1; n < len(order); n = int(next.Add(1)) - 1 {
				i := order[n]
				if failed.Load() < int64(i) {
					continue
				}
				if fails[i] = work(i); fails[i] != nil {
					for was := failed.Load(); int64(i) < was && !failed.CompareAndSwap(was, int64(i)); was = failed.Load() {
					}
				}
			}
		})
	}
	crew.Wait()
	if i := int(failed.Load()); i < len(steps) {
		return nil, fails[i]
	}
	return slices.Concat(names...), nil
}
